package cli

import (
	"context"
	"errors"
	"math/rand/v2"
	"slices"
	"sync/atomic"
	"testing"
	"time"
)

// count gives the numbers from 0.
func count(n int) func(context.Context, func(int) error) error {
	return func(_ context.Context, give func(int) error) error {
		for i := range n {
			if err := give(i); err != nil {
				return err
			}
		}
		return nil
	}
}

// Outcomes come in the order of the inputs, each once, for any number of workers and however long each takes.
func TestOrderedKeepsTheOrder_Identity(t *testing.T) {
	for _, workers := range []int{1, 2, 7} {
		var got []int
		var held, most atomic.Int64
		err := ordered(context.Background(), workers, count(500), func(_ context.Context, i int) (int, error) {
			most.Store(max(most.Load(), held.Add(1)))
			if rand.IntN(10) == 0 {
				time.Sleep(time.Millisecond)
			}
			held.Add(-1)
			return i * i, nil
		}, func(out int) error {
			got = append(got, out)
			return nil
		})
		if err != nil || len(got) != 500 || !slices.IsSorted(got) || got[499] != 499*499 {
			t.Errorf("%d workers: %v, %d outcomes", workers, err, len(got))
		}
		if most.Load() > int64(workers) {
			t.Errorf("%d workers worked on %d at once", workers, most.Load())
		}
	}
}

// An error ends everything, wherever it arises, and is the one that is given; what came before it has been handed on.
func TestOrderedEnds(t *testing.T) {
	fault := errors.New("a fault")
	for _, where := range []string{"source", "work", "each", "context"} {
		for _, workers := range []int{1, 3} {
			ctx, end := context.WithCancelCause(context.Background())
			var got []int
			err := ordered(ctx, workers, func(ctx context.Context, give func(int) error) error {
				for i := 0; ; i++ {
					if where == "source" && i == 20 {
						return fault
					}
					if err := give(i); err != nil {
						return err
					}
				}
			}, func(_ context.Context, i int) (int, error) {
				if where == "work" && i == 20 {
					return 0, fault
				}
				return i, nil
			}, func(out int) error {
				if where == "each" && out == 20 {
					return fault
				}
				if where == "context" && out == 19 {
					end(fault)
				}
				got = append(got, out)
				return nil
			})
			end(nil)
			if !errors.Is(err, fault) {
				t.Errorf("%s, %d workers: %v", where, workers, err)
			}
			for i, out := range got {
				if i != out {
					t.Fatalf("%s, %d workers: %v", where, workers, got)
				}
			}
			if where != "source" && len(got) != 20 {
				t.Errorf("%s, %d workers: %d outcomes before the fault", where, workers, len(got))
			}
		}
	}
}
