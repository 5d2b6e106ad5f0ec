package seal

import (
	"math"

	"sillwright/engine/crack"
	"sillwright/engine/doubt"
)

// DropSeal is an automatic door bottom: a strip that falls to the floor when the door closes.
//
//	q = f crack(h + daylight, l),  daylight = max(gap - min(fall, narrowest gap + follow), 0)
//
// h residual gap on the floor, l contact length of the strip: as a gasket where it rests. The strip rests on the highest
// places of the floor and bends into the hollows only so far: follow. It never falls farther than its fall. Its ends, which
// stop short of the jambs, are the feet of the edge and mostly leak more than the strip.
// Range: gaps from 0. Whether the mechanism presses evenly is not predicted. h, l and follow are engineering judgement, not measured.
type DropSeal struct {
	Fall     float64     // greatest, m
	Follow   doubt.Range // m
	Residual doubt.Range // h on a smooth made face, m; a floor's own replaces it
	Contact  doubt.Range // l, m
}

// Check wants a fall of up to 100 mm, a follow of 0 to 50 mm, and h and l as a gasket.
func (s DropSeal) Check() error {
	return doubt.First(
		doubt.Positive("fall (m)", s.Fall),
		doubt.Exactly(s.Fall).Check("fall (m)", 0, 0.1),
		s.Follow.Check("follow (m)", 0, 0.05),
		s.Residual.Check("residual gap (m)", 0, 0.01),
		s.Contact.Check("contact length (m)", 0.0001, 0.05),
	)
}

// Basis is an estimate.
func (s DropSeal) Basis() string { return BasisEstimate }

// Parameters on a floor.
func (s DropSeal) Parameters(floor Texture, list []Named) []Named {
	return append(list,
		floor.under(s.Residual), Named{doubtContact, s.Contact}, anyLoss(), accuracy(),
		Named{doubt.Own("follow", "close the door on strips of paper along the width and pull each"), s.Follow},
	)
}

// Ways is the line under the strip.
func (s DropSeal) Ways(float64) Ways { return one(uses(0, 1, 2, 3, 4)) }

// Lay lays the strip.
func (s DropSeal) Lay(_ int, x []float64, r *Run, out crack.Bundle) crack.Bundle {
	return pressedLips(x, 1, math.Min(s.Fall, r.Narrowest+r.Shift+x[4]), r, out)
}
