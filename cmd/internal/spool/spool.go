// Package spool keeps what cannot be written or compared yet: in memory while it is little, then on disk, so that memory
// does not grow with the doors.
package spool

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
)

// inMemory is how much a Spool keeps before it takes to the disk.
const inMemory = 1 << 20

// Spool is bytes that are added to and read again, as often as wanted. The zero Spool is empty.
type Spool struct {
	few  bytes.Buffer
	file *os.File
	w    *bufio.Writer
	size int64
	line *bufio.Reader
}

// Size is how many bytes it holds.
func (s *Spool) Size() int64 { return s.size }

// OnDisk says whether it has taken to the disk.
func (s *Spool) OnDisk() bool { return s.file != nil }

// Write adds to it.
func (s *Spool) Write(p []byte) (int, error) {
	s.size += int64(len(p))
	if s.file == nil && s.few.Len()+len(p) <= inMemory {
		return s.few.Write(p)
	}
	if s.file == nil {
		f, err := os.CreateTemp("", "sillwright-*")
		if err != nil {
			return 0, fault(err)
		}
		_ = os.Remove(f.Name()) // a run that is killed leaves nothing; where an open file cannot be removed, Drop does it
		s.file, s.w = f, bufio.NewWriter(f)
		if _, err := s.few.WriteTo(s.w); err != nil {
			return 0, fault(err)
		}
		s.few = bytes.Buffer{}
	}
	n, err := s.w.Write(p)
	return n, fault(err)
}

// fault words an error without the name of the file, which has none.
func fault(err error) error {
	var at *fs.PathError
	if errors.As(err, &at) {
		err = at.Err
	}
	if err == nil {
		return nil
	}
	return fmt.Errorf("what waits until all is judged is kept in %s: %w; set TMPDIR to a folder with room", os.TempDir(), err)
}

// Overwrite puts other bytes in the place of as many that it holds.
func (s *Spool) Overwrite(p []byte, at int64) error {
	if at < 0 || at+int64(len(p)) > s.size {
		return fmt.Errorf("%d bytes at %d of %d", len(p), at, s.size)
	}
	if s.file == nil {
		copy(s.few.Bytes()[at:], p)
		return nil
	}
	if err := s.w.Flush(); err != nil {
		return err
	}
	_, err := s.file.WriteAt(p, at)
	return err
}

func (s *Spool) at() (io.ReaderAt, error) {
	if s.file == nil {
		return bytes.NewReader(s.few.Bytes()), nil
	}
	return s.file, fault(s.w.Flush())
}

// Reader reads it from its beginning.
func (s *Spool) Reader() (io.Reader, error) {
	at, err := s.at()
	return bufio.NewReaderSize(io.NewSectionReader(at, 0, s.size), 1<<16), err
}

// CopyTo writes all of it.
func (s *Spool) CopyTo(w io.Writer) error {
	r, err := s.Reader()
	if err != nil {
		return err
	}
	_, err = io.Copy(w, r)
	return err
}

// Line reads the line that begins at a place, its break included.
func (s *Spool) Line(at int64) ([]byte, error) {
	from, err := s.at()
	if err != nil {
		return nil, err
	}
	section := io.NewSectionReader(from, at, s.size-at)
	if s.line == nil {
		s.line = bufio.NewReaderSize(section, 1<<10)
	}
	s.line.Reset(section)
	return s.line.ReadBytes('\n')
}

// Drop removes what is on disk.
func (s *Spool) Drop() {
	if s.file != nil {
		s.file.Close()
		_ = os.Remove(s.file.Name())
	}
}
