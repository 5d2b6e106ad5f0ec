package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"sillwright/cmd/internal/cli"
	"sillwright/schema"
)

// What is typed, and what files are called, reaches standard error and reports with nothing that would break a line, hide, or
// begin a line as a command to whoever runs a log (:: and ##).
func TestHostileArguments(t *testing.T) {
	const bad = "x\n::error::\u001b[31m\u202e\u00ad"
	dir := t.TempDir()
	t.Chdir(dir)
	for name, text := range map[string]string{
		"a.json":             strings.TrimSpace(unproven),
		"seals\n::e::.yaml":  "format: sillwright/seals/1\nseals: {}\n",
		"two\n::e::.yaml":    "format: sillwright/door/1\nmark: A-01\nrulebooks: [us-ada-2010]\n---\nmark: {\n",
		"::colons.json":      "{nonsense",
		"#hash.json":         "{nonsense",
		" \t::blank.json":    "{nonsense",
		"r\n::e::.csv":       "# title: ::error::\n# from: ::e::\n# length: 1 m\n# overlap: 0 mm\npressure (Pa), flow (L/s), ::x\n10, 1\n20, 1.6\n50, 3\n",
		"k\n::e::.csv":       "# ::error::\u202e: 1\n::error::,##x\n",
		"d\n::e::/a.yaml":    "name: build\n",
		"d\n::e::/##[x.json": "{nonsense",
	} {
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, args := range [][]string{
		{"lint", "--" + bad}, {"lint", "-" + bad}, {"lint", "--format", bad, "a.json"}, {"lint", "--only", bad, "a.json"}, {"lint", "--output", bad + "/r", "a.json"},
		{"lint", bad}, {"lint", bad + "*"}, {"lint", "[" + bad}, {"lint", " ::error::x"}, {"lint", "\t##[error]x"}, {"lint", "\u00a0::x"}, {"lint", "--strict=" + bad},
		{"lint", "--project", bad, "a.json"}, {"lint", "--project", "seals\n::e::.yaml", "a.json"}, {"lint", "--as-of", bad, "a.json"}, {"lint", "--project", bad, "--no-project", "a.json"},
		{"lint", "--seals", bad, "a.json"}, {"lint", "--seals", "two\n::e::.yaml", "a.json"}, {"lint", "seals\n::e::.yaml"}, {"lint", "d\n::e::"}, {"lint", "::colons.json", "#hash.json"},
		{"lint", " \t::blank.json"}, {"check", bad}, {"check", "--" + bad}, {"check", "d\n::e::"}, {"check", "two\n::e::.yaml"}, {"check", "--document", "9", "two\n::e::.yaml"},
		{"check", "--document", bad, "a.json"}, {"check", "::colons.json"}, {"check", "#hash.json"}, {"check", " \t::blank.json"}, {"check", "--seals", "::colons.json", "a.json"},
		{"check", "seals\n::e::.yaml"}, {"fit", bad}, {"fit", "--format", bad, "a.json"}, {"fit", "--method", bad, "a.json"}, {"fit", "--blank", bad, "r\n::e::.csv"}, {"fit", "r\n::e::.csv"}, {"fit", "k\n::e::.csv"}, {"fit", "--format", "json", "r\n::e::.csv"}, {"fit", "--seal", bad, "--like", bad, "r\n::e::.csv"},
		{"fit", "--seal", bad, "--like", "brush-fine-15", "--title", bad, "r\n::e::.csv"}, {"fit", "--seal", "x", "--like", "brush-fine-15", "r\n::e::.csv"}, {bad}, {"rules", bad}, {"rules", "--rulebook", bad}, {"rules", bad, "--rulebook", bad}, {"rules", "a", bad}, {"schema", bad}, {"bundle", bad}, {"bundle", "-o", bad + "/r"}, {"bundle", "-o", "two\n::e::.tar.gz"}, {"version", bad}, {"completion", bad + "x"}, {"help", bad},
	} {
		got := run(t, args...)
		if got.err == "" && got.out == "" {
			t.Errorf("%q: exit %d and nothing said", args, got.code)
		}
		for line := range strings.Lines(got.err + got.out) {
			line = strings.TrimSuffix(line, "\n")
			if begin := strings.TrimSpace(line); strings.HasPrefix(begin, "::") || strings.HasPrefix(begin, "##") || strings.Contains(line, "##[") || strings.IndexFunc(line, func(r rune) bool { return !schema.Prints(r) }) >= 0 {
				t.Errorf("%q: %q", args, line)
			}
		}
	}
}

// full is an output that takes nothing.
type full struct{}

var errFull = errors.New("no space left")

func (full) Write([]byte) (int, error) { return 0, errFull }

// What could not be written is told and exits with 2, whatever the command, its help too.
func TestWriteErrorIsTold(t *testing.T) {
	t.Chdir("../..")
	const door = "examples/complies-b-01-bathroom.json"
	for _, args := range [][]string{
		{"check", door}, {"check", "--format", "json", door}, {"check", "--print-input", door}, {"lint", door}, {"lint", "--format", "json", door}, {"lint", "--format", "json", "nowhere"},
		{"rules"}, {"rules", "us-ada-2010/threshold-profile"}, {"schema"}, {"bundle", "-o", "-"}, {"version"}, {"help"}, {"help", "lint"}, {"check", "--help"}, {}, {"completion", "bash"}, {"fit", "examples/rig/rig-blank.csv"}, {"fit", "--format", "json", "examples/rig/rig-blank.csv"},
	} {
		var errOut bytes.Buffer
		code := cli.Run(context.Background(), args, strings.NewReader(""), full{}, &errOut)
		if code != 2 || !strings.HasSuffix(errOut.String(), "sillwright: "+errFull.Error()+"\n") {
			t.Errorf("%q: exit %d, %q", args, code, errOut.String())
		}
	}
}
