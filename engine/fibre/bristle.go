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
