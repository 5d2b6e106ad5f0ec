package engine

import (
	"cmp"
	"slices"
)

// Ranked is a complying option in its place.
type Ranked struct {
	Option Option
	Rank   int  // 1 is best; options too close to call share a rank; 0 if the leakage is not known
	Tied   bool // its band reaches into that of another option of the same rank
}

// Rank orders options by the high end of their leakage, then the likely flow, then the
// id. An option's rank is one more than the number of options that are better beyond
// doubt: those whose whole band lies below its own. So options whose bands overlap are
// never ranked as if they did not. Options without a known leakage come last, without a rank.
func Rank(options []Option) []Ranked {
	sorted := slices.Clone(options)
	slices.SortStableFunc(sorted, func(a, b Option) int {
		if (a.Leakage == nil) != (b.Leakage == nil) {
			if a.Leakage == nil {
				return 1
			}
			return -1
		}
		if a.Leakage == nil {
			return cmp.Compare(a.ID, b.ID)
		}
		return cmp.Or(cmp.Compare(a.Leakage.High, b.Leakage.High), cmp.Compare(a.Leakage.Likely, b.Leakage.Likely), cmp.Compare(a.ID, b.ID))
	})
	out := make([]Ranked, len(sorted))
	for i, o := range sorted {
		out[i] = Ranked{Option: o}
		if o.Leakage == nil {
			continue
		}
		out[i].Rank = 1
		for _, p := range sorted {
			if p.Leakage != nil && p.Leakage.High < o.Leakage.Low {
				out[i].Rank++
			}
		}
	}
	for i := range out {
		for j := range out {
			out[i].Tied = out[i].Tied || (i != j && out[i].Rank > 0 && out[i].Rank == out[j].Rank)
		}
	}
	return out
}
