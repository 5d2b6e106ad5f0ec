package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"sillwright/cmd/internal/tools"
)

// widened is what parallel says of a line that is longer than a block.
var widened = regexp.MustCompile(`(?m)^parallel: Warning: A record was longer than .*\n`)

// manyDoors is a stream of some 60 lines: doors that comply and that do not, the same mark again, marks that would break a line,
// lines that are no door, longer than a block or empty, and an end without a newline.
func manyDoors() string {
	var b strings.Builder
	for i := range 10 {
		fmt.Fprintf(&b, complying, fmt.Sprintf("A-%02d", i))
		fmt.Fprintf(&b, unproven, "B-01")
		fmt.Fprintf(&b, strings.Replace(complying, "100 L/s", "1 L/s", 1), fmt.Sprintf("C-%02d", i))
		b.WriteString([]string{
			"{nonsense\n", "\n", " \t\r\n", "{}\n", "\xff\xfe\n", "[" + strings.Repeat(" ", 3000) + "\n", "{\"format\": \"sillwright/door/1\"} {}\n", "\x00\n", "null\n",
			strings.TrimSuffix(fmt.Sprintf(complying, "R-01"), "\n") + "\r\n",
		}[i])
		fmt.Fprintf(&b, complying, []string{
			`:: ::error::`, `\u001b[31m`, `\n`, `\u202e`, `$(touch pwned)`, `{#}`, `{}`, `'\"\\`, `\ud800`, strings.Repeat("x", 4000),
		}[i])
		b.WriteString([]string{"", "\n\n"}[i%2])
		fmt.Fprintf(&b, unproven, fmt.Sprintf("D-%02d", i))
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// A stream in parts, several judged at once and each by a process of its own, gives the bytes that one process gives,
// and the messages too. Each part ends with its own exit code, the worst of which is that of the whole; parallel itself
// ends with how many parts did not end with 0.
func TestFilterUnderParallel(t *testing.T) {
	alone(t)
	parallel := tools.Need(t, "parallel")
	t.Setenv("PARALLEL_HOME", t.TempDir())
	t.Setenv("PARALLEL", "")
	dir := t.TempDir()
	doors := manyDoors()
	filter := func(command ...string) ran {
		t.Helper()
		cmd := exec.Command(command[0], command[1:]...)
		var out, errOut strings.Builder
		cmd.Dir, cmd.Stdin, cmd.Stdout, cmd.Stderr = dir, strings.NewReader(doors), &out, &errOut
		_ = cmd.Run()
		return ran{cmd.ProcessState.ExitCode(), out.String(), errOut.String()}
	}
	lint := []string{"sillwright", "lint", "--filter", "--format", "json"}
	whole := filter(lint...)
	results, problems := strings.Count(whole.out, `{"format":"sillwright/result/1"`), strings.Count(whole.out, `{"format":"sillwright/problem/1"`)
	if whole.code != 2 || results < 45 || problems < 10 || results+problems != strings.Count(whole.out, "\n") {
		t.Fatalf("exit %d, %d results, %d problems: %s", whole.code, results, problems, whole.err)
	}
	for _, split := range [][]string{{"-N", "7", "--jobs", "3"}, {"--block", "2k"}} {
		log := filepath.Join(dir, "log")
		parts := filter(slices.Concat([]string{parallel, "--pipe", "-k", "--joblog", log}, split, []string{"--"}, lint)...)
		if parts.out != whole.out {
			t.Errorf("%v: other results: %s", split, difference(parts.out, whole.out))
		}
		if said := widened.ReplaceAllString(parts.err, ""); said != whole.err {
			t.Errorf("%v: other messages: %s", split, difference(said, whole.err))
		}
		failed, worst := exits(t, log)
		if worst != fmt.Sprint(whole.code) || parts.code != failed || failed < 2 {
			t.Errorf("%v: exit %d, of %d parts that did not end with 0, the worst with %s", split, parts.code, failed, worst)
		}
	}
	if _, err := os.Stat(filepath.Join(dir, "pwned")); err == nil {
		t.Error("a mark was run")
	}
}

// exits reads from parallel's log how many parts did not end with 0, and the worst end. Its columns are Seq, Host, Starttime,
// JobRuntime, Send, Receive, Exitval, Signal, Command.
func exits(t *testing.T, log string) (failed int, worst string) {
	t.Helper()
	src, err := os.ReadFile(log)
	if err != nil {
		t.Fatal(err)
	}
	for i, line := range strings.Split(strings.TrimSuffix(string(src), "\n"), "\n") {
		columns := strings.Split(line, "\t")
		if len(columns) < 9 || i == 0 && columns[6] != "Exitval" {
			t.Fatalf("a log of another form: %s", src)
		}
		if i > 0 && columns[6] != "0" {
			failed++
			worst = max(worst, columns[6])
		}
	}
	return failed, worst
}

// difference shows where two texts part.
func difference(got, want string) string {
	a, b := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return fmt.Sprintf("line %d\n got %.300q\nwant %.300q", i+1, a[i], b[i])
		}
	}
	return fmt.Sprintf("%d lines, want %d", len(a), len(b))
}
