// Package explain says why a door, or an option of it, fails or is not proven: which rules, where they bite, what they rest on and where
// that came from. It judges nothing: all that it tells is in a result of assess, or in the rulebooks.
package explain

import (
	"fmt"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema"
	"sillwright/schema/fact"
)

// Scope is what of a door is to be explained; empty: what stands in its way.
type Scope struct {
	Option string // id of an option: its findings, and those of the door
	Rule   string // id of a rule: all that it says of the door and of its options, passes included
}

// Explanation is why a door cannot be ordered, or what is asked of it in a Scope.
type Explanation struct {
	Result *assess.Result
	Scope  Scope
	Groups []Group
	Others []assess.Option // that do not comply, do not stand in the way, and are not told of
	Needs  []Need
}

// Kind of a group.
type Kind string

// The groups, in the order in which they are told.
const (
	Fails     Kind = "fails"     // of the door, counting
	Unproven  Kind = "unproven"  // of the door, counting
	InOptions Kind = "options"   // of options, counting
	Asked     Kind = "rule"      // whatever came out of the rule that was asked for
	Uncounted Kind = "uncounted" // fails or is unknown, and does not count
	Accepted  Kind = "accepted"  // fails or is unknown, and somebody answers for it
)

// Group is rules that mean the same for the door.
type Group struct {
	Kind     Kind
	Sections []Section
}

// Section is a rule with what it says of one or several subjects.
type Section struct {
	Rule     *policies.Rule
	Findings []Finding
}

// Finding is what a rule says of a subject, with what that rests on.
type Finding struct {
	policies.Finding
	Told      []Point  // the points, or what a pass rests on
	Decisions []string // how the rulebook reads its text, where the finding rests on it
	Facts     []Fact   // every fact that the rule reads of the subject
}

// Point is one comparison with its margin.
type Point struct {
	policies.Point
	Margin *Margin // nil: there is none to tell
}

// New explains a door that was judged. What is unknown to it is an UnknownError.
func New(a *assess.Assessor, r *assess.Result, s Scope) (*Explanation, error) {
	e := &Explanation{Result: r, Scope: s}
	if err := e.known(a.Policies); err != nil {
		return nil, err
	}
	told := e.told()
	in, _ := a.Input(r.Door)
	b := basis{a: a, r: r, subjects: in.Subjects}
	for _, kind := range []Kind{Fails, Unproven, InOptions, Asked, Uncounted, Accepted} {
		g := Group{Kind: kind}
		for _, f := range told {
			if e.kind(f) == kind {
				g.add(a.Policies, b, f)
			}
		}
		if len(g.Sections) > 0 {
			e.Groups = append(e.Groups, g)
		}
	}
	if s == (Scope{}) && len(r.InTheWay()) == 0 {
		for _, o := range r.Options {
			if o.Verdict != assess.Complies {
				e.Others = append(e.Others, o)
			}
		}
	}
	e.Needs = Needs(r)
	if s != (Scope{}) {
		asked := *r
		asked.Findings, asked.Options = told, nil
		e.Needs = Needs(&asked)
	}
	return e, nil
}

// UnknownError is an option that a door has not, or a rule that is not asked of it.
type UnknownError struct {
	What, Given string // option or rule
	Mark        string
	Allowed     []string
	Asked       bool // the rule is known, and none of the door's rulebooks has it
}

func (e *UnknownError) Error() string {
	switch {
	case e.Asked:
		return fmt.Sprintf("%s %q is not asked of door %s, whose rulebooks do not have it; allowed: %s", e.What, e.Given, e.Mark, schema.Choices(e.Given, e.Allowed))
	case len(e.Allowed) == 0:
		return fmt.Sprintf("%s %q of door %s; allowed: no %s, for the door lists none", e.What, e.Given, e.Mark, e.What)
	}
	return fmt.Sprintf("%s %q of door %s; allowed: %s", e.What, e.Given, e.Mark, schema.Choices(e.Given, e.Allowed))
}

// known refuses a scope that the door does not have.
func (e *Explanation) known(p *policies.Policies) error {
	if id := e.Scope.Option; id != "" {
		var ids []string
		for _, o := range e.Result.Door.Options {
			ids = append(ids, o.ID)
		}
		if !slices.Contains(ids, id) {
			return &UnknownError{What: "option", Given: id, Mark: e.Result.Door.Mark, Allowed: ids}
		}
	}
	if id := e.Scope.Rule; id != "" {
		var ids []string
		for _, f := range e.all() {
			if !slices.Contains(ids, f.Rule) {
				ids = append(ids, f.Rule)
			}
		}
		_, known := p.Rule(id)
		if !slices.Contains(ids, id) && !(known && e.asked(p, id)) {
			slices.Sort(ids)
			return &UnknownError{What: "rule", Given: id, Mark: e.Result.Door.Mark, Allowed: ids, Asked: known}
		}
	}
	return nil
}

// asked says whether a rulebook of the door has a rule, which may have no subject there.
func (e *Explanation) asked(p *policies.Policies, id string) bool {
	rule, _ := p.Rule(id)
	return slices.ContainsFunc(e.Result.Rulebooks, func(b assess.BookVerdict) bool { return b.ID == rule.Rulebook.ID })
}

// all gives every finding of the door, then those of its options, which are as ranked.
func (e *Explanation) all() []policies.Finding {
	out := slices.Clone(e.Result.Findings)
	for _, o := range e.Result.Options {
		out = append(out, o.Findings...)
	}
	return out
}

// told gives the findings to tell of.
func (e *Explanation) told() []policies.Finding {
	var out []policies.Finding
	add := func(findings []policies.Finding) {
		for _, f := range findings {
			if e.Scope.Rule != "" && f.Rule == e.Scope.Rule || e.Scope.Rule == "" && f.Level != policies.Caution && bites(f.Outcome) {
				out = append(out, f)
			}
		}
	}
	add(e.Result.Findings)
	for _, o := range e.Result.Options {
		if e.Scope.Option == o.ID || e.Scope.Option == "" && (e.Scope.Rule != "" || e.stands(o)) {
			add(o.Findings)
		}
	}
	return out
}

// stands says whether an option stands in the way of the door, or is one that it can be ordered with, of which nothing counts.
func (e *Explanation) stands(o assess.Option) bool {
	return o.Verdict == assess.Complies || slices.ContainsFunc(e.Result.InTheWay(), func(other assess.Option) bool { return other.ID == o.ID })
}

// kind sorts a finding into its group.
func (e *Explanation) kind(f policies.Finding) Kind {
	switch {
	case e.Scope.Rule != "":
		return Asked
	case f.Accepted != nil:
		return Accepted
	case !assess.Counts(f, e.Result.Strict):
		return Uncounted
	case OptionOf(f.Subject) != "":
		return InOptions
	case f.Outcome == policies.Fail:
		return Fails
	}
	return Unproven
}

// OptionOf is the id of the option that a subject is, or nothing.
func OptionOf(subject string) string {
	id, ok := strings.CutPrefix(subject, "option:")
	if !ok {
		return ""
	}
	return id
}

// add puts a finding to those of its rule.
func (g *Group) add(p *policies.Policies, b basis, f policies.Finding) {
	i := slices.IndexFunc(g.Sections, func(s Section) bool { return s.Rule.ID == f.Rule })
	if i < 0 {
		rule, _ := p.Rule(f.Rule)
		g.Sections = append(g.Sections, Section{Rule: rule})
		i = len(g.Sections) - 1
	}
	s := &g.Sections[i]
	out := Finding{Finding: f, Decisions: decisions(s.Rule, f), Facts: b.facts(s.Rule, f.Subject)}
	points := f.Points
	if len(points) == 0 {
		points = []policies.Point{f.Point}
	}
	for _, pt := range points {
		out.Told = append(out.Told, Point{pt, marginOf(f, pt, b.r.System)})
	}
	s.Findings = append(s.Findings, out)
}

// decisions gives how the rulebook reads its text where a finding rests on it: of the parts and exceptions whose clauses are told, and
// of the whole rule. One that a point tells itself is not among them.
func decisions(r *policies.Rule, f policies.Finding) []string {
	if f.Outcome == policies.NotApplicable {
		return nil
	}
	points := append([]policies.Point{f.Point}, f.Points...)
	var out []string
	add := func(part string) {
		text, ok := r.Rulebook.Decisions[r.Decisions[part]]
		itself := func(pt policies.Point) bool { return pt.Decision != nil && *pt.Decision == text }
		if ok && !slices.Contains(out, text) && !slices.ContainsFunc(points, itself) {
			out = append(out, text)
		}
	}
	for _, pt := range points {
		add(pt.Reason)
		for _, e := range r.Exceptions {
			if pt.Clause != "" && pt.Clause == r.Clauses[e.ID] {
				add(e.ID)
			}
		}
	}
	add("rule")
	return out
}

// basis is what facts are looked up in.
type basis struct {
	a        *assess.Assessor
	r        *assess.Result
	subjects []fact.Subject
}
