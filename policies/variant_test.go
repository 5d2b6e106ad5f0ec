package policies

import (
	"context"
	"slices"
	"strings"
	"testing"

	"sillwright/schema"
	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// A rulebook brings others along, each once, whoever names it.
func TestRulebookBringsOthers(t *testing.T) {
	p := &Policies{Rulebooks: []*Rulebook{{ID: "a", Brings: []string{"b", "c"}}, {ID: "always", Always: true}, {ID: "b", Brings: []string{"c", "a"}}, {ID: "c"}}}
	var got []string
	for _, r := range p.Asked([]Ref{{ID: "a", Variant: "M4(2)"}, {ID: "c"}}) {
		got = append(got, r.ID+r.Variant)
	}
	if want := []string{"aM4(2)", "c", "b", "always"}; !slices.Equal(got, want) {
		t.Errorf("asked %v, want %v", got, want)
	}
	docs, problems := schema.Read("a.yaml", []byte("id: a\nbrings: [d]\n"))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	for _, id := range []string{"d", "always", "a"} { // not there, unasked, itself
		b := p.Rulebooks[0]
		b.doc, b.Brings = docs[0], []string{id}
		if wrong := p.brought(b); len(wrong) != 1 || wrong[0].Pointer != "/brings/0" || !strings.Contains(wrong[0].Found, id) {
			t.Errorf("brings %s: %v", id, wrong)
		}
	}
}

// The words of a rule of some variants: what it asks for where none is named, and why it does not apply elsewhere.
func TestVariantIsAskedFor(t *testing.T) {
	p, err := trial(t, map[string]string{"rules:": "variants: [A, B, C]\nrules:", "    level:": "    variants: [B, C]\n    level:"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	narrow := trialInput(oneFact("clear_width", width800-1))
	for variant, want := range map[string]string{"": Unknown, "A": NotApplicable, "B": Fail, "C": Fail} {
		narrow.Rulebooks[0].Variant = variant
		findings, err := p.Judge(context.Background(), narrow)
		if err != nil || findings[0].Outcome != want {
			t.Fatalf("variant %q: %+v, %v; want %s", variant, findings, err, want)
		}
		switch f := findings[0]; variant {
		case "":
			if len(f.Needs) != 1 || f.Needs[0].Pointer != "/rulebooks" || !strings.Contains(f.Needs[0].How, "{id: trial, variant: A}") {
				t.Errorf("needs %+v", f.Needs)
			}
		case "A":
			if f.Message != "it is a rule of B, C" {
				t.Errorf("why: %q", f.Message)
			}
		}
	}
}

// A rule whose conditions read the variant too asks for it once.
func TestVariantIsAskedForOnce(t *testing.T) {
	r := Rule{Rulebook: &Rulebook{ID: "trial", Variants: []string{"A", "B"}, Systems: []quantity.System{quantity.Metric}}}
	f := r.finding(outcome{Outcome: Unknown, Needs: []need{{Fact: variant}, {Fact: variant}}, Checks: []check{{State: "missing", Needs: []need{{Fact: variant}}}}}, quantity.Metric)
	if len(f.Needs) != 1 {
		t.Errorf("needs %+v", f.Needs)
	}
}

// What a rule lets a quantity be: only where it applies, and of several checks the one with the least to spare.
func TestBounds(t *testing.T) {
	p, err := trial(t, map[string]string{"    messages:": "    bounds: {value: {quantity: clear-width, side: inner, relief: 'ask for {lack} less'}}\n    messages:", "applies: []": "applies: [{fact: fire_rated, in: [false], why: fire}]"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	judged := func(facts fact.Set) Finding {
		findings, err := p.Judge(context.Background(), trialInput(facts))
		if err != nil {
			t.Fatal(err)
		}
		return findings[0]
	}
	facts := oneFact("clear_width", width800-1)
	if f := judged(facts); f.Outcome != Unknown || f.Bounds != nil {
		t.Errorf("it may not apply, and bounds %+v", f.Bounds)
	}
	facts["fire_rated"] = fact.Fact{Value: false}
	f := judged(facts)
	if len(f.Bounds) != 1 || f.Bounds[0].Met || !f.Bounds[0].AtLeast || f.Bounds[0].Limit != width800 || *f.Bounds[0].Measured != width800-1 || f.Bounds[0].Side != "inner" || f.Bounds[0].Open || !f.Bounds[0].Broken() || f.Bounds[0].Relief != "ask for 0.1 mm less" {
		t.Errorf("bounds %+v", f.Bounds)
	}
	facts["fire_rated"] = fact.Fact{Value: true}
	if f := judged(facts); f.Bounds != nil {
		t.Errorf("it does not apply, and bounds %+v", f.Bounds)
	}
}

// A value that is not known misses no bound, also not one that the rule gives of another quantity.
func TestBoundOfNothingKnown(t *testing.T) {
	p, err := trial(t, map[string]string{"    messages:": "    bounds: {value: {quantity: bottom-gap, at_least: 10 mm}}\n    messages:"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		facts fact.Set
		want  int
	}{{fact.Set{}, 0}, {oneFact("clear_width", width800-1), 1}, {oneFact("clear_width", width800), 1}} {
		findings, err := p.Judge(context.Background(), trialInput(c.facts))
		if err != nil {
			t.Fatal(err)
		}
		if got := findings[0].Bounds; len(got) != c.want {
			t.Errorf("%v: %s, bounds %+v", c.facts, findings[0].Outcome, got)
		}
	}
}

// An exception that was seen less well than its rule says so.
func TestSourceOfAnException(t *testing.T) {
	r := Rule{Provenance: "quoted", Exceptions: []Exception{{ID: "deck", Provenance: "secondary"}, {ID: "sliding"}}}
	for by, want := range map[string]string{"rule": "quoted", "sliding": "quoted", "deck": "secondary"} {
		if got := r.source(by); got != want {
			t.Errorf("by %s: %s; want %s", by, got, want)
		}
	}
}

// 2022 CBC 11B-809.8.1: 3/4 in where the authority agrees, 1/2 in where it does not (11B-404.2.5).
func TestBoundThatAsks(t *testing.T) {
	half := int64(12_700_000)
	b := Bound{Limit: 19_050_000, Unasked: &half}
	if b.Asks(half) || !b.Asks(half+1) || (Bound{Limit: half}).Asks(half+1) {
		t.Errorf("%+v asks for the wrong values", b)
	}
	if b.AtLeast = true; b.Asks(half) || !b.Asks(half-1) {
		t.Errorf("%+v asks for the wrong values", b)
	}
}

// NFPA 80 prints inches first, and BS 8214 millimetres alone, in one rulebook.
func TestAllowedInTheUnitsOfTheRule(t *testing.T) {
	r := Rule{Rulebook: &Rulebook{Systems: []quantity.System{quantity.Metric, quantity.Imperial}}}
	c := check{Limit: limitValue{Kind: "length", AtMost: "19050000"}}
	for want, systems := range map[string][]quantity.System{
		"19.05 mm (3/4 in)": nil, "3/4 in (19.05 mm)": {quantity.Imperial, quantity.Metric}, "19.05 mm": {quantity.Metric},
	} {
		r.Systems = systems
		if got := r.allowed(c, quantity.Metric); got != want {
			t.Errorf("%v: %s; want %s", systems, got, want)
		}
	}
}

func TestQuantities(t *testing.T) {
	all := quantities()
	for id, q := range all {
		if q.Title == "" || measures[q.Kind] == "" || (q.LessWith != "" && all[q.LessWith].Kind != q.Kind) {
			t.Errorf("%s: %+v", id, q)
		}
	}
	if len(all) < 5 {
		t.Errorf("%d quantities", len(all))
	}
}
