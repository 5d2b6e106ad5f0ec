package cli

import (
	"fmt"
	"os"
	"path/filepath"
)

// write puts a report on standard output, or into a file whole or not at all.
func write(s streams, file string, report []byte) error {
	if file == "" {
		_, err := s.out.Write(report)
		return err
	}
	tmp, err := os.CreateTemp(filepath.Dir(file), ".sillwright-*")
	if err != nil {
		return fmt.Errorf("--output %s: %w", file, err)
	}
	defer os.Remove(tmp.Name())
	if _, err := tmp.Write(report); err != nil {
		tmp.Close()
		return fmt.Errorf("--output %s: %w", file, err)
	}
	if err := tmp.Chmod(0o644); err != nil {
		tmp.Close()
		return err
	}
	if err := tmp.Close(); err != nil {
		return fmt.Errorf("--output %s: %w", file, err)
	}
	return os.Rename(tmp.Name(), file)
}
