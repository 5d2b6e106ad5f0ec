package render

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/explain"
	"sillwright/engine"
	"sillwright/policies"
	"sillwright/schema"
)

// versus is a point of two options: what there is to say of each, and of the difference.
type versus struct{ point, a, b, differ string }

// versusPart is some points under a heading. What is the same of both is told beside them.
type versusPart struct {
	title, rest string // the heading
	rows        []versus
	same        []string
	notes       []string
}

// add puts a point, unless neither option has it; of both words for which neither says anything are "" or "-".
func (p *versusPart) add(v versus) {
	empty := func(s string) bool { return s == "" || s == "-" }
	switch {
	case empty(v.a) && empty(v.b):
	case v.a == v.b && v.differ == "":
		p.same = append(p.same, v.point+": "+v.a)
	default:
		v.a, v.b = cmp.Or(v.a, "-"), cmp.Or(v.b, "-")
		p.rows = append(p.rows, v)
	}
}

// versusParts are all points of a comparison, in the order in which they are told; a part without anything to say is left out.
func versusParts(c *explain.Comparison) []versusPart {
	all := []versusPart{verdicts(c), ruled(c), leaks(c), pulls(c), lasts(c), fits(c), cautious(c), known(c)}
	return slices.DeleteFunc(all, func(p versusPart) bool { return len(p.rows)+len(p.same)+len(p.notes) == 0 })
}

func verdicts(c *explain.Comparison) versusPart {
	var out versusPart
	of := func(o assess.Option) string {
		if o.ByAcceptance() {
			return o.Verdict + ", accepted"
		}
		return o.Verdict
	}
	out.rows = []versus{{"verdict", of(c.A), of(c.B), ""}}
	out.add(versus{"at the widest gap", setting(c.A, c.Result.System), setting(c.B, c.Result.System), ""})
	return out
}

// ruled tells what the rules say of one and not of the other.
func ruled(c *explain.Comparison) versusPart {
	out := versusPart{title: "Rules"}
	for _, pair := range c.Rules {
		out.rows = append(out.rows, versus{titleOf(pair) + should(pair), outcomeOf(pair.A), outcomeOf(pair.B), ""})
	}
	same := map[string][]string{}
	for _, pair := range c.Alike {
		same[pair.A.Outcome] = append(same[pair.A.Outcome], titleOf(pair)+should(pair))
	}
	for _, outcome := range Outcomes {
		if names := same[outcome]; len(names) > 0 {
			out.notes = append(out.notes, outcomeVerbs[outcome][1]+": "+strings.Join(names, "; ")+".")
		}
	}
	for _, of := range []struct {
		id string
		is func(explain.RulePair) bool
	}{
		{c.A.ID, func(p explain.RulePair) bool { return p.A != nil && p.A.Outcome == policies.Pass }},
		{c.B.ID, func(p explain.RulePair) bool { return p.A == nil || p.A.Outcome != policies.Pass }},
	} {
		var names []string
		for _, pair := range c.Partial {
			if of.is(pair) {
				names = append(names, titleOf(pair))
			}
		}
		if len(names) > 0 {
			out.notes = append(out.notes, "Asked of "+clean(of.id)+" alone, and met: "+strings.Join(names, "; ")+".")
		}
	}
	return out
}

func titleOf(p explain.RulePair) string { return cmp.Or(p.A, p.B).Title }

// should marks a rule that does not count.
func should(p explain.RulePair) string {
	if p.Counts {
		return ""
	}
	return " (should)"
}

// outcomeVerbs say how a rule came out, of one option and of both.
var outcomeVerbs = map[string][2]string{
	policies.Fail: {"fails", "Both fail"}, policies.Unknown: {"not proven", "Not proven of either"}, policies.Pass: {"passes", "Both pass"}, policies.NotApplicable: {"does not apply"},
}

// outcomeOf is what a rule says of one option: the outcome, what was found against the limit, or what is needed.
func outcomeOf(f *policies.Finding) string {
	if f == nil {
		return "does not apply"
	}
	one := heaviest(*f)
	text := outcomeVerbs[f.Outcome][0]
	if f.Accepted != nil {
		text += ", accepted"
	}
	switch {
	case f.Outcome == policies.NotApplicable:
		return text + ": " + one.Message
	case one.Found != "" && one.Allowed != "":
		text += ": found " + one.Found + ", allowed " + allowed(one.Point)
	case one.Found != "":
		text += ": found " + one.Found
	case f.Outcome == policies.Fail:
		text += ": " + one.Message
	}
	var needs []string
	for _, n := range f.Needs {
		if !slices.Contains(needs, n.Title) {
			needs = append(needs, n.Title)
		}
	}
	if f.Outcome == policies.Unknown && len(needs) > 0 {
		text += ", for want of: " + strings.Join(needs, ", ")
	}
	if more := len(f.Points) - 1; f.Outcome == policies.Fail && more > 0 {
		text += fmt.Sprintf(" (and at %s more)", plural(more, "place", "places"))
	}
	return text
}

// leaks tells what both let pass, in all and by path.
func leaks(c *explain.Comparison) versusPart {
	u := unitOf(c.Result)
	out := versusPart{title: "Air", rest: " at " + atPressure(c.Result) + " in " + u.name + ", likely and its band"}
	flow := func(l *engine.Leakage) string {
		if l == nil {
			return "not known"
		}
		return inline(l.Range, u.per)
	}
	if c.A.Leakage == nil && c.B.Leakage == nil {
		return versusPart{}
	}
	all := versus{"all paths", flow(c.A.Leakage), flow(c.B.Leakage), ""}
	if !c.Result.Door.AllListed() {
		all.point = "by listed paths only"
	}
	if c.Leakage != nil && all.a != all.b {
		all.differ = moreOf(c.Leakage, u)
	}
	out.add(all)
	way := func(w *engine.Counted) string {
		if w == nil {
			return "-"
		}
		return inline(w.Range, u.per)
	}
	for _, p := range c.Paths {
		v := versus{p.Path, way(p.A), way(p.B), ""}
		if p.More != nil && v.a != v.b {
			if v.differ = moreOf(p.More, u); v.differ == all.differ {
				v.differ = "" // it is all the difference that there is
			}
		}
		out.add(v)
	}
	if c.Leakage != nil && all.differ != "" {
		out.notes = append(out.notes, "The bands of differences leave out what both share, and do not add up. What the figures rest on: sillwright check.")
	}
	return out
}

// moreOf says how much more one option lets pass.
func moreOf(m *explain.More, u flowUnit) string {
	return clean(m.Of) + " leaks " + muchMore(m.Difference, u)
}

func cautious(c *explain.Comparison) versusPart {
	out := versusPart{title: "Cautions", rest: " of one alone"}
	for _, one := range c.Cautions {
		text := clean(one.Of) + ": " + one.Text
		if one.Ask.Whom != "" {
			text += " Ask " + one.Ask.Whom + ": " + one.Ask.What
		}
		out.notes = append(out.notes, text)
	}
	return out
}

// pointNames name what may be known of one option alone.
var pointNames = map[string]string{
	explain.PointLeakage: "leakage", explain.PointDrag: "drag of the seals", explain.PointOpening: "opening force with the seals", explain.PointLatching: "how little is left to latch",
	explain.PointTolerance: "how far the setting may be off", explain.PointLife: "what the seals were tested for", explain.PointEnd: "leakage after the life that is asked",
}

// known tells what is known of one option alone, and what it takes to know it of the other.
func known(c *explain.Comparison) versusPart {
	out := versusPart{title: "Known of one alone"}
	for _, lack := range c.Lacks {
		text := "Not known of " + clean(lack.Of) + ": " + pointNames[lack.Point]
		var why []string
		for _, m := range lack.Why {
			if one := clean(m.What) + " (" + schema.Field(m.Pointer) + ")"; !slices.Contains(why, one) {
				why = append(why, one)
			}
		}
		if len(why) > 0 {
			text += ", for want of: " + strings.Join(why, "; ")
		}
		out.notes = append(out.notes, text+".")
	}
	return out
}
