package remedy

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"sillwright/policies"
)

// without says, where there is no remedy, what stands in the way and what would have to give way.
func (f *finder) without(met *log) error {
	f.answer.Tried = met.tried
	for _, h := range met.holds {
		if h.fixed == "" && h.answer == "" {
			continue
		}
		gives := fmt.Sprintf("If `%s` might be changed", shownPointer(h.fixed))
		if h.answer != "" {
			gives = fmt.Sprintf("If somebody who may answers `%s` with evidence", h.answer)
		}
		if err := f.relax(Relaxation{Gives: gives, Fixed: h.fixed, Answer: h.answer}, h, ""); err != nil {
			return err
		}
	}
	var rules []Relaxation
	held := f.answer.Relaxations
	for _, rule := range met.rules {
		f.answer.Relaxations = nil
		if err := f.relax(Relaxation{Rule: rule}, hold{}, rule); err != nil {
			return err
		}
		rules = append(rules, f.answer.Relaxations...)
	}
	slices.SortStableFunc(rules, func(a, b Relaxation) int { return cmp.Compare(a.by(), b.by()) })
	f.answer.Relaxations = append(held, rules...)
	if len(f.answer.Relaxations) > alternatives {
		f.answer.Relaxations = f.answer.Relaxations[:alternatives]
	}
	return nil
}

// relax looks for a remedy with something given.
func (f *finder) relax(r Relaxation, free hold, without string) error {
	if f.work > mostInAll {
		f.answer.Cut = true
		return nil
	}
	list, _, err := f.graded(free, without, 1)
	if err != nil || len(list) == 0 {
		return err
	}
	r.Remedy = list[0]
	if r.Rule != "" {
		r.Gives = f.gives(r)
	}
	f.answer.Relaxations = append(f.answer.Relaxations, r)
	return nil
}

// unmet are the findings of the rule that gives way, as they are with the remedy done.
func (r Relaxation) unmet() []policies.Finding {
	var out []policies.Finding
	add := func(list []policies.Finding) {
		for _, f := range list {
			if f.Rule == r.Rule && (f.Outcome == policies.Fail || f.Outcome == policies.Unknown) {
				out = append(out, f)
			}
		}
	}
	add(r.Remedy.Result.Findings)
	for _, o := range r.Remedy.Result.Options {
		if o.ID == r.Remedy.Option {
			add(o.Findings)
		}
	}
	return out
}

// gives says in words what a rule would have to allow.
func (f *finder) gives(r Relaxation) string {
	if list := r.unmet(); len(list) > 0 {
		u := list[0]
		if u.Found != "" && u.Allowed != "" {
			return fmt.Sprintf("If %s, %s allowed %s, where it allows %s", u.Cite, u.Clause, u.Found, u.Allowed)
		}
		return fmt.Sprintf("If %s, %s did not hold here (%s)", u.Cite, u.Clause, u.Title)
	}
	return fmt.Sprintf("If rule %s did not hold here", r.Rule)
}

// by is how far a rule would have to give way, as a part of its limit; endless where that is no number.
func (r Relaxation) by() float64 {
	out := 0.0
	for _, u := range r.unmet() {
		m, l, ok := (aim{u, u.Point}).figures()
		if !ok || l.Sign() == 0 {
			return math.Inf(1)
		}
		part, _ := m.Sub(m, l).Quo(m, l).Float64()
		out = max(out, math.Abs(part))
	}
	return out
}
