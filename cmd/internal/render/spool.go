package render

import (
	"bufio"
	"fmt"
	"io"
	"os"
)

// spool keeps on disk what cannot be written yet, so that memory does not grow with the doors. The file has no name from
// the start where the system allows it: a run that is killed leaves nothing behind.
type spool struct {
	file *os.File
	w    *bufio.Writer
}

func newSpool() (*spool, error) {
	f, err := os.CreateTemp("", "sillwright-*")
	if err != nil {
		return nil, fmt.Errorf("a report of this format waits on disk until all is known: %w", err)
	}
	_ = os.Remove(f.Name()) // where an open file cannot be removed, Drop does it
	return &spool{f, bufio.NewWriter(f)}, nil
}

func (s *spool) Write(p []byte) (int, error) { return s.w.Write(p) }

// copyTo writes all that is kept.
func (s *spool) copyTo(w io.Writer) error {
	if err := s.w.Flush(); err != nil {
		return err
	}
	if _, err := s.file.Seek(0, io.SeekStart); err != nil {
		return err
	}
	_, err := io.Copy(w, bufio.NewReaderSize(s.file, 1<<16))
	return err
}

func (s *spool) Drop() {
	s.file.Close()
	_ = os.Remove(s.file.Name())
}
