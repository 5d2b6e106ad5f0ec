package cli

import (
	"context"

	"golang.org/x/sync/errgroup"
)

// ordered does work on what source gives, on several workers at once, and hands each outcome on in the order in which
// its input came, so that nobody sees how many workers there were. No more than a few inputs a worker are in hand at
// once. The first error, of source, of work or of each, ends it all; source and work see their context end with it.
func ordered[In, Out any](ctx context.Context, workers int, source func(context.Context, func(In) error) error, work func(context.Context, In) (Out, error), each func(Out) error) error {
	type outcome struct {
		out Out
		err error
	}
	type job struct {
		in   In
		done chan outcome
	}
	group, ctx := errgroup.WithContext(ctx)
	jobs, queue := make(chan job), make(chan job, 2*workers)
	group.Go(func() error {
		defer close(queue)
		defer close(jobs)
		return source(ctx, func(in In) error {
			j := job{in, make(chan outcome, 1)}
			for _, to := range []chan job{queue, jobs} {
				select {
				case to <- j:
				case <-ctx.Done():
					return context.Cause(ctx)
				}
			}
			return nil
		})
	})
	for range workers {
		group.Go(func() error {
			for j := range jobs {
				out, err := work(ctx, j.in)
				j.done <- outcome{out, err}
			}
			return nil
		})
	}
	group.Go(func() error {
		for j := range queue {
			select {
			case <-ctx.Done():
				return context.Cause(ctx)
			case o := <-j.done:
				if o.err != nil {
					return o.err
				}
				if err := ctx.Err(); err != nil {
					return context.Cause(ctx)
				}
				if err := each(o.out); err != nil {
					return err
				}
			}
		}
		return nil
	})
	return group.Wait()
}
