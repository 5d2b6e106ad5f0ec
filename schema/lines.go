package schema

import (
	"bufio"
	"bytes"
	"io"
)

// lines gives the lines of a stream one after the other and holds no more than one of them. Breaks are those of
// a file: LF, CR LF and CR.
type lines struct {
	in      *bufio.Reader
	buf     []byte
	before  int  // lines before the one given last
	offset  int  // bytes before the one given last
	read    int  // bytes taken in all
	ended   bool // the break of the one given last has been taken
	afterCR bool // an LF that follows belongs to the break before it
}

func newLines(in io.Reader) *lines { return &lines{in: bufio.NewReaderSize(in, 1<<16)} }

// next gives the next line without its break, good until the call after it; of a line longer than most bytes only a
// start that is longer than that. The error is io.EOF when no line is left.
func (l *lines) next(most int) ([]byte, error) {
	if l.read > 0 {
		for !l.ended {
			if _, err := l.part(1 << 16); err != nil {
				return nil, err
			}
		}
		l.before++
	}
	if err := l.passLF(); err != nil {
		return nil, err
	}
	l.buf, l.offset, l.ended = l.buf[:0], l.read, false
	for !l.ended && len(l.buf) <= most {
		part, err := l.part(most + 1 - len(l.buf))
		if err == io.EOF && len(l.buf) > 0 {
			break
		}
		if err != nil {
			return nil, err
		}
		l.buf = append(l.buf, part...)
	}
	return l.buf, nil
}

// passLF passes over the second half of a CR LF, which may come later than the first.
func (l *lines) passLF() error {
	if !l.afterCR {
		return nil
	}
	l.afterCR = false
	c, err := l.in.Peek(1)
	if err != nil || c[0] != '\n' {
		return err
	}
	l.read++
	_, err = l.in.Discard(1)
	return err
}

// part takes what has come of the line, at most so many bytes, and waits only when nothing has. It is good until
// the next call.
func (l *lines) part(most int) ([]byte, error) {
	if _, err := l.in.Peek(1); err != nil {
		return nil, err
	}
	data, err := l.in.Peek(min(l.in.Buffered(), most))
	if err != nil {
		return nil, err
	}
	taken := len(data)
	if i := bytes.IndexByte(data, '\n'); i >= 0 {
		l.ended = true
		data, taken = data[:i], i+1
	}
	if i := bytes.IndexByte(data, '\r'); i >= 0 {
		l.ended, l.afterCR = true, true
		data, taken = data[:i], i+1
	}
	l.read += taken
	_, err = l.in.Discard(taken) // moves no bytes: data stays as it is
	return data, err
}
