package cli

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
)

// write puts a report on standard output, or into a file whole or not at all.
func write(s streams, file string, report []byte) error {
	if file == "" {
		_, err := s.out.Write(report)
		return err
	}
	if err := replace(file, report); err != nil {
		var path *os.PathError
		if errors.As(err, &path) {
			err = path.Err // the name of the file beside it says nothing to a user
		}
		return fmt.Errorf("--output %s: %w", file, err)
	}
	return nil
}

// replace writes beside the file and takes its place when all is written.
func replace(file string, report []byte) error {
	if info, err := os.Stat(file); err == nil && !info.Mode().IsRegular() {
		return errors.New("not a plain file")
	}
	beside := filepath.Join(filepath.Dir(file), "."+filepath.Base(file)+"."+strconv.Itoa(os.Getpid()))
	out, err := os.OpenFile(beside, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	defer os.Remove(beside)
	if _, err := out.Write(report); err != nil {
		out.Close()
		return err
	}
	if err := out.Close(); err != nil {
		return err
	}
	return os.Rename(beside, file)
}
