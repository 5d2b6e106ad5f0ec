package crack

import (
	"math"

	"sillwright/engine/air"
)

// Passage is a way for air, or several side by side.
type Passage interface {
	// At is the flow at a drop dp > 0 (Pa) and its local exponent d ln q/d ln dp there, 0.5..1.
	At(dp float64) (flow, exponent float64)
}

// At is the flow and the local exponent at a drop dp (Pa): one square root for both.
func (l Law) At(dp float64) (flow, exponent float64) {
	s := math.Sqrt(l.A*l.A + 4*l.B*dp)
	switch {
	case math.IsInf(s, 1):
		return 0, 1
	case l.A == 0:
		return 2 * dp / s, 0.5
	}
	return 2 * dp / (l.A + s), (l.A + s) / (2 * s)
}

// Share is how much there is of a law: metres of crack for a law per metre, square metres for one per area.
type Share struct {
	Law
	Extent float64
}

// Bundle is a set of paths side by side: the same drop, flows added.
type Bundle []Share

// Flow is the sum of the flows at dp (Pa).
func (b Bundle) Flow(dp float64) float64 {
	sum := 0.0
	for _, s := range b {
		sum += s.Extent * s.Law.Flow(dp)
	}
	return sum
}

// At is the flow of the bundle and its local exponent, the mean of the exponents weighted by flow. That is exact:
// d ln(sum q)/d ln dp = sum(q n)/sum q. An empty or closed bundle has flow 0 and exponent 1, the limit of a
// crack that closes.
func (b Bundle) At(dp float64) (flow, exponent float64) {
	weighted := 0.0
	for _, s := range b {
		q, n := s.Law.At(dp)
		flow += s.Extent * q
		weighted += s.Extent * q * n
	}
	if flow <= 0 {
		return 0, 1
	}
	return flow, weighted / flow
}

// Pair is the quadratic law with a given flow q and local exponent n at a drop dp (Pa):
//
//	A = dp (2 - 1/n)/q,  B = dp (1/n - 1)/q^2
//
// exact at dp, with the right slope there; n outside 0.5..1 by rounding is cut off. q = 0 is a closed path.
func Pair(dp, q, n float64) Law {
	if q <= 0 {
		return closed()
	}
	n = min(max(n, 0.5), 1)
	return Law{A: dp * (2 - 1/n) / q, B: dp * (1/n - 1) / (q * q)}
}

const (
	mostRounds = 100
	settled    = 1e-7 // the round after one that moved so little is right to its square
)

// InSeries finds the flow through passages one after the other at a whole drop dp > 0 (Pa), and the pair of each
// that stands for it at its own part of the drop: Series of the pairs is the law of the whole near dp.
//
// Each passage is replaced by the pair that touches its curve at its part of the drop; pairs in series add exactly, which gives
// better parts, until they stay. That is Newton's method on curves instead of lines: a few rounds to
// rounding. Relative error: 1e-12 in the flow (see the tests). A closed passage closes the whole. Pairs go into the slice
// given, which must hold as many as there are passages.
func InSeries(dp float64, pairs []Law, passages ...Passage) float64 {
	part := dp / float64(len(passages))
	for i, p := range passages {
		q, n := p.At(part)
		pairs[i] = Pair(part, q, n)
	}
	flow := Series(pairs...).Flow(dp)
	for range mostRounds {
		if flow <= 0 {
			return 0
		}
		for i, p := range passages {
			own := pairs[i].Drop(flow)
			q, n := p.At(own)
			pairs[i] = Pair(own, q, n)
		}
		better := Series(pairs...).Flow(dp)
		done := math.Abs(better-flow) <= settled*better
		if flow = better; done {
			break
		}
	}
	return flow
}

// In is a law found in one air as it is in another: A goes with the viscosity, B with the density. Exact for cracks, orifices and
// fibre beds, where C is constant.
func (l Law) In(found, now air.Air) Law {
	return Law{A: l.A * now.Viscosity / found.Viscosity, B: l.B * now.Density / found.Density}
}
