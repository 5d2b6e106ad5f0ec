package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"slices"
	"time"
)

// taken is what a run took.
type taken struct {
	wall, processors time.Duration
	peak             int64 // of memory, in bytes; 0: the system does not tell
}

// run measures a whole process. Doors that fail are no failure of the run.
func run(ctx context.Context, in io.Reader, env []string, name string, args ...string) (taken, error) {
	cmd := exec.CommandContext(ctx, name, args...)
	cmd.Stdin, cmd.Env = in, append(os.Environ(), env...)
	start := time.Now()
	err := cmd.Run()
	wall := time.Since(start)
	if failed := (*exec.ExitError)(nil); errors.As(err, &failed) && failed.ExitCode() == 1 {
		err = nil
	}
	if err != nil {
		return taken{}, fmt.Errorf("%s: %w", cmd, err)
	}
	p := cmd.ProcessState
	return taken{wall, p.UserTime() + p.SystemTime(), peakOf(p)}, nil
}

// median is the middle of an odd number, or the mean of the two in the middle.
func median(of []float64) float64 {
	s := slices.Sorted(slices.Values(of))
	n := len(s)
	return (s[n/2] + s[(n-1)/2]) / 2
}

// ratios are those of pairs of runs, and what the runs of one side took.
type ratios struct {
	wall, processors []float64
	first, second    []float64 // seconds of wall time
}

func (r *ratios) add(first, second taken, times float64) {
	r.wall = append(r.wall, first.wall.Seconds()*times/second.wall.Seconds())
	r.processors = append(r.processors, first.processors.Seconds()*times/second.processors.Seconds())
	r.first, r.second = append(r.first, first.wall.Seconds()*times), append(r.second, second.wall.Seconds())
}

// throughput measures lint against opa exec and against decoding, one after the other and then again, so that what else the
// machine does falls on both.
func (b *bench) throughput(ctx context.Context, out io.Writer) error {
	self, err := os.Executable()
	if err != nil {
		return err
	}
	for _, m := range []struct {
		name, doors, inputs    string
		count                  int
		goal, times, wholeGoal string
	}{
		{"a", b.different, b.inputs, different, "5", "all different", "20"},
		{"b", b.repeated, b.inputsRepeated, repeated, "40", fmt.Sprintf("of %d kinds", kinds), "6"},
	} {
		var rules, decoding ratios
		one := []string{"GOMAXPROCS=1"}
		for range b.runs {
			lint, err := run(ctx, nil, nil, b.sillwright, "lint", m.doors)
			if err != nil {
				return err
			}
			// Each door by itself takes opa exec the same, so that it need not do them all.
			exec, err := run(ctx, nil, nil, b.opa, "exec", "--decision", "sillwright/outcomes", "--bundle", b.bundle, m.inputs)
			if err != nil {
				return err
			}
			rules.add(exec, lint, float64(m.count)/different)
			alone, err := run(ctx, nil, one, b.sillwright, "lint", "--workers", "1", m.doors)
			if err != nil {
				return err
			}
			decoded, err := run(ctx, nil, one, self, "-decode", m.doors)
			if err != nil {
				return err
			}
			decoding.add(alone, decoded, 1)
		}
		fmt.Fprintf(out, "(%s) %d doors, %s: lint %.2f s, opa exec %.1f s (%d of them measured)\n", m.name, m.count, m.times, median(rules.second), median(rules.first), different)
		fmt.Fprintf(out, "    %.1f times the throughput of opa exec, which does the rules alone; by processor time %.1f (goal: at least %s)\n", median(rules.wall), median(rules.processors), m.goal)
		fmt.Fprintf(out, "(d) the same on one processor: lint %.0f us a door, decoding JSON %.1f us\n", median(decoding.first)*1e6/float64(m.count), median(decoding.second)*1e6/float64(m.count))
		fmt.Fprintf(out, "    %.1f times decoding; by processor time %.1f (goal: at most %s)\n", median(decoding.wall), median(decoding.processors), m.wholeGoal)
	}
	return nil
}

// memory measures what a stream takes: once of doors of few kinds, and of a tenth of them that are all different.
func (b *bench) memory(ctx context.Context, out io.Writer) error {
	for _, m := range []struct{ count, kinds int }{{b.streamed, kinds}, {b.streamed / 10, b.streamed / 10}} {
		read, write, err := os.Pipe()
		if err != nil {
			return err
		}
		drew := make(chan error, 1)
		go func() {
			err := doors(write, m.count, m.kinds)
			drew <- errors.Join(err, write.Close())
		}()
		took, err := run(ctx, read, nil, b.sillwright, "lint", "-")
		read.Close()
		if err := errors.Join(err, <-drew); err != nil {
			return err
		}
		fmt.Fprintf(out, "(c) %d doors of %d kinds from standard input: peak %.0f MB, %.0f s (goal: under 150 MB)\n", m.count, m.kinds, float64(took.peak)/1e6, took.wall.Seconds())
	}
	return nil
}
