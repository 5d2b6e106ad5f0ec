package seal

import (
	"fmt"
	"math"
	"slices"

	"sillwright/engine/air"
	"sillwright/engine/crack"
	"sillwright/engine/doubt"
)

// Test is a flow test of a length of seal, ends sealed off: the quadratic pair of its readings per metre.
type Test struct {
	Overlap float64   // that it was tested at, m; of no account to a drop seal
	Floor   Texture   // that it was tested on; zero: a smooth made face
	Law     crack.Law // per metre, in the air of the test
	Air     air.Air
	Scatter float64    // part of the flow by which another piece of this seal may differ, from 0 to below 1
	Drops   [2]float64 // least and most drop of its readings, Pa; zero where they are not known
}

// TestScatter is taken for one test at two pressures: 15 per cent either way. Engineering judgement, not measured.
const TestScatter = 0.15

func (t Test) check() error {
	if math.IsNaN(t.Overlap) || math.IsInf(t.Overlap, 0) {
		return fmt.Errorf("overlap of a test is %g m; it must be a number", t.Overlap)
	}
	if !(t.Law.A >= 0 && t.Law.B >= 0 && t.Law.A+t.Law.B > 0) || math.IsInf(t.Law.A+t.Law.B, 1) {
		return fmt.Errorf("quadratic pair of a test is %g, %g; both must be 0 or more, and one above", t.Law.A, t.Law.B)
	}
	return doubt.First(doubt.Exactly(t.Scatter).Check("scatter of a test", 0, 0.95), doubt.Positive("air density of a test (kg/m3)", t.Air.Density), doubt.Positive("air viscosity of a test (Pa s)", t.Air.Viscosity))
}

// Measured is a seal of which nothing is known but its tests: between two tested overlaps the flow runs evenly from one to the other.
//
//	Q = sum over tests k of q_k(dp) integral of hat_k(overlap(x)) dx
//
// hat_k is 1 at the overlap of test k and falls evenly to 0 at its neighbours (exact for straight pieces of the gap line). q_k as its
// quadratic pair, in the air of the door: A goes with the viscosity, B with the density (exact for the law).
// Range: the overlaps tested; Reaches says which. A reading error may lead out of it: there the nearest test is held.
type Measured struct{ Tests []Test }

// Check wants at least one test, and one an overlap, in rising order.
func (m Measured) Check() error {
	if len(m.Tests) == 0 {
		return fmt.Errorf("no test; at least one is needed")
	}
	return checkTests(m.Tests)
}

// checkTests wants tests that make sense, one an overlap, in rising order.
func checkTests(tests []Test) error {
	for i, t := range tests {
		if i > 0 && !(t.Overlap > tests[i-1].Overlap) {
			return fmt.Errorf("tests at overlaps of %g m and %g m; give one an overlap, in rising order", tests[i-1].Overlap, t.Overlap)
		}
		if err := t.check(); err != nil {
			return err
		}
	}
	return nil
}

// Reaches says from which overlap to which the seal was tested, m.
func (m Measured) Reaches() (least, most float64) {
	return m.Tests[0].Overlap, m.Tests[len(m.Tests)-1].Overlap
}

// On says whether the seal was tested on such a floor: the same, or both smooth.
func (m Measured) On(floor Texture) bool {
	return !slices.ContainsFunc(m.Tests, func(t Test) bool {
		return t.Floor.Name != floor.Name && !(t.Floor.smooth() && floor.smooth())
	})
}

// Basis is a measurement.
func (m Measured) Basis() string { return BasisMeasured }

// Parameters are the scatter between tests, the largest of them.
func (m Measured) Parameters(_ Texture, list []Named) []Named {
	return append(list, scatterOf(m.Tests))
}

// Ways is all that was tested.
func (m Measured) Ways(float64) Ways { return one(uses(0)) }

// Lay lays the tests.
func (m Measured) Lay(_ int, x []float64, r *Run, out crack.Bundle) crack.Bundle {
	for k, t := range m.Tests {
		metres := 0.0
		for _, p := range r.Pieces {
			metres += p.Length * m.hat(k, r.overlap(p.From), r.overlap(p.To))
		}
		if metres > 0 {
			out = append(out, crack.Share{Law: t.Law.In(t.Air, r.Air), Extent: x[0] * metres})
		}
	}
	return out
}

// hat is the mean of hat_k over overlaps that run evenly from a to b.
func (m Measured) hat(k int, a, b float64) float64 {
	at := m.Tests[k].Overlap
	rise := func(from, to float64) float64 { return meanClamped((a-from)/(to-from), (b-from)/(to-from), 1) }
	up, down := 1.0, 0.0
	if k > 0 {
		up = rise(m.Tests[k-1].Overlap, at)
	}
	if k < len(m.Tests)-1 {
		down = rise(at, m.Tests[k+1].Overlap)
	}
	return up - down
}
