package policies

import (
	"bytes"
	"context"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/open-policy-agent/opa/v1/bundle"
)

func bundled(t *testing.T) (*Policies, []byte) {
	t.Helper()
	p, err := Load(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := p.WriteBundle(&b, "v1.2.3"); err != nil {
		t.Fatal(err)
	}
	return p, b.Bytes()
}

// Policies that are loaded anew give the same bytes.
func TestBundleIsReproducible(t *testing.T) {
	_, one := bundled(t)
	if _, other := bundled(t); !bytes.Equal(one, other) {
		t.Errorf("bundles of %d and %d bytes differ", len(one), len(other))
	}
}

// What OPA's own reader reads, which refuses what lies outside the roots, is the modules, the data and nothing else.
func TestBundleHoldsTheRules(t *testing.T) {
	p, src := bundled(t)
	b, err := bundle.NewReader(bytes.NewReader(src)).Read()
	if err != nil {
		t.Fatal(err)
	}
	manifest, err := json.Marshal(b.Manifest)
	if err != nil {
		t.Fatal(err)
	}
	want := `{"revision":"` + p.Digest + `","roots":["rulebooks","sillwright"],"rego_version":1,` +
		`"metadata":{"input":"sillwright/input/1","program":"sillwright","query":"data.sillwright.outcomes","version":"v1.2.3"}}`
	if string(manifest) != want {
		t.Errorf("manifest %s\nwant     %s", manifest, want)
	}
	modules, err := Modules()
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range b.Modules {
		name := strings.TrimPrefix(m.Path, "/sillwright/")
		if src, ok := modules[name]; !ok || src != string(m.Raw) {
			t.Errorf("%s is no module, or another text than it", m.Path)
		}
		delete(modules, name)
	}
	for name := range modules {
		t.Errorf("%s is not in the bundle", name)
	}
	data, err := p.Data()
	if err != nil {
		t.Fatal(err)
	}
	if own, theirs := marshalled(t, data), marshalled(t, b.Data); own != theirs {
		t.Errorf("data of %d bytes, in the bundle %d: they differ", len(own), len(theirs))
	}
	if len(b.WasmModules)+len(b.PlanModules) > 0 {
		t.Error("the bundle holds more than modules and data")
	}
}

// A caller that counts reads from the data how many outcomes are due, and which of them count.
func TestBundleSaysWhichRulesCount(t *testing.T) {
	_, src := bundled(t)
	b, err := bundle.NewReader(bytes.NewReader(src)).Read()
	if err != nil {
		t.Fatal(err)
	}
	for id, book := range b.Data["rulebooks"].(map[string]any) {
		for _, r := range book.(map[string]any)["rules"].([]any) {
			r := r.(map[string]any)
			subject, level := r["subject"].(string), r["level"].(string)
			if !slices.Contains([]string{"door", "side", "leaf", "option"}, subject) || !slices.Contains([]string{"must", "should", Caution}, level) {
				t.Errorf("%s: %v judges %q at level %q", id, r["id"], subject, level)
			}
		}
	}
}

func marshalled(t *testing.T, v any) string {
	t.Helper()
	src, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(src)
}
