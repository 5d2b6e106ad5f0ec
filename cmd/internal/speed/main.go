// Command speed builds sillwright and stock OPA and measures them on doors that it draws: how many doors lint judges in the
// time in which opa exec runs the rules alone on the same doors, what a stream of a million takes in memory, and what the
// whole job takes beside reading the JSON. It prints ratios, medians of paired runs.
//
//	go run ./cmd/internal/speed
package main

import (
	"bufio"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
)

// How many doors there are in each measurement, and of how many kinds.
const (
	different = 2_000
	repeated  = 20_000
	kinds     = 400
	streamed  = 1_000_000
)

type settings struct {
	runs, streamed int
	dir            string
}

func main() {
	s := settings{}
	decode := flag.String("decode", "", "only decode the lines of `FILE` as JSON, which is what the whole job is compared with")
	flag.IntVar(&s.runs, "runs", 5, "paired runs of each, of which the medians are given")
	flag.IntVar(&s.streamed, "streamed", streamed, "doors of the stream whose memory is measured")
	flag.StringVar(&s.dir, "dir", "", "keep what is built and drawn in this `FOLDER` (default one that is removed)")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	err := error(nil)
	if *decode != "" {
		err = decodeLines(*decode)
	} else {
		err = s.measure(ctx, os.Stdout)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "speed:", err)
		os.Exit(2)
	}
}

// decodeLines reads each line as the standard library does by itself: no places, no schema.
func decodeLines(file string) error {
	in, err := os.Open(file)
	if err != nil {
		return err
	}
	defer in.Close()
	lines := bufio.NewScanner(in)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		var v any
		if err := json.Unmarshal(lines.Bytes(), &v); err != nil {
			return err
		}
	}
	return lines.Err()
}

// bench is what is built and drawn.
type bench struct {
	settings
	sillwright, opa, bundle string
	different, repeated     string // files of doors
	inputs, inputsRepeated  string // folders of what the rules are asked of them, one file a door
}

func (s settings) measure(ctx context.Context, out io.Writer) error {
	if s.dir == "" {
		dir, err := os.MkdirTemp("", "speed")
		if err != nil {
			return err
		}
		defer os.RemoveAll(dir)
		s.dir = dir
	}
	b := &bench{settings: s}
	if err := b.build(ctx); err != nil {
		return err
	}
	fmt.Fprintf(out, "%s %s/%s, %d processors; medians of %d paired runs\n", runtime.Version(), runtime.GOOS, runtime.GOARCH, runtime.NumCPU(), s.runs)
	if err := b.throughput(ctx, out); err != nil {
		return err
	}
	return b.memory(ctx, out)
}

func (b *bench) build(ctx context.Context) error {
	b.sillwright = filepath.Join(b.dir, "sillwright")
	if _, err := output(ctx, "go", "build", "-o", b.sillwright, "./cmd/sillwright"); err != nil {
		return err
	}
	opa, err := output(ctx, "go", "tool", "-modfile=cmd/tools.mod", "-n", "opa")
	if err != nil {
		return err
	}
	b.opa, b.bundle = strings.TrimSpace(opa), filepath.Join(b.dir, "rules.tar.gz")
	if _, err := output(ctx, b.sillwright, "bundle", "-o", b.bundle); err != nil {
		return err
	}
	b.different, b.repeated = filepath.Join(b.dir, "different.ndjson"), filepath.Join(b.dir, "repeated.ndjson")
	if err := drawn(b.different, different, different); err != nil {
		return err
	}
	if err := drawn(b.repeated, repeated, kinds); err != nil {
		return err
	}
	b.inputs, b.inputsRepeated = filepath.Join(b.dir, "inputs"), filepath.Join(b.dir, "inputs-repeated")
	if err := b.asked(ctx, b.different, b.inputs); err != nil {
		return err
	}
	return b.asked(ctx, b.repeated, b.inputsRepeated)
}

func drawn(file string, count, kinds int) error {
	to, err := os.Create(file)
	if err != nil {
		return err
	}
	buffered := bufio.NewWriter(to)
	if err := doors(buffered, count, kinds); err != nil {
		return err
	}
	if err := buffered.Flush(); err != nil {
		return err
	}
	return to.Close()
}

// asked writes what the rules are asked of the first doors of a file, one file a door, as opa exec reads it.
func (b *bench) asked(ctx context.Context, file, folder string) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	cmd := exec.CommandContext(ctx, b.sillwright, "check", "--print-input", file)
	pipe, err := cmd.StdoutPipe()
	if err != nil {
		return err
	}
	if err := cmd.Start(); err != nil {
		return err
	}
	inputs := json.NewDecoder(pipe)
	for i := range different {
		var input json.RawMessage
		if err := inputs.Decode(&input); err != nil {
			return fmt.Errorf("the input of door %d: %w", i+1, err)
		}
		if err := os.WriteFile(filepath.Join(folder, strconv.Itoa(i+1)+".json"), input, 0o644); err != nil {
			return err
		}
	}
	pipe.Close()
	_ = cmd.Wait() // it may have had more to print
	return nil
}

func output(ctx context.Context, name string, args ...string) (string, error) {
	cmd := exec.CommandContext(ctx, name, args...)
	out, err := cmd.Output()
	if failed, ok := err.(*exec.ExitError); ok {
		return "", fmt.Errorf("%s %s: %w\n%s", name, strings.Join(args, " "), err, failed.Stderr)
	}
	return string(out), err
}
