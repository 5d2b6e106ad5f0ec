package fibre

import "math"

// Press is the normal force (N) of a bristle that a floor presses by overlap (m) while its tip is dragged along:
//
//	P/Pcr = (Y - y0)/(Y + (pi^2/12) mu (L - overlap)),  Y = y0 + Lean(L, overlap, y0),  Pcr = pi^2 E I/(4 L^2)
//
// stiffness E I N m2, length L m, initial lean y0 of the tip m, friction mu at the tip. Without friction it is
// P/Pcr = 1 - y0/Y: a column with an initial lean leans y0/(1 - P/Pcr) under P. Friction mu P across the tip adds mu P
// L^3/(3 E I) to y0, and is levered over what is left of the height. Per metre of strip it serves a blade as well.
//
// Limits: first (8/pi^2) Pcr L overlap/y0^2 = 2 E I overlap/(L y0^2), which is also what the bending energy gives;
// without lean and friction Euler's load at any overlap; with much friction the cantilever, mu P = 3 E I Y/(L^2 (L -
// overlap)). It never exceeds Euler's load. Zero for overlap <= 0; an overlap beyond the length counts as the length.
// For a strip that bends across its length, give E I per metre.
//
// Source: amplification of an initial lean by 1/(1 - P/Pcr) (Perry, Southwell), in Timoshenko & Gere, Theory of
// Elastic Stability, from memory, not verified; friction added here by superposition. Range: overlap up to half the
// length. Against the integrated elastica (tests): bristles without lean 5 % low at an overlap of 0.07 L, 10 % at 0.14
// L, 17 % at 0.25 L, 33 % at half; curved ones that lean 0.27 L and friction up to 0.7, 12 % at 0.07 L, 25 % at 0.25
// L.
//
// Deviations: bristles bend and slide, they do not buckle as straight columns. A straight bristle that leans from its
// root is up to 1.5 times stiffer than the curved one that is taken here. The tip is taken to trail: where the pull
// turns back, tips stand against it until they flip over, which takes more for a few millimetres. Bristles that hold
// each other up are not counted.
func Press(stiffness, length, overlap, initial, friction float64) float64 {
	if overlap <= 0 || length <= 0 {
		return 0
	}
	return BentBy(Reach(length, overlap), math.Max(length-overlap, 0), initial, friction).Press(Buckling(stiffness, length))
}

// Bent is how far a bristle is bent, whatever its stiffness: what of Press hangs on the overlap, the lean and the friction.
type Bent struct{ lean, over float64 }

// BentBy is a bristle of a known reach and with some length left over the floor (m): see Reach and Press.
func BentBy(reach, left, initial, friction float64) Bent {
	y := LeanOf(reach, initial)
	lever := math.Pi * math.Pi / 12 * friction * left
	return Bent{y, initial + y + lever}
}

// Press is the normal force of Press by Euler's load of the bristle (N).
func (b Bent) Press(buckling float64) float64 { return buckling * b.lean / b.over }
