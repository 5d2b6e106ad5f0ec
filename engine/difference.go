package engine

import (
	"math"

	"sillwright/engine/doubt"
)

// Difference is how much less air one option lets pass than another, with its band, m3/s.
type Difference struct {
	doubt.Range
	Unshared doubt.Range  // the band if nothing were shared: every doubt counted apart in each of the two
	Largest  doubt.Effect // what most keeps the two from being parted, its ends as differences; zero when nothing is in doubt
	Share    float64      // part of the squared reach of the band towards 0 that is Largest's, 0..1
}

// rounding is the part of a flow below which a difference is that of the arithmetic.
const rounding = 1e-9

// Below is how far this leakage lies below another's, at the same pressure:
//
//	D = Q_other - Q;  for each doubt k: d_k = (Q_other,k - Q_k) - D, at the low and at the high end of k
//	low = D - sqrt(sum over k of min(d_k low, d_k high, 0)^2);  high = D + sqrt(sum over k of max(d_k low, d_k high, 0)^2)
//
// Q_k (m3/s) is the flow of the whole door with doubt k at one of its ends. Doubts are matched by doubt.Effect.Same; one that only one of
// the two has moves that one alone. So whatever is the same in both (an open head, the crack law, one gasket) cancels as far as it moves
// both alike. Doubts count as independent, as in doubt.BandOf, and here as additive.
//
// Error: against random pairs of doors with shared and own paths, all doubts log-normal and scattering at once, the low end just above 0:
// the order is wrong in less than 1 of 100 by the median, in 7 at worst (see TestDifferenceScatter_Pinned); 2.5 are meant.
func (l *Leakage) Below(other *Leakage) Difference {
	d := Difference{Range: doubt.Exactly(other.Likely - l.Likely)}
	down, up, apartDown, apartUp := 0.0, 0.0, 0.0, 0.0
	count := func(e doubt.Effect, lows, highs [2]float64) {
		e.Low, e.High = lows[1]-lows[0], highs[1]-highs[0]
		lower, upper := min(e.Low, e.High, 0), max(e.Low, e.High, 0)
		down, up = down+lower*lower, up+upper*upper
		reach, most := -lower, -min(d.Largest.Low, d.Largest.High, 0)
		if d.Likely < 0 {
			reach, most = upper, max(d.Largest.Low, d.Largest.High, 0)
		}
		if reach > most {
			d.Largest = e
		}
		for _, apart := range [][2]float64{{-lows[0], -highs[0]}, {lows[1], highs[1]}} {
			lower, upper := min(apart[0], apart[1], 0), max(apart[0], apart[1], 0)
			apartDown, apartUp = apartDown+lower*lower, apartUp+upper*upper
		}
	}
	for _, own := range l.Effects {
		lows, highs := [2]float64{own.Low - l.Likely}, [2]float64{own.High - l.Likely}
		if its, ok := same(own, other.Effects); ok {
			lows[1], highs[1] = its.Low-other.Likely, its.High-other.Likely
		}
		count(own, lows, highs)
	}
	for _, its := range other.Effects {
		if _, ok := same(its, l.Effects); !ok {
			count(its, [2]float64{0, its.Low - other.Likely}, [2]float64{0, its.High - other.Likely})
		}
	}
	d.Low, d.High = d.Likely-math.Sqrt(down), d.Likely+math.Sqrt(up)
	d.Unshared = doubt.Between(d.Likely-math.Sqrt(apartDown), d.Likely, d.Likely+math.Sqrt(apartUp))
	d.Share = shareOf(d, down, up)
	return d
}

func same(e doubt.Effect, among []doubt.Effect) (doubt.Effect, bool) {
	for _, f := range among {
		if f.Same(e) {
			return f, true
		}
	}
	return doubt.Effect{}, false
}

func shareOf(d Difference, down, up float64) float64 {
	reach, all := min(d.Largest.Low, d.Largest.High, 0), down
	if d.Likely < 0 {
		reach, all = max(d.Largest.Low, d.Largest.High, 0), up
	}
	if all == 0 {
		return 0
	}
	return reach * reach / all
}

// SurelyBelow says whether it is less than another beyond doubt: the band of the difference lies above 0, or the two bands lie apart.
// The latter is no part of the former, for a band is made of factors and a difference of sums.
func (l *Leakage) SurelyBelow(other *Leakage) bool {
	noise := rounding * other.Likely
	return l.Likely+noise < other.Likely && (l.High < other.Low || l.Below(other).Low > noise)
}
