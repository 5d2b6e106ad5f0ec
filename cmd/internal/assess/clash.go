package assess

import (
	"slices"

	"sillwright/policies"
	"sillwright/schema/quantity"
)

// Clash is why no setting serves: two rules, one of which fails at every setting up to some overlap and the other from some overlap
// on, so that there is none that meets both; or one that fails at every setting.
type Clash struct {
	Low  *Side // the rule that asks for more overlap; nil: one rule alone fails everywhere
	High Side  // the rule that asks for less; or the one that fails everywhere
	// Apart is how far the least overlap that meets the one lies above the greatest that meets the other.
	Apart  quantity.Length
	Counts bool // the rules count; if not, they are what should hold
}

// Side is one of the rules that clash.
type Side struct {
	Rule, Title string
	From        quantity.Length  // the overlap nearest to the other side's at which it does not fail
	Other       policies.Finding // what the other rule says there; of one that fails everywhere, what it says where least is wrong
}

// clash finds what keeps every setting from being met: counting rules if they do, else what should hold too.
func (s *Setting) clash(strict bool) *Clash {
	for _, counting := range []bool{true, false} {
		rules := s.failing(func(f policies.Finding) bool { return Counts(f, strict) || !counting })
		for _, rule := range rules {
			if !s.fails(rule).any(false) && s.moves(rule) {
				f := s.of(s.Chosen, rule)
				return &Clash{High: Side{Rule: rule, Title: f.Title, From: s.Offered[s.Chosen].Overlap, Other: f}, Counts: counting}
			}
		}
		for _, low := range rules {
			for _, high := range rules {
				if c := s.between(low, high); c != nil {
					c.Counts = counting
					return c
				}
			}
		}
	}
	return nil
}

// failing lists the rules that fail at some setting.
func (s *Setting) failing(counts func(policies.Finding) bool) []string {
	var out []string
	for _, o := range s.Offered {
		for _, f := range o.Findings {
			if f.Level != policies.Caution && f.Outcome == policies.Fail && counts(f) && !slices.Contains(out, f.Rule) {
				out = append(out, f.Rule)
			}
		}
	}
	return out
}

// run says of each setting whether a rule fails there.
type run []bool

func (r run) any(value bool) bool { return slices.Contains(r, value) }

func (s *Setting) fails(rule string) run {
	out := make(run, len(s.Offered))
	for i := range s.Offered {
		out[i] = s.of(i, rule).Outcome == policies.Fail
	}
	return out
}

func (s *Setting) of(i int, rule string) policies.Finding {
	own := s.Offered[i].Findings
	return own[slices.IndexFunc(own, func(f policies.Finding) bool { return f.Rule == rule })]
}

// moves says whether what a rule finds hangs on the setting: one that does not is no matter of how the seal is set.
func (s *Setting) moves(rule string) bool {
	first := s.of(0, rule)
	for i := range s.Offered {
		if f := s.of(i, rule); f.Found != first.Found || f.Outcome != first.Outcome {
			return true
		}
	}
	return false
}

// between is the clash of a rule that fails up to some overlap with one that fails from some overlap on; nil: they leave a setting.
func (s *Setting) between(low, high string) *Clash {
	a, b := s.fails(low), s.fails(high)
	first := slices.Index(a, false)   // where the one begins to be met
	last := slices.Index(b, true) - 1 // up to where the other is
	if first <= 0 || last < 0 || first <= last || a[first:].any(true) || b[last+1:].any(false) {
		return nil
	}
	x, y := s.of(first, high), s.of(last, low)
	return &Clash{
		Low: &Side{Rule: low, Title: y.Title, From: s.Offered[first].Overlap, Other: x}, High: Side{Rule: high, Title: x.Title, From: s.Offered[last].Overlap, Other: y},
		Apart: s.Offered[first].Overlap - s.Offered[last].Overlap,
	}
}
