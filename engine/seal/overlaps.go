package seal

import (
	"math"

	"sillwright/engine/fibre"
)

// overlaps are a few overlaps that stand for all of a run: for a flow per metre q that changes smoothly with the root of the overlap
// between 0 and most, and not outside, the integral of q over the run is the sum of metres q(at).
//
// The overlaps are the Chebyshev points in that root, between the smallest and the largest that the run has; the metres are the
// integrals of the polynomials that are 1 at one of them and 0 at the others. So the work for a value of a parameter does not grow
// with the readings. Relative error for the bodies of the brushes here: 1e-4 (see the tests).
type overlaps struct {
	set        bool
	shift      float64
	many       int
	at, metres [chebyshev]float64
	reach      [chebyshev]float64 // of the bristles there, see fibre.Reach
}

const chebyshev = 6

// overlaps finds them once for a shift, for bristles of a free length.
func (r *Run) overlaps(most, length float64) *overlaps {
	o := &r.squash
	if o.set && o.shift == r.Shift {
		return o
	}
	*o = overlaps{set: true, shift: r.Shift}
	clamp := func(v float64) float64 { return math.Min(math.Max(v, 0), most) }
	low, high, metres := math.Inf(1), 0.0, 0.0
	for _, p := range r.Pieces {
		a, b := clamp(r.overlap(p.From)), clamp(r.overlap(p.To))
		low, high, metres = min(low, a, b), max(high, a, b), metres+p.Length
	}
	low, high = math.Sqrt(low), math.Sqrt(high)
	if high-low < 1e-6 {
		o.many, o.at[0], o.metres[0], o.reach[0] = 1, low*low, metres, fibre.Reach(length, low*low)
		return o
	}
	o.many = chebyshev
	centre, half := (low+high)/2, (high-low)/2
	for k, t := range chebyshevAt {
		root := centre + half*t
		o.at[k] = root * root
		o.reach[k] = fibre.Reach(length, o.at[k])
	}
	var moment [chebyshev]float64 // integrals of the powers of (root - centre)/half
	add := func(root, metres float64) {
		t := (root - centre) / half
		for i := range moment {
			moment[i] += metres
			metres *= t
		}
	}
	for _, p := range r.Pieces {
		from, to := r.overlap(p.From), r.overlap(p.To)
		if from > to {
			from, to = to, from
		}
		a, b := clamp(from), clamp(to)
		if to-from < 1e-9 || b-a < 1e-12 {
			add(math.Sqrt(a), p.Length)
			continue
		}
		per := p.Length / (to - from)
		if from < 0 {
			add(0, -from*per)
		}
		if to > most {
			add(math.Sqrt(most), (to-most)*per)
		}
		start, width := math.Sqrt(a), math.Sqrt(b)-math.Sqrt(a)
		for i, at := range tipAt { // exact for the polynomials
			s := start + width*at
			add(s, per*width*tipWeight[i]*2*s)
		}
	}
	for k, row := range chebyshevPowers {
		for i, c := range row {
			o.metres[k] += c * moment[i]
		}
	}
	return o
}

// chebyshevAt are the points on -1..1, and chebyshevPowers the coefficients of the polynomial that is 1 at a point and 0 at the others.
var chebyshevAt, chebyshevPowers = func() (at [chebyshev]float64, powers [chebyshev][chebyshev]float64) {
	for k := range at {
		at[k] = -math.Cos(math.Pi * (float64(k) + 0.5) / chebyshev)
	}
	for k := range powers {
		row := [chebyshev + 1]float64{1}
		degree := 0
		for j := range at {
			if j == k {
				continue
			}
			degree++
			for i := degree; i >= 0; i-- {
				row[i] *= -at[j]
				if i > 0 {
					row[i] += row[i-1]
				}
			}
			for i := range row {
				row[i] /= at[k] - at[j]
			}
		}
		copy(powers[k][:], row[:])
	}
	return at, powers
}()
