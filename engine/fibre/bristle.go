package fibre

import "math"

// PerMetre is the number of bristles per metre of door: V t/(pi D^2/4). Geometry; V solid fraction, t body
// thickness m, D diameter m.
func PerMetre(solid, thickness, diameter float64) float64 {
	return solid * thickness / (math.Pi * diameter * diameter / 4)
}

// Stiffness is the bending stiffness E I (N m2) of a round bristle: E pi D^4/64. E tensile modulus Pa, D diameter m.
func Stiffness(modulus, diameter float64) float64 {
	d2 := diameter * diameter
	return modulus * math.Pi * d2 * d2 / 64
}

// Buckling is Euler's load (N) of a straight bristle clamped at its root and free at its tip: pi^2 E I/(4 L^2). L free
// length m. An upper bound: real bristles lean and bend long before.
func Buckling(stiffness, length float64) float64 {
	return math.Pi * math.Pi * stiffness / (4 * length * length)
}

// Lift is how far (m) the tips of bristles rise when a pressure drop bends them, for a free length H (m), a bending stiffness
// E I (N m2) of one bristle and n bristles per metre of door:
//
//	y = dp H^4/(8 E I n),  lift = H (1 - 1/sqrt(1 + (8/7) (y/H)^2)), which is (4/7) y^2/H for small y
//
// Source: a cantilever under a uniform load; 4/7 y^2/H is half the integral of its squared slope (exact for small slopes). Range: the load
// is right while y/H is below some 0.3; beyond it the root joins the small law to a lift that never exceeds H (engineering
// judgement). Friction of the tips on the floor holds them back and is left out, so the lift is an upper estimate.
func Lift(drop, length, stiffness, perMetre float64) float64 {
	y := drop * length * length * length * length / (8 * stiffness * perMetre)
	return length * (1 - 1/math.Sqrt(1+8.0/7*(y/length)*(y/length)))
}
