package assess

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"sillwright/engine"
	"sillwright/policies"
	"sillwright/schema/door"
	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// Setting is what was found for a bottom seal that the program was to set.
type Setting struct {
	Fit     int // its place among the fits of the option
	Overlap quantity.Length
	Offered []Offered // every setting that was judged, smallest overlap first
	Chosen  int       // its place among them
	Allowed [2]int    // the first and the last of the stretch around it that rules find as good
	Flat    [2]int    // and of the stretch of those whose leakage is hardly more
	Clash   *Clash    // why none serves; nil: one does
}

// Offered is one setting with what rules say of it.
type Offered struct {
	engine.Offer
	Verdict  string
	Findings []policies.Finding

	marks marks
}

// flat is how much more the high end of the leakage may be for a setting to count as hardly more: far below any band, so that a hand
// need not be finer. Engineering judgement.
const flat = 1.05

// marks count what speaks against a setting, the worst first: counting rules that fail, counting ones that are not known, then
// the same of those that do not count.
type marks [4]int

func marksOf(findings []policies.Finding, strict bool) (m marks) {
	for _, f := range findings {
		i := 0
		switch {
		case f.Level == policies.Caution || (f.Outcome != policies.Fail && f.Outcome != policies.Unknown):
			continue
		case f.Outcome == policies.Unknown:
			i = 1
		}
		if !Counts(f, strict) {
			i += 2
		}
		m[i]++
	}
	return m
}

// choose finds the best of the settings that are offered: that against which rules have least, and of those the one with the least
// high end of its leakage; one whose leakage is not known stands back. Where none is known it is the one with most room to either side.
func choose(offers []engine.Offer, findings map[string][]policies.Finding, strict bool) Setting {
	s := Setting{}
	for _, o := range offers {
		own := slices.Clone(findings[o.Subject])
		for i := range own {
			own[i].Subject = "option:" + o.ID
		}
		s.Offered = append(s.Offered, Offered{Offer: o, Verdict: verdict(own, strict), Findings: own, marks: marksOf(own, strict)})
	}
	least := slices.MinFunc(s.Offered, func(a, b Offered) int { return slices.Compare(a.marks[:], b.marks[:]) }).marks
	known := slices.ContainsFunc(s.Offered, func(o Offered) bool { return o.marks == least && o.Leakage != nil })
	good := func(i int) bool { return s.Offered[i].marks == least && (!known || s.Offered[i].Leakage != nil) }
	s.Chosen = -1
	for i := range s.Offered {
		if good(i) && (s.Chosen < 0 || s.better(i, s.Chosen, known, good)) {
			s.Chosen = i
		}
	}
	if least[0] > 0 || least[2] > 0 {
		s.Clash = s.clash(strict)
	}
	if c := s.Clash; c != nil && c.Low != nil && c.Counts {
		s.Chosen = s.nearest(least)
		known = known && s.Offered[s.Chosen].Leakage != nil
	}
	s.Overlap = s.Offered[s.Chosen].Overlap
	s.Allowed = s.stretch(s.Chosen, good)
	s.Flat = s.Allowed
	if known {
		most := s.Offered[s.Chosen].Leakage.High * flat
		s.Flat = s.stretch(s.Chosen, func(i int) bool { return good(i) && s.Offered[i].Leakage.High <= most })
	}
	return s
}

func (s *Setting) better(i, j int, known bool, good func(int) bool) bool {
	if known {
		a, b := s.Offered[i].Leakage, s.Offered[j].Leakage
		return cmp.Or(cmp.Compare(a.High, b.High), cmp.Compare(a.Likely, b.Likely)) < 0
	}
	return s.room(i, good) > s.room(j, good)
}

// nearest is the setting nearest to touching of those against which counting rules have least: where two rules clash, the one that
// keeps the seal on the floor is not to be given up for the other, nor the seal to be crushed.
func (s *Setting) nearest(least marks) int {
	out := -1
	for i, o := range s.Offered {
		if slices.Equal(o.marks[:2], least[:2]) && (out < 0 || abs(o.Overlap) < abs(s.Offered[out].Overlap)) {
			out = i
		}
	}
	return out
}

// room is how far a setting lies from the nearer end of the stretch of good ones around it.
func (s *Setting) room(i int, good func(int) bool) quantity.Length {
	ends := s.stretch(i, good)
	return min(s.Offered[i].Overlap-s.Offered[ends[0]].Overlap, s.Offered[ends[1]].Overlap-s.Offered[i].Overlap)
}

// stretch is the run of settings around one of them of which something is true.
func (s *Setting) stretch(i int, is func(int) bool) [2]int {
	out := [2]int{i, i}
	for out[0] > 0 && is(out[0]-1) {
		out[0]--
	}
	for out[1] < len(s.Offered)-1 && is(out[1]+1) {
		out[1]++
	}
	return out
}

// judged is a door with what rules say of it, every seal set that the program could set.
type judged struct {
	door     *door.Door
	in       policies.Input
	subjects []fact.Subject
	options  []engine.Option
	leaves   []door.Leaf
	findings []policies.Finding
	settings map[string][]Setting // by option
}

// settle judges a door, and sets the seals that the program is to set, one of an option at a time: while the first is set, the others
// just touch; then the next is set beside it.
func (a *Assessor) settle(ctx context.Context, d *door.Door) (*judged, error) {
	settings := map[string][]Setting{}
	for {
		in, m := a.Input(d)
		in.Worded = a.Shown
		findings, err := a.Policies.Judge(ctx, in)
		if err != nil {
			return nil, err
		}
		a.Project.Level(findings)
		j := &judged{in: in, subjects: m.Subjects, options: m.Options, leaves: m.Leaves, settings: settings}
		if !slices.ContainsFunc(m.Options, func(o engine.Option) bool { return len(o.Offers) > 0 }) {
			j.door, j.findings = d, findings
			return j, nil
		}
		bySubject := map[string][]policies.Finding{}
		for _, f := range findings {
			bySubject[f.Subject] = append(bySubject[f.Subject], f)
		}
		chosen := map[string]string{} // option by the subject of the setting that was chosen
		again := false
		for i, o := range m.Options {
			if len(o.Offers) == 0 {
				continue
			}
			s := choose(o.Offers, bySubject, a.Strict)
			s.Fit = engine.Unset(d.Options[i], a.Catalogue)
			settings[o.ID] = append(settings[o.ID], s)
			d = engine.Set(d, i, s.Fit, s.Overlap)
			again = again || engine.Unset(d.Options[i], a.Catalogue) >= 0
			best := s.Offered[s.Chosen]
			j.options[i], chosen[best.Subject] = best.Whole(), "option:"+o.ID
		}
		if again {
			continue
		}
		j.door = d
		j.keep(findings, chosen)
		return j, nil
	}
}

// keep takes what rules say, and of settings only of those that were chosen, which stand for their options.
func (j *judged) keep(findings []policies.Finding, chosen map[string]string) {
	for _, f := range findings {
		if strings.HasPrefix(f.Subject, "setting:") {
			if chosen[f.Subject] == "" {
				continue
			}
			f.Subject = chosen[f.Subject]
		}
		j.findings = append(j.findings, f)
	}
	j.subjects = slices.DeleteFunc(slices.Clone(j.subjects), func(s fact.Subject) bool {
		return strings.HasPrefix(s.ID, "setting:") && chosen[s.ID] == ""
	})
	for i, s := range j.subjects {
		if id := chosen[s.ID]; id != "" {
			j.subjects[i].ID = id
		}
	}
}

// bySubject sorts the findings by subject, each as rules are asked, and gives those of the door, its sides and its leaves together.
func (j *judged) bySubject() (of map[string][]policies.Finding, onDoor []policies.Finding) {
	at := make(map[string]int, len(j.subjects))
	for i, s := range j.subjects {
		at[s.ID] = i
	}
	ends := make([]int, len(j.subjects)+1)
	for i := range j.findings {
		ends[at[j.findings[i].Subject]+1]++
	}
	for i := range j.subjects {
		ends[i+1] += ends[i]
	}
	all, next := make([]policies.Finding, len(j.findings)), slices.Clone(ends)
	for i := range j.findings {
		s := at[j.findings[i].Subject]
		all[next[s]] = j.findings[i]
		next[s]++
	}
	of = make(map[string][]policies.Finding, len(j.subjects))
	for i, s := range j.subjects {
		of[s.ID] = all[ends[i]:ends[i+1]:ends[i+1]]
		if s.Kind != "option" {
			onDoor = all[:ends[i+1]:ends[i+1]] // options are the last subjects
		}
	}
	return of, onDoor
}

func abs(l quantity.Length) quantity.Length { return max(l, -l) }
