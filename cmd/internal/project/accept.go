package project

import (
	"path"
	"slices"
	"strings"

	"sillwright/policies"
)

// Met is a deviation that a finding of a door met.
type Met struct {
	Deviation int      // its place in the file
	Subject   string   // of the finding
	Covers    bool     // false: it has ended, or something else was found
	Found     []string // what was found that it is not for
}

// Whom is the mark or pattern that a deviation is for.
func (d Deviation) Whom() string {
	if d.Mark != "" {
		return d.Mark
	}
	return d.Pattern
}

// Accepts words what a deviation is of.
func (d Deviation) Accepts() string {
	if len(d.Found) > 0 {
		return strings.Join(d.Found, " or ")
	}
	return otherOutcome + d.Outcome
}

// ended says whether a deviation holds no more. Its last day is one on which it holds.
func (d Deviation) ended(day string) bool {
	return d.Acceptance.Expires != "" && d.Acceptance.Expires < day
}

// Accepts says whether anything is accepted of any door.
func (p *Project) Accepts() bool { return p != nil && len(p.Deviations) > 0 }

// Accept marks a finding of a door that deviations cover, says in its words why those that are meant for it do not, and gives those that
// it met. What does not fail and is not unknown needs none, and a caution never stands in the way. Of a finding that fails and of which
// more is not known, both have to be accepted.
func (p *Project) Accept(mark string, f *policies.Finding) []Met {
	if p == nil || f.Level == policies.Caution || (f.Outcome != policies.Fail && f.Outcome != policies.Unknown) {
		return nil
	}
	open := map[string]bool{f.Outcome: true}
	if len(f.Needs) > 0 {
		open[policies.Unknown] = true
	}
	var out []Met
	var by *policies.Acceptance
	of, why := "", ""
	for _, i := range p.of(mark) {
		d := p.Deviations[i]
		if d.Rule != f.Rule || d.Option != "" && f.Subject != "option:"+d.Option {
			continue
		}
		m := Met{Deviation: i, Subject: f.Subject}
		whose := "The acceptance by " + d.Acceptance.ApprovedBy
		_, asked := open[d.Outcome]
		other := d.others(*f)
		switch {
		case d.ended(p.Day):
			why = whose + " ended on " + d.Acceptance.Expires
		case !asked:
			m.Found = []string{otherOutcome + f.Outcome}
			why = whose + " is of the outcome " + d.Outcome + ", and of nothing else"
		case d.Outcome == f.Outcome && len(other) > 0:
			m.Found = other
			why = whose + " is of " + strings.Join(d.Found, " or ") + ", and of nothing else"
		default:
			m.Covers, open[d.Outcome] = true, false
			if by == nil || d.Outcome == f.Outcome && of != f.Outcome {
				by, of = d.Acceptance, d.Outcome
			}
		}
		out = append(out, m)
	}
	switch {
	case by == nil:
		f.NotAccepted = why
	case open[policies.Fail]:
		f.NotAccepted = "The acceptance by " + by.ApprovedBy + " is of what is not known, and of nothing else"
	case open[policies.Unknown]:
		f.NotAccepted = "The acceptance by " + by.ApprovedBy + " is of what fails; more of it is not known"
	default:
		f.Accepted = by
	}
	for i := range out { // one of the two is not enough
		out[i].Covers = out[i].Covers && f.Accepted != nil
	}
	if f.Accepted != nil { // one that is of another outcome is for another day
		out = slices.DeleteFunc(out, func(m Met) bool { return len(m.Found) == 1 && strings.HasPrefix(m.Found[0], otherOutcome) })
	}
	return out
}

// otherOutcome stands before the outcome of a finding that a deviation is not of.
const otherOutcome = "outcome: "

// of gives the deviations for a mark, in the order of the file.
func (p *Project) of(mark string) []int {
	out := slices.Clone(p.byMark[mark])
	for _, i := range p.patterns {
		if ok, _ := path.Match(p.Deviations[i].Pattern, mark); ok {
			out = append(out, i)
		}
	}
	slices.Sort(out)
	return out
}

// nothingFound stands for what is missing, and was never found.
const nothingFound = "nothing"

// others gives what was found that a deviation is not for: of every point, of which one is enough. Where several parts of a rule fail, a
// figure is told with its part, as `upstand: 16 mm`: what was accepted of a height was not accepted of an edge.
func (d Deviation) others(f policies.Finding) []string {
	if len(d.Found) == 0 {
		return nil
	}
	points := f.Points
	if len(points) == 0 {
		points = []policies.Point{f.Point}
	}
	parts := slices.ContainsFunc(points, func(pt policies.Point) bool { return pt.Reason != points[0].Reason })
	var out []string
	for _, pt := range points {
		found := blanks(pt.Found)
		with := pt.Reason + ": " + found
		if !parts && slices.Contains(d.Found, found) || slices.Contains(d.Found, with) {
			continue
		}
		switch {
		case found == "":
			found = nothingFound
		case parts:
			found = with
		}
		if !slices.Contains(out, found) {
			out = append(out, found)
		}
	}
	return out
}
