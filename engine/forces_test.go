package engine

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sillwright/engine/doubt"
	"sillwright/engine/drag"
	"sillwright/schema/quantity"
)

// The force at the latch edge is that of package drag, for the overlaps along the width, closed and at each angle.
func TestDragAtPlacesAndAngles_Identity(t *testing.T) {
	const swing = ", swing: [{angle: 45 deg, gap: 8 mm}, {angle: 90 deg, readings: [{at: 0 mm, gap: 8.5 mm}, {at: 926 mm, gap: 9 mm}]}]"
	o := measured(t, "hinged", swing, "", "seal: brush-fine-15, set: {overlap: 0 mm}")
	c := o.Contact[0]
	entry, _ := generic(t).Seal("brush-fine-15")
	friction, err := drag.Friction("tile", drag.Bristle)
	if err != nil {
		t.Fatal(err)
	}
	force := func(places ...drag.Place) doubt.Range {
		r, err := drag.Estimate(entry.Drag, drag.Line{Width: 0.926, Error: 0.0002, Friction: friction, Places: places})
		if err != nil {
			t.Fatal(err)
		}
		return doubt.Between(r.Low, r.Likely, r.High)
	}
	// Set just touching at 10 mm: pressed by 10 mm less the gap.
	for what, row := range map[string]struct{ got, want doubt.Range }{
		"closed": {*c.Force, force(drag.Place{At: 0, Overlap: 0.001}, drag.Place{At: 0.463, Overlap: 0.0005}, drag.Place{At: 0.926, Overlap: 0})},
		// Only the smallest gap is known: 1 mm less than closed, all along.
		"45 deg": {*c.Angles[0].Force, force(drag.Place{At: 0, Overlap: 0.002}, drag.Place{At: 0.463, Overlap: 0.0015}, drag.Place{At: 0.926, Overlap: 0.001})},
		"90 deg": {*c.Angles[1].Force, force(drag.Place{At: 0, Overlap: 0.0015}, drag.Place{At: 0.926, Overlap: 0.001})},
	} {
		if !scalar.EqualWithinRel(row.got.Likely, row.want.Likely, 1e-9) || !scalar.EqualWithinRel(row.got.High, row.want.High, 1e-9) || !scalar.EqualWithinRel(row.got.Low, row.want.Low, 1e-9) {
			t.Errorf("%s: %v, want %v", what, row.got, row.want)
		}
	}
	if *o.Drag != *c.Angles[0].Force {
		t.Errorf("greatest %v, at 45 deg %v", *o.Drag, *c.Angles[0].Force)
	}
	normal, err := entry.Drag.Normal(0.001, friction.Likely)
	if err != nil || !scalar.EqualWithinRel(c.Places[0].Drag.Likely, normal*friction.Likely, 1e-12) || c.Places[2].Drag != (doubt.Range{}) {
		t.Errorf("drag at places %v, %v", c.Places, err)
	}
	// The band of a place is that of its line in proportion; a line that may drag, and likely does not, has none.
	for what, ends := range map[string][2]float64{"low": {c.Places[0].Drag.Low, c.Force.Low}, "high": {c.Places[0].Drag.High, c.Force.High}} {
		if !scalar.EqualWithinRel(ends[0]/c.Places[0].Drag.Likely, ends[1]/c.Force.Likely, 1e-12) {
			t.Errorf("%s at a place %v, of the line %v", what, c.Places[0].Drag, *c.Force)
		}
	}
	if c := measured(t, "hinged", "", "", "seal: brush-fine-15, set: {overlap: -1.1 mm}").Contact[0]; !(c.Force.High > 0 && c.Force.Likely == 0) || c.Places[0].Drag != (doubt.Range{}) {
		t.Errorf("a line that just hangs clear: %v, %v", *c.Force, c.Places)
	}
}

// Forces of two seals on a leaf add; a drop seal lifts first, a roller door slides on nothing, and what is not known stays so.
func TestDragOfOptions(t *testing.T) {
	const brush2, blade = "{edge: bottom, order: 2, seal: brush-fine-15, set: {overlap: 1 mm}}", "{edge: bottom, order: 1, seal: blade-single-12, set: {overlap: 1 mm}}"
	one, other := measured(t, "hinged", "", "", "fits: ["+brush2+"]").Drag, measured(t, "hinged", "", "", "fits: ["+blade+"]").Drag
	both := measured(t, "hinged", "", "", "fits: ["+blade+", "+brush2+"]").Drag
	if !scalar.EqualWithinRel(both.Likely, one.Likely+other.Likely, 1e-12) || !scalar.EqualWithinRel(both.High, one.High+other.High, 1e-12) {
		t.Errorf("both %v, one %v, other %v", *both, *one, *other)
	}
	if d := measured(t, "hinged", "", "", "seal: drop-seal-12").Drag; d == nil || *d != (doubt.Range{}) {
		t.Errorf("a drop seal: %v", d)
	}
	if d := measured(t, "roller", "", "", "fits: ["+brush2+"]").Drag; d == nil || *d != (doubt.Range{}) {
		t.Errorf("a roller door: %v", d)
	}
	if d := measured(t, "hinged", "", "", "seal: none").Drag; d == nil || *d != (doubt.Range{}) {
		t.Errorf("a bare gap: %v", d)
	}
	if slid := measured(t, "sliding", "", "", "fits: ["+brush2+"]").Drag; !(slid.Likely > 1.5*one.Likely) {
		t.Errorf("along the track %v, at the latch edge %v", *slid, *one)
	}
	if d := measured(t, "unknown", "", "", "fits: ["+brush2+"]").Drag; d != nil {
		t.Errorf("how the door moves is not known: %v", d)
	}
	if d := measured(t, "hinged", "", "", "seal: gasket-bulb-8, set: {overlap: 2 mm}").Drag; d != nil {
		t.Errorf("a gasket that rubs on the floor: %v", d)
	}
	if d := measured(t, "hinged", "", "", "seal: brush-fine-15, set: unknown").Drag; d != nil {
		t.Errorf("not set: %v", d)
	}
}

// Why a drag is not known, in words, at its place in the spec.
func TestWhyDragIsNotKnown(t *testing.T) {
	const jam = ", swing: [{angle: 45 deg, gap: 8 mm}, {angle: 90 deg, gap: 2.5 mm}]"
	for name, c := range map[string]struct{ operation, gap, option, pointer, what string }{
		"over half at an angle": {"hinged", jam, "seal: brush-fine-15, set: {overlap: 0.001 mm}", "/options/0", "brush-fine-15 is pressed 7.501 of 15 mm at 90 deg, it would jam"},
		"over half, closed":     {"hinged", "", "seal: blade-single-12, set: {overlap: 5.5 mm}", "/options/0", "blade-single-12 is pressed 6.5 of 12 mm at 0 mm, it would jam"},
		"a gasket":              {"hinged", "", "seal: gasket-bulb-8, set: {overlap: 1 mm}", "/options/0", "the drag of gasket-bulb-8 is not predicted"},
		"not set":               {"hinged", "", "seal: brush-fine-15, set: unknown", "/options/0/set", "brush-fine-15 is not set"},
		"no seal":               {"hinged", "", "fits: [{edge: bottom, seal: unknown}]", "/options/0/fits/0/seal", "the seal is not known"},
		"no operation":          {"unknown", "", "seal: brush-fine-15, set: {overlap: 0 mm}", "/door/operation", "how the door moves is not known"},
	} {
		o := measured(t, c.operation, c.gap, "", c.option)
		if want := (Missing{c.pointer, c.what}); o.Drag != nil || len(o.Undragged) != 1 || o.Undragged[0] != want {
			t.Errorf("%s: %v, %v; want %v", name, o.Drag, o.Undragged, want)
		}
	}
	if o := measured(t, "hinged", strings.Replace(jam, "2.5", "2.501", 1), "", "seal: brush-fine-15, set: {overlap: 0.001 mm}"); o.Drag == nil || len(o.Undragged) > 0 {
		t.Errorf("at half its height: %v, %v", o.Drag, o.Undragged)
	}
	d := read(t, "door: {operation: pair}\nleaves: [{id: A, gap: {readings: [{at: 0 mm, gap: 9 mm}]}}, {id: B, width: 900 mm}]\noptions: [{id: x, seal: brush-fine-15, set: {overlap: 0 mm}}]")
	why := newScoring(d, generic(t)).option(d.Options[0]).Undragged
	if len(why) != 2 || why[0] != (Missing{"/leaves/0/width", "the width of leaf A is not known"}) || why[1] != (Missing{"/leaves/1/gap", "the gap of leaf B is not known"}) {
		t.Errorf("a pair: %v", why)
	}
}

func TestToleranceAndLife(t *testing.T) {
	o := measured(t, "hinged", "", "", "seal: brush-fine-15, set: {overlap: 0.5 mm}")
	if o.Tolerance == nil || *o.Tolerance != quantity.Millimetre/2 || o.Life != nil {
		t.Errorf("tolerance %v, life %v", o.Tolerance, o.Life)
	}
	c := generic(t)
	if problems := c.Add("own.yaml", []byte("format: sillwright/seals/1\nseals:\n  long: {title: a, like: brush-fine-15, life: {cycles: 200000, from: x}}\n  short: {title: b, like: blade-single-12, life: {cycles: 50000, from: x}}\n")); len(problems) > 0 {
		t.Fatal(problems)
	}
	d := read(t, "leaves: [{id: A}]\noptions: [{id: x, fits: [{edge: bottom, order: 1, seal: long}, {edge: bottom, order: 2, seal: short}, {edge: head, seal: gasket-bulb-8}]}]")
	if l := newScoring(d, c).option(d.Options[0]).Life; l == nil || math.Abs(l.Likely-50000) > 0 {
		t.Errorf("the seal with the fewest cycles: %v", l)
	}
}
