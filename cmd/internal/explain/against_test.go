package explain

import (
	"math"
	"slices"
	"strings"
	"testing"

	"sillwright/cmd/internal/assess"
	"sillwright/engine"
	"sillwright/policies"
)

func compare(t *testing.T, a *assess.Assessor, r *assess.Result, x, y string) *Comparison {
	t.Helper()
	c, err := Against(r, a.Policies, x, y)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// What cannot be compared is refused, with what could be.
func TestAgainstRefuses(t *testing.T) {
	a := assessor(t)
	r := ofText(t, a, examples(t, "complies-l-01*")["complies-l-01-closer-near-the-force-limit.yaml"])
	for _, c := range []struct{ a, b, want string }{
		{"brush", "drop-sael", "did you mean `drop-seal`?"},
		{"nothing", "brush", `option "nothing" of door L-01; allowed: one of`},
		{"brush", "brush", `option "brush" against itself`},
		{"brush", "", `option "" of door L-01; allowed: one of`},
	} {
		if _, err := Against(r, a.Policies, c.a, c.b); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s against %s: %v", c.a, c.b, err)
		}
	}
	bare := *r
	bare.Options = nil
	if _, err := Against(&bare, a.Policies, "brush", "drop-seal"); err == nil || !strings.Contains(err.Error(), "no options") {
		t.Error(err)
	}
}

// Of two that are asked for the other way round the same is ahead on the same ground, and every point has changed sides. Every rule that
// speaks of an option has its place once. A difference is that of the likely flows, and of a door with two options the rank says the same.
func TestAgainst_Identity(t *testing.T) {
	a := assessor(t)
	pairs := 0
	for name, text := range examples(t, "*-*-0*") {
		r := ofText(t, a, text)
		for i, x := range r.Options {
			for _, y := range r.Options[i+1:] {
				pairs++
				c, back := compare(t, a, r, x.ID, y.ID), compare(t, a, r, y.ID, x.ID)
				if c.Lead.Ahead != back.Lead.Ahead || c.Lead.By != back.Lead.By || c.Lead.Other != back.Lead.Other {
					t.Errorf("%s: %s: %+v, and the other way round %+v", name, x.ID, c.Lead, back.Lead)
				}
				for k, pair := range c.Rules {
					if other := back.Rules[slices.IndexFunc(back.Rules, func(p RulePair) bool { return p.Rule == pair.Rule })]; other.A.Outcome != pair.B.Outcome || other.B.Outcome != pair.A.Outcome {
						t.Errorf("%s: %s", name, pair.Rule)
					}
					if k > 0 && pair.Counts && !c.Rules[k-1].Counts {
						t.Errorf("%s: %s counts, and stands behind what does not", name, pair.Rule)
					}
				}
				rulesOnce(t, name, c)
				differences(t, name, c)
				if len(r.Options) == 2 && x.Rank > 0 && y.Rank > 0 && (c.Lead.Other || (x.Rank < y.Rank) != (c.Lead.Ahead == x.ID)) {
					t.Errorf("%s: ranks %d and %d, ahead %s", name, x.Rank, y.Rank, c.Lead.Ahead)
				}
			}
		}
	}
	if pairs < 30 {
		t.Errorf("%d pairs", pairs)
	}
}

// rulesOnce holds that every rule that applies to one of two options stands in one list.
func rulesOnce(t *testing.T, name string, c *Comparison) {
	t.Helper()
	seen := map[string]int{}
	for _, list := range [][]RulePair{c.Rules, c.Alike, c.Partial} {
		for _, pair := range list {
			seen[pair.Rule]++
		}
	}
	for _, o := range []assess.Option{c.A, c.B} {
		for _, f := range o.Findings {
			if f.Level != policies.Caution && f.Outcome != policies.NotApplicable && seen[f.Rule] != 1 {
				t.Errorf("%s: %s stands %d times", name, f.Rule, seen[f.Rule])
			}
		}
	}
	for _, pair := range c.Partial {
		if a, b := pair.outcomes(); !slices.Contains([]string{a, b}, policies.Pass) || !slices.Contains([]string{a, b}, policies.NotApplicable) {
			t.Errorf("%s: %s is %s and %s", name, pair.Rule, a, b)
		}
	}
}

func differences(t *testing.T, name string, c *Comparison) {
	t.Helper()
	near := func(x, y float64) bool { return math.Abs(x-y) < 1e-12 }
	if (c.Leakage == nil) != (c.A.Leakage == nil || c.B.Leakage == nil) {
		t.Errorf("%s: a difference of what is not known", name)
	}
	if c.Leakage == nil {
		return
	}
	if m := c.Leakage; !near(m.Likely, math.Abs(c.A.Leakage.Likely-c.B.Leakage.Likely)) || m.Low > m.Likely || m.High < m.Likely || m.Surely && m.Low <= 0 {
		t.Errorf("%s: %+v", name, m)
	}
	sum := 0.0
	for _, p := range c.Paths {
		signed := func(w *engine.Counted) float64 {
			if w == nil {
				return 0
			}
			return w.Likely
		}
		sum += signed(p.A) - signed(p.B)
		if (p.More == nil) != (p.A == nil || p.B == nil) || p.More != nil && !near(p.More.Likely, math.Abs(p.A.Likely-p.B.Likely)) {
			t.Errorf("%s: %s: %+v", name, p.Path, p)
		}
	}
	if !near(sum, c.A.Leakage.Likely-c.B.Leakage.Likely) {
		t.Errorf("%s: the paths add up to %g, and the door to %g", name, sum, c.A.Leakage.Likely-c.B.Leakage.Likely)
	}
}

// What both have alike is no difference, however doubtful it is.
func TestAgainstSameSeal_Identity(t *testing.T) {
	a := assessor(t)
	r := ofText(t, a, examples(t, "complies-c-01*")["complies-c-01-floor-falling-3-mm.yaml"])
	c := compare(t, a, r, "set-by-program", "touching-at-the-widest")
	if c.Leakage.Likely != 0 || c.Leakage.Low != 0 || c.Leakage.High != 0 || len(c.Rules) > 0 || c.Lead.Ahead != "" {
		t.Errorf("%+v, %+v", c.Leakage, c.Lead)
	}
}

// A caution of one option alone is told of it; what both have, and what is met, is not.
func TestAgainstCautions(t *testing.T) {
	a := assessor(t)
	r := ofText(t, a, examples(t, "complies-l-01*")["complies-l-01-closer-near-the-force-limit.yaml"])
	caution := func(rule, outcome string) policies.Finding {
		return policies.Finding{Rule: rule, Level: policies.Caution, Outcome: outcome, Title: "Title", Point: policies.Point{Message: "Take care."}}
	}
	for i := range r.Options {
		if o := &r.Options[i]; o.ID == "brush" {
			o.Findings = append(slices.Clone(o.Findings), caution("safety/escape", policies.Unknown), caution("safety/both", policies.Unknown), caution("safety/met", policies.Pass))
		} else {
			o.Findings = append(slices.Clone(o.Findings), caution("safety/escape", policies.NotApplicable), caution("safety/both", policies.Unknown), caution("safety/other", policies.Fail))
		}
	}
	c := compare(t, a, r, "drop-seal", "brush")
	var got []string
	for _, one := range c.Cautions {
		got = append(got, one.Of+" "+one.ID)
	}
	if !slices.Equal(got, []string{"drop-seal safety/other", "brush safety/escape"}) || c.Cautions[1].Ask.Whom == "" || c.Cautions[1].Text != "Take care." {
		t.Errorf("%q, %+v", got, c.Cautions)
	}
}

// halfKnown has one option of which little is known, and one of which all is.
const halfKnown = `format: sillwright/door/1
mark: R-01
rulebooks: [seal-practice]
door: {operation: hinged, location: internal, thickness: 40 mm, opening_force: [{from: 0 deg, to: 90 deg, force: 10 N}]}
leaves:
  - id: A
    width: 900 mm
    gap:
      readings: [{at: 0 mm, gap: 9 mm}, {at: 450 mm, gap: 9 mm}, {at: 900 mm, gap: 9 mm}]
      swing: [{angle: 90 deg, gap: 9 mm}]
options:
  - {id: unset, seal: brush-fine-15}
  - {id: brush, seal: brush-fine-15, set: {overlap: 0 mm}}
`

// What is known of one option alone is told with what keeps it from being known of the other.
func TestAgainstLacks(t *testing.T) {
	a := assessor(t)
	c := compare(t, a, ofText(t, a, halfKnown), "brush", "unset")
	var got []string
	for _, lack := range c.Lacks {
		if lack.Of != "unset" || slices.Contains([]string{PointLeakage, PointDrag, PointOpening}, lack.Point) && len(lack.Why) == 0 {
			t.Errorf("%+v", lack)
		}
		got = append(got, lack.Point)
	}
	if !slices.Equal(got, []string{PointLeakage, PointDrag, PointOpening, PointTolerance}) || c.Leakage != nil {
		t.Errorf("%q", got)
	}
	if c.Lead.Ahead == "unset" || len(c.Lead.Needs) == 0 {
		t.Errorf("%+v", c.Lead)
	}
}

// A pair of findings differs where one is met and the other is not, and of two that are not by what they find and whether that is
// accepted; two that pass do not, however far apart they lie.
func TestRulePairDiffers(t *testing.T) {
	finding := func(outcome, found, allowed string, accepted bool) *policies.Finding {
		f := &policies.Finding{Outcome: outcome, Point: policies.Point{Found: found, Allowed: allowed}}
		if accepted {
			f.Accepted = &policies.Acceptance{}
		}
		return f
	}
	pass, fail, unknown := policies.Pass, policies.Fail, policies.Unknown
	for _, c := range []struct {
		a, b *policies.Finding
		want bool
	}{
		{finding(pass, "1 mm", "2 mm", false), finding(pass, "2 mm", "2 mm", false), false},
		{finding(pass, "1 mm", "2 mm", false), finding(fail, "3 mm", "2 mm", false), true},
		{finding(fail, "3 mm", "2 mm", false), finding(unknown, "3 mm", "2 mm", false), true},
		{finding(fail, "3 mm", "2 mm", false), finding(fail, "3 mm", "2 mm", false), false},
		{finding(fail, "3 mm", "2 mm", false), finding(fail, "4 mm", "2 mm", false), true},
		{finding(fail, "3 mm", "2 mm", false), finding(fail, "3 mm", "1 mm", false), true},
		{finding(fail, "3 mm", "2 mm", false), finding(fail, "3 mm", "2 mm", true), true},
		{finding(unknown, "", "", false), finding(unknown, "", "", false), false},
		{finding(policies.NotApplicable, "", "", false), finding(pass, "", "", false), false},
		{nil, finding(fail, "", "", false), true},
		{nil, finding(pass, "", "", false), false},
	} {
		for _, pair := range []RulePair{{A: c.a, B: c.b}, {A: c.b, B: c.a}} {
			if pair.differs() != c.want {
				t.Errorf("%+v and %+v: %t", pair.A, pair.B, !c.want)
			}
		}
	}
}
