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

// ended says whether a deviation holds no more. Its last day is one on which it holds.
func (d Deviation) ended(day string) bool {
	return d.Acceptance.Expires != "" && d.Acceptance.Expires < day
}

// Accept marks a finding of a door that a deviation covers, says in its words why one that is meant for it does not, and gives those that
// it met. What does not fail and is not unknown needs none, and a caution never stands in the way.
func (p *Project) Accept(mark string, f *policies.Finding) []Met {
	if p == nil || f.Level == policies.Caution || (f.Outcome != policies.Fail && f.Outcome != policies.Unknown) {
		return nil
	}
	var out []Met
	why := ""
	for _, i := range p.of(mark) {
		d := p.Deviations[i]
		if d.Rule != f.Rule || d.Outcome != f.Outcome {
			continue
		}
		m := Met{Deviation: i}
		other := d.others(*f)
		switch {
		case d.ended(p.Day):
			why = "The acceptance by " + d.Acceptance.ApprovedBy + " ended on " + d.Acceptance.Expires
		case len(other) > 0:
			m.Found = other
			why = "The acceptance by " + d.Acceptance.ApprovedBy + " is of " + strings.Join(d.Found, " or ") + ", and of nothing else"
		default:
			m.Covers = true
			if f.Accepted == nil {
				f.Accepted = d.Acceptance
			}
		}
		out = append(out, m)
	}
	if f.Accepted == nil {
		f.NotAccepted = why
	}
	return out
}

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

// others gives what was found that a deviation is not for: of every point, of which one is enough.
func (d Deviation) others(f policies.Finding) []string {
	if len(d.Found) == 0 {
		return nil
	}
	points := f.Points
	if len(points) == 0 {
		points = []policies.Point{f.Point}
	}
	var out []string
	for _, pt := range points {
		found := blanks(pt.Found)
		switch {
		case slices.Contains(d.Found, found):
			continue
		case found == "":
			found = nothingFound
		}
		if !slices.Contains(out, found) {
			out = append(out, found)
		}
	}
	return out
}
