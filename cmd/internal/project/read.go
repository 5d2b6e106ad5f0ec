package project

import (
	"fmt"
	"path"
	"slices"
	"strings"
	"time"

	"sillwright/policies"
	"sillwright/schema"
)

// reader reads what the schema has looked at already, and says what is wrong beyond it. A value of a wrong kind reads as none.
type reader struct {
	rules    *policies.Policies
	out      *Project
	problems []schema.Problem
}

func (r *reader) report(pointer, found, allowed, do string) {
	r.problems = append(r.problems, r.out.doc.Problem(pointer, found, allowed, do))
}

// list gives the items of a list at the top of the file.
func (r *reader) list(key string) []*schema.Node {
	n, _ := r.out.doc.Root.Member(key)
	if n == nil {
		return nil
	}
	return n.Items
}

func text(n *schema.Node, key string) string {
	if m, ok := n.Member(key); ok && m.Kind == schema.String {
		return m.Text
	}
	return ""
}

func (r *reader) rulebooks() {
	for i, n := range r.list("rulebooks") {
		pointer := schema.Pointer("rulebooks", i)
		ref := policies.Ref{ID: text(n, "id"), Variant: text(n, "variant")}
		if n.Kind == schema.String {
			ref.ID = n.Text
		}
		if ref.ID == "" {
			continue
		}
		if found, allowed, do, wrong := r.rules.Refuse(ref); wrong {
			r.report(pointer, found, allowed, do)
		}
		if book, ok := r.rules.Rulebook(ref.ID); ok && ref.Variant == "" && len(book.Variants) > 0 {
			r.report(pointer, fmt.Sprintf("%q without its variant", ref.ID), fmt.Sprintf("{id: %s, variant: …} with one of %s", ref.ID, strings.Join(book.Variants, ", ")),
				"name the one that holds for all doors; a spec that names the rulebook itself names its own")
		}
		if slices.ContainsFunc(r.out.Rulebooks, func(o policies.Ref) bool { return o.ID == ref.ID }) {
			r.report(pointer, fmt.Sprintf("%q a second time", ref.ID), "each rulebook once, in one variant", "take one of them out")
		}
		r.out.Rulebooks = append(r.out.Rulebooks, ref)
	}
}

func (r *reader) rulebooksDir() {
	if n, ok := r.out.doc.Root.Member("rulebooks_dir"); ok && n.Kind == schema.String && fromRoot(n.Text) {
		r.report("/rulebooks_dir", fmt.Sprintf("the path %q from the root", n.Text), "a path from the folder of this file", "write where it lies from there, so that it is found on other machines too")
	}
}

func (r *reader) levels() {
	n, _ := r.out.doc.Root.Member("levels")
	if n == nil {
		return
	}
	for _, m := range n.Members {
		pointer, level := schema.Pointer("levels", m.Key), m.Value.Text
		rule, ok := r.rules.Rule(m.Key)
		switch {
		case !ok:
			r.unknownRule(pointer, m.Key)
			r.problems[len(r.problems)-1].Span = m.KeySpan
		case ofSafety(rule):
			r.report(pointer, "a level for "+rule.ID, "the level that it has: rules of safety keep theirs", evidence(rule))
		case rule.Level == policies.Caution:
			r.report(pointer, "a level for "+rule.ID+", a caution", "no level: a caution defers to others, and never counts", "take it out")
		case level == policies.Caution:
			r.report(pointer, "the level caution", "must or should: a caution is what no rule can settle", "take it out")
		case level == policies.Should && rule.Level == policies.Must && !lowerable(rule):
			r.report(pointer, fmt.Sprintf("should for %s, a must of a published text", rule.ID), "must: only rules of sealing practice and of the spec's own terms may be made a should",
				"have the authority accept the deviation, door by door, and write it under `accepted`")
		}
		r.out.Levels[m.Key] = level
	}
}

// ofSafety is true of a rule that runs unasked and is not the spec's own.
func ofSafety(r *policies.Rule) bool { return r.Rulebook.Always && r.Provenance != own }

// own is the provenance of what a spec itself asks.
const own = "own"

// lowerable is true of what no published code asks.
func lowerable(r *policies.Rule) bool { return r.Provenance == "practice" || r.Provenance == own }

// evidence says what to do instead where somebody would let a rule of safety go.
func evidence(r *policies.Rule) string {
	if r.Level == policies.Caution {
		return "take it out; what it asks is answered by those whom it names"
	}
	return "take it out; what a fire or smoke door needs is evidence in its spec"
}

func (r *reader) unknownRule(pointer, id string) {
	var ids []string
	for _, b := range r.rules.Rulebooks {
		for _, rule := range b.Rules {
			ids = append(ids, rule.ID)
		}
	}
	r.report(pointer, fmt.Sprintf("rule %q", id), "the id of a rule"+schema.Nearest(id, ids), "list them with: sillwright rules")
}

func (r *reader) catalogues() {
	for i, n := range r.list("catalogues") {
		pointer := schema.Pointer("catalogues", i)
		c := Catalogue{Path: beside(r.out.File, n.Text), pointer: pointer}
		switch {
		case n.Kind != schema.String || n.Text == "":
			continue
		case fromRoot(n.Text):
			r.report(pointer, fmt.Sprintf("the path %q from the root", n.Text), "a path from the folder of this file", "write where it lies from there, so that it is found on other machines too")
		case slices.ContainsFunc(r.out.Catalogues, func(o Catalogue) bool { return o.Path == c.Path }):
			r.report(pointer, fmt.Sprintf("catalogue %q a second time", n.Text), "each catalogue once", "take one of them out")
		}
		r.out.Catalogues = append(r.out.Catalogues, c)
	}
}

func (r *reader) accepted() {
	first := map[[4]string]int{} // line
	for i, n := range r.list("accepted") {
		at := schema.Pointer("accepted", i)
		d := Deviation{Mark: text(n, "mark"), Pattern: text(n, "pattern"), Rule: text(n, "rule"), Option: text(n, "option"), Outcome: text(n, "outcome"), pointer: at,
			Acceptance: &policies.Acceptance{Reason: text(n, "reason"), ApprovedBy: text(n, "approved_by"), Expires: text(n, "expires")}}
		if d.Outcome == "" {
			d.Outcome = policies.Fail
		}
		if found, ok := n.Member("found"); ok {
			for _, one := range append(slices.Clone(found.Items), found) {
				if one.Kind == schema.String {
					d.Found = append(d.Found, blanks(one.Text))
				}
			}
		}
		r.doors(at, n, d)
		r.rule(at, d)
		if d.Acceptance.Expires != "" && !IsDay(d.Acceptance.Expires) {
			r.report(at+"/expires", fmt.Sprintf("%q", d.Acceptance.Expires), "a day of the calendar, such as 2027-06-30", "give the last day on which it holds")
		}
		key := [4]string{d.Whom(), d.Rule, d.Option, d.Outcome}
		if line := first[key]; line > 0 {
			r.report(at, fmt.Sprintf("a deviation from %s for %s a second time, first on line %d", d.Rule, d.Whom(), line), "one for each rule and mark or pattern; found may be a list", "take one of them out")
		} else {
			first[key] = n.Span.Start.Line
		}
		if d.Mark != "" {
			r.out.byMark[d.Mark] = append(r.out.byMark[d.Mark], i)
		} else {
			r.out.patterns = append(r.out.patterns, i)
		}
		r.out.Deviations = append(r.out.Deviations, d)
	}
}

// doors holds for which doors a deviation is.
func (r *reader) doors(at string, n *schema.Node, d Deviation) {
	_, mark := n.Member("mark")
	_, pattern := n.Member("pattern")
	const either = "one of mark and pattern"
	switch {
	case n.Kind != schema.Object:
	case mark && pattern:
		r.report(at, "mark and pattern", either, "take one of them out")
	case !mark && !pattern:
		r.report(at, "neither mark nor pattern", either, "say for which doors it is accepted")
	case pattern && badPattern(d.Pattern):
		r.report(at+"/pattern", fmt.Sprintf("%q", d.Pattern), "a pattern such as E-*, E-0? or E-0[1-4]", `close its brackets, or write \ before one that is part of the mark`)
	}
}

func badPattern(pattern string) bool {
	_, err := path.Match(pattern, "")
	return err != nil
}

// rule holds that a deviation is from a rule that anybody may let go.
func (r *reader) rule(at string, d Deviation) {
	if d.Rule == "" {
		return
	}
	rule, ok := r.rules.Rule(d.Rule)
	switch {
	case !ok:
		r.unknownRule(at+"/rule", d.Rule)
	case ofSafety(rule):
		r.report(at+"/rule", "a deviation from "+rule.ID, "a rule of another rulebook: nobody can accept that safety is not shown", evidence(rule))
	case rule.ProvenByTest():
		r.report(at+"/rule", "a deviation from "+rule.ID+", which is proven by a test alone", "a rule that does not ask for a test: nobody can accept that there is none", "take it out; the test, or its evidence, belongs in the spec")
	case d.Option != "" && rule.Subject != "option":
		r.report(at+"/option", fmt.Sprintf("an option for %s, which asks the %s", rule.ID, rule.Subject), "no option", "take it out")
	case rule.Level == policies.Caution:
		r.report(at+"/rule", "a deviation from "+rule.ID+", a caution", "a rule that can stand in the way: a caution never does", "take it out")
	}
}

// IsDay says whether a text is a day of the calendar, as 2027-06-30.
func IsDay(text string) bool {
	_, err := time.Parse(time.DateOnly, text)
	return err == nil
}

// blanks makes one blank of several, and of the ends of lines.
func blanks(s string) string { return strings.Join(strings.Fields(s), " ") }
