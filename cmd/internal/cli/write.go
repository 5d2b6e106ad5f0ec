package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// target is where a report goes: standard output as it comes, or a file, whole or not at all. It is written beside
// the file and takes its place when all of it is there. Of a link, the file is the one that it leads to.
type target struct {
	out    io.Writer
	name   string // as it was given
	file   string // what is written
	beside *os.File
}

func openTarget(s streams, name string) (*target, error) {
	t := &target{out: s.out, name: name}
	if name == "" {
		return t, nil
	}
	file, older, err := replaceable(name)
	if err != nil {
		return nil, t.fault(err)
	}
	dir, base := filepath.Split(file)
	t.file = file
	for try := range 100 { // a run that was killed may have left one of the same number
		t.beside, err = os.OpenFile(fmt.Sprintf("%s.%s.%d.%d", dir, base, os.Getpid(), try), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if !errors.Is(err, fs.ErrExist) {
			break
		}
	}
	if err == nil && older != nil {
		err = t.beside.Chmod(older.Mode().Perm()) // who could not read the older report cannot read this one
	}
	if err != nil {
		t.drop()
		return nil, t.fault(err)
	}
	t.out = t.beside
	return t, nil
}

// spared says whether a report would take the place of a file that the run reads.
func spared(output string, inputs ...string) error {
	older, err := os.Stat(output)
	if output == "" || err != nil {
		return nil
	}
	for _, in := range inputs {
		if info, err := os.Stat(in); in != "-" && err == nil && os.SameFile(info, older) {
			return fmt.Errorf("--output %s is read by this run; allowed: another file", output)
		}
	}
	return nil
}

// replaceable gives the file that a report would replace, which need not be there yet, or says why it may not be
// replaced: putting another file in its place asks nobody for leave.
func replaceable(name string) (file string, older fs.FileInfo, err error) {
	older, err = os.Stat(name)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return "", nil, err
	}
	file = name
	for links := 0; ; links++ {
		to, err := os.Readlink(file)
		if err != nil {
			break // no link
		}
		if links == 40 {
			return "", nil, errors.New("links that lead in a circle")
		}
		if !filepath.IsAbs(to) {
			dir, _ := filepath.Split(file) // not cleaned: .. behind a link is not the folder of the link
			to = dir + to
		}
		file = to
	}
	if older == nil {
		return file, nil, nil
	}
	at, err := os.Stat(file)
	if !older.Mode().IsRegular() || err != nil || !os.SameFile(older, at) {
		return "", nil, errors.New("not a plain file")
	}
	if older.Mode().Perm()&0o200 == 0 {
		return "", nil, errors.New("its owner may not write it")
	}
	try, err := os.OpenFile(file, os.O_WRONLY, 0)
	if err != nil {
		return "", nil, err
	}
	return file, older, try.Close()
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
	return t.fault(os.Rename(t.beside.Name(), t.file))
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
	return fmt.Errorf("--output %s: %w", t.name, bare(err))
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
