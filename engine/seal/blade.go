package seal

import (
	"math"

	"sillwright/engine/crack"
)

// Blade is one or more flexible lips that wipe the floor, one behind the other.
//
//	q = crack(h + daylight, l) at dp/n,  daylight = max(-overlap, 0)
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
	Residual Parameter // h per lip on a smooth made face, m; a floor's own replaces it
	Contact  Parameter // l, m
}

// Check wants 1 to 10 lips, a residual gap of 0 to 10 mm and a contact length of 0.1 to 50 mm.
func (b Blade) Check() error {
	return first(
		Exactly(float64(b.Lips)).check("number of lips", 1, 10),
		b.Residual.check("residual gap (m)", 0, 0.01),
		b.Contact.check("contact length (m)", 0.0001, 0.05),
	)
}

// Basis is an estimate.
func (b Blade) Basis() string { return BasisEstimate }

// Parameters on a floor.
func (b Blade) Parameters(floor Texture) []Named {
	n := float64(b.Lips)
	return []Named{
		floor.under(b.Residual),
		{"contact length", b.Contact},
		{"lips acting in series", Parameter{1 + (n-1)/2, n, n}},
		anyLoss(),
		accuracy(),
	}
}

// Kinks is where the lips lift off.
func (b Blade) Kinks() []float64 { return []float64{0} }

// FlowPerMetre is the flow past the lips at a place.
func (b Blade) FlowPerMetre(x []float64, at Place, in Condition) float64 {
	return x[4] * lip(x[0], x[1], x[3], in.Drop/x[2], at, in)
}

// lip is one pressed lip as a crack, open by the daylight on top of its residual gap.
func lip(residual, contact, loss, dp float64, at Place, in Condition) float64 {
	open := residual + math.Max(-at.Overlap, 0)
	return crack.Opening(open, contact, 0, loss, in.Air).Flow(dp)
}
