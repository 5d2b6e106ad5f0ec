package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v5"
	"go.yaml.in/yaml/v3"

	"sillwright/cmd/internal/cli"
	"sillwright/cmd/internal/tools"
)

// complying is a door that can be ordered, in one line, by its mark.
const complying = `{"format": "sillwright/door/1", "mark": "%s", "rulebooks": ["spec"], "door": {"operation": "hinged", "height": "2040 mm", "thickness": "40 mm", "fire_rated": false, "smoke_control": false}, "leaves": [{"id": "A", "width": "926 mm", "gap": {"readings": [{"at": "0 mm", "gap": "8 mm"}, {"at": "926 mm", "gap": "8 mm"}]}}], "threshold": {"segments": [], "openings": []}, "floor": {"under_seal": "tile", "swept": "tile"}, "options": [{"id": "bare", "seal": "none"}], "targets": {"leakage": {"flow": "100 L/s", "at": "50 Pa"}}}` + "\n"

const exampleCI = "../../examples/ci"

// shell runs a command in a folder, with more in its environment. The program is on PATH, see TestMain.
func shell(t *testing.T, dir string, env []string, command ...string) ran {
	t.Helper()
	cmd := exec.Command(tools.Need(t, command[0]), command[1:]...)
	var out, errOut bytes.Buffer
	cmd.Dir, cmd.Env, cmd.Stdout, cmd.Stderr = dir, append(os.Environ(), env...), &out, &errOut
	err := cmd.Run()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	return ran{cmd.ProcessState.ExitCode(), out.String(), errOut.String()}
}

// example is the absolute path of an example for pipelines.
func example(t *testing.T, name string) string {
	t.Helper()
	path, err := filepath.Abs(filepath.Join(exampleCI, name))
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// write makes a folder of these files.
func write(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		path := filepath.Join(dir, name)
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o755), os.WriteFile(path, []byte(text), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// The workflow is one that actionlint accepts, which knows the documented syntax, the types of expressions and the inputs
// of actions. It is pinned in cmd/tools.mod.
func TestWorkflowIsOne(t *testing.T) {
	alone(t)
	src, err := os.ReadFile(example(t, "github-actions.yml"))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ old, new, says string }{
		{"", "", ""},
		{"runs-on:", "run-on:", `unexpected key "run-on"`},
		{"fetch-depth:", "fetch-deep:", `input "fetch-deep" is not defined`},
		{"vars.SILLWRIGHT", "var.SILLWRIGHT", `undefined variable "var"`},
	} {
		dir := write(t, map[string]string{"doors.yml": strings.Replace(string(src), c.old, c.new, 1)})
		got := shell(t, ".", nil, "go", "tool", "-modfile=../tools.mod", "actionlint", "-no-color", "-shellcheck=", "-pyflakes=", filepath.Join(dir, "doors.yml"))
		if (got.code == 0) != (c.says == "") || !strings.Contains(got.out, c.says) {
			t.Errorf("%s for %s: exit %d\n%s%s", c.new, c.old, got.code, got.out, got.err)
		}
	}
}

// The pipeline keeps to GitLab's own schema (testdata/ci/LICENSE.txt says which).
func TestPipelineIsOne(t *testing.T) {
	form, err := jsonschema.Compile("testdata/ci/gitlab-ci.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	src, err := os.ReadFile(example(t, "gitlab-ci.yml"))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ old, new string }{{"", ""}, {"when: always", "when: allways"}, {"codequality:", "code_quality:"}, {"script:\n", "skript:\n"}} {
		var doc any
		if err := yaml.Unmarshal([]byte(strings.ReplaceAll(string(src), c.old, c.new)), &doc); err != nil {
			t.Fatal(err)
		}
		if err := form.Validate(doc); (err == nil) != (c.old == "") {
			t.Errorf("%s for %s: %v", c.new, c.old, err)
		}
	}
}

// What the examples run is shell that a plain sh reads.
func TestExampleScriptsAreShell(t *testing.T) {
	for _, name := range []string{"lint.sh", "pre-commit"} {
		if got := shell(t, ".", nil, "sh", "-n", example(t, name)); got.code != 0 || got.err != "" {
			t.Errorf("%s: exit %d, %s", name, got.code, got.err)
		}
		if info, err := os.Stat(example(t, name)); err != nil || info.Mode()&0o111 == 0 {
			t.Errorf("%s cannot be run as it is: %v", name, err)
		}
	}
}

// reports are where lint.sh puts each format; what goes to the log has none.
var reports = map[string]string{
	"text": "doors.txt", "json": "doors.ndjson", "sarif": "doors.sarif", "junit": "doors.junit.xml", "github": "", "gitlab": "doors.codequality.json", "markdown": "doors.md",
}

// Of doors in every state lint.sh writes every report, and gives the worst exit code.
func TestLintScript(t *testing.T) {
	formats := slices.Sorted(slices.Values(cli.Formats["lint"]))
	dir := write(t, map[string]string{
		"good/a b.json": fmt.Sprintf(complying, "A-01"), "open/-b.json": fmt.Sprintf(unproven, "B-01"), "-broken/c.json": "{nonsense\n",
	})
	for _, c := range []struct {
		formats []string // each is a run
		paths   []string
		code    int
	}{
		{formats[:1], []string{"good/a b.json"}, 0}, {formats[1:2], []string{"open", "good"}, 1}, {formats[2:3], []string{"good", "no\nwhere"}, 2},
		{formats, []string{"-broken", "good", "open"}, 2},
	} {
		out := filepath.Join(t.TempDir(), "re ports")
		got := shell(t, dir, nil, append([]string{"sh", example(t, "lint.sh"), out, strings.Join(c.formats, ",")}, c.paths...)...)
		if got.code != c.code {
			t.Errorf("%q: exit %d, want %d: %s", c.paths, got.code, c.code, got.err)
		}
		if said := strings.Count(got.err, "found `nonsense`"); c.code == 2 && c.paths[0] == "-broken" && said != 1 {
			t.Errorf("%q: what is wrong is told %d times:\n%s", c.paths, said, got.err)
		}
		for _, format := range c.formats {
			file, known := reports[format]
			if !known {
				t.Fatalf("lint.sh does not know %s", format)
			}
			if src, err := os.ReadFile(filepath.Join(out, file)); file != "" && (err != nil || len(src) == 0) {
				t.Errorf("%q: no report as %s: %v", c.paths, format, err)
			}
		}
	}
	got := shell(t, dir, nil, "sh", example(t, "lint.sh"), t.TempDir(), "nonsense", "good")
	if want := "lint.sh: no format nonsense; allowed: " + strings.Join(formats, ", ") + "\n"; got.code != 2 || got.err != want {
		t.Errorf("exit %d, %q; want %q", got.code, got.err, want)
	}
}

// What goes wrong with one report, or before any, is told with 2, and no older report is left to be taken for a new one.
func TestLintScriptCannot(t *testing.T) {
	dir := write(t, map[string]string{"good/a.json": fmt.Sprintf(complying, "A-01"), "empty/x": "", "out/doors.txt": "old", "out/doors.ndjson": "old"})
	script := example(t, "lint.sh")
	if got := shell(t, dir, nil, "sh", script, "out", "text"); got.code != 2 || !strings.HasPrefix(got.err, "usage: lint.sh FOLDER FORMATS PATH...") {
		t.Errorf("exit %d, %s", got.code, got.err)
	}
	if got := shell(t, dir, nil, "sh", script, "good/a.json/out", "text", "good"); got.code != 2 {
		t.Errorf("exit %d, %s", got.code, got.err)
	}
	got := shell(t, dir, nil, "sh", script, "out", "nonsense,text,json", "good")
	if src, err := os.ReadFile(filepath.Join(dir, "out/doors.txt")); got.code != 2 || err != nil || !strings.Contains(string(src), "COMPLIES A-01 good/a.json:1") {
		t.Errorf("exit %d, %s, %v", got.code, src, err)
	}
	got = shell(t, dir, nil, "sh", script, "out", "text,json", "empty")
	if left, err := filepath.Glob(filepath.Join(dir, "out/*")); got.code != 2 || err != nil || len(left) > 0 {
		t.Errorf("exit %d, left %v", got.code, left)
	}
	bin := t.TempDir() // all that the script needs but the program
	for _, program := range []string{"mkdir", "mktemp", "rm", "cmp", "cat", "mv", "tr"} {
		if err := os.Symlink(tools.Need(t, program), filepath.Join(bin, program)); err != nil {
			t.Fatal(err)
		}
	}
	if got := shell(t, dir, []string{"PATH=" + bin}, "sh", script, "out", "text", "good"); got.code != 2 || !strings.Contains(got.err, "not found") {
		t.Errorf("without the program: exit %d, %s", got.code, got.err)
	}
}
