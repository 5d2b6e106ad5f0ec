package cli

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
)

// target is where a report goes: standard output as it comes, or a file, whole or not at all. It is written beside
// the file and takes its place when all of it is there.
type target struct {
	out    io.Writer
	name   string
	beside *os.File
}

func openTarget(s streams, name string) (*target, error) {
	t := &target{out: s.out, name: name}
	if name == "" {
		return t, nil
	}
	if info, err := os.Stat(name); err == nil && !info.Mode().IsRegular() {
		return nil, t.fault(errors.New("not a plain file"))
	}
	beside := filepath.Join(filepath.Dir(name), "."+filepath.Base(name)+"."+strconv.Itoa(os.Getpid()))
	file, err := os.OpenFile(beside, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return nil, t.fault(err)
	}
	t.out, t.beside = file, file
	return t, nil
}

func (t *target) Write(p []byte) (int, error) {
	n, err := t.out.Write(p)
	return n, t.fault(err)
}

// keep puts the file in its place.
func (t *target) keep() error {
	if t.beside == nil {
		return nil
	}
	if err := t.beside.Close(); err != nil {
		return t.fault(err)
	}
	return t.fault(os.Rename(t.beside.Name(), t.name))
}

// drop removes what has not been kept.
func (t *target) drop() {
	if t.beside != nil {
		t.beside.Close()
		os.Remove(t.beside.Name())
	}
}

// fault words an error without the name of the file beside, which says nothing to a user.
func (t *target) fault(err error) error {
	if err == nil || t.name == "" {
		return err
	}
	var path *os.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		err = path.Err
	case errors.As(err, &link):
		err = link.Err
	}
	return fmt.Errorf("--output %s: %w", t.name, err)
}

// write puts a report that is at hand on its target.
func write(s streams, name string, report []byte) error {
	t, err := openTarget(s, name)
	if err != nil {
		return err
	}
	defer t.drop()
	if _, err := t.Write(report); err != nil {
		return err
	}
	return t.keep()
}
