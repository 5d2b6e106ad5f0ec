package cli

import (
	"context"
	"io"
)

// await does what may never end, such as reading a pipe, and stops waiting for it when the run is to end.
func await[T any](ctx context.Context, do func() (T, error)) (T, error) {
	type outcome struct {
		value T
		err   error
	}
	var none T
	if err := ctx.Err(); err != nil {
		return none, err
	}
	if ctx.Done() == nil {
		return do()
	}
	done := make(chan outcome, 1)
	go func() {
		value, err := do()
		done <- outcome{value, err}
	}()
	select {
	case <-ctx.Done():
		return none, ctx.Err()
	case got := <-done:
		return got.value, got.err
	}
}

// patient reads an input for as long as the run goes on.
type patient struct {
	ctx context.Context
	in  io.Reader
	buf []byte // not the caller's: a read that nobody waits for any more still writes to it
}

func newPatient(ctx context.Context, in io.Reader) io.Reader {
	if ctx.Done() == nil {
		return in
	}
	return &patient{ctx, in, make([]byte, 1<<16)}
}

func (p *patient) Read(to []byte) (int, error) {
	buf := p.buf[:min(len(to), len(p.buf))]
	got, err := await(p.ctx, func() ([]byte, error) {
		n, err := p.in.Read(buf)
		return buf[:n], err
	})
	return copy(to, got), err
}
