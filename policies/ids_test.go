package policies

import (
	"context"
	"os"
	"strings"
	"testing"
)

// Specs answer rules by id, and reports are kept for years: an id that has been given out is never renamed or lost.
// testdata/rule-ids.txt grows when a version is published, and never shrinks.
func TestRuleIDsAreNeverLost(t *testing.T) {
	p, err := Load(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	src, err := os.ReadFile("testdata/rule-ids.txt")
	if err != nil {
		t.Fatal(err)
	}
	for id := range strings.FieldsSeq(string(src)) {
		if _, ok := p.Rule(id); !ok {
			t.Errorf("the rule %s is gone", id)
		}
	}
	seen := 0
	for _, b := range p.Rulebooks {
		seen += len(b.Rules)
	}
	if seen != len(p.rules) {
		t.Errorf("%d rules written, %d ids", seen, len(p.rules))
	}
}
