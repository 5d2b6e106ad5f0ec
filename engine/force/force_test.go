package force

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"gonum.org/v1/gonum/integrate/quad"

	"sillwright/engine/doubt"
	"sillwright/engine/drag"
)

// A leaf of 0.926 x 2.040 m at 25 Pa: 23.613 N at the latch edge by dp A/2, 25.6941 N at a knob 75 mm from it by W A dp/(2 (W - d)), the
// pressure term of ASHRAE's form for stair pressurisation (at second hand); digits independently computed.
func TestPressure_Published(t *testing.T) {
	for _, row := range []struct{ lever, want, rel float64 }{{0.926, 23.613, 1e-4}, {0.926 - 0.075, 25.6941, 1e-5}} {
		got, err := Pressure(25, 0.926, 2.040, row.lever)
		if err != nil || !scalar.EqualWithinRel(got, row.want, row.rel) {
			t.Errorf("at %g m: %g N, want %g, %v", row.lever, got, row.want, err)
		}
	}
}

// The moment about the hinge is gonum's quadrature of dp H x over the width; the force turns its sign with the pressure.
func TestPressure_Identity(t *testing.T) {
	const dp, width, height, lever = 17.0, 1.1, 2.3, 0.9
	moment := quad.Fixed(func(x float64) float64 { return dp * height * x }, 0, width, 20, quad.Legendre{}, 0)
	got, err := Pressure(dp, width, height, lever)
	back, errBack := Pressure(-dp, width, height, lever)
	if err != nil || errBack != nil || !scalar.EqualWithinRel(got*lever, moment, 1e-12) || back != -got {
		t.Errorf("%g N against %g N m, turned %g; %v, %v", got, moment, back, err, errBack)
	}
}

// A seal that drags 12.3 N/m takes 12.3 x 0.9/2 = 5.535 N at the latch edge of a leaf of 0.9 m (balance of moments, independently
// computed): the same lever as the pressure's, so that the two add. Here the drag is that of a pull test.
func TestDragAtLatchEdge_Identity(t *testing.T) {
	pulled := drag.Pulled{Pulls: []drag.Pull{{Overlap: 0.002, Force: 12.3}}}
	r, err := drag.Estimate(pulled, drag.Line{Width: 0.9, Places: []drag.Place{{At: 0.1, Overlap: 0.002}}, Friction: doubt.Exactly(1)})
	if err != nil || !scalar.EqualWithinRel(r.Likely, 5.535, 1e-6) {
		t.Errorf("%g N, want 5.535, %v", r.Likely, err)
	}
}

// What EN 1154:1996, table 1, says of itself: an opening moment of at most the greatest closing moment over the least efficiency, to
// its whole newton metres; and sizes that follow each other without a gap. The table is from memory, not verified: this holds only
// that its columns agree.
func TestClosers_Identity(t *testing.T) {
	for i, c := range closers {
		if math.Round(c.shutMost/c.efficiency) != c.openMost {
			t.Errorf("size %d: opening %g N m, closing %g at an efficiency of %g", i+1, c.openMost, c.shutMost, c.efficiency)
		}
		if i > 0 && c.shutLeast != closers[i-1].shutMost {
			t.Errorf("size %d begins at %g N m, size %d ends at %g", i+1, c.shutLeast, i, closers[i-1].shutMost)
		}
		if !(c.elsewhere < c.shutLeast && c.shutLeast < c.shutMost) {
			t.Errorf("size %d: %+v", i+1, c)
		}
	}
}

// Size 3 on a leaf of 0.9 m, by hand: closing 18 to 26 N m, 4 N m at other angles, opening up to 47 N m.
func TestCloser_Pinned(t *testing.T) {
	shut, err := Closing(3, 0.9)
	open, errOpen := Opening(3, 0.9, true)
	wide, errWide := Opening(3, 0.9, false)
	if err != nil || errOpen != nil || errWide != nil {
		t.Fatal(err, errOpen, errWide)
	}
	for what, row := range map[string][2]float64{
		"closing, low": {shut.Low, 20}, "closing, high": {shut.High, 26 / 0.9}, "closing, likely": {shut.Likely, math.Sqrt(18*26) / 0.9},
		"opening, low": {open.Low, 20}, "opening, high": {open.High, 47 / 0.9}, "opening beyond, low": {wide.Low, 4 / 0.9}, "opening beyond, high": {wide.High, 47 / 0.9},
	} {
		if !scalar.EqualWithinRel(row[0], row[1], 1e-12) {
			t.Errorf("%s: %g, want %g", what, row[0], row[1])
		}
	}
}

func TestErrorsStateTheRange(t *testing.T) {
	say := func(_ any, err error) string { return fmt.Sprint(err) }
	for _, row := range [][2]string{
		{say(Opening(0, 0.9, true)), "power size of the closer is 0; allowed is 1 to 7"},
		{say(Closing(8, 0.9)), "power size of the closer is 8"},
		{say(Opening(3, 0, true)), "lever is 0 m; allowed is above 0 to 5"},
		{say(Closing(3, math.NaN())), "lever is NaN m"},
		{say(Pressure(math.Inf(-1), 0.9, 2, 0.9)), "pressure is -Inf Pa; allowed is -5000 to 5000"},
		{say(Pressure(10, 900, 2, 0.9)), "leaf is 900 x 2 m"},
		{say(Pressure(10, 0.9, 2, 1)), "lever is 1 m; allowed is above 0 to the width, 0.9 m"},
	} {
		if !strings.Contains(row[0], row[1]) {
			t.Errorf("got %s, want %q", row[0], row[1])
		}
	}
}
