//go:build unix

package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
	"golang.org/x/term"

	"sillwright/cmd/internal/cli"
	"sillwright/cmd/internal/render"
)

// makeFifo makes a pipe with a name: fifo FILE. Whoever reads it finds it empty and is not held up.
func makeFifo(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: fifo FILE")
	}
	name := ts.MkAbs(args[0])
	ts.Check(syscall.Mkfifo(name, 0o600))
	written := make(chan struct{})
	go func() {
		if pipe, err := os.OpenFile(name, os.O_WRONLY, 0); err == nil { // waits for a reader
			pipe.Close()
		}
		close(written)
	}()
	ts.Defer(func() {
		if pipe, err := os.OpenFile(name, os.O_RDWR, 0); err == nil {
			<-written
			pipe.Close()
		}
	})
}

// started is the program as a process of its own.
type started struct {
	*exec.Cmd
	in       io.WriteCloser
	out, err *bufio.Reader
}

func start(t *testing.T, dir string, args ...string) started {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := &exec.Cmd{Path: exe, Args: append([]string{"sillwright"}, args...), Dir: dir, Env: os.Environ()} // see TestMain
	in, err1 := cmd.StdinPipe()
	out, err2 := cmd.StdoutPipe()
	errOut, err3 := cmd.StderrPipe()
	if err1 != nil || err2 != nil || err3 != nil {
		t.Fatal(err1, err2, err3)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { cmd.Process.Kill() })
	return started{cmd, in, bufio.NewReader(out), bufio.NewReader(errOut)}
}

// said gives the next line on standard error: when it has come, the run is under way.
func (s started) said(t *testing.T) string {
	t.Helper()
	line, err := s.err.ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	return line
}

const ended = "sillwright: ended by a signal before all was checked; the report is not whole\n"

// A run that is ended leaves no half of a report, be it waiting for its input or not, and exits with 2.
func TestSignalEndsRun(t *testing.T) {
	for _, sig := range []syscall.Signal{syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP} {
		if signal.Ignored(sig) { // as under nohup: what a program starts ignoring it goes on ignoring
			t.Logf("%v is ignored here, and not tried", sig)
			continue
		}
		dir := t.TempDir()
		s := start(t, dir, "lint", "--output", "report.txt", "-")
		fmt.Fprintf(s.in, unproven+"{nonsense\n", "S-01")
		s.said(t)
		if beside, _ := filepath.Glob(filepath.Join(dir, ".report.txt.*")); len(beside) != 1 {
			t.Fatalf("%v: beside the report stands %v", sig, beside)
		}
		if err := s.Process.Signal(sig); err != nil {
			t.Fatal(err)
		}
		if got := s.said(t); got != ended {
			t.Errorf("%v: %q", sig, got)
		}
		s.Wait()
		if left, _ := os.ReadDir(dir); s.ProcessState.ExitCode() != 2 || len(left) > 0 {
			t.Errorf("%v: exit %d, left %v", sig, s.ProcessState.ExitCode(), left)
		}
	}
}

// What a run that is ended has found is on standard output, in whole lines, or, of a format that is one document, in a whole
// document that says that it is not all; and no summary says that it is.
func TestSignalLeavesWhatWasFinished(t *testing.T) {
	for _, format := range cli.Formats["lint"] {
		s := start(t, t.TempDir(), "lint", "--format", format, "-")
		fmt.Fprintf(s.in, unproven+unproven+"{nonsense\n{", "S-01", "S-02")
		if render.Spools(format) {
			s.said(t)
		}
		all := make(chan []byte)
		go func() {
			out, _ := io.ReadAll(s.out)
			all <- out
		}()
		s.said(t) // of the third line: what comes before it has been told
		if err := s.Process.Signal(syscall.SIGTERM); err != nil {
			t.Fatal(err)
		}
		said, out := s.said(t), <-all
		s.Wait()
		if s.ProcessState.ExitCode() != 2 || said != ended || !bytes.Contains(out, []byte("S-01")) || !bytes.Contains(out, []byte("S-02")) || !bytes.HasSuffix(out, []byte("\n")) {
			t.Errorf("%s: exit %d, %q, %q", format, s.ProcessState.ExitCode(), said, out)
		}
		if whole(format, out) != nil {
			t.Errorf("%s: %v in %q", format, whole(format, out), out)
		}
		if told := bytes.Contains(out, []byte("is not whole")); told != (format != "text" && format != "json") {
			t.Errorf("%s: that it is not whole is told: %v", format, told)
		}
	}
}

// whole says what is wrong with a report as a document.
func whole(format string, out []byte) error {
	switch format {
	case "sarif", "gitlab":
		var v any
		return json.Unmarshal(out, &v)
	case "junit":
		var v struct{}
		return xml.Unmarshal(out, &v)
	case "json":
		for line := range bytes.Lines(out) {
			if !json.Valid(line) || bytes.Contains(line, []byte("sillwright/summary/1")) {
				return fmt.Errorf("the line %q", line)
			}
		}
	}
	return nil
}

// A run that is killed half-way, with no chance to clean up, has written whole lines only, and leaves nothing on disk beside them.
func TestKillLeavesWholeLines(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("TMPDIR", dir)
	name := filepath.Join(t.TempDir(), "report.txt")
	report, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	defer report.Close()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := &exec.Cmd{Path: exe, Args: []string{"sillwright", "lint", "--workers", "3", "-"}, Env: os.Environ(), Stdout: report}
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	fed := make(chan struct{})
	go func() {
		defer close(fed)
		for i := 0; ; i++ {
			if _, err := fmt.Fprintf(in, unproven, fmt.Sprintf("S-%04d", i)); err != nil {
				return // it is gone
			}
		}
	}()
	written := func() []byte {
		got, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	for bytes.Count(written(), []byte("\n")) < 20 {
		time.Sleep(time.Millisecond)
	}
	if err := cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	cmd.Wait()
	<-fed
	lines := bytes.SplitAfter(written(), []byte("\n"))
	for i, line := range lines {
		if last := i == len(lines)-1; last != (len(line) == 0) || !last && !bytes.HasPrefix(line, []byte(fmt.Sprintf("UNPROVEN S-%04d standard input:%d: ", i, i+1))) {
			t.Errorf("line %d of %d: %q", i+1, len(lines), line)
		}
	}
	if left, err := os.ReadDir(dir); err != nil || len(left) > 0 {
		t.Errorf("left %v, %v", left, err)
	}
}

// A pipe that nobody writes to is left when the run is to end, whichever way it is named.
func TestSignalEndsOpening(t *testing.T) {
	for _, args := range [][]string{{"lint", "bad.yaml", "pipe"}, {"check", "pipe"}} {
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, "bad.yaml"), []byte("format: [\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		if err := syscall.Mkfifo(filepath.Join(dir, "pipe"), 0o600); err != nil {
			t.Fatal(err)
		}
		s := start(t, dir, args...)
		if args[0] == "lint" {
			s.said(t)
		}
		if args[0] == "check" { // it opens the pipe, and waits for what comes
			pipe, err := os.OpenFile(filepath.Join(dir, "pipe"), os.O_WRONLY, 0)
			if err != nil {
				t.Fatal(err)
			}
			defer pipe.Close()
		}
		if err := s.Process.Signal(syscall.SIGTERM); err != nil {
			t.Fatal(err)
		}
		if got := s.said(t); got != ended {
			t.Errorf("%v: %q", args, got)
		}
		if s.Wait(); s.ProcessState.ExitCode() != 2 {
			t.Errorf("%v: exit %d", args, s.ProcessState.ExitCode())
		}
	}
}

// A reader of standard error that goes away costs nothing but its messages: the report is written, or nothing is left.
func TestMessagesGoNowhere(t *testing.T) {
	dir := t.TempDir()
	read, write, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	read.Close()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := &exec.Cmd{Path: exe, Args: []string{"sillwright", "lint", "--output", "report.txt", "-"}, Dir: dir, Stderr: write, Stdin: strings.NewReader(fmt.Sprintf(unproven, "S-01") + "{nonsense\n")}
	cmd.Run()
	write.Close()
	left, err := os.ReadDir(dir)
	if err != nil || cmd.ProcessState.ExitCode() != 2 || len(left) != 1 || left[0].Name() != "report.txt" {
		t.Errorf("%v, %v, %v", cmd.ProcessState, left, err)
	}
}

// A bundle is not written on a terminal: the master of a pseudo-terminal is one.
func TestBundleSparesTerminals(t *testing.T) {
	screen, err := os.OpenFile("/dev/ptmx", os.O_RDWR, 0)
	if err != nil {
		t.Skipf("no pseudo-terminal: %v", err)
	}
	defer screen.Close()
	if !term.IsTerminal(int(screen.Fd())) {
		t.Skip("the master of a pseudo-terminal is no terminal here")
	}
	var said bytes.Buffer
	code := cli.Run(t.Context(), []string{"bundle", "-o", "-"}, strings.NewReader(""), screen, &said)
	if want := "sillwright: --output - is a terminal, and a bundle is no text; allowed: a FILE, or - into a pipe or a file\n"; code != 2 || said.String() != want {
		t.Errorf("exit %d, %q", code, said.String())
	}
}
