package seal

import (
	"math"

	"sillwright/engine/crack"
)

// Bare is a gap without a seal: crack.Opening with the leaf thickness as depth.
//
// Range: every gap; at gaps over a quarter of the leaf thickness the band spans the crack law and the sharp-edged
// orifice. Stands on theory and published measurements (see package crack): +-20..25 %.
type Bare struct{ Bends int }

// Check wants a number of bends from 0 to 4.
func (b Bare) Check() error {
	return Exactly(float64(b.Bends)).check("number of bends", 0, 4)
}

// Basis is the crack law.
func (b Bare) Basis() string { return BasisCrack }

// Parameters are the entry and exit loss and the accuracy of the law. The floor does not matter.
func (b Bare) Parameters(Texture) []Named { return []Named{anyLoss(), accuracy()} }

// Kinks has none.
func (b Bare) Kinks() []float64 { return nil }

// FlowPerMetre is the flow through the gap at a place.
func (b Bare) FlowPerMetre(x []float64, at Place, in Condition) float64 {
	return x[1] * crack.Opening(math.Max(at.Gap, 0), in.LeafThickness, float64(b.Bends), x[0], in.Air).Flow(in.Drop)
}
