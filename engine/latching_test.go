package engine

import (
	"fmt"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// A leaf of 0.926 x 2 m: F = dp A/2 (balance of moments), 0.926 N a pascal. Pressure from outside pushes a leaf open that opens in, and holds
// one shut that opens out.
func TestPressureBothWays_Identity(t *testing.T) {
	const site = "pressure: {from: -10 Pa, to: 20 Pa}"
	in := opened(t, site, "hinged", twenty, swept, sweep).Pressure
	if in == nil || !scalar.EqualWithinRel(in.PushedOpen, 18.52, 1e-12) || !scalar.EqualWithinRel(in.HeldShut, 9.26, 1e-12) || in.Least != -10*quantity.Pascal || in.Most != 20*quantity.Pascal {
		t.Errorf("opens in: %+v", in)
	}
	d := read(t, strings.Replace(fmt.Sprintf(heavy, site, "hinged", twenty, swept, sweep), "opens: in", "opens: out", 1))
	if out := newScoring(d, generic(t)).option(d.Options[0]).Pressure; !scalar.EqualWithinRel(out.HeldShut, in.PushedOpen, 1e-12) || !scalar.EqualWithinRel(out.PushedOpen, in.HeldShut, 1e-12) {
		t.Errorf("opens out: %+v, in: %+v", out, in)
	}
}

func TestPressureOfWhatIsNotKnown(t *testing.T) {
	for name, c := range map[string]struct{ site, operation, why string }{
		"none is given":       {"", "hinged", ""},
		"an end is not known": {"pressure: {from: unknown, to: 20 Pa}", "hinged", "the least pressure is not known"},
		"neither is":          {"pressure: {from: unknown, to: unknown}", "hinged", "the least pressure is not known, the greatest pressure is not known"},
		"a sliding leaf":      {"pressure: {from: 0 Pa, to: 20 Pa}", "sliding", "it presses a leaf that does not swing"},
		"a folding leaf":      {"pressure: {from: 0 Pa, to: 20 Pa}", "folding", "it presses a leaf that does not swing"},
	} {
		o := opened(t, c.site, c.operation, twenty, swept, sweep)
		var why []string
		for _, m := range o.Unpressed {
			why = append(why, m.What)
		}
		if got := strings.Join(why, ", "); o.Pressure != nil || !strings.HasPrefix(got, c.why) || (c.why == "") != (got == "") {
			t.Errorf("%s: %+v, %q, want %q", name, o.Pressure, got, c.why)
		}
	}
}

// What is left to latch is the closing force less drag and pressure, end by end.
func TestLatching_Identity(t *testing.T) {
	const push = 0.926 * 20 // N at 20 Pa
	o := opened(t, "pressure: {from: -10 Pa, to: 20 Pa}", "hinged", "closing_force: 30 N, "+twenty, swept, sweep)
	drag, l := *o.Contact[0].Force, o.Latching
	for what, row := range map[string][2]float64{
		"low": {l.Low.Value.Newtons(), 30 - drag.High - push}, "likely": {l.Likely.Value.Newtons(), 30 - drag.Likely - push}, "high": {l.High.Value.Newtons(), 30 - drag.Low - push},
	} {
		if !scalar.EqualWithinAbs(row[0], row[1], 1e-2) {
			t.Errorf("%s: %g, want %g", what, row[0], row[1])
		}
	}
	if !l.Measured || !l.Pressed || l.Low.Value.Newtons() > 30-drag.High-push || l.High.Value.Newtons() < 30-drag.Low-push {
		t.Errorf("%+v", l)
	}
	// By the size of the closer, 3: 18 to 26 N m over the width, and no pressure where none is given.
	l = opened(t, "", "hinged", "closer_size: 3", swept, "seal: none").Latching
	if l.Measured || l.Pressed || !scalar.EqualWithinAbs(l.Low.Value.Newtons(), 18/0.926, 1e-2) || !scalar.EqualWithinAbs(l.High.Value.Newtons(), 26/0.926, 1e-2) {
		t.Errorf("by the closer: %+v", l)
	}
}

// Where the drag, the pressure or a drop seal's plunger is not known there may be nothing left.
func TestLatchingOfWhatIsNotKnown(t *testing.T) {
	for name, c := range map[string]struct {
		site, force, option string
		known, low          bool
	}{
		"no closing force":   {"", twenty, sweep, false, false},
		"not set":            {"", "closing_force: 30 N", "seal: brush-fine-15", true, false},
		"a drop seal":        {"", "closing_force: 30 N", "seal: drop-seal-12", true, false},
		"half a pressure":    {"pressure: {from: unknown, to: 20 Pa}", "closing_force: 30 N", sweep, true, false},
		"all that it takes":  {"", "closing_force: 30 N", sweep, true, true},
		"swing is not asked": {"", "closing_force: 30 N", sweep + ", opening_force: [{from: 0 deg, to: 90 deg, force: 9 N}]", true, true},
	} {
		l := opened(t, c.site, "hinged", c.force, "bends: 0", c.option).Latching
		if (l != nil) != c.known || (l != nil && (l.Low.Known != c.low || l.Likely.Known != c.low || !l.High.Known)) {
			t.Errorf("%s: %+v", name, l)
		}
	}
}

// The moments of closers are from memory: they are shown, and give rules nothing to decide by, beside a reading with the seals neither.
func TestATableFromMemoryDecidesNothing(t *testing.T) {
	facts := func(option string) fact.Set {
		d := read(t, `
door: {operation: hinged, height: 2040 mm, closer: true, closer_size: 3, latch: true}
floor: {under_seal: tile, swept: tile}
leaves: [{id: A, width: 900 mm, gap: {readings: [{at: 0 mm, gap: 9 mm}], swing: [{angle: 90 deg, gap: 9 mm}], reading_error: 0 mm}}]
options: [{id: x, `+option+`}]
`)
		m := Measure(d, generic(t))
		if len(m.Options[0].Openings) == 0 || m.Options[0].Latching == nil {
			t.Error("nothing is shown")
		}
		return m.Subjects[len(m.Subjects)-1].Facts
	}
	of := facts("seal: brush-fine-15, set: {overlap: 1 mm}")
	for _, name := range []string{"opening_force_sealed", "latching_spare"} {
		if _, ok := of[name]; ok {
			t.Errorf("fact %s", name)
		}
	}
	of = facts("seal: brush-fine-15, set: {overlap: 1 mm}, opening_force: [{from: 0 deg, to: 30 deg, force: 9 N}]")
	if list, _ := of["opening_force_sealed"].Value.([]any); len(list) != 1 {
		t.Errorf("beside a reading: %v", of["opening_force_sealed"].Value)
	}
}
