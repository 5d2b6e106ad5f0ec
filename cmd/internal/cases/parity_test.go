package cases_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"sillwright/cmd/internal/cases"
	"sillwright/cmd/internal/tools"
	"sillwright/policies"
)

const (
	toolsMod     = "../../tools.mod"
	sources      = "../../../policies"
	capabilities = sources + "/capabilities.json"
	module       = "github.com/open-policy-agent/opa"
)

var patterns = []string{"*.rego", "questions/*.rego"}

// run gives what a command prints; a failure shows all it said.
func run(t *testing.T, stdin []byte, name string, args ...string) []byte {
	t.Helper()
	cmd := exec.Command(name, args...)
	cmd.Stdin = bytes.NewReader(stdin)
	var said bytes.Buffer
	cmd.Stderr = &said
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s: %v\n%.4000s\n%.4000s", name, err, said.Bytes(), out)
	}
	return out
}

// The stock program is built from the very version that judges in the product.
func TestStockOPAIsOfTheSameVersion(t *testing.T) {
	version := func(flags ...string) string {
		args := append(append([]string{"list"}, flags...), "-m", "-f", "{{.Version}}", module)
		return strings.TrimSpace(string(run(t, nil, "go", args...)))
	}
	own, pinned := version(), version("-modfile="+toolsMod)
	if own != pinned {
		t.Fatalf("go.mod has %s %s, cmd/tools.mod %s: go get -modfile=cmd/tools.mod -tool %s@%s", module, own, pinned, module, own)
	}
	if said := string(run(t, nil, tools.StockOPA(t), "version")); !strings.Contains(said, "Version: "+strings.TrimPrefix(own, "v")+"\n") {
		t.Errorf("opa version says %q, want %s", said, own)
	}
}

// folder writes what stock OPA reads: the modules with their tests and the rules as data.json.
func folder(t *testing.T, p *policies.Policies) string {
	t.Helper()
	dir := filepath.Join(t.ArtifactDir(), "policies") // kept with -artifacts
	for _, pattern := range patterns {
		names, err := filepath.Glob(filepath.Join(sources, pattern))
		if err != nil || len(names) == 0 {
			t.Fatalf("%s: %d files, %v", pattern, len(names), err)
		}
		for _, name := range names {
			src, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			own, _ := filepath.Rel(sources, name)
			write(t, filepath.Join(dir, own), src)
		}
	}
	data, err := p.Data()
	if err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(dir, "data.json"), jsonOf(t, data))
	return dir
}

func write(t *testing.T, name string, src []byte) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, src, 0o644); err != nil {
		t.Fatal(err)
	}
}

func jsonOf(t *testing.T, v any) []byte {
	t.Helper()
	src, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return src
}

// canonical writes a value with its keys in order and its numbers as they are.
func canonical(t *testing.T, src []byte) string {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(src))
	d.UseNumber()
	var v any
	if err := d.Decode(&v); err != nil {
		t.Fatalf("%v in %.200s", err, src)
	}
	return string(jsonOf(t, v))
}

// Stock OPA runs the Rego tests as the product's own runner does.
func TestStockOPARunsTheRegoTests(t *testing.T) {
	opa := tools.StockOPA(t)
	p, err := policies.Load(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	dir := folder(t, p)
	out := run(t, nil, opa, "test", dir, "--fail-on-empty", "--timeout", "60s", "--capabilities", capabilities, "--format", "json")
	var results []struct {
		Name     string
		Location struct{ File string }
	}
	if err := json.Unmarshal(out, &results); err != nil {
		t.Fatal(err)
	}
	ran := map[string]bool{}
	for _, r := range results {
		ran[r.Location.File] = true
	}
	for _, pattern := range patterns {
		files, err := filepath.Glob(filepath.Join(dir, strings.Replace(pattern, "*", "*_test", 1)))
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %d files of tests, %v", pattern, len(files), err)
		}
		for _, file := range files {
			if !ran[file] {
				t.Errorf("no test of %s ran", file)
			}
		}
	}
}

const everyCase = `[outcomes | some case in data.cases; outcomes := data.sillwright.outcomes with input as case]`

// bundled writes the bundle that the program writes of its rules.
func bundled(t *testing.T, p *policies.Policies) string {
	t.Helper()
	var b bytes.Buffer
	if err := p.WriteBundle(&b, "v0.0.0-test"); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.ArtifactDir(), "rules.tar.gz") // kept with -artifacts
	write(t, name, b.Bytes())
	return name
}

// Every committed case has the same outcomes under stock OPA, which has the bundle and nothing else of the program, as in
// the product: rule, subject, outcome, checks with their figures, and needs, byte for byte once keys are in order.
func TestStockOPAGivesTheSameOutcomes_Identity(t *testing.T) {
	opa := tools.StockOPA(t)
	p, all, err := cases.All(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	bundle, inputs := bundled(t, p), []policies.Input{}
	for _, c := range all {
		inputs = append(inputs, c.Input)
	}
	file := filepath.Join(filepath.Dir(bundle), "cases.json")
	write(t, file, jsonOf(t, map[string]any{"cases": inputs}))
	out := run(t, []byte(everyCase), opa, "eval", "--stdin", "--bundle", bundle, "--data", file,
		"--strict", "--strict-builtin-errors", "--capabilities", capabilities, "--format", "raw")
	var theirs []json.RawMessage
	if err := json.Unmarshal(out, &theirs); err != nil {
		t.Fatalf("%v in %.400s", err, out)
	}
	if len(theirs) != len(all) || len(all) == 0 {
		t.Fatalf("outcomes of %d cases, want %d", len(theirs), len(all))
	}
	for i, c := range all {
		t.Run(fmt.Sprintf("%s/%d", c.Rule, c.Line), func(t *testing.T) { same(t, p, c.Input, theirs[i]) })
	}
}

// same holds what stock OPA says of an input against what the product says of it.
func same(t *testing.T, p *policies.Policies, in policies.Input, theirs []byte) {
	t.Helper()
	ours, err := p.Outcomes(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	own, stock := canonical(t, ours), canonical(t, theirs)
	if own == stock {
		keptAsAnew(t, p, in)
		return
	}
	at := 0
	for at < min(len(own), len(stock)) && own[at] == stock[at] {
		at++
	}
	from := max(0, at-200)
	t.Errorf("%s\nproduct   ...%.400s\nstock OPA ...%.400s", in.Mark, own[from:], stock[from:])
}

// keptAsAnew holds what is judged with answers that are kept against what is judged without.
func keptAsAnew(t *testing.T, p *policies.Policies, in policies.Input) {
	t.Helper()
	kept, err := p.Judge(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	anew, err := p.JudgeAnew(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(kept, anew) {
		t.Errorf("%s\nkept %+v\nanew %+v", in.Mark, kept, anew)
	}
}
