package engine

import (
	"fmt"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sillwright/engine/air"
	"sillwright/engine/crack"
	"sillwright/engine/doubt"
	"sillwright/engine/seal"
	"sillwright/schema/quantity"
)

// sealed is a leaf on tile with paths and one option.
const sealed = `
door: {operation: %s, thickness: 40 mm}
floor: {under_seal: tile, swept: tile}
leaves: [{id: A, width: 926 mm, gap: {readings: [{at: 0 mm, gap: 9 mm}, {at: 463 mm, gap: 9.5 mm}, {at: 926 mm, gap: 10 mm}], reading_error: 0.2 mm%s}}]
paths: [%s]
options: [{id: x, %s}]
`

func measured(t *testing.T, operation, gap, paths, option string) Option {
	t.Helper()
	d := read(t, fmt.Sprintf(sealed, operation, gap, paths, option))
	return newScoring(d, generic(t)).option(d.Options[0])
}

func counted(t *testing.T, o Option, pointer string) Counted {
	t.Helper()
	if o.Leakage == nil {
		t.Fatalf("no leakage: %v", o.Missing)
	}
	for _, c := range o.Leakage.Counted {
		if c.Pointer == pointer {
			return c
		}
	}
	t.Fatalf("%s is not counted: %+v", pointer, o.Leakage.Counted)
	return Counted{}
}

const drop, brush = "{edge: bottom, order: 1, seal: drop-seal-12}", "{edge: bottom, order: 2, seal: brush-fine-15, set: {overlap: 0 mm}}"

// Two seals on one edge leak less than each alone, whichever the spec writes first.
func TestTwoSealsOnOneEdge_Identity(t *testing.T) {
	both := measured(t, "hinged", "", "", "fits: ["+drop+", "+brush+"]")
	turned := measured(t, "hinged", "", "", "fits: ["+brush+", "+drop+"]")
	one := measured(t, "hinged", "", "", "fits: ["+drop+"]")
	other := measured(t, "hinged", "", "", "fits: ["+brush+"]")
	if both.Leakage.Range != turned.Leakage.Range {
		t.Errorf("order of writing: %v and %v", both.Leakage.Range, turned.Leakage.Range)
	}
	if q := both.Leakage.Likely; !(q < one.Leakage.Likely && q < other.Leakage.Likely && q > 0) {
		t.Errorf("both %v, alone %v and %v", q, one.Leakage.Likely, other.Leakage.Likely)
	}
}

// Feet count for every bottom seal until the spec lists the corners: then those count, as holes of their area.
func TestFeetAndCorners_Identity(t *testing.T) {
	feet := measured(t, "hinged", "", "", "fits: ["+brush+"]")
	bottom := counted(t, feet, "/leaves/0/gap")
	a := air.Standard()
	want := crack.Orifice(crack.SharpEdge, a).Over(0.019 * 0.002).Flow(50) // 9 and 10 mm high, 2 mm wide
	if !scalar.EqualWithinRel(bottom.Feet.Likely, want, 5e-3) {
		t.Errorf("feet %v, want %v", bottom.Feet, want)
	}
	listed := measured(t, "hinged", "", "{path: corner, area: 0.5 cm2}, {path: corner, area: 0 cm2}", "fits: ["+brush+"]")
	if c := counted(t, listed, "/leaves/0/gap"); c.Feet != (doubt.Range{}) || !scalar.EqualWithinRel(c.Likely, bottom.Likely-want, 1e-3) {
		t.Errorf("with corners listed %+v", c)
	}
	if c := counted(t, listed, "/paths/0"); !scalar.EqualWithinRel(c.Likely, crack.Orifice(crack.SharpEdge, a).Over(0.5e-4).Flow(50), 1e-9) {
		t.Errorf("a corner of half a square centimetre: %+v", c)
	}
	if bare := counted(t, measured(t, "hinged", "", "", "seal: none"), "/leaves/0/gap"); bare.Feet != (doubt.Range{}) {
		t.Errorf("a bare gap has feet: %+v", bare)
	}
}

// One corner that is listed stands for one foot: the other, at the end with the larger gap, still counts. Of several leaves a corner
// that names none is asked for its leaf, and that of one leaves the other's feet alone.
func TestCornerStandsForOneFoot(t *testing.T) {
	larger := crack.Orifice(crack.SharpEdge, air.Standard()).Over(0.010 * 0.002).Flow(50) // 9 and 10 mm high, 2 mm wide
	o := measured(t, "hinged", "", "{path: corner, area: 0.5 cm2}", "fits: ["+brush+"]")
	if c := counted(t, o, "/leaves/0/gap"); !scalar.EqualWithinRel(c.Feet.Likely, larger, 5e-3) {
		t.Errorf("one corner of two: feet %v, want %v", c.Feet, larger)
	}
	if taken := strings.Join(o.Taken, "; "); !strings.Contains(taken, "the one corner that is listed of leaf A") {
		t.Errorf("taken: %s", taken)
	}
	const pair = `
door: {operation: pair, thickness: 40 mm}
floor: {under_seal: tile}
leaves: [{id: A, width: 900 mm, gap: {readings: [{at: 0 mm, gap: 9 mm}]}}, {id: B, width: 900 mm, gap: {readings: [{at: 0 mm, gap: 9 mm}]}}]
paths: [{path: corner, area: 0.5 cm2%s}, {path: corner, area: 0 cm2%s}]
options: [{id: x, seal: brush-fine-15, set: {overlap: 0 mm}}, {id: bare, seal: none}]
`
	d := read(t, fmt.Sprintf(pair, ", leaf: A", ""))
	shared := newScoring(d, generic(t))
	o = shared.option(d.Options[0])
	if len(o.Missing) != 1 || o.Missing[0].Pointer != "/paths/1/leaf" || !strings.Contains(o.Missing[0].What, "which leaf the corner belongs to") {
		t.Errorf("a corner of no leaf: %v", o.Missing)
	}
	if bare := shared.option(d.Options[1]); bare.Leakage == nil {
		t.Errorf("a bare gap has no feet, and needs no leaf: %v", bare.Missing)
	}
	d = read(t, fmt.Sprintf(pair, ", leaf: A", ", leaf: A"))
	o = newScoring(d, generic(t)).option(d.Options[0])
	if a, b := counted(t, o, "/leaves/0/gap"), counted(t, o, "/leaves/1/gap"); a.Feet != (doubt.Range{}) || b.Feet.Likely == 0 {
		t.Errorf("corners of leaf A: its feet %v, those of B %v", a.Feet, b.Feet)
	}
}

// 1 mm of daylight under a fine brush of 15 mm that just touches costs more than its whole body passes.
func TestHigher_Identity(t *testing.T) {
	o := measured(t, "hinged", "", "{path: letter-plate, area: 2 cm2}", "fits: ["+brush+"]")
	raised, ok := o.Leakage.Higher(quantity.Millimetre)
	set := measured(t, "hinged", "", "{path: letter-plate, area: 2 cm2}", "fits: [{edge: bottom, seal: brush-fine-15, set: {overlap: -1 mm}}]")
	if !ok || raised.Range != set.Leakage.Range || !(raised.Likely > 1.5*o.Leakage.Likely) {
		t.Errorf("raised %v, %v; set so %v", raised.Range, ok, set.Leakage.Range)
	}
	for _, option := range []string{"seal: none", "seal: drop-seal-12"} {
		if r, ok := measured(t, "hinged", "", "", option).Leakage.Higher(quantity.Millimetre); ok {
			t.Errorf("%s has nothing to raise: %v", option, r)
		}
	}
}

// Every way for air that a spec can list: the crack law with the bends that it says, holes by their area, brushes and blades by what
// they are higher than the gap.
func TestPaths_Identity(t *testing.T) {
	const paths = `{path: joint, length: 2.4 m, gap: 1 mm, gap_error: 0.1 mm}, {path: plate-bed, area: 1 cm2}, {path: track, length: 926 mm, gap: 12 mm, seal: brush-fine-15},
  {path: head, length: 926 mm, gap: 2 mm}, {path: hinge, length: 2 m, gap: 2 mm, bends: 2}, {path: side, length: 2 m, gap: 10 mm, seal: blade-single-12}, {path: keyhole, area: 0.3 cm2}, {path: latch, length: 2 m, gap: 0 mm}`
	o := measured(t, "sectional", "", paths, "fits: ["+brush+"]")
	a := air.Standard()
	for pointer, want := range map[string]float64{
		"/paths/0": 2.4 * crack.Slot(0.001, 0.04, 1.5, a).Flow(50),
		"/paths/1": crack.Orifice(crack.SharpEdge, a).Over(1e-4).Flow(50),
		"/paths/3": 0.926 * crack.Slot(0.002, 0.04, 2.5, a).Flow(50),
		"/paths/4": 2 * crack.Slot(0.002, 0.04, 3.5, a).Flow(50),
		"/paths/5": 2 * crack.Opening(0.0002, 0.0015, 0, 0, a).Flow(50),
	} {
		if c := counted(t, o, pointer); !scalar.EqualWithinRel(c.Likely, want, 1e-3) { // a blade stands before a gap of 10 mm
			t.Errorf("%s: %v, want %v", pointer, c.Likely, want)
		}
	}
	if c := counted(t, o, "/paths/2"); !(c.Likely > 0.001 && c.Likely < 0.01) || c.Basis != seal.BasisEstimate {
		t.Errorf("brush in a track: %+v", c)
	}
	sum := 0.0
	for _, c := range o.Leakage.Counted {
		sum += c.Likely
	}
	if !scalar.EqualWithinRel(sum, o.Leakage.Likely, 1e-12) || o.Leakage.Counted[0].Likely < o.Leakage.Counted[1].Likely || len(o.Leakage.Counted) != 8 {
		t.Errorf("sum %v of %d paths, total %v", sum, len(o.Leakage.Counted), o.Leakage.Likely)
	}
	if all, one := o.Leakage.Together(o.Leakage.Counted...), o.Leakage.Together(o.Leakage.Counted[2]); !scalar.EqualWithinRel(all.High, o.Leakage.High, 1e-12) || one.Range != o.Leakage.Counted[2].Range {
		t.Errorf("together %v, the door %v; one %v", all.Range, o.Leakage.Range, one.Range)
	}
	narrow := counted(t, o, "/paths/0")
	rough := counted(t, measured(t, "sectional", "", "{path: joint, length: 2.4 m, gap: 1 mm}", "fits: ["+brush+"]"), "/paths/0")
	if !(rough.High > narrow.High && rough.Likely == narrow.Likely) {
		t.Errorf("gap error 0.1 mm %v, not said %v", narrow.Range, rough.Range)
	}
	bent := counted(t, measured(t, "hinged", ", bends: 1", "", "seal: none"), "/leaves/0/gap")
	if straight := counted(t, measured(t, "hinged", "", "", "seal: none"), "/leaves/0/gap"); !(bent.Likely < straight.Likely) {
		t.Errorf("with a bend %v, straight %v", bent.Likely, straight.Likely)
	}
}

// The error of a path's gap is what the spec says, also where it is more than the gap: a gap that reads 0 may be open.
func TestGapErrorBeyondTheGap_Identity(t *testing.T) {
	o := measured(t, "hinged", "", "{path: head, length: 1 m, gap: 0.01 mm, gap_error: 5 mm}, {path: hinge, length: 1 m, gap: 0 mm, gap_error: 2 mm}, {path: latch, length: 1 m, gap: 0 mm}", "seal: none")
	open := 0.93 * crack.Slot(0.005, 0.04, 2.5, air.Standard()).Flow(50)
	if c := counted(t, o, "/paths/0"); c.High < open || c.Low != 0 {
		t.Errorf("0.01 mm within 5 mm: %v, open %v", c.Range, open)
	}
	if c := counted(t, o, "/paths/1"); c.Likely != 0 || c.High < crack.Slot(0.002, 0.04, 2.5, air.Standard()).Flow(50) {
		t.Errorf("0 mm within 2 mm: %v", c.Range)
	}
	if len(o.Leakage.Counted) != 3 { // the bottom, and not the latch
		t.Errorf("counted %v", o.Leakage.Counted)
	}
}

// A gasket of unknown height is taken as pressed by the middle of its range, and tests calibrate a seal at a path too.
func TestSealsOfPaths_Identity(t *testing.T) {
	c := generic(t)
	if problems := c.Add("own.yaml", []byte(`format: sillwright/seals/1
seals:
  flat: {title: flat, kind: gasket, residual_gap: {likely: 0.2 mm, from: x}, contact: {likely: 5 mm, from: x}, working: {least: 1 mm, most: 5 mm, from: x}}
  strict: {title: strict, like: flat, tests: [{overlap: 3 mm, pair: {viscous: 40000, inertial: 0}, from: x}]}
`)); len(problems) > 0 {
		t.Fatal(problems)
	}
	at := func(paths string) Option {
		d := read(t, fmt.Sprintf(sealed, "hinged", "", paths, "seal: none"))
		return newScoring(d, c).option(d.Options[0])
	}
	if f := counted(t, at("{path: head, length: 1 m, seal: flat}"), "/paths/0"); !scalar.EqualWithinRel(f.Likely, crack.Opening(0.0002, 0.005, 0, 0, air.Standard()).Flow(50), 1e-6) {
		t.Errorf("a gasket of which nobody says how high it is: %v", f)
	}
	if f := counted(t, at("{path: head, length: 2 m, seal: strict}"), "/paths/0"); !scalar.EqualWithinRel(f.Likely, 2*50.0/40000, 1e-3) || f.Basis != seal.BasisMeasured {
		t.Errorf("tested at the head: %v on %s", f.Range, f.Basis)
	}
}

// What is written as not known is said, and what is too much to predict asks.
func TestTakenAndTooMany(t *testing.T) {
	o := measured(t, "hinged", "", "{path: head, length: 1 m, gap: 2 mm, bends: unknown}, {path: corner, area: 0 cm2}, {path: corner, area: 0 cm2}", "fits: ["+brush+"]")
	taken := strings.Join(o.Taken, "; ")
	for _, want := range []string{"1 bends on the way through the head", "the feet of leaf A to be what its corners are listed as"} {
		if !strings.Contains(taken, want) {
			t.Errorf("taken %s; want %s", taken, want)
		}
	}
	var five []string
	for i := range 5 {
		five = append(five, fmt.Sprintf("{edge: bottom, order: %d, seal: brush-fine-15, set: {overlap: 0 mm}}", i+1))
	}
	if o := measured(t, "hinged", "", "", "fits: ["+strings.Join(five, ", ")+"]"); o.Leakage != nil || o.Missing[0] != (Missing{"/options/0/fits/4", "a prediction of more than 4 seals on one edge"}) {
		t.Errorf("five seals: %v", o.Missing)
	}
	if o := measured(t, "hinged", "", "{path: head, area: 1 cm2}", "fits: ["+brush+", {edge: head, seal: gasket-bulb-8}]"); o.Leakage != nil || !strings.Contains(o.Missing[0].What, "in place of an area") {
		t.Errorf("a seal on a hole: %v", o.Missing)
	}
}

// Air of the place: a crack in thinner, colder air, by the laws themselves.
func TestAirOfThePlace_Identity(t *testing.T) {
	d := read(t, "air: {temperature: -5 C, altitude: 1200 m}\ntargets: {leakage: {flow: 20 L/s, at: 10 Pa}}\n"+fmt.Sprintf(sealed, "hinged", "", "{path: head, length: 1 m, gap: 3 mm, bends: 0}", "seal: none"))
	p, err := air.Pressure(1200)
	if err != nil {
		t.Fatal(err)
	}
	a, err := air.At(-5, p)
	if err != nil {
		t.Fatal(err)
	}
	o := newScoring(d, generic(t)).option(d.Options[0])
	if c := counted(t, o, "/paths/0"); !scalar.EqualWithinRel(c.Likely, crack.Slot(0.003, 0.04, 1.5, a).Flow(10), 1e-9) {
		t.Errorf("head %v", c)
	}
}

// A calibrated seal's band is narrower than that of the same seal without tests, and a seal with nothing but tests is predicted
// where it was tested.
func TestTestedSeals(t *testing.T) {
	c := generic(t)
	if problems := c.Add("own.yaml", []byte(`format: sillwright/seals/1
seals:
  tested: {title: tested, like: brush-fine-15, foot: {likely: 0 mm, from: x}, tests: [{overlap: 0.5 mm, floor: tile, length: 1 m, readings: [{pressure: 20 Pa, flow: 2 L/s}, {pressure: 60 Pa, flow: 5 L/s}], from: x}]}
  plain: {title: plain, like: brush-fine-15, foot: {likely: 0 mm, from: x}}
  falls: {title: falls, kind: drop-seal, length: {likely: 9.5 mm, from: x}, tests: [{pair: {viscous: 10000, inertial: 0}, from: x}]}
  only: {title: only, kind: blade, foot: {likely: 0 mm, from: x}, tests: [{overlap: -0.2 mm, pair: {viscous: 10000, inertial: 0}, from: x}, {overlap: 1 mm, pair: {viscous: 20000, inertial: 0}, from: x}]}
`)); len(problems) > 0 {
		t.Fatal(problems)
	}
	at := func(name, overlap string) Option {
		d := read(t, fmt.Sprintf(sealed, "hinged", "", "", "seal: "+name+", set: {overlap: "+overlap+"}"))
		return newScoring(d, c).option(d.Options[0])
	}
	tested, plain := at("tested", "0 mm").Leakage, at("plain", "0 mm").Leakage
	if tested.High/tested.Low > 0.5*plain.High/plain.Low || tested.Basis != seal.BasisMeasured {
		t.Errorf("tested %v on %s, untested %v", tested.Range, tested.Basis, plain.Range)
	}
	// Overlaps from 0 to 1 mm along the width, evenly, tested at -0.2 and 1 mm: the mean flow is that at 0.5 mm.
	if only := at("only", "0 mm").Leakage; !scalar.EqualWithinRel(only.Likely, 0.926*50*(1.0/10000*0.5/1.2+1.0/20000*0.7/1.2), 0.01) || only.Basis != seal.BasisMeasured {
		t.Errorf("only tested: %+v", only.Band)
	}
	for overlap, want := range map[string]string{
		"0.1 mm":  "a test of only at an overlap of 1.1 mm, for it was tested from -0.2 to 1 mm, as it has on leaf A at 0 mm",
		"-0.1 mm": "a test of only at an overlap of -0.3 mm, -0.1 less an error of 0.2, for it was tested from -0.2 to 1 mm, as it has on leaf A at 926 mm",
	} {
		if o := at("only", overlap); o.Leakage != nil || o.Missing[0].What != want {
			t.Errorf("%s: %v, want %q", overlap, o.Missing, want)
		}
	}
	if o := at("falls", "0 mm"); o.Leakage != nil || !strings.Contains(o.Missing[0].What, "it falls 9.5 mm, the gap of leaf A is 10 mm at 926 mm") {
		t.Errorf("beyond its fall: %v", o.Missing)
	}
}
