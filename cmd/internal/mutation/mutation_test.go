package main

import (
	"context"
	"slices"
	"strings"
	"testing"
)

const dir = "../../../policies"

func TestStepped(t *testing.T) {
	for text, want := range map[string][2]string{
		"13 mm":         {"14 mm", "12 mm"},
		"12.7 mm":       {"12.8 mm", "12.6 mm"},
		"1.0 mm":        {"1.1 mm", "0.9 mm"},
		"1/2 in":        {"2/2 in", "0/2 in"},
		"35 3/8 in":     {"35 4/8 in", "35 2/8 in"},
		"5 lbf":         {"6 lbf", "4 lbf"},
		"0 in":          {"1 in", ""},
		"9000 mm2":      {"9001 mm2", "8999 mm2"},
		"3 m3/(h m2)":   {"4 m3/(h m2)", "2 m3/(h m2)"},
		"1 ft 6 in":     {"1 ft 7 in", "1 ft 5 in"},
		"twelve inches": {"", ""},
	} {
		if got := [2]string{stepped(text, 1), stepped(text, -1)}; got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// TestEveryLimitIsHeld moves each limit of each rulebook by its least step: a committed case must notice, or
// equivalents.yaml says why none can. Comparisons and guards take minutes: go run ./cmd/internal/mutation.
func TestEveryLimitIsHeld(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some ten seconds")
	}
	ctx := context.Background()
	same, err := equivalents()
	if err != nil {
		t.Fatal(err)
	}
	list, err := mutants(dir, []string{"limit"}, "")
	if err != nil {
		t.Fatal(err)
	}
	b, err := newBench(ctx, dir)
	if err != nil {
		t.Fatal(err)
	}
	var said strings.Builder
	if held := report(&said, tryAll(ctx, b, list), same, false); !held || len(list) < 400 {
		t.Errorf("%d limits moved:\n%s", len(list), &said)
	}

	// What no case looks at survives, so that the test above can fail.
	rule := "us-ada-2010/clear-width"
	own := slices.DeleteFunc(slices.Clone(list), func(m mutant) bool { return m.rule != rule || m.same != "" })
	delete(b.cases, rule)
	for _, m := range own {
		if why := b.try(ctx, m); why != "" {
			t.Errorf("without its cases %s is killed by %s", m.key(), why)
		}
	}
	if len(own) == 0 {
		t.Error("no limit of " + rule)
	}
}

// Every Rego file gives mutants that parse, each of another text, on the line that it names.
func TestRegoMutants(t *testing.T) {
	list, err := mutants(dir, []string{"comparison", "guard", "literal", "state"}, ".rego")
	if err != nil {
		t.Fatal(err)
	}
	sources, err := modules(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range list {
		was, now := strings.Split(sources[m.module], "\n"), strings.Split(m.source, "\n")
		if m.source == sources[m.module] || !slices.Equal(was[:m.line-1], now[:m.line-1]) || was[m.line-1] == now[m.line-1] {
			t.Errorf("%s:%d: %s: not changed there, or not there first", m.file, m.line, m.key())
		}
	}
	if len(list) < 600 {
		t.Errorf("only %d mutants", len(list))
	}
}
