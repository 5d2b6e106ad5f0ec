package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"sillwright/cmd/internal/cli"
	"sillwright/cmd/internal/render"
	"sillwright/schema"
)

const unproven = `{"format": "sillwright/door/1", "mark": "%s", "rulebooks": ["us-ada-2010"]}` + "\n"

// Every line of JSON keeps to the published schema of its format, and the summary counts the lines before it.
func TestLintKeepsToItsSchemas(t *testing.T) {
	t.Chdir("../..")
	spec := filepath.Join(t.TempDir(), "bad.ndjson")
	if err := os.WriteFile(spec, []byte(fmt.Sprintf(unproven, "L-01")+"{nonsense\n"+`{"format": "sillwright/door/1"}`+"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	lint := run(t, "lint", "--format", "json", "--only", "pass,fail,unknown,not-applicable", "--seals", ownSeals, "examples", spec, "nowhere.yaml")
	briefed, err := filepath.Glob("examples/own-brief/*-[a-z]-[0-9][0-9]-*") // by their project these fare otherwise than by themselves
	if err != nil || len(briefed) == 0 {
		t.Fatal(briefed, err)
	}
	seen := map[string]int{}
	var last map[string]any
	lines := strings.Split(strings.TrimSuffix(lint.out, "\n"), "\n")
	for _, line := range lines {
		last = nil
		if err := json.Unmarshal([]byte(line), &last); err != nil {
			t.Fatalf("%v in %s", err, line)
		}
		name := strings.TrimSuffix(strings.TrimPrefix(last["format"].(string), "sillwright/"), "/1")
		seen[name]++
		s, err := schema.Named(name)
		if err != nil {
			t.Fatal(err)
		}
		keeps(t, s, line)
	}
	if lint.code != 2 || seen["result"] != len(exampleDoors(t))+len(briefed)+1 || seen["problem"] != strings.Count(lint.err, "\n")-strings.Count("\n"+lint.err, "\nskipped: ") || seen["summary"] != 1 || last["format"] != "sillwright/summary/1" {
		t.Fatalf("exit %d, %v, and on standard error\n%s", lint.code, seen, lint.err)
	}
	inputs := last["inputs"].(map[string]any)
	if last["doors"] != float64(seen["result"]) || inputs["problems"] != float64(seen["problem"]) || last["exit"] != 2.0 {
		t.Errorf("the summary counts %v doors and %v, of %v", last["doors"], inputs, seen)
	}
	if inputs["documents"] != last["doors"].(float64)+inputs["skipped"].(float64)+2 {
		t.Errorf("documents that are judged, skipped and broken do not add up: %v", inputs)
	}
}

// asTheyCome are the formats that are written as doors are judged.
func asTheyCome() []string {
	return slices.DeleteFunc(slices.Clone(cli.Formats["lint"]), render.Spools)
}

// onePiece refuses writes that are not whole lines.
type onePiece struct {
	bytes.Buffer
	t *testing.T
}

func (o *onePiece) Write(p []byte) (int, error) {
	if !bytes.HasSuffix(p, []byte("\n")) || bytes.HasPrefix(p, []byte("{")) && bytes.Count(p, []byte("\n")) != 1 {
		o.t.Errorf("a write of %q", p)
	}
	return o.Buffer.Write(p)
}

// A line is written in one go, in every format: nobody sees half of one.
func TestLintWritesWholeLines(t *testing.T) {
	t.Chdir("../..")
	for _, format := range asTheyCome() {
		out := &onePiece{t: t}
		cli.Run(context.Background(), []string{"lint", "--format", format, "examples", "nowhere"}, strings.NewReader(""), out, io.Discard)
		if out.Len() == 0 {
			t.Errorf("%s: nothing written", format)
		}
	}
}

// What is said of a line comes out before the next line is waited for: each is written only when the answer to the
// one before has been read.
func TestLintAnswersLineByLine(t *testing.T) {
	for _, format := range asTheyCome() {
		inRead, inWrite := io.Pipe()
		outRead, outWrite := io.Pipe()
		code := make(chan int, 1)
		go func() {
			c := cli.Run(context.Background(), []string{"lint", "--format", format, "-"}, inRead, outWrite, io.Discard)
			inRead.Close() // a run that ends early fails the test and does not hang it
			outWrite.Close()
			code <- c
		}()
		answers := bufio.NewReader(outRead)
		for i := range 3 {
			mark := fmt.Sprintf("P-%02d", i)
			if _, err := fmt.Fprintf(inWrite, unproven, mark); err != nil {
				t.Fatal(err)
			}
			answer, err := answers.ReadString('\n')
			for err == nil && i > 0 && strings.Contains(answer, fmt.Sprintf("P-%02d", i-1)) {
				answer, err = answers.ReadString('\n') // a format that has several lines a door
			}
			if err != nil || !strings.Contains(answer, mark) {
				t.Fatalf("%s: %q, %v", format, answer, err)
			}
		}
		inWrite.Close()
		if rest, err := io.ReadAll(answers); err != nil || len(rest) == 0 {
			t.Errorf("%s: no summary: %q, %v", format, rest, err)
		}
		if c := <-code; c != 1 {
			t.Errorf("%s: exit %d", format, c)
		}
	}
}

// A reader that goes away, as head does, ends the run without a word.
func TestLintReaderGoesAway(t *testing.T) {
	for _, format := range cli.Formats["lint"] {
		read, write, err := os.Pipe()
		if err != nil {
			t.Fatal(err)
		}
		read.Close()
		var errOut bytes.Buffer
		code := cli.Run(context.Background(), []string{"lint", "--format", format, "-"}, strings.NewReader(fmt.Sprintf(unproven, "D-01")+fmt.Sprintf(unproven, "D-02")), write, &errOut)
		write.Close()
		if render.Spools(format) { // what is to be said has been said before anything was written
			errOut.Next(len("--format  is one document: it is written when standard input has ended\n") + len(format))
		}
		if code != 2 || errOut.Len() > 0 {
			t.Errorf("%s: exit %d, %q", format, code, errOut.String())
		}
	}
}

// ending ends a run when something is first written.
type ending struct {
	bytes.Buffer
	end context.CancelFunc
}

func (e *ending) Write(p []byte) (int, error) {
	e.end()
	return e.Buffer.Write(p)
}

// A run that is to end does so at the next document, of the same file too, with 2 and without a summary.
func TestRunEndsAtNextDocument(t *testing.T) {
	t.Chdir(t.TempDir())
	bad := "format: sillwright/door/1\nmark: E-01\nrulebooks: [us-ada-2010]\nnothing: 1\n---\n"
	for name, text := range map[string]string{"bad.yaml": bad + bad + bad, "bad.ndjson": "{x\n{y\n{z\n", "good.ndjson": fmt.Sprintf(unproven+unproven+unproven, "E-01", "E-02", "E-03")} {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		ctx, end := context.WithCancel(context.Background())
		out, errOut := &ending{end: end}, &ending{end: end}
		code := cli.Run(ctx, []string{"lint", name}, strings.NewReader(""), out, errOut)
		if lines := strings.Count(out.String()+errOut.String(), "\n"); code != 2 || lines != 2 {
			t.Errorf("%s: exit %d, %d lines: %s%s", name, code, lines, out.String(), errOut.String())
		}
	}
}
