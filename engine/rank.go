package engine

import (
	"cmp"
	"slices"
)

// Ranked is a complying option in its place.
type Ranked struct {
	Option Option
	Rank   int      // 1 is best: one more than how many leak less beyond doubt; 0 if the leakage is not known
	Near   []string // the options that it is too close to call with: their bands overlap its own
}

// Rank orders options by the high end of their leakage, then the likely flow, then the
// id. An option leaks less than another beyond doubt if its whole band lies below the
// other's. That is no total order: an option may be too close to call with two others of
// which one surely leaks less than the other. So ranks can differ between options whose
// bands overlap, and Near names every such pair. Options without a known leakage come
// last, without a rank.
func Rank(options []Option) []Ranked {
	sorted := slices.Clone(options)
	slices.SortStableFunc(sorted, func(a, b Option) int {
		switch {
		case a.Leakage == nil && b.Leakage == nil:
			return cmp.Compare(a.ID, b.ID)
		case a.Leakage == nil:
			return 1
		case b.Leakage == nil:
			return -1
		}
		return cmp.Or(cmp.Compare(a.Leakage.High, b.Leakage.High), cmp.Compare(a.Leakage.Likely, b.Leakage.Likely), cmp.Compare(a.ID, b.ID))
	})
	out := make([]Ranked, len(sorted))
	for i, o := range sorted {
		out[i] = Ranked{Option: o, Near: []string{}}
		if o.Leakage == nil {
			continue
		}
		out[i].Rank = 1
		for j, p := range sorted {
			switch {
			case i == j || p.Leakage == nil:
			case p.Leakage.High < o.Leakage.Low:
				out[i].Rank++
			case p.Leakage.Low <= o.Leakage.High:
				out[i].Near = append(out[i].Near, p.ID)
			}
		}
	}
	return out
}
