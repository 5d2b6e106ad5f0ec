// Package crack gives the flow of air through cracks, gaps and holes as a quadratic law of the pressure drop,
// and combines such laws in parallel and in series.
package crack

import "math"

// Law is the quadratic pressure law of a flow path,
//
//	dp = A q + B q |q|
//
// dp pressure drop Pa; A viscous coefficient, B inertial coefficient. q is whatever flow the law was made for: flow
// per metre of crack (m2/s; A Pa s/m2, B Pa s2/m4), whole flow (m3/s), or velocity in a fibre bed (m/s).
// A closed path has A = +Inf; a free one would have A = B = 0 and gives an infinite flow.
//
// The pair is kept, never a power law: a power law is only a local fit, and carrying one from 50 Pa to 4 Pa with the
// wrong exponent (0.5 for 1) is wrong by a factor of 3.5.
type Law struct{ A, B float64 }

// Flow solves the law for the flow at a pressure drop dp (Pa):
//
//	q = 2 dp / (A + sqrt(A^2 + 4 B dp))
//
// This root does not cancel when B dp is small against A^2. Odd in dp: a reversed drop reverses the flow.
func (l Law) Flow(dp float64) float64 {
	if dp < 0 {
		return -l.Flow(-dp)
	}
	if dp == 0 {
		return 0
	}
	return 2 * dp / (l.A + math.Sqrt(l.A*l.A+4*l.B*dp))
}

// Drop is the pressure drop (Pa) of a flow q: A q + B q |q|. Zero at zero flow, also for a closed path.
func (l Law) Drop(q float64) float64 {
	if q == 0 {
		return 0
	}
	return l.A*q + l.B*q*math.Abs(q)
}

// Exponent is the local exponent n = d ln q / d ln dp at a drop dp > 0 (Pa):
//
//	n = (A + B q)/(A + 2 B q) = (A + s)/(2 s),  s = sqrt(A^2 + 4 B dp)
//
// exact for the law; 1 for a laminar path (B = 0), 0.5 for an orifice (A = 0), always between the two.
// A closed path gives 1, the limit of a crack that closes.
func (l Law) Exponent(dp float64) float64 {
	s := math.Sqrt(l.A*l.A + 4*l.B*math.Abs(dp))
	switch {
	case l.A == 0:
		return 0.5
	case math.IsInf(s, 1):
		return 1
	}
	return (l.A + s) / (2 * s)
}

// Over gives the law of the whole flow through an extent: metres of crack for a law per metre, square metres for a
// law per area. A/extent, B/extent^2, since q = Q/extent. An extent of 0 is a closed path.
func (l Law) Over(extent float64) Law {
	if extent <= 0 {
		return closed()
	}
	return Law{A: l.A / extent, B: l.B / (extent * extent)}
}

// Series is the law of paths passed one after the other by the same flow: A = sum A_i, B = sum B_i (exact, as the
// drops add at equal flow). No law at all gives Law{}, which does not resist.
func Series(laws ...Law) Law {
	var sum Law
	for _, l := range laws {
		sum.A += l.A
		sum.B += l.B
	}
	return sum
}

func closed() Law { return Law{A: math.Inf(1)} }
