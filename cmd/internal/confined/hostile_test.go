package confined

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"sillwright/policies"
)

var update = flag.Bool("update", false, "rewrite the refusals of testdata/hostile")

// tight are bounds that a test can wait for, however busy the machine: only what is endless meets the one of time, and gets a shorter one.
var tight, endless = Bounds{Time: 2 * time.Minute, Memory: 256 << 20}, Bounds{Time: 10 * time.Second, Memory: 256 << 20}

var choices = regexp.MustCompile(`one of [^;]+, [^;]+`)

// load loads the rulebooks of a folder as a command does.
func load(dir string, b Bounds) (*policies.Policies, error) {
	own, err := policies.ReadOwn(dir)
	if err != nil {
		return nil, err
	}
	return policies.LoadWith(context.Background(), own, Start(b))
}

// Each folder of testdata/hostile holds a rulebook that somebody might send; it is refused with the file and the line, or cut off with
// the name of its rule, as its refusal.txt says.
func TestHostile(t *testing.T) {
	unraced(t)
	folders, err := os.ReadDir("testdata/hostile")
	if err != nil || len(folders) < 30 {
		t.Fatal(len(folders), err)
	}
	for _, f := range folders {
		t.Run(f.Name(), func(t *testing.T) {
			dir := filepath.Join("testdata/hostile", f.Name())
			bounds := tight
			if f.Name() == "endless" {
				bounds = endless
			}
			p, err := load(dir, bounds)
			if err == nil {
				p.Close()
				t.Fatal("it is taken")
			}
			got := strings.ReplaceAll(err.Error(), filepath.ToSlash(dir)+"/", "") + "\n"
			got = choices.ReplaceAllString(got, "one of …") // which grow with every rulebook and fact
			file := filepath.Join(dir, "refusal.txt")
			if *update {
				if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(file)
			if err != nil || got != string(want) {
				t.Errorf("%v\ngot  %s\nwant %s", err, got, want)
			}
		})
	}
}

// What a repository cannot hold: links out of the folder, pipes, huge files, text that is nested deeply.
func TestHostileFiles(t *testing.T) {
	unraced(t)
	good, err := os.ReadFile("testdata/hostile/silent/own-house.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		make func(dir string) error
		want string
	}{
		"a link out of the folder": {func(dir string) error { return os.Symlink("/etc/passwd", filepath.Join(dir, "own-secret.yaml")) }, "own-secret.yaml: found"},
		"a pipe":                   {func(dir string) error { return makePipe(filepath.Join(dir, "own-pipe.yaml")) }, "no regular file"},
		"a huge file": {func(dir string) error {
			return os.WriteFile(filepath.Join(dir, "own-huge.yaml"), slices.Repeat([]byte("#\n"), 1<<19), 0o600)
		}, "more than 512 kB"},
		"another name":  {func(dir string) error { return os.WriteFile(filepath.Join(dir, "house.yaml"), good, 0o600) }, `"house.yaml"`},
		"many files":    {many, "more than 100 files"},
		"nothing in it": {func(dir string) error { return os.Remove(filepath.Join(dir, "own-house.yaml")) }, "holds no rulebook"},
		"deep Rego": {func(dir string) error {
			deep := "package sillwright.questions\n\nown_deep := " + strings.Repeat("[", 200_000)
			return os.WriteFile(filepath.Join(dir, "own-trap.rego"), []byte(deep), 0o600)
		}, "own-trap.rego"},
		"deep YAML": {func(dir string) error {
			return os.WriteFile(filepath.Join(dir, "own-deep.yaml"), []byte("a: "+strings.Repeat("[", 100_000)), 0o600)
		}, "own-deep.yaml"},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			if err := os.WriteFile(filepath.Join(dir, "own-house.yaml"), good, 0o600); err != nil {
				t.Fatal(err)
			}
			if err := c.make(dir); err != nil {
				if !errors.Is(err, errors.ErrUnsupported) {
					t.Fatal(err)
				}
				t.Skip("this system has no pipes in folders")
			}
			_, err := load(dir, tight)
			if err == nil || !strings.Contains(err.Error(), c.want) || strings.Contains(err.Error(), "root:") {
				t.Errorf("got %.300v, want %s", err, c.want)
			}
		})
	}
}

func many(dir string) error {
	for i := range 101 {
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("own-%d.yaml", i)), nil, 0o600); err != nil {
			return err
		}
	}
	return nil
}

// The process gets no environment, writes no file, and ends with its input.
func TestProcess(t *testing.T) {
	unraced(t)
	p, err := Start(tight)()
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	one := p.(*process)
	if env := one.cmd.Env; len(env) != 1 || !strings.HasPrefix(env[0], memoryEnv) {
		t.Errorf("environment %v", env)
	}
	got, err := p.Ask([]byte(`{"file": "own-x.rego", "text": "package x"}` + "\n"))
	if err != nil || !strings.Contains(string(got), `"faults"`) {
		t.Errorf("%s, %v", got, err)
	}
	p.Close()
	if _, err := p.Ask([]byte("{}\n")); err == nil {
		t.Error("it answers after its end")
	}
	if !one.cmd.ProcessState.Exited() {
		t.Errorf("it ended so: %v", one.cmd.ProcessState)
	}
}

var _ error = policies.Problems(nil)

func TestProblemsAreTold(t *testing.T) {
	_, err := load("testdata/hostile/broken-entries", tight)
	var all policies.Problems
	if !errors.As(err, &all) || len(all) != 3 {
		t.Fatalf("%v", err)
	}
	for _, p := range all {
		if p.Span.Start.Line == 0 || p.Allowed == "" || p.Do == "" || !strings.HasSuffix(p.File, "own-house.yaml") {
			t.Errorf("%+v", p)
		}
	}
}
