package engine

import (
	"math"

	"sillwright/engine/doubt"
)

// Difference is how much less air one option lets pass than another, with its band, m3/s.
type Difference struct {
	doubt.Range
	Largest doubt.Effect // what most keeps the two from being parted, its ends as differences; zero when nothing is in doubt
	Share   float64      // part of the squared reach of the band towards 0 that is Largest's, 0..1

	apart float64 // low end with what the two do not share added end to end
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
// Error of low: against random pairs of doors with shared and own paths, all doubts log-normal and scattering at once, the low end just above 0:
// the order is wrong in less than 1 of 100 by the median, in 7 at worst (see TestDifferenceScatter_Pinned); 2.5 are meant.
func (l *Leakage) Below(other *Leakage) Difference {
	d := Difference{Range: doubt.Exactly(other.Likely - l.Likely)}
	down, up := 0.0, 0.0
	var downs [3]float64 // of doubts that both share, of those of this option, of those of the other
	count := func(e doubt.Effect, whose int, lows, highs [2]float64) {
		e.Low, e.High = lows[1]-lows[0], highs[1]-highs[0]
		lower, upper := min(e.Low, e.High, 0), max(e.Low, e.High, 0)
		down, up = down+lower*lower, up+upper*upper
		downs[whose] += lower * lower
		reach, most := -lower, -min(d.Largest.Low, d.Largest.High, 0)
		if d.Likely < 0 {
			reach, most = upper, max(d.Largest.Low, d.Largest.High, 0)
		}
		if reach > most {
			d.Largest = e
		}
	}
	for _, own := range l.Effects {
		lows, highs := [2]float64{own.Low - l.Likely}, [2]float64{own.High - l.Likely}
		its, ok := same(own, other.Effects)
		if !ok {
			count(own, 1, lows, highs)
			continue
		}
		lows[1], highs[1] = its.Low-other.Likely, its.High-other.Likely
		count(own, 0, lows, highs)
	}
	for _, its := range other.Effects {
		if _, ok := same(its, l.Effects); !ok {
			count(its, 2, [2]float64{0, its.Low - other.Likely}, [2]float64{0, its.High - other.Likely})
		}
	}
	d.Low, d.High = d.Likely-math.Sqrt(down), d.Likely+math.Sqrt(up)
	d.Share = shareOf(d, down, up)
	d.apart = d.Likely - math.Sqrt(downs[0]) - math.Sqrt(downs[1]) - math.Sqrt(downs[2])
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

// SurelyBelow says whether it is less than another beyond doubt: the bands lie apart, or they overlap for what the two share alone. For
// that the bands of what is each one's own must lie apart, and still do so when what is shared moves the difference:
//
//	D - sqrt(sum of squares over shared doubts) - the same over those of the one - the same over those of the other > 0
//
// with the falls of the difference, as in Below. The ends are added, as those of two bands are that just touch; the band of the difference
// itself is narrower.
func (l *Leakage) SurelyBelow(other *Leakage) bool {
	noise := rounding * other.Likely
	return l.Likely+noise < other.Likely && (l.High < other.Low || l.Below(other).apart > noise)
}
