package seal

import (
	"math"

	"sillwright/engine/crack"
	"sillwright/engine/doubt"
)

// Bare is a gap without a seal: crack.Opening with the leaf thickness as depth.
//
//	q = f crack(d, z, C),  C = 1.5 + bends
//
// Bends: how often the air turns on its way: 0 straight, 1 around a stop or a step, 2 in a rebate.
// Range: every gap; at gaps over a quarter of the leaf thickness the band spans the crack law and the sharp-edged
// orifice. Stands on theory and published measurements (see package crack): +-20..25 %.
type Bare struct{ Bends int }

// Check wants a number of bends from 0 to 4.
func (b Bare) Check() error {
	return doubt.Exactly(float64(b.Bends)).Check("number of bends", 0, 4)
}

// Basis is the crack law.
func (b Bare) Basis() string { return BasisCrack }

// Parameters are the entry and exit loss and the accuracy of the law. The floor does not matter.
func (b Bare) Parameters(_ Texture, list []Named) []Named {
	return append(list, anyLoss(), accuracy())
}

// Ways is the gap.
func (b Bare) Ways(float64) Ways { return one(uses(0, 1)) }

// Lay lays the gap.
func (b Bare) Lay(_ int, x []float64, r *Run, out crack.Bundle) crack.Bundle {
	r.sample([]float64{0}, func(gap, metres float64) {
		law := crack.Opening(math.Max(gap, 0), r.LeafThickness, float64(b.Bends), x[0], r.Air)
		out = append(out, crack.Share{Law: law, Extent: x[1] * metres})
	})
	return out
}
