package cases_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"sillwright/cmd/internal/cli"
	"sillwright/cmd/internal/confined"
	"sillwright/cmd/internal/tools"
	"sillwright/policies"
)

const examples = "../../../examples"

// fleet is what somebody has who judges by stock OPA: the bundle, and of every example what check --print-input prints.
type fleet struct {
	opa, bundle string
	printed     []string // files
	inputs      []policies.Input
	*policies.Policies
}

// sillwright gives what the program prints.
func sillwright(t *testing.T, args ...string) []byte {
	t.Helper()
	var out, said bytes.Buffer
	if code := cli.Run(context.Background(), args, strings.NewReader(""), &out, &said); code != 0 {
		t.Fatalf("sillwright %q: exit %d, %s", args, code, said.Bytes())
	}
	return out.Bytes()
}

func newFleet(t *testing.T) fleet {
	t.Helper()
	f := fleet{opa: tools.StockOPA(t), bundle: filepath.Join(t.TempDir(), "sillwright-rules.tar.gz")}
	var err error
	if f.Policies, err = policies.Load(context.Background()); err != nil {
		t.Fatal(err)
	}
	sillwright(t, "bundle", "-o", f.bundle)
	doors, err := filepath.Glob(filepath.Join(examples, "*-[a-z]-[0-9][0-9]-*"))
	if err != nil || len(doors) < 20 {
		t.Fatalf("%d examples, %v", len(doors), err)
	}
	dir := t.TempDir()
	for _, door := range doors {
		src := sillwright(t, "check", "--seals", filepath.Join(examples, "own-seals.yaml"), "--print-input", door)
		name := filepath.Join(dir, strings.TrimSuffix(filepath.Base(door), filepath.Ext(door))+".json")
		write(t, name, src)
		f.printed = append(f.printed, name)
		var in policies.Input
		d := json.NewDecoder(bytes.NewReader(src))
		d.UseNumber()
		if err := d.Decode(&in); err != nil {
			t.Fatalf("%s: %v", door, err)
		}
		f.inputs = append(f.inputs, in)
	}
	return f
}

// Stock OPA has the bundle, what check --print-input prints of the examples, and nothing else of the program.
func TestStockOPAOnTheBundle_Identity(t *testing.T) {
	f := newFleet(t)
	t.Run("inspect, check, build, eval", f.taken)
	t.Run("exec", f.executed)
	t.Run("run --server", f.served)
}

// taken: the bundle names its revision, passes strictly, and builds to another that judges alike.
func (f fleet) taken(t *testing.T) {
	var seen struct {
		Manifest struct {
			Revision string
			Roots    []string
		}
		Namespaces map[string][]string
	}
	if err := json.Unmarshal(run(t, nil, f.opa, "inspect", "--format", "json", f.bundle), &seen); err != nil {
		t.Fatal(err)
	}
	if seen.Manifest.Revision != f.Digest || !reflect.DeepEqual(seen.Manifest.Roots, []string{"rulebooks", "sillwright"}) {
		t.Errorf("inspect says %+v, want revision %s", seen.Manifest, f.Digest)
	}
	files := 0
	for _, names := range seen.Namespaces {
		files += len(names)
	}
	if modules, err := policies.Modules(); err != nil || files != len(modules)+1 { // and data.json
		t.Errorf("inspect lists %d files for %d modules, %v: %v", files, len(modules), err, seen.Namespaces)
	}
	run(t, nil, f.opa, "check", "--strict", "--capabilities", capabilities, "--bundle", f.bundle)
	built := filepath.Join(t.TempDir(), "built.tar.gz")
	run(t, nil, f.opa, "build", "--capabilities", capabilities, "--output", built, "--bundle", f.bundle)
	for _, bundle := range []string{f.bundle, built} {
		same(t, f.Policies, f.inputs[0], run(t, nil, f.opa, "eval", "--strict-builtin-errors", "--capabilities", capabilities,
			"--bundle", bundle, "--input", f.printed[0], "--format", "raw", policies.Query))
	}
}

// decision is the query as exec and the server name it.
var decision = strings.ReplaceAll(strings.TrimPrefix(policies.Query, "data."), ".", "/")

func (f fleet) executed(t *testing.T) {
	var said struct {
		Result []struct{ Result json.RawMessage }
	}
	if err := json.Unmarshal(run(t, nil, f.opa, append([]string{"exec", "--decision", decision, "--bundle", f.bundle}, f.printed...)...), &said); err != nil {
		t.Fatal(err)
	}
	if len(said.Result) != len(f.inputs) {
		t.Fatalf("%d results of %d inputs", len(said.Result), len(f.inputs))
	}
	for i, in := range f.inputs {
		same(t, f.Policies, in, said.Result[i].Result)
	}
}

// serve starts a server of the bundle on the loopback and gives its address.
func (f fleet) serve(t *testing.T) string {
	t.Helper()
	free, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	address := free.Addr().String()
	free.Close()
	var said bytes.Buffer
	cmd := exec.Command(f.opa, "run", "--server", "--skip-version-check", "--addr", address, "--bundle", f.bundle)
	cmd.Stderr, cmd.Stdout = &said, &said
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan struct{})
	go func() {
		cmd.Wait()
		close(ended)
	}()
	t.Cleanup(func() {
		cmd.Process.Kill()
		<-ended
	})
	for deadline := time.After(time.Minute); ; {
		if r, err := http.Get("http://" + address + "/health?bundles"); err == nil {
			r.Body.Close()
			if r.StatusCode == http.StatusOK {
				return address
			}
		}
		select {
		case <-ended:
			t.Fatalf("the server ended: %s", said.Bytes())
		case <-deadline:
			t.Fatal("the server does not answer")
		case <-time.After(20 * time.Millisecond):
		}
	}
}

// served: the answers name the rules by which they judge. An input that is not wrapped has none: whoever does not count
// takes that for nothing wrong.
func (f fleet) served(t *testing.T) {
	address := f.serve(t)
	type answer struct {
		Result     json.RawMessage
		Provenance struct {
			Bundles map[string]struct{ Revision string }
		}
	}
	post := func(body []byte) (a answer) {
		t.Helper()
		r, err := http.Post(fmt.Sprintf("http://%s/v1/data/%s?strict-builtin-errors=true&provenance=true", address, decision), "application/json", bytes.NewReader(body))
		if err != nil {
			t.Fatal(err)
		}
		defer r.Body.Close()
		src, err := io.ReadAll(r.Body)
		if err != nil || r.StatusCode != http.StatusOK {
			t.Fatalf("%s, %v: %.400s", r.Status, err, src)
		}
		if err := json.Unmarshal(src, &a); err != nil {
			t.Fatalf("%v in %.400s", err, src)
		}
		return a
	}
	for _, in := range f.inputs {
		a := post(jsonOf(t, map[string]any{"input": in}))
		same(t, f.Policies, in, a.Result)
		if got := a.Provenance.Bundles[f.bundle].Revision; got != f.Digest {
			t.Errorf("%s: judged by revision %q, want %s", in.Mark, got, f.Digest)
		}
	}
	if a := post(jsonOf(t, f.inputs[0])); string(a.Result) != "[]" {
		t.Errorf("an input that is not wrapped: %.400s", a.Result)
	}
}

// A bundle with rulebooks of a user's own says of them, in one evaluation with all others, what the program says that judges them apart.
func TestStockOPAOnOwnRulebooks_Identity(t *testing.T) {
	opa := tools.StockOPA(t)
	dir := t.TempDir()
	folder := filepath.Join(examples, "own-brief")
	bundle := filepath.Join(dir, "rules.tar.gz")
	sillwright(t, "bundle", "--rulebooks-dir", filepath.Join(folder, "rulebooks"), "-o", bundle)
	own, err := policies.ReadOwn(filepath.Join(folder, "rulebooks"))
	if err != nil {
		t.Fatal(err)
	}
	p, err := policies.LoadWith(context.Background(), own, confined.Start(confined.Usual))
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	run(t, nil, opa, "check", "--strict", "--capabilities", capabilities, "--bundle", bundle)
	doors, err := filepath.Glob(filepath.Join(folder, "*-[a-z]-[0-9][0-9]-*"))
	if err != nil || len(doors) < 2 {
		t.Fatal(doors, err)
	}
	for _, door := range doors {
		src := sillwright(t, "check", "--project", filepath.Join(folder, "sillwright.yaml"), "--print-input", door)
		input := filepath.Join(dir, "input.json")
		write(t, input, src)
		var in policies.Input
		d := json.NewDecoder(bytes.NewReader(src))
		d.UseNumber()
		if err := d.Decode(&in); err != nil {
			t.Fatal(err)
		}
		findings, err := p.Judge(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		var theirs []struct{ Rule, Subject, Outcome string }
		said := run(t, nil, opa, "eval", "--strict-builtin-errors", "--capabilities", capabilities, "--bundle", bundle, "--input", input, "--format", "raw", policies.Query)
		if err := json.Unmarshal(said, &theirs); err != nil || len(theirs) != len(findings) {
			t.Fatalf("%d outcomes, %d findings, %v", len(theirs), len(findings), err)
		}
		outcomes := map[string]string{}
		for _, o := range theirs {
			outcomes[o.Rule+" "+o.Subject] = o.Outcome
		}
		apart := 0
		for _, f := range findings {
			if outcomes[f.Rule+" "+f.Subject] != f.Outcome {
				t.Errorf("%s of %s: %s, stock OPA says %s", f.Rule, f.Subject, f.Outcome, outcomes[f.Rule+" "+f.Subject])
			}
			if f.Rulebook == "own-brief" {
				apart++
			}
		}
		if apart < 7 {
			t.Errorf("%s: %d findings of the brief", door, apart)
		}
	}
}

// The process that runs the questions of a user is the program itself, which here is that of the tests.
func TestMain(m *testing.M) {
	if len(os.Args) == 2 && os.Args[1] == confined.Argument {
		confined.Serve()
	}
	os.Exit(m.Run())
}
