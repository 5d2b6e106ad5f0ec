package fibre

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"
)

// Elastica is the shape of a bristle clamped at its root and bent far, in parts of its length and of its
// buckling load.
type Elastica struct {
	Load   float64 // axial load over Euler's load
	Height float64 // height of the tip over the root, over the length
	Reach  float64 // sideways distance of the tip, over the length
}

// PostBuckling is the shape of a perfect bristle squashed from its tip, which slides freely, by the angle of the tip to
// the straight bristle (rad).
//
//	m = sin^2(angle/2);  P/Pcr = (K(m) 2/pi)^2;  x/L = 2 E(m)/K(m) - 1;  y/L = 2 sqrt(m)/K(m)
//
// K, E complete elliptic integrals of the parameter m. Source: the elastica in Timoshenko & Gere, Theory of
// Elastic Stability (formulas from memory; two tabulated rows in the tests). Range: 0 <= angle < pi, else an error.
func PostBuckling(angle float64) (Elastica, error) {
	if !(angle >= 0 && angle < math.Pi) {
		return Elastica{}, fmt.Errorf("tip angle of a squashed bristle is %g rad; allowed is 0 to below pi", angle)
	}
	s := math.Sin(angle / 2)
	return postBuckling(s * s), nil
}

func postBuckling(m float64) Elastica {
	k := mathext.CompleteK(m)
	p := k * 2 / math.Pi
	return Elastica{Load: p * p, Height: 2*mathext.CompleteE(m)/k - 1, Reach: 2 * math.Sqrt(m) / k}
}

// Lean is how far (m) the tips of squashed bristles have moved sideways from where they stood, for bristles of a
// length (m) that stand an initial lean (m, crimp, lay and set) off the vertical, squashed by overlap (m).
//
//	y = sqrt(y0^2 + y_el^2) - y0,  y_el the reach of the perfect elastica at the same loss of height
//
// Real bristles have no buckling threshold; the square root is a plain way to join the initial lean to the elastica
// (engineering judgement, to be calibrated). Zero for overlap <= 0; an overlap beyond the length counts as the length.
func Lean(length, overlap, initial float64) float64 {
	return LeanOf(Reach(length, overlap), initial)
}

// Reach is y_el of Lean (m): how far the tip of a perfect elastica of a length (m) moves sideways when it loses overlap (m) of its height.
// Zero for overlap <= 0; an overlap beyond the length counts as the length.
func Reach(length, overlap float64) float64 {
	if overlap <= 0 || length <= 0 {
		return 0
	}
	return length * reach(math.Min(overlap/length, 1))
}

// LeanOf is Lean for a reach (m) that is known already, 0 or more.
func LeanOf(reach, initial float64) float64 {
	return math.Sqrt(initial*initial+reach*reach) - initial
}

// reach is y/L of the perfect elastica as a function of s, the loss of height over the length, 0..1. For small s it is (4/pi) sqrt(s);
// reachFit is the smooth rest as a Chebyshev series in s, right to 1e-9.
func reach(s float64) float64 {
	x := 2*s - 1
	b1, b2 := 0.0, 0.0 // Clenshaw
	for i := len(reachFit) - 1; i > 0; i-- {
		b1, b2 = 2*x*b1-b2+reachFit[i], b1
	}
	return math.Sqrt(s) * (x*b1 - b2 + reachFit[0])
}

var reachFit = fitReach()

const reachTerms = 14

func fitReach() [reachTerms]float64 {
	var c, value [reachTerms]float64
	for k := range value {
		s := (1 + math.Cos(math.Pi*(float64(k)+0.5)/reachTerms)) / 2
		value[k] = postBuckling(parameter(s)).Reach / math.Sqrt(s)
	}
	for j := range c {
		for k, v := range value {
			c[j] += 2.0 / reachTerms * v * math.Cos(math.Pi*float64(j)*(float64(k)+0.5)/reachTerms)
		}
	}
	c[0] /= 2
	return c
}

// parameter is the m at which the perfect elastica has lost the part s of its height, 0 < s <= 1, by bisection: the
// height falls with m.
func parameter(s float64) float64 {
	low, high := 0.0, 0.9
	for range 60 {
		mid := (low + high) / 2
		if 1-postBuckling(mid).Height < s {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// Cantilever is a bristle bent by a force across it at its tip that keeps its direction: the tip's sideways reach and
// the loss of height, both over the length, for load = P L^2/(E I).
//
//	sqrt(load) = K(m) - F(phi, m),  m = (1 + sin a)/2,  sin phi = 1/sqrt(2 m),  a tip angle
//	y/L = 1 - 2 (E(m) - E(phi, m))/sqrt(load);  x/L = sqrt(2 sin a/load)
//
// Source: Bisshopp & Drucker 1945, Quarterly of Applied Mathematics 3, 272-275 (formulas from memory; checked against an
// independent integration of theta" = -load cos theta). Range: 0 <= load <= 50, else an error; the linear law y/L = load/3 is 10 % high at 1.
func Cantilever(load float64) (reach, loss float64, err error) {
	if !(load >= 0 && load <= 50) {
		return 0, 0, fmt.Errorf("load of a bent bristle is %g E I/L^2; allowed is 0 to 50", load)
	}
	if load < 1e-6 {
		return load / 3, load * load / 15, nil
	}
	root := math.Sqrt(load)
	low, high := 0.0, math.Pi/2
	for range 60 {
		a := (low + high) / 2
		m, phi := cantilever(a)
		if mathext.CompleteK(m)-mathext.EllipticF(phi, m) < root {
			low = a
		} else {
			high = a
		}
	}
	a := (low + high) / 2
	m, phi := cantilever(a)
	arc := mathext.CompleteE(m) - mathext.EllipticE(phi, m)
	return 1 - 2*arc/root, 1 - math.Sqrt(2*math.Sin(a)/load), nil
}

func cantilever(a float64) (m, phi float64) {
	m = (1 + math.Sin(a)) / 2
	return m, math.Asin(1 / math.Sqrt(2*m))
}
