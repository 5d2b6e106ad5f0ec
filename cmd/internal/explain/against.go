package explain

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"sillwright/cmd/internal/assess"
	"sillwright/engine"
	"sillwright/policies"
)

// Comparison is two options of a door, point by point. Its figures are those of the options; what is here is what only the two have.
type Comparison struct {
	Result *assess.Result
	A, B   assess.Option

	Rules   []RulePair // that differ: those that count first, then as found
	Alike   []RulePair // that have the same outcome, and apply
	Partial []RulePair // met by one, and of no concern to the other

	Leakage  *More      // nil where that of one is not known
	Paths    []PathPair // as they stand in A, then those of B alone
	Cautions []OptionCaution
	Lacks    []Lack
	Lead     Lead
}

// RulePair is what a rule says of both options; nil where it says nothing of one.
type RulePair struct {
	Rule   string
	Counts bool
	A, B   *policies.Finding
}

// More says how much more air one option lets pass than another, m3/s, likely 0 or more.
type More struct {
	Of, Than string
	engine.Difference
	Surely bool // beyond doubt, as options are ranked
}

// PathPair is one way for air under both options; nil where one does not have it, or its leakage is not known.
type PathPair struct {
	Path, Pointer string
	A, B          *engine.Counted
	More          *More // nil where only one has it
}

// OptionCaution is a caution that only one of the two has.
type OptionCaution struct {
	ID, Of, Title, Text string
	Ask                 policies.Ask
}

// Lack is something that is known of one option and not of the other.
type Lack struct {
	Point, Of string           // one of the points below, and the option of which it is not known
	Why       []engine.Missing // what keeps it from being known, as far as that is said
}

// Points that may be known of one option alone.
const (
	PointLeakage   = "leakage"
	PointDrag      = "drag"
	PointOpening   = "opening_force"
	PointLatching  = "latching"
	PointTolerance = "tolerance"
	PointLife      = "life"
	PointEnd       = "life_end"
)

// ByVerdict is the ground of a lead that the verdicts give.
const ByVerdict engine.Criterion = "verdict"

// Lead says which of the two is ahead.
type Lead struct {
	Ahead string           // id; "": neither
	By    engine.Criterion // "" where neither is
	Pair  []assess.Option  // the two in the places that they would have alone, best first, whatever their verdicts
	Other bool             // among all options of the door they stand otherwise
	Needs []Need           // what those of the two wait for that are not proven
}

// Against compares two options of a door that was judged with all findings. It refuses an id that the door does not have, and one
// option against itself.
func Against(r *assess.Result, p *policies.Policies, a, b string) (*Comparison, error) {
	if len(r.Options) == 0 {
		return nil, errors.New("the door lists no options: nothing to compare")
	}
	var both []assess.Option
	var ids []string
	for _, o := range r.Options {
		ids = append(ids, o.ID)
	}
	for _, id := range []string{a, b} {
		i := slices.Index(ids, id)
		if i < 0 {
			return nil, &UnknownError{What: "option", Given: id, Mark: r.Door.Mark, Allowed: ids}
		}
		both = append(both, r.Options[i])
	}
	if a == b {
		return nil, fmt.Errorf("option %q against itself; allowed: two options", a)
	}
	c := &Comparison{Result: r, A: both[0], B: both[1]}
	c.rules()
	if c.A.Leakage != nil && c.B.Leakage != nil {
		c.Leakage = pointed(more(a, b, c.A.Leakage, c.B.Leakage))
	}
	c.paths()
	c.cautions(p)
	c.lacks()
	c.Lead = lead(r, c.A, c.B)
	return c, nil
}

func pointed[T any](v T) *T { return &v }

// rules sorts what the rules say into what differs and what does not.
func (c *Comparison) rules() {
	var pairs []RulePair
	add := func(findings []policies.Finding, put func(*RulePair, *policies.Finding)) {
		for i := range findings {
			f := &findings[i]
			k := slices.IndexFunc(pairs, func(p RulePair) bool { return p.Rule == f.Rule })
			if k < 0 {
				k = len(pairs)
				pairs = append(pairs, RulePair{Rule: f.Rule, Counts: assess.Counts(*f, c.Result.Strict)})
			}
			put(&pairs[k], f)
		}
	}
	add(c.A.Findings, func(p *RulePair, f *policies.Finding) { p.A = f })
	add(c.B.Findings, func(p *RulePair, f *policies.Finding) { p.B = f })
	for _, p := range pairs {
		a, b := p.outcomes()
		switch {
		case p.Level() == policies.Caution || !applies(a) && !applies(b):
		case p.differs():
			c.Rules = append(c.Rules, p)
		case a == b:
			c.Alike = append(c.Alike, p)
		default:
			c.Partial = append(c.Partial, p)
		}
	}
	slices.SortStableFunc(c.Rules, func(a, b RulePair) int {
		switch {
		case a.Counts == b.Counts:
			return 0
		case a.Counts:
			return -1
		}
		return 1
	})
}

// Level is that of the rule.
func (p RulePair) Level() string { return cmp.Or(p.A, p.B).Level }

func (p RulePair) outcomes() (a, b string) {
	of := func(f *policies.Finding) string {
		if f == nil {
			return policies.NotApplicable
		}
		return f.Outcome
	}
	return of(p.A), of(p.B)
}

func applies(outcome string) bool { return outcome != policies.NotApplicable }

// bites is true of what stands, or may stand, in the way.
func bites(outcome string) bool { return outcome == policies.Fail || outcome == policies.Unknown }

// differs is true where one is met and the other is not, or is not known; and of two that fail, or are too close to tell, by different
// measures, or of which one is accepted.
func (p RulePair) differs() bool {
	a, b := p.outcomes()
	if a != b {
		return bites(a) || bites(b)
	}
	return bites(a) && (p.A.Found != p.B.Found || p.A.Allowed != p.B.Allowed || (p.A.Accepted == nil) != (p.B.Accepted == nil))
}

// more says which of two lets more air pass, and by how much.
func more(a, b string, x, y *engine.Leakage) More {
	if y.Likely < x.Likely {
		a, b, x, y = b, a, y, x
	}
	return More{Of: b, Than: a, Difference: x.Below(y), Surely: x.SurelyBelow(y)}
}

// paths pairs the ways for air by name and place in the spec. What a path passes more is found as of the whole door: what moves both
// alike cancels.
func (c *Comparison) paths() {
	add := func(l *engine.Leakage, put func(*PathPair, *engine.Counted)) {
		if l == nil {
			return
		}
		for i := range l.Counted {
			way := &l.Counted[i]
			k := slices.IndexFunc(c.Paths, func(p PathPair) bool { return p.Path == way.Path && p.Pointer == way.Pointer })
			if k < 0 {
				k = len(c.Paths)
				c.Paths = append(c.Paths, PathPair{Path: way.Path, Pointer: way.Pointer})
			}
			put(&c.Paths[k], way)
		}
	}
	add(c.A.Leakage, func(p *PathPair, way *engine.Counted) { p.A = way })
	add(c.B.Leakage, func(p *PathPair, way *engine.Counted) { p.B = way })
	for i := range c.Paths {
		if p := &c.Paths[i]; p.A != nil && p.B != nil {
			alone := func(l *engine.Leakage, way *engine.Counted) *engine.Leakage {
				return &engine.Leakage{Result: l.Together(*way), Pressure: l.Pressure}
			}
			p.More = pointed(more(c.A.ID, c.B.ID, alone(c.A.Leakage, p.A), alone(c.B.Leakage, p.B)))
		}
	}
}

// cautions finds those that one option has and the other has not.
func (c *Comparison) cautions(p *policies.Policies) {
	has := func(findings []policies.Finding, rule string) bool {
		return slices.ContainsFunc(findings, func(f policies.Finding) bool { return f.Rule == rule && bites(f.Outcome) })
	}
	add := func(own, other assess.Option) {
		for _, f := range own.Findings {
			if f.Level != policies.Caution || !bites(f.Outcome) || has(other.Findings, f.Rule) {
				continue
			}
			out := OptionCaution{ID: f.Rule, Of: own.ID, Title: f.Title, Text: f.Message}
			if rule, ok := p.Rule(f.Rule); ok {
				out.Ask = rule.Ask
			}
			c.Cautions = append(c.Cautions, out)
		}
	}
	add(c.A, c.B)
	add(c.B, c.A)
}

// lacks finds what is known of one option alone.
func (c *Comparison) lacks() {
	for _, point := range []struct {
		name  string
		known func(assess.Option) bool
		why   func(assess.Option) []engine.Missing
	}{
		{PointLeakage, func(o assess.Option) bool { return o.Leakage != nil }, func(o assess.Option) []engine.Missing { return o.Missing }},
		{PointDrag, func(o assess.Option) bool { return o.Drag != nil }, func(o assess.Option) []engine.Missing { return o.Undragged }},
		{PointOpening, opens, func(o assess.Option) []engine.Missing { return o.Undragged }},
		{PointLatching, func(o assess.Option) bool { return o.Latching != nil && o.Latching.Low.Known }, func(o assess.Option) []engine.Missing { return slices.Concat(o.Undragged, o.Unpressed) }},
		{PointTolerance, func(o assess.Option) bool {
			return o.NothingToSet || o.Tolerance != nil || o.InRange != nil && !*o.InRange
		}, nothing},
		{PointLife, func(o assess.Option) bool { return o.Life != nil }, nothing},
		{PointEnd, func(o assess.Option) bool { return o.Worn() == nil || o.Worn().Leakage != nil }, leftInTheEnd}, // nothing wears, or it is known
	} {
		a, b := point.known(c.A), point.known(c.B)
		switch {
		case a && !b:
			c.Lacks = append(c.Lacks, Lack{point.name, c.B.ID, point.why(c.B)})
		case b && !a:
			c.Lacks = append(c.Lacks, Lack{point.name, c.A.ID, point.why(c.A)})
		}
	}
}

func opens(o assess.Option) bool {
	return slices.ContainsFunc(o.Openings, func(x engine.Opening) bool { return x.High.Known })
}

func nothing(assess.Option) []engine.Missing { return nil }

func leftInTheEnd(o assess.Option) []engine.Missing {
	if o.Worn() == nil {
		return nil
	}
	return o.Worn().Missing
}

// lead says which of two options is ahead: the one with the better verdict, or of two that can be ordered the one that is ranked ahead
// where there are no others.
func lead(r *assess.Result, a, b assess.Option) Lead {
	out := Lead{}
	for _, ranked := range engine.Rank([]engine.Option{a.Option, b.Option}, r.Order) {
		o := a
		if ranked.Option.ID == b.ID {
			o = b
		}
		o.Place = ranked.Place
		out.Pair = append(out.Pair, o)
	}
	first, second := out.Pair[0], out.Pair[1]
	switch better := standing(a) - standing(b); {
	case better > 0:
		out.Ahead, out.By = a.ID, ByVerdict
	case better < 0:
		out.Ahead, out.By = b.ID, ByVerdict
	case standing(a) < mayBeOrdered || first.Rank == 0:
	case second.Rank == 0:
		out.Ahead, out.By = first.ID, known(r.Order, first.Option)
	case first.Rank < second.Rank:
		out.Ahead, out.By = first.ID, first.Reason.By
	}
	if a.Rank > 0 && b.Rank > 0 { // both comply
		places := map[string]int{a.ID: a.Rank, b.ID: b.Rank}
		out.Other = cmp.Compare(first.Rank, second.Rank) != cmp.Compare(places[first.ID], places[second.ID])
	}
	waiting := *r
	waiting.Findings, waiting.Options = nil, nil
	for _, o := range []assess.Option{a, b} {
		if o.Standing == assess.Unproven {
			waiting.Options = append(waiting.Options, o)
		}
	}
	out.Needs = Needs(&waiting)
	return out
}

// known is the criterion without which an option is not ranked, or else the first that is known of it.
func known(order []engine.Criterion, o engine.Option) engine.Criterion {
	for _, c := range order {
		if _, ok := c.Of(o); ok && !slices.Contains(order, engine.ByLeakage) {
			return c
		}
	}
	return engine.ByLeakage
}

// mayBeOrdered is the least standing with which an option can be ordered.
const mayBeOrdered = 2

// standing puts verdicts in order: fails, unproven, accepted, complies.
func standing(o assess.Option) int {
	switch {
	case o.Verdict == assess.Complies:
		return mayBeOrdered + 1
	case o.ByAcceptance():
		return mayBeOrdered
	case o.Verdict == assess.Unproven:
		return 1
	}
	return 0
}
