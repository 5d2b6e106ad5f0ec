package explain

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema"
	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// judgedSpec judges one spec.
func judgedSpec(t *testing.T, file string, src []byte) (*assess.Assessor, *assess.Result) {
	t.Helper()
	a := assessor(t)
	docs, problems := schema.Read(file, src)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	d, problems := a.Decode(docs[0])
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	r, err := a.Assess(context.Background(), d)
	if err != nil {
		t.Fatal(err)
	}
	return a, r
}

func eachExample(t *testing.T, each func(t *testing.T, a *assess.Assessor, r *assess.Result)) {
	t.Helper()
	for name, text := range examples(t, "*-*-[0-9]*") {
		t.Run(name, func(t *testing.T) {
			a, r := judgedSpec(t, name, []byte(text))
			each(t, a, r)
		})
	}
}

// What a rule reads has words, and comes from somewhere that the spec has or says how it was worked out; what is not known does not.
func TestFactsSayWhereTheyCameFrom(t *testing.T) {
	eachExample(t, func(t *testing.T, a *assess.Assessor, r *assess.Result) {
		for _, rule := range rulesOf(r) {
			e, err := New(a, r, Scope{Rule: rule})
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range e.Groups[0].Sections[0].Findings {
				for _, own := range f.Facts {
					checkFact(t, f, own)
				}
			}
		}
	})
}

func checkFact(t *testing.T, f Finding, own Fact) {
	t.Helper()
	if own.Title == "" || own.Known != (own.Words != "") || len(own.From) == 0 {
		t.Errorf("%s of %s: %+v", f.Rule, f.Subject, own)
	}
	if strings.ContainsAny(own.Words, "{}") || strings.Contains(own.Words, "map[") {
		t.Errorf("%s: %s is in no words: %s", f.Rule, own.Name, own.Words)
	}
	written := slices.ContainsFunc(own.From, func(s Source) bool { return s.Text != "" })
	if own.Known && !written && own.Formula == "" {
		t.Errorf("%s: %s comes from nowhere: %+v", f.Rule, own.Name, own.From)
	}
	for _, s := range own.From {
		if s.Span.Start.Line < 1 || s.Field == "" || len(s.Text) > 2*mostText {
			t.Errorf("%s: %s is at %+v", f.Rule, own.Name, s)
		}
	}
}

func rulesOf(r *assess.Result) []string {
	var out []string
	add := func(findings []policies.Finding) {
		for _, f := range findings {
			if !slices.Contains(out, f.Rule) {
				out = append(out, f.Rule)
			}
		}
	}
	add(r.Findings)
	for _, o := range r.Options {
		add(o.Findings)
	}
	return out
}

// Every structure that rules read has words of its own.
func TestStructuresHaveWords(t *testing.T) {
	for _, name := range fact.Names() {
		d, _ := fact.Describe(name)
		if _, ok := structures[name]; ok != (d.Kind == fact.Structure) {
			t.Errorf("%s is of kind %s, and is worded as a structure: %v", name, d.Kind, ok)
		}
	}
	got := structure("opening_force", []any{map[string]any{"from": int64(0), "to": int64(30_000_000), "force": int64(18 * quantity.Newton)}, map[string]any{"from": int64(30_000_000)}}, quantity.Metric)
	if want := "18 N from 0 deg to 30 deg; not known from 30 deg to not known"; got != want {
		t.Errorf("%q, not %q", got, want)
	}
	if got := structure("openings", []any{}, quantity.Metric); got != "none" {
		t.Errorf("no opening is %q", got)
	}
}

// What stands in the way is told, once each: what counts of the door, of its options where none complies, and apart what does not count.
func TestTellsWhatStandsInTheWay(t *testing.T) {
	eachExample(t, func(t *testing.T, a *assess.Assessor, r *assess.Result) {
		e, err := New(a, r, Scope{})
		if err != nil {
			t.Fatal(err)
		}
		told := map[string]Kind{}
		for _, g := range e.Groups {
			for _, s := range g.Sections {
				for _, f := range s.Findings {
					if _, twice := told[f.Rule+f.Subject]; twice {
						t.Errorf("%s of %s is told twice", f.Rule, f.Subject)
					}
					told[f.Rule+f.Subject] = g.Kind
				}
			}
		}
		want := 0
		need := func(findings []policies.Finding, inOptions bool) {
			for _, f := range findings {
				if f.Level == policies.Caution || f.Outcome != policies.Fail && f.Outcome != policies.Unknown {
					continue
				}
				want++
				kind := map[string]Kind{policies.Fail: Fails, policies.Unknown: Unproven}[f.Outcome]
				switch {
				case !assess.Counts(f, r.Strict):
					kind = Uncounted
				case inOptions:
					kind = InOptions
				}
				if told[f.Rule+f.Subject] != kind {
					t.Errorf("%s of %s is told under %q, not %q", f.Rule, f.Subject, told[f.Rule+f.Subject], kind)
				}
			}
		}
		need(r.Findings, false)
		for _, o := range r.Options {
			if o.Verdict == assess.Complies || len(r.InTheWay()) > 0 {
				need(o.Findings, true)
			}
		}
		if len(told) != want {
			t.Errorf("%d findings are told, not %d", len(told), want)
		}
		if !r.CanOrder && want == 0 {
			t.Error("it cannot be ordered, and nothing says why")
		}
	})
}

// A scope that a door does not have is refused with what it has.
func TestRefusesWhatADoorHasNot(t *testing.T) {
	a, r := judgedSpec(t, "door.yaml", []byte("format: sillwright/door/1\nmark: D-01\nrulebooks: [us-ada-2010]\noptions: [{id: brush, seal: brush-fine-15}]\n"))
	for want, s := range map[string]Scope{
		`option "brusk" of door D-01; allowed: one of brush (did you mean `:                         {Option: "brusk"},
		`rule "us-ada-2010/threshold-profil" of door D-01; allowed: one of `:                        {Rule: "us-ada-2010/threshold-profil"},
		`rule "uk-adm1-2015/threshold" is not asked of door D-01, whose rulebooks do not have it; `: {Rule: "uk-adm1-2015/threshold"},
	} {
		_, err := New(a, r, s)
		var unknown *UnknownError
		if !errors.As(err, &unknown) || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%+v: %v", s, err)
		}
	}
	bare := *r
	door := *r.Door
	door.Options, bare.Door, bare.Options = nil, &door, nil
	if _, err := New(a, &bare, Scope{Option: "brush"}); err == nil || !strings.Contains(err.Error(), "the door lists none") {
		t.Error(err)
	}
}

// The margin is what was found less the limit, to the last digit, in the units of the spec.
func TestMargins_Identity(t *testing.T) {
	for _, c := range []struct {
		found, limit, unit, comparator string
		system                         quantity.System
		exact, words                   string
		met                            bool
	}{
		{"18", "12.7", "mm", "<=", quantity.Metric, "5.3", "over by 5.3 mm", false},
		{"12.700001", "12.7", "mm", "<=", quantity.Metric, "0.000001", "over by 0.000001 mm", false},
		{"12.700001", "12.7", "mm", "<=", quantity.Imperial, "0.000001", "over by 0.000001 mm", false},
		{"12.7", "12.7", "mm", "<=", quantity.Metric, "0", "just at the limit", true},
		{"6.35", "12.7", "mm", "<=", quantity.Imperial, "-6.35", "1/4 in to spare", true},
		{"806", "812.8", "mm", ">=", quantity.Metric, "-6.8", "short by 6.8 mm", false},
		{"-2.5", "0", "mm", ">=", quantity.Metric, "-2.5", "short by 2.5 mm", false},
		{"850", "812.8", "mm", ">=", quantity.Metric, "37.2", "37.2 mm to spare", true},
		{"31", "22.2411080763025", "N", "<=", quantity.Metric, "8.7588919236975", "over by 8.76 N", false},
		{"0", "76", "cm2", ">=", quantity.Metric, "-76", "short by 76 cm2", false},
		{"4.5", "5", "s", ">=", quantity.Metric, "-0.5", "short by 0.5 s", false},
		{"61", "60", "deg", ">=", quantity.Metric, "1", "1 deg to spare", true},
	} {
		pt := policies.Point{Measured: &policies.Measure{Exact: c.found, Unit: c.unit}, Limit: &policies.Measure{Exact: c.limit, Unit: c.unit, Comparator: c.comparator}}
		if m := marginOf(policies.Finding{}, pt, c.system); m == nil || m.Exact != c.exact || m.Words != c.words || m.Met != c.met || m.Unit != c.unit {
			t.Errorf("%+v: %+v", c, m)
		}
		if m := marginOf(policies.Finding{Question: "band-at-most"}, pt, c.system); m != nil {
			t.Errorf("an estimate has a margin: %+v", m)
		}
	}
	slope := policies.Point{Measured: &policies.Measure{Exact: "2/3", Unit: "1"}, Limit: &policies.Measure{Exact: "1/2", Unit: "1", Comparator: "<="}}
	if m := marginOf(policies.Finding{}, slope, quantity.Metric); m != nil {
		t.Errorf("a slope has a margin: %+v", m)
	}
}

// A rule that is met has no margin that is not, and where a point fails its margin is not met.
func TestMarginsAgreeWithOutcomes(t *testing.T) {
	seen := 0
	eachExample(t, func(t *testing.T, a *assess.Assessor, r *assess.Result) {
		for _, rule := range rulesOf(r) {
			e, err := New(a, r, Scope{Rule: rule})
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range e.Groups[0].Sections[0].Findings {
				for _, pt := range f.Told {
					if pt.Margin == nil || f.Outcome != policies.Pass && f.Outcome != policies.Fail {
						continue
					}
					seen++
					if pt.Margin.Met != (f.Outcome == policies.Pass) {
						t.Errorf("%s of %s: %s, and %s", f.Rule, f.Subject, f.Outcome, pt.Margin.Words)
					}
				}
			}
		}
	})
	if seen < 100 {
		t.Errorf("only %d margins", seen)
	}
}
