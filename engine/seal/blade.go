package seal

import (
	"sillwright/engine/crack"
	"sillwright/engine/doubt"
)

// Blade is one or more flexible lips that wipe the floor, one behind the other.
//
//	q = f crack(h + daylight, l) at dp/n,  daylight = max(-overlap, 0)
//
// n lips, h residual gap under each, l contact length: n equal cracks in series. h comes from the floor. l is
// short, so the entry and exit loss moves from slot to orifice as the gap grows (crack.Loss).
//
// Deviations: a jet through aligned open lips does not lose all its speed between them, so fewer lips than there are
// may act; the range goes down to half of the lips behind the first. Whatever the overlap, a pressed lip
// leaks h here; a real one may fold or lift when it is pressed beyond what it is made for.
// Source: section of cracks in series (exact); h and l are engineering judgement, not measured.
type Blade struct {
	Lips     int
	Residual doubt.Range // h per lip on a smooth made face, m; a floor's own replaces it
	Contact  doubt.Range // l, m
}

// Check wants 1 to 10 lips, a residual gap of 0 to 10 mm and a contact length of 0.1 to 50 mm.
func (b Blade) Check() error {
	return doubt.First(
		doubt.Exactly(float64(b.Lips)).Check("number of lips", 1, 10),
		b.Residual.Check("residual gap (m)", 0, 0.01),
		b.Contact.Check("contact length (m)", 0.0001, 0.05),
	)
}

// Basis is an estimate.
func (b Blade) Basis() string { return BasisEstimate }

// Parameters on a floor.
func (b Blade) Parameters(floor Texture, list []Named) []Named {
	n := float64(b.Lips)
	return append(list,
		floor.under(b.Residual),
		Named{doubtContact, b.Contact},
		anyLoss(),
		accuracy(),
		Named{doubt.Own("lips acting in series", "test a sample of the blade on a rig, with one lip and with all"), doubt.Between(1+(n-1)/2, n, n)},
	)
}

var doubtContact = doubt.Own("contact length", "ink the floor, close the door and measure the print")

// Ways is the line under the lips.
func (b Blade) Ways(float64) Ways { return one(uses(0, 1, 2, 3, 4)) }

// Lay lays the lips.
func (b Blade) Lay(_ int, x []float64, r *Run, out crack.Bundle) crack.Bundle {
	return pressedLips(x, x[4], r.Touching, r, out)
}

// pressedLips lays n pressed lips that touch at a true gap, open by the daylight on top of their residual gap. Equal laws in series: n A, n B.
// x: residual gap, contact length, position of the loss, accuracy.
func pressedLips(x []float64, n, touching float64, r *Run, out crack.Bundle) crack.Bundle {
	lay := func(open, metres float64) {
		law := crack.Opening(open, x[1], 0, x[2], r.Air)
		out = append(out, crack.Share{Law: crack.Law{A: n * law.A, B: n * law.B}, Extent: x[3] * metres})
	}
	if closed := r.touched(touching, func(gap, metres float64) { lay(x[0]+gap-touching, metres) }); closed > 0 {
		lay(x[0], closed)
	}
	return out
}
