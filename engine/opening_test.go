package engine

import (
	"fmt"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sillwright/engine/doubt"
	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

const heavy = `
site: {%s}
door: {operation: %s, height: 2 m, thickness: 40 mm, opens: in, %s}
floor: {under_seal: tile, swept: tile}
leaves: [{id: A, width: 926 mm, gap: {readings: [{at: 0 mm, gap: 9 mm}, {at: 463 mm, gap: 9.5 mm}, {at: 926 mm, gap: 10 mm}], %s, reading_error: 0.2 mm}}]
options: [{id: x, %s}]
`

const (
	swept  = "swing: [{angle: 45 deg, gap: 9.2 mm}, {angle: 90 deg, gap: 8 mm}]"
	sweep  = "seal: brush-fine-15, set: {overlap: 0 mm}"
	twenty = "opening_force: [{from: 0 deg, to: 90 deg, force: 20 N}]"
)

func opened(t *testing.T, site, operation, force, swing, option string) Option {
	t.Helper()
	d := read(t, fmt.Sprintf(heavy, site, operation, force, swing, option))
	return newScoring(d, generic(t)).option(d.Options[0])
}

// words writes openings to a hundredth of a newton.
func words(list []Opening) string {
	n := func(f door.Maybe[quantity.Force]) string {
		if !f.Known {
			return "?"
		}
		return fmt.Sprintf("%.2f", f.Value.Newtons())
	}
	var out []string
	for _, x := range list {
		from, to := "?", "?"
		if x.From.Known {
			from = x.From.Value.Deg()
		}
		if x.To.Known {
			to = x.To.Value.Deg()
		}
		out = append(out, fmt.Sprintf("%s-%s %s %s %s", from, to, n(x.Low), n(x.Likely), n(x.High)))
	}
	return strings.Join(out, ", ")
}

// The force by angle is that of the door and the greatest drag at the ends of the stretch, its low end the least drag in the whole band,
// each as package drag has it at that angle.
func TestOpenings_Identity(t *testing.T) {
	o := opened(t, "", "hinged", twenty, swept, sweep)
	c := o.Contact[0]
	closed, at45, at90 := *c.Force, *c.Angles[0].Force, *c.Angles[1].Force
	least := min(closed.Low, at45.Low, at90.Low)
	if len(o.Openings) != 2 || !(at90.High > closed.High && closed.High > at45.High) {
		t.Fatalf("%s; %v %v %v", words(o.Openings), closed, at45, at90)
	}
	for i, x := range o.Openings {
		most := []doubt.Range{closed, at90}[i]
		for what, row := range map[string][2]float64{"low": {x.Low.Value.Newtons(), 20 + least}, "likely": {x.Likely.Value.Newtons(), 20 + most.Likely}, "high": {x.High.Value.Newtons(), 20 + most.High}} {
			if !scalar.EqualWithinAbs(row[0], row[1], 1e-2) {
				t.Errorf("stretch %d: %s %g, want %g", i, what, row[0], row[1])
			}
		}
		if x.Low.Value.Newtons() > 20+least || x.High.Value.Newtons() < 20+most.High {
			t.Errorf("stretch %d is rounded inwards: %v", i, x)
		}
	}
	// The low end is of the most over the whole reading: nobody says in which stretch of it the door was heaviest.
	for i, x := range o.Openings {
		if x.LowFrom.Value != 0 || x.LowTo.Value != 90*quantity.Degree {
			t.Errorf("stretch %d: low end over %v to %v", i, x.LowFrom, x.LowTo)
		}
	}
	// A seal that rubs on nothing adds nothing, to the last femtonewton; so does a drop seal, whatever was read.
	for _, option := range []string{"seal: none", "seal: drop-seal-12"} {
		if x := opened(t, "", "hinged", twenty, "bends: 0", option).Openings; len(x) != 1 || x[0].Low.Value != 20*quantity.Newton || x[0].High.Value != 20*quantity.Newton || x[0].Measured {
			t.Errorf("%s: %s", option, words(x))
		}
	}
}

// What is not known, and what was measured with the seal, by angle. Closed the brush drags 2.195 N, at most 6.868 (package drag).
func TestOpeningsByWhatIsKnown(t *testing.T) {
	const known, unset = sweep, "seal: brush-fine-15"
	for name, c := range map[string]struct{ operation, force, swing, option, want string }{
		"no force of the door":       {"hinged", "closer: true", swept, known, ""},
		"swing not read":             {"hinged", twenty, "bends: 0", known, "0-90 20.00 ? ?"},
		"swing read to 45 degrees":   {"hinged", twenty, "swing: [{angle: 45 deg, gap: 20 mm}]", known, "0-45 20.00 22.20 26.87, 45-90 20.00 ? ?"},
		"not set":                    {"hinged", twenty, swept, unset, "0-90 20.00 ? ?"},
		"a force not known":          {"hinged", "opening_force: [{from: 0 deg, to: 90 deg, force: unknown}]", swept, "seal: none", "0-90 ? ? ?"},
		"at an angle":                {"hinged", "opening_force: [{from: 0 deg, to: 0 deg, force: 20 N}]", swept, "seal: none", "0-0 20.00 20.00 20.00"},
		"at an angle not known":      {"hinged", "opening_force: [{from: 0 deg, to: unknown, force: 20 N}]", swept, known, "0-? 20.00 ? ?"},
		"there without a seal":       {"hinged", "opening_force: [{from: 0 deg, to: unknown, force: 20 N}]", swept, "seal: none", "0-? 20.00 20.00 20.00"},
		"there with a drop seal":     {"hinged", "opening_force: [{from: unknown, to: unknown, force: 20 N}]", "bends: 0", "seal: drop-seal-12", "?-? 20.00 20.00 20.00"},
		"measured":                   {"hinged", twenty, "bends: 0", known + ", opening_force: [{from: 0 deg, to: 90 deg, force: 21 N}]", "0-90 21.00 21.00 21.00"},
		"measured, and nothing else": {"hinged", "closer: true", "bends: 0", known + ", opening_force: [{from: 0 deg, to: 90 deg, force: 21 N}]", "0-90 21.00 21.00 21.00"},
		"measured to 30 degrees":     {"hinged", twenty, "bends: 0", known + ", opening_force: [{from: 0 deg, to: 30 deg, force: 21 N}]", "0-30 21.00 21.00 21.00, 30-90 ? ? ?"},
		// The door may have been heaviest below 30 degrees: beyond nothing is sure downwards.
		"measured to 30, no drag": {"hinged", twenty, "bends: 0", "seal: none, opening_force: [{from: 0 deg, to: 30 deg, force: 21 N}]", "0-30 21.00 21.00 21.00, 30-90 ? 20.00 20.00"},
		"measured at 30 degrees":  {"hinged", twenty, "bends: 0", "seal: none, opening_force: [{from: 30 deg, to: 30 deg, force: 21 N}]", "0-90 20.00 20.00 20.00, 30-30 21.00 21.00 21.00"},
		"measured somewhere":      {"hinged", "closer: true", "bends: 0", known + ", opening_force: [{from: unknown, to: unknown, force: 21 N}]", "?-? 21.00 21.00 21.00"},
		"a roller door":           {"roller", twenty, "bends: 0", known, "0-90 20.00 20.00 20.00"},
		"a sliding door":          {"sliding", twenty, "bends: 0", known, "0-90 20.00 ? ?"},
		// EN 1154, size 3, on 926 mm: 18, 4, 47 N m.
		"a closer":                {"hinged", "closer: true, closer_size: 3", swept, "seal: none", "0-4 19.43 31.41 50.76, 4-60 4.32 14.81 50.76, 60-90 4.32 ? ?"},
		"a closer and readings":   {"hinged", "closer_size: 3, " + twenty, swept, "seal: none", "0-90 20.00 20.00 20.00"},
		"a closer on what slides": {"sliding", "closer_size: 3", swept, "seal: none", ""},
	} {
		if got := words(opened(t, "", c.operation, c.force, c.swing, c.option).Openings); got != c.want {
			t.Errorf("%s: %s, want %s", name, got, c.want)
		}
	}
}

// Of a pair the leaf that drags most makes the high end, the one that drags least the low end.
func TestOpeningsOfPair_Identity(t *testing.T) {
	const spec = `
door: {operation: pair, %s}
floor: {under_seal: tile, swept: tile}
leaves:
  - {id: A, width: 900 mm, gap: {readings: [{at: 0 mm, gap: 9 mm}], swing: [{angle: 90 deg, gap: 9 mm}], reading_error: 0 mm}}
  - {id: B, width: 900 mm, gap: {readings: [{at: 0 mm, gap: 9 mm}], swing: [{angle: 90 deg, gap: 9 mm}], reading_error: 0 mm}}
options: [{id: x, fits: [{edge: bottom, leaf: A, seal: brush-fine-15, set: {overlap: 2 mm}}, {edge: bottom, leaf: B, seal: brush-fine-15, set: {overlap: 0.5 mm}}]}]
`
	d := read(t, fmt.Sprintf(spec, twenty))
	o := newScoring(d, generic(t)).option(d.Options[0])
	most, least := *o.Contact[0].Force, *o.Contact[1].Force
	x := o.Openings[0]
	if len(o.Openings) != 1 || !scalar.EqualWithinAbs(x.High.Value.Newtons(), 20+most.High, 1e-2) || !scalar.EqualWithinAbs(x.Low.Value.Newtons(), 20+least.Low, 1e-2) {
		t.Errorf("%s; most %v, least %v", words(o.Openings), most, least)
	}
}

// Pull tests of a seal stand before its model: the drag of the closed leaf is what was pulled, and its band the scatter.
func TestPullsStandBeforeModel_Identity(t *testing.T) {
	c := generic(t)
	if problems := c.Add("own.yaml", []byte(`format: sillwright/seals/1
seals:
  own: {title: a, like: brush-fine-15, pulls: [{overlap: 1 mm, floor: tile, force: 4 N, length: 2 m, scatter: 0.1, from: x}]}
  alike: {title: b, like: own}
`)); len(problems) > 0 {
		t.Fatal(problems)
	}
	force := func(name, floor string) *doubt.Range {
		d := read(t, "door: {operation: hinged}\nfloor: {under_seal: "+floor+"}\nleaves: [{id: A, width: 1 m, gap: {readings: [{at: 0 mm, gap: 9 mm}], reading_error: 0 mm}}]\noptions: [{id: x, seal: "+name+", set: {overlap: 1 mm}}]")
		return newScoring(d, c).option(d.Options[0]).Contact[0].Force
	}
	// 2 N/m over 1 m: 1 N at the latch edge.
	if f := force("own", "tile"); !scalar.EqualWithinRel(f.Likely, 1, 1e-9) || !scalar.EqualWithinRel(f.Low, 0.9, 1e-9) || !scalar.EqualWithinRel(f.High, 1.1, 1e-9) {
		t.Errorf("pulled: %v", *f)
	}
	// What is like it was not pulled; and on another floor friction parts the two, 0.45 on concrete from 0.3 on tile.
	if a, b := force("alike", "tile"), force("brush-fine-15", "tile"); *a != *b {
		t.Errorf("alike %v, generic %v", *a, *b)
	}
	own, model, tile := force("own", "concrete"), force("brush-fine-15", "concrete"), force("brush-fine-15", "tile")
	if !scalar.EqualWithinRel(own.Likely, model.Likely/tile.Likely, 1e-9) || !(own.High > 1.1*own.Likely && own.High/own.Likely < model.High/model.Likely) {
		t.Errorf("on concrete %v, by the model %v", *own, *model)
	}
}
