package seal

import (
	"fmt"
	"math"
	"testing"

	"sillwright/engine/air"
	"sillwright/engine/crack"
	"sillwright/engine/doubt"
	"sillwright/engine/gap"
)

// law is the quadratic pair that a model itself has at an overlap on a smooth face, times a factor: a test of a seal that leaks so.
func test(t *testing.T, m Model, overlap, factor, scatter float64) Test {
	t.Helper()
	f, err := flat(t, 1, 0.030-overlap, overlap, m, Texture{}).Leakage(50, air.Standard())
	if err != nil {
		t.Fatal(err)
	}
	return Test{Overlap: overlap, Law: crack.Pair(50, factor*f.Likely, f.Exponent), Air: air.Standard(), Scatter: scatter}
}

func tested(t *testing.T, e Edge, tests ...Test) Result {
	t.Helper()
	e.Seals[0].Tests = tests
	return leak(t, e, 50)
}

func TestCalibration_Identity(t *testing.T) {
	m := fineBrush(0.030)
	smooth := func(overlap float64) Edge { return flat(t, 2, 0.030-overlap, overlap, m, Texture{}) }
	plain := leak(t, smooth(0.001), 50)
	// What was tested is what is predicted, and its band is the scatter between tests.
	r := tested(t, smooth(0.001), test(t, m, 0.001, 1.7, 0.15))
	near(t, "as tested", r.Likely, 1.7*plain.Likely, 1e-12)
	near(t, "high end", r.High, r.Likely/0.85, 1e-9)
	near(t, "low end", r.Low, r.Likely*0.85, 1e-9)
	near(t, "exponent", r.Exponent, plain.Exponent, 1e-9)
	if r.Basis != BasisMeasured || r.Largest.Name != "scatter between tests" {
		t.Errorf("basis %q, largest %q", r.Basis, r.Largest.Name)
	}
	// Elsewhere the model carries it: the band is wider than at the test and far narrower than without.
	away := tested(t, smooth(-0.001), test(t, m, 0.001, 1, 0.15))
	open := leak(t, smooth(-0.001), 50)
	near(t, "carried by the model", away.Likely, open.Likely, 1e-9)
	if width, at := away.High/away.Low, r.High/r.Low; !(width > at && width < open.High/open.Low) {
		t.Errorf("away from the test %g, at it %g, untested %g", width, at, open.High/open.Low)
	}
	// Between two tests, the factor between.
	two := tested(t, smooth(0.001), test(t, m, 0, 1, 0.1), test(t, m, 0.002, 2, 0.1))
	near(t, "half way", two.Likely, 1.5*plain.Likely, 1e-9)
	near(t, "beyond", tested(t, smooth(0.003), test(t, m, 0, 1, 0.1), test(t, m, 0.002, 2, 0.1)).Likely,
		leak(t, smooth(0.002), 50).Likely+leak(t, smooth(0.003), 50).Likely, 1e-9)
	// A test with daylight that found half of what the model says: pressed, the brush passes half of it too, and never less than nothing.
	near(t, "tighter than its test", tested(t, smooth(0.001), test(t, m, -0.002, 0.5, 0.1)).Likely, 0.5*plain.Likely, 1e-9)
	// Feet are no part of the test.
	e := smooth(0.001)
	e.Seals[0].Foot = doubt.Exactly(0.002)
	bare := leak(t, e, 50).Likely - plain.Likely
	near(t, "feet stay", tested(t, e, test(t, m, 0.001, 1.7, 0.15)).Likely, 1.7*plain.Likely+bare, 1e-9)
}

// A law found in other air: exact for the pair, since A goes with the viscosity and B with the density.
func TestTestAir_Identity(t *testing.T) {
	hot, err := air.At(35, 95000)
	if err != nil {
		t.Fatal(err)
	}
	slot := crack.Slot(0.0003, 0.02, 1.5, hot)
	m := Measured{[]Test{{Law: slot, Air: hot}}}
	r, err := Edge{Line: line(t, 1, gap.Reading{Gap: 0.02}), LeafThickness: 0.04, Seals: []Fitted{{Model: m}}, Alone: true}.Leakage(50, air.Standard())
	if err != nil {
		t.Fatal(err)
	}
	near(t, "measured in hot air", r.Likely, crack.Slot(0.0003, 0.02, 1.5, air.Standard()).Flow(50), 1e-12)
	if r.Basis != BasisMeasured {
		t.Errorf("basis %q", r.Basis)
	}
}

// Between two tested overlaps the flow runs evenly from one to the other, and over an uneven floor its mean counts.
func TestMeasured_Identity(t *testing.T) {
	a := air.Standard()
	m := Measured{[]Test{
		{Overlap: 0, Law: crack.Pair(50, 4e-3, 0.9), Air: a, Scatter: 0.1}, {Overlap: 0.002, Law: crack.Pair(50, 3e-3, 0.8), Air: a, Scatter: 0.2},
	}}
	at := func(from, to float64) Result {
		l := line(t, 1, gap.Reading{At: 0, Gap: 0.030 - from}, gap.Reading{At: 1, Gap: 0.030 - to})
		return leak(t, fitted(Edge{Line: l, LeafThickness: 0.04}, m, min(from, to), Texture{}), 50)
	}
	for _, row := range []struct{ from, to, want float64 }{
		{0, 0, 4e-3}, {0.002, 0.002, 3e-3}, {0.001, 0.001, 3.5e-3}, {0, 0.002, 3.5e-3}, {0.0005, 0.001, 3.625e-3}, {-0.002, -0.001, 4e-3}, {0.001, 0.003, (0.5*3.25e-3 + 0.5*3e-3)},
	} {
		near(t, fmt.Sprintf("from %g to %g m", row.from, row.to), at(row.from, row.to).Likely, row.want, 1e-9)
		near(t, "mirrored", at(row.to, row.from).Likely, row.want, 1e-9)
	}
	if r := at(0, 0); r.High/r.Likely < 1.2499 {
		t.Errorf("the larger scatter counts: %v", r.Range)
	}
	for want, bad := range map[string]Measured{
		"at least one": {}, "rising order": {[]Test{m.Tests[1], m.Tests[0]}}, "quadratic pair": {[]Test{{Air: a}}}, "scatter of a test": {[]Test{{Law: crack.Law{A: 1}, Air: a, Scatter: 1}}},
	} {
		if err := bad.Check(); err == nil {
			t.Errorf("no word of %q", want)
		}
	}
}

// On a floor that falls, the flow has no jump while a brush is lowered past the overlaps that it was tested at.
func TestCalibrationHasNoJump_Identity(t *testing.T) {
	m := fineBrush(0.015)
	for _, tests := range [][]Test{{test(t, m, 0, 2.5, 0.1), test(t, m, 0.001, 1, 0.1)}, {test(t, m, -0.002, 0.3, 0.1), test(t, m, 0, 1, 0.1)}, {test(t, m, 0, 0.4, 0.1)}} {
		before, wet := 0.0, 0.0
		for i := range 121 {
			overlap := -0.003 + 0.00005*float64(i)
			l := line(t, 0.92, gap.Reading{At: 0, Gap: 0.006}, gap.Reading{At: 0.46, Gap: 0.009}, gap.Reading{At: 0.92, Gap: 0.010})
			q := tested(t, fitted(Edge{Line: l, LeafThickness: 0.04}, m, overlap, Texture{}), tests...).Likely
			plain := leak(t, fitted(Edge{Line: l, LeafThickness: 0.04}, m, overlap, Texture{}), 50).Likely
			if i > 0 && math.Abs(q-before) > 0.05*before+3*math.Abs(plain-wet) {
				t.Errorf("%d tests, overlap %g m: %g after %g; the model %g after %g", len(tests), overlap, q, before, plain, wet)
			}
			before, wet = q, plain
		}
	}
}

// One core of an AMD EPYC, Go 1.26, us for 3 readings:
//
//	2026-11-26  brush with one test 32, with two, on both sides of which the floor lies, 63
func BenchmarkTested(b *testing.B) {
	law := crack.Pair(50, 0.004, 0.9)
	for many := range 2 {
		e := uneven(b, fineBrush(0.030), 3)
		e.Alone = false
		for k := range many + 1 {
			e.Seals[0].Tests = append(e.Seals[0].Tests, Test{Overlap: 0.001 * float64(k), Law: law, Air: air.Standard(), Scatter: TestScatter})
		}
		b.Run(fmt.Sprint(many+1), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := e.Leakage(50, air.Standard()); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
