package seal

import (
	"math"

	"sillwright/engine/crack"
	"sillwright/engine/doubt"
)

// Gasket is a compressed bulb or profile: one crack with a small residual gap.
//
//	q = f crack(h + daylight + lift, l),  daylight = max(-overlap, 0)
//	lift = p max(Least - max(overlap, 0), 0),  p 0.3 (0..1)
//
// At head and jambs h is the gasket's own; on a floor it is the floor's. Base 0.2 mm (0.1..0.3), l 5 mm: three
// laboratory results of doors with gaskets imply 0.16..0.27 mm (seen at second hand), with exponents of 0.44..0.60: corners and
// hardware leak more there than the slit, so corners are to be counted as paths of their own.
// Within its working range a pressed gasket leaks h here whatever the compression. Touching but pressed less than it is made for, it
// bridges less of what is uneven: it is taken as lifted by a part of what its compression lacks, at the high end by all of it. Both are engineering judgement, not measured. Pressed
// more than it is made for is not predicted here: it may keep the door from closing.
type Gasket struct {
	Residual doubt.Range // h, m
	Contact  doubt.Range // l, m
	Least    float64     // compression that it is made for, from, m
}

// Check wants a residual gap of 0 to 10 mm and a contact length of 0.1 to 50 mm.
func (g Gasket) Check() error {
	return doubt.First(
		g.Residual.Check("residual gap (m)", 0, 0.01),
		g.Contact.Check("contact length (m)", 0.0001, 0.05),
		doubt.Exactly(g.Least).Check("least compression (m)", 0, 0.1),
	)
}

// Basis is an estimate.
func (g Gasket) Basis() string { return BasisEstimate }

// Parameters on a floor, or on a smooth made face with the zero Texture.
func (g Gasket) Parameters(floor Texture, list []Named) []Named {
	list = append(list, floor.under(g.Residual), Named{doubtContact, g.Contact}, anyLoss(), accuracy())
	if g.Least > 0 {
		list = append(list, Named{doubt.Own("too little compression", "move the stop or take a thicker gasket, so that it is pressed within its range"), doubt.Between(0, 0.3, 1)})
	}
	return list
}

// Ways is the line under the gasket.
func (g Gasket) Ways(float64) Ways { return one(uses(0, 1, 2, 3, 4)) }

// Lay lays the line.
func (g Gasket) Lay(_ int, x []float64, r *Run, out crack.Bundle) crack.Bundle {
	if g.Least == 0 {
		return pressedLips(x, 1, r.Touching, r, out)
	}
	full := r.Touching - g.Least // the true gap at which it is pressed as it is made to be
	r.sample([]float64{full, r.Touching}, func(gap, metres float64) {
		lift := math.Max(gap-r.Touching, 0) + x[4]*math.Max(math.Min(gap, r.Touching)-full, 0)
		out = append(out, crack.Share{Law: crack.Opening(x[0]+lift, x[1], 0, x[2], r.Air), Extent: x[3] * metres})
	})
	return out
}
