package policies

import (
	"context"
	"strings"
	"testing"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/format"
)

func load(t testing.TB) *Policies {
	t.Helper()
	p, err := Load(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestRegoIsFormatted(t *testing.T) {
	modules, err := Modules()
	if err != nil {
		t.Fatal(err)
	}
	for name, src := range modules {
		out, err := format.SourceWithOpts(name, []byte(src), format.Opts{RegoVersion: ast.RegoV1})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if string(out) != src {
			t.Errorf("%s is not formatted; it should read:\n%s", name, out)
		}
	}
}

// Every part that a question can report has words in every rule that asks it.
func TestEveryRuleHasWords(t *testing.T) {
	for _, book := range load(t).Rulebooks {
		for _, r := range book.Rules {
			if len(r.Messages) == 0 || strings.TrimSpace(r.Asks) == "" {
				t.Errorf("%s has no words", r.ID)
			}
			for part := range r.Limits {
				if part == "slope" || part == "upright" || part == "height" || part == "value" || part == "width" {
					if r.Messages[part] == "" || r.Remedies[part] == "" || r.Clauses[part] == "" {
						t.Errorf("%s: part %s lacks a message, remedy or clause", r.ID, part)
					}
				}
			}
		}
	}
}
