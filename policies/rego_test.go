package policies

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/cover"
	"github.com/open-policy-agent/opa/v1/format"
	"github.com/open-policy-agent/opa/v1/tester"
)

// regoOnDisk reads every Rego file beside this test, tests included.
func regoOnDisk(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, pattern := range []string{"*.rego", "questions/*.rego"} {
		names, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			src, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			out[filepath.ToSlash(name)] = string(src)
		}
	}
	return out
}

func isTest(name string) bool { return strings.HasSuffix(name, "_test.rego") }

// The embedded files are those on the disk less the tests, by name and by content.
func TestModulesAreEveryFileButTheTests(t *testing.T) {
	modules, err := Modules()
	if err != nil {
		t.Fatal(err)
	}
	for name, src := range regoOnDisk(t) {
		got, embedded := modules[name]
		switch {
		case isTest(name) && embedded:
			t.Errorf("%s is a module", name)
		case !isTest(name) && got != src:
			t.Errorf("%s is no module, or another text than the file", name)
		}
		if test := strings.TrimSuffix(name, ".rego") + "_test.rego"; !isTest(name) && regoOnDisk(t)[test] == "" {
			t.Errorf("%s has no %s beside it", name, test)
		}
	}
}

func TestRegoTestsAreFormatted(t *testing.T) {
	for name, src := range regoOnDisk(t) {
		out, err := format.SourceWithOpts(name, []byte(src), format.Opts{RegoVersion: ast.RegoV1})
		if err != nil {
			t.Errorf("%s: %v", name, err)
		} else if string(out) != src {
			t.Errorf("%s is not formatted; it should read:\n%s", name, out)
		}
	}
}

// TestRego runs every Rego test with the pinned capabilities, strictly, and holds that
// they reach every expression of every module.
func TestRego(t *testing.T) {
	src := regoOnDisk(t)
	compiler, err := compile(src)
	if err != nil {
		t.Fatal(err)
	}
	modules := map[string]*ast.Module{}
	for name, text := range src {
		if modules[name], err = ast.ParseModuleWithOpts(name, text, ast.ParserOptions{RegoVersion: ast.RegoV1}); err != nil {
			t.Fatal(err)
		}
	}
	tracer := cover.New()
	results, err := tester.NewRunner().SetCompiler(compiler).SetModules(modules).SetParallel(1).RaiseBuiltinErrors(false).
		SetCoverageQueryTracer(tracer).SetCoverageRuns(nil).RunTests(context.Background(), nil)
	if err != nil {
		t.Fatal(err)
	}
	ran := map[string]bool{}
	for r := range results {
		t.Run(r.Name, func(t *testing.T) {
			if !strings.HasPrefix(r.Name, "test_pass_") && !strings.HasPrefix(r.Name, "test_fail_") && !strings.HasPrefix(r.Name, "test_unknown_") {
				t.Errorf("the name does not begin with test_pass_, test_fail_ or test_unknown_")
			}
			if !r.Pass() {
				t.Errorf("%s: %s %v", r.Location, r, r.Error)
			}
			ran[r.Location.File] = true
		})
	}
	for name := range src {
		if isTest(name) && !ran[name] {
			t.Errorf("no test of %s ran", name)
		}
	}
	report := tracer.Report(modules)
	for name := range src {
		if isTest(name) {
			continue
		}
		file := report.Files[name]
		if file == nil || len(file.Covered) == 0 {
			t.Errorf("%s is not covered at all", name)
			continue
		}
		for _, r := range file.NotCovered {
			t.Errorf("%s:%d-%d is not covered by any Rego test", name, r.Start.Row, r.End.Row)
		}
	}
}
