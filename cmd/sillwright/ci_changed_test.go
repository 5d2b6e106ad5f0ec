package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"go.yaml.in/yaml/v3"

	"sillwright/cmd/internal/tools"
)

// hooked is a repository with the example as its hook, and a folder that holds whatever the hook leaves behind.
func hooked(t *testing.T) (r tools.Repository, left string) {
	t.Helper()
	r = tools.NewRepository(t)
	hook, err := os.ReadFile(example(t, "pre-commit"))
	r.Must(err)
	r.Must(os.MkdirAll(r.Path(".git/hooks"), 0o755))
	r.Must(os.WriteFile(r.Path(".git/hooks/pre-commit"), hook, 0o755))
	left = t.TempDir()
	t.Setenv("TMPDIR", left)
	return r, left
}

// commits makes a commit through the hook, and says whether it was let through and what was said.
func commits(r tools.Repository, args ...string) (bool, string) {
	r.Helper()
	cmd := exec.Command("git", append([]string{"commit", "-q", "-m", "doors"}, args...)...)
	cmd.Dir = r.Dir
	out, err := cmd.CombinedOutput()
	return err == nil, string(out)
}

// The hook looks at what is staged, at nothing that the last commit had already, and at no more of the working tree.
func TestHookChecksWhatIsStaged(t *testing.T) {
	alone(t)
	r, left := hooked(t)
	good := func(mark string) string { return fmt.Sprintf(complying, mark) }
	open := func(mark string) string { return fmt.Sprintf(unproven, mark) }
	for _, step := range []struct {
		what string
		do   func()
		args []string
		let  bool
		says string
	}{
		{"no door, and no commit before", func() { r.Write("README", "ours\n"); r.Git("add", ".") }, nil, true, ""},
		{"a door that complies", func() { r.Write("a.json", good("A-01")); r.Git("add", ".") }, nil, true, "COMPLIES A-01 a.json:1"},
		{"one that does not", func() { r.Write("b.json", open("B-01")); r.Git("add", ".") }, nil, false, "UNPROVEN B-01 b.json:1"},
		{"mended in the folder alone", func() { r.Write("b.json", good("B-01")) }, nil, false, "UNPROVEN B-01 b.json:1"},
		{"staged as mended, broken in the folder", func() { r.Git("add", "."); r.Write("b.json", "{nonsense\n") }, nil, true, "COMPLIES B-01 b.json:1"},
		{"broken", func() { r.Git("add", ".") }, nil, false, "b.json:1:2: found `nonsense`"},
		{"a part of what is staged", func() { r.Write("c.json", good("C-01")); r.Git("add", ".") }, []string{"c.json"}, true, "COMPLIES C-01 c.json:1"},
		{"all of what is known", func() {}, []string{"-a"}, false, "b.json:1:2: found `nonsense`"},
		{"past the hook", func() {}, []string{"--no-verify"}, true, ""},
		{"beside a broken one of the last commit", func() { r.Write("deep/a.json", good("A-02")); r.Git("add", ".") }, nil, true, "COMPLIES A-02 deep/a.json:1"},
		{"no door of ours", func() { r.Write("build.yaml", "name: build\n"); r.Git("add", ".") }, nil, true, "skipped: build.yaml"},
		{"a door that goes", func() { r.Git("rm", "-q", "b.json") }, nil, true, ""},
		{"a door that is renamed", func() { r.Git("mv", "a.json", "n.json") }, nil, true, "COMPLIES A-01 n.json:1"},
	} {
		step.do()
		if let, said := commits(r, step.args...); let != step.let || !strings.Contains(said, step.says) || strings.Contains(said, "README") {
			t.Errorf("%s: let through %v\n%s", step.what, let, said)
		}
		if rest, err := os.ReadDir(left); err != nil || len(rest) > 0 {
			t.Errorf("%s: left behind %v, %v", step.what, rest, err)
		}
	}
	r.Git("worktree", "add", "-q", "../annex")
	r.Dir = r.Path("../annex")
	r.Write("w.json", open("W-01"))
	r.Git("add", ".")
	if let, said := commits(r); let || !strings.Contains(said, "UNPROVEN W-01 w.json:1") || strings.Contains(said, "A-01") {
		t.Errorf("in a linked work tree: let through %v\n%s", let, said)
	}
}

// File names may hold whatever a file system takes: doors of such names are checked like others, and nothing in them is run.
func TestHookTakesHostileNames(t *testing.T) {
	alone(t)
	if runtime.GOOS != "linux" {
		t.Skip("other systems take fewer names")
	}
	r, _ := hooked(t)
	names := []string{"a b.json", "-x.json", "--all.json", "new\nline.json", `quo"te'.json`, "$(touch pwned).json", "`touch pwned`.json", ";touch pwned;.json", "*.json", "\xff.json", ":(top)x.json", "-/\n/x.JSON"}
	for i, name := range names {
		r.Write(name, fmt.Sprintf(complying, fmt.Sprintf("A-%02d", i)))
	}
	r.Git("add", "--all")
	let, said := commits(r)
	if !let || strings.Count(said, "COMPLIES A-") != len(names) {
		t.Errorf("doors that comply: let through %v\n%s", let, said)
	}
	for i, name := range names {
		r.Write(name, fmt.Sprintf(unproven, fmt.Sprintf("B-%02d", i)))
	}
	r.Git("add", "--all")
	if let, said := commits(r); let || strings.Count(said, "UNPROVEN B-") != len(names) {
		t.Errorf("doors that do not: let through %v\n%s", let, said)
	}
	if found, _ := filepath.Glob(r.Path("*pwned")); len(found) > 0 {
		t.Error("a file name was run")
	}
}

// The hook ends with the exit code of lint, and says so when the program is not there.
func TestHookExitCodes(t *testing.T) {
	r, _ := hooked(t)
	for spec, code := range map[string]int{fmt.Sprintf(complying, "A-01"): 0, fmt.Sprintf(unproven, "A-01"): 1, "{nonsense\n": 2} {
		r.Write("a.json", spec)
		r.Git("add", ".")
		if got := shell(t, r.Dir, nil, "sh", example(t, "pre-commit")); got.code != code {
			t.Errorf("%s: exit %d, want %d\n%s%s", spec, got.code, code, got.out, got.err)
		}
	}
	got := shell(t, r.Dir, []string{"PATH=" + filepath.Dir(tools.Need(t, "git"))}, "sh", example(t, "pre-commit"))
	if got.code != 2 || got.err != "pre-commit: sillwright is not on PATH\n" {
		t.Errorf("exit %d, %s", got.code, got.err)
	}
}

// branched is a repository whose branch has changed b.json of two doors, with the program's examples where pipelines put them.
func branched(t *testing.T) (r tools.Repository, began string) {
	t.Helper()
	r = tools.NewRepository(t)
	r.Write("a.json", fmt.Sprintf(unproven, "A-01"))
	r.Write("b.json", fmt.Sprintf(complying, "B-01"))
	r.Commit()
	began = r.Git("rev-parse", "HEAD")
	r.Git("update-ref", "refs/remotes/origin/main", began)
	r.Git("checkout", "-q", "-b", "branch")
	r.Write("b.json", fmt.Sprintf(complying, "B-02"))
	r.Commit()
	script, err := os.ReadFile(example(t, "lint.sh"))
	r.Must(err)
	r.Write(".sillwright/examples/ci/lint.sh", string(script))
	return r, began
}

func (r ran) String() string { return fmt.Sprintf("exit %d\n%s%s", r.code, r.out, r.err) }

// The script of the pipeline runs, lints what the branch has changed, or all, and writes what it gives as its artifacts.
func TestPipelineRuns(t *testing.T) {
	var pipeline struct {
		Job struct {
			Script    []string
			Artifacts struct{ Reports map[string]string }
		} `yaml:"lint-doors"`
	}
	src, err := os.ReadFile(example(t, "gitlab-ci.yml"))
	if err != nil || yaml.Unmarshal(src, &pipeline) != nil || len(pipeline.Job.Script) == 0 {
		t.Fatal(err, pipeline)
	}
	r, began := branched(t)
	for since, want := range map[string]ran{began: {code: 0, out: "B-02"}, "": {code: 1, out: "A-01"}} {
		got := shell(t, r.Dir, []string{"SINCE=" + since}, "sh", "-ec", strings.Join(pipeline.Job.Script, "\n"))
		text, err := os.ReadFile(r.Path(".reports/doors.md"))
		if err != nil || got.code != want.code || !strings.Contains(string(text), want.out) || since != "" && strings.Contains(string(text), "A-01") {
			t.Errorf("since %q: %v; %v\n%s", since, got, err, text)
		}
		for kind, report := range pipeline.Job.Artifacts.Reports {
			if _, err := os.Stat(r.Path(report)); err != nil {
				t.Errorf("%s: %v", kind, err)
			}
			r.Must(os.Remove(r.Path(report)))
		}
	}
}

// So do the steps of the workflow, which hand the commit on by the file that the runner names.
func TestWorkflowRuns(t *testing.T) {
	var workflow struct {
		Jobs map[string]struct {
			Steps []struct{ Name, Run string }
		}
	}
	src, err := os.ReadFile(example(t, "github-actions.yml"))
	if err != nil || yaml.Unmarshal(src, &workflow) != nil {
		t.Fatal(err)
	}
	steps := map[string]string{}
	for _, s := range workflow.Jobs["lint"].Steps {
		steps[s.Name] = s.Run
	}
	r, began := branched(t)
	env := []string{"BASE=main", "FORMATS=github,markdown", "REPORTS=" + r.Path(".reports"), "GITHUB_ENV=" + r.Path(".env"), "GITHUB_STEP_SUMMARY=" + r.Path(".summary")}
	for _, name := range []string{"Find where the branch began", "Lint", "Show the report"} {
		if steps[name] == "" {
			t.Fatalf("no step %q", name)
		}
	}
	if got := shell(t, r.Dir, env, "bash", "-ec", steps["Find where the branch began"]); got.code != 0 {
		t.Fatal(got)
	}
	set, err := os.ReadFile(r.Path(".env"))
	if r.Must(err); string(set) != "SINCE="+began+"\n" {
		t.Fatalf("%q; the branch began at %s", set, began)
	}
	if got := shell(t, r.Dir, env, "bash", "-ec", steps["Lint"]); got.code != 1 || !strings.Contains(got.out, "A-01") || !strings.Contains(got.out, "::") {
		t.Errorf("all: %v", got)
	}
	if got := shell(t, r.Dir, append(env, strings.TrimSpace(string(set))), "bash", "-ec", steps["Lint"]); got.code != 0 || strings.Contains(got.out, "A-01") {
		t.Errorf("what the branch changed: %v", got)
	}
	got := shell(t, r.Dir, env, "bash", "-ec", steps["Show the report"])
	if shown, err := os.ReadFile(r.Path(".summary")); got.code != 0 || err != nil || !strings.Contains(string(shown), "B-02") {
		t.Errorf("%v; shown %s, %v", got, shown, err)
	}
}
