package engine

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"sync"
	"testing"

	"sillwright/engine/catalogue"
	"sillwright/engine/doubt"
	"sillwright/engine/drag"
	"sillwright/engine/wear"
)

// owned is the generic catalogue with seals of our own, one a line.
func owned(t testing.TB, seals ...string) *catalogue.Catalogue {
	t.Helper()
	c := generic(t)
	src := "format: sillwright/seals/1\nseals:\n  " + strings.Join(seals, "\n  ") + "\n"
	if problems := c.Add("own.yaml", []byte(src)); len(problems) > 0 {
		t.Fatal(problems)
	}
	return c
}

const wornDoor = `
door: {operation: %s, thickness: 40 mm}
floor: {under_seal: tile, swept: tile}
leaves: [{id: A, width: 900 mm, gap: {readings: [{at: 0 mm, gap: 14 mm}, {at: 450 mm, gap: 14 mm}, {at: 900 mm, gap: 14 mm}], %s reading_error: 0.5 mm}}]
duty: {cycles_per_day: %g, life: 10 years}
options: [{id: x, seal: %s%s}]
`

// after gives an option of that door.
func after(t *testing.T, c *catalogue.Catalogue, operation, swing string, perDay float64, seal, set string) Option {
	t.Helper()
	return Measure(read(t, fmt.Sprintf(wornDoor, operation, swing, perDay, seal, set)), c).Options[0]
}

// The worst place of a leaf over a level floor is its latch edge, which slides pi W a cycle; 40 openings a day over 10 years are 146 100:
// the same as package wear says of that place by itself.
func TestWornLatchEdge_Identity(t *testing.T) {
	c := generic(t)
	o := after(t, c, "hinged", "", 40, "brush-fine-15", ", set: {overlap: 1 mm}")
	entry, _ := c.Seal("brush-fine-15")
	friction, err := drag.Friction("tile", drag.Bristle)
	if err != nil {
		t.Fatal(err)
	}
	s, _, err := entry.Wearing("tile", friction.Likely, 0.001, false)
	if err != nil {
		t.Fatal(err)
	}
	want, err := s.Loss(wear.Place{Rest: 0.001, Error: 0.0005, Sweep: []wear.Stretch{{Overlap: 0.001, Slides: math.Pi * 0.9}}}, 146100)
	if err != nil {
		t.Fatal(err)
	}
	got := o.Worn().Losses[0]
	for _, pair := range [][2]float64{{got.Height.Low, want.Low}, {got.Height.Likely, want.Likely}, {got.Height.High, want.High}} {
		if math.Abs(pair[0]-pair[1]) > 1e-9*pair[1] {
			t.Errorf("lost %v, want %v", got.Height, want.Range)
			break
		}
	}
	if got.At.MM() != "900" || got.Leaves != nil || got.Daylight.High != 0 || o.Worn().Calibrated {
		t.Errorf("%+v", got)
	}
}

// A seal that neither sets nor wears leaks at the end what it leaks at handover, with the same band.
func TestNothingWorn_Identity(t *testing.T) {
	c := owned(t, "hard: {title: a, like: brush-fine-15, recovery: {likely: 1, from: x}, wear_rate: {likely: 0, from: x}}")
	for _, seal := range []string{"hard", "drop-seal-12"} {
		set := ", set: {overlap: 1 mm}"
		if seal == "drop-seal-12" {
			set = ""
		}
		o := after(t, c, "hinged", "", 40, seal, set)
		if o.Leakage == nil || o.Worn() == nil || o.Worn().Leakage == nil {
			t.Fatalf("%s: %+v", seal, o.Worn())
		}
		for _, pair := range [][2]float64{{o.Leakage.Low, o.Worn().Leakage.Low}, {o.Leakage.Likely, o.Worn().Leakage.Likely}, {o.Leakage.High, o.Worn().Leakage.High}} {
			if math.Abs(pair[0]-pair[1]) > 1e-6*pair[0] {
				t.Errorf("%s: %v, at the end %v", seal, o.Leakage.Range, o.Worn().Leakage.Range)
			}
		}
	}
}

// A sliding leaf rubs evenly along its seal, so that at the end it leaks what the same seal leaks that is set by so much less.
func TestSlidingWear_Identity(t *testing.T) {
	c := owned(t, "hard: {title: a, like: brush-fine-15, recovery: {likely: 1, from: x}, wear_rate: {likely: 1e-5, from: x}}")
	o := after(t, c, "sliding", "", 40, "hard", ", set: {overlap: 1 mm}")
	l := o.Worn().Losses[0].Height
	if !(l.Likely > 0.01e-3 && l.Likely < 1e-3) {
		t.Fatalf("lost %g m", l.Likely)
	}
	less := after(t, c, "sliding", "", 40, "hard", fmt.Sprintf(", set: {overlap: %.6f mm}", 1-1000*l.Likely))
	if got, want := o.Worn().Leakage.Likely, less.Leakage.Likely; math.Abs(got-want) > 1e-5*want {
		t.Errorf("leaks %g at the end, %g set less", got, want)
	}
}

// Where the floor rises under the swing, wear takes daylight with it: up to the rise and no more, sooner under a busier door. The
// likely flow rises, and the wear is in the band.
func TestRisingFloor_Identity(t *testing.T) {
	c := owned(t, "soft: {title: a, like: brush-fine-15, wear_rate: {low: 1e-4, likely: 1e-2, high: 2e-2, from: x}}")
	const swing = "swing: [{angle: 45 deg, gap: 13 mm}, {angle: 90 deg, gap: 13 mm}],"
	var before *doubt.Range
	for _, perDay := range []float64{10, 40, 400} {
		o := after(t, c, "hinged", swing, perDay, "soft", ", set: {overlap: 0.5 mm}")
		l := o.Worn().Losses[0]
		if l.Height.High > 2e-3*(1+1e-9) || l.Daylight.High > 1e-3*(1+1e-9) || l.Daylight.Likely < 0.9e-3 || l.Leaves == nil || !o.Worn().Calibrated {
			t.Fatalf("%+v", l)
		}
		if before != nil && l.Leaves.Likely >= before.Likely {
			t.Errorf("%g openings a day: leaves after %v years, fewer after %v", perDay, l.Leaves, before)
		}
		before = l.Leaves
		w := o.Worn().Leakage
		if w.Likely <= o.Leakage.Likely {
			t.Errorf("leaks %v at the end, %v at handover", w.Range, o.Leakage.Range)
		}
		found := false
		for _, e := range w.Effects {
			found = found || e.Name == doubtWear.Name && e.Of == "soft" && e.Low < e.High
		}
		if !found {
			t.Errorf("no doubt about the wear in %+v", w.Effects)
		}
	}
}

// More openings never leave more height; nothing is lost beyond the largest overlap.
func TestWornMoreOftenIsWornMore_Identity(t *testing.T) {
	for _, seal := range []string{"brush-fine-20", "tufted-50", "blade-single-12"} {
		before := doubt.Range{}
		for _, perDay := range []float64{0.01, 1, 40, 400, 4000} {
			o := after(t, generic(t), "hinged", "", perDay, seal, ", set: {overlap: 2 mm}")
			l := o.Worn().Losses[0].Height
			if l.Likely < before.Likely || l.Low < before.Low || l.High > 2.5e-3*(1+1e-9) {
				t.Errorf("%s, %g a day: lost %v, before %v", seal, perDay, l, before)
			}
			before = l
		}
	}
}

// A door that comes straight down presses its seal and rubs nothing: it sets by what it does not spring back, 1 - R.
func TestComesStraightDown_Identity(t *testing.T) {
	c := owned(t, "flat: {title: a, like: gasket-bulb-8, recovery: {likely: 0.8, from: x}}")
	for seal, want := range map[string]float64{"flat": 0.4e-3, "brush-fine-15": 0.16e-3} {
		o := after(t, c, "sectional", "", 4000, seal, ", set: {overlap: 2 mm}")
		if l := o.Worn().Losses[0].Height; math.Abs(l.Likely-want) > 1e-9 {
			t.Errorf("%s lost %g m, want %g", seal, l.Likely, want)
		}
	}
}

// What is not known is asked for, never taken as unworn.
func TestWornNotKnown(t *testing.T) {
	c := owned(t, "only: {title: a, kind: brush, length: {likely: 15 mm, from: x}, tests: [{overlap: 0 mm, pair: {viscous: 9000, inertial: 10}, from: a rig}, {overlap: 2 mm, pair: {viscous: 9000, inertial: 10}, from: a rig}]}")
	for _, row := range []struct{ operation, seal, set, want string }{
		{"folding", "brush-fine-15", ", set: {overlap: 1 mm}", "folding leaf"},
		{"unknown", "brush-fine-15", ", set: {overlap: 1 mm}", "how the door moves"},
		{"hinged", "brush-fine-15", "", "its setting"},
		{"hinged", "only", ", set: {overlap: 1 mm}", "how hard only presses"},
		{"hinged", "brush-fine-15", ", set: {overlap: 9 mm}", "half the free height"},
	} {
		o := after(t, c, row.operation, "", 40, row.seal, row.set)
		if o.Worn() == nil || o.Worn().Leakage != nil || !strings.Contains(fmt.Sprint(o.Worn().Missing), row.want) {
			t.Errorf("%v: %+v", row, o.Worn())
		}
	}
	if o := after(t, c, "hinged", "", 0, "brush-fine-15", ", set: {overlap: 1 mm}"); o.Worn() != nil {
		t.Error("no openings are asked for")
	}
	if o := after(t, c, "hinged", "", 40, "none", ""); o.Worn() != nil {
		t.Error("a bare gap does not wear")
	}
}

// A sliding leaf takes a seal of which only tests are known out of what was tested.
func TestWornBeyondItsTests(t *testing.T) {
	c := owned(t, "only: {title: a, kind: gasket, length: {likely: 15 mm, from: x}, tests: [{overlap: 1 mm, pair: {viscous: 9000, inertial: 10}, from: a rig}, {overlap: 3 mm, pair: {viscous: 9000, inertial: 10}, from: a rig}]}")
	o := after(t, c, "sectional", "", 40, "only", ", set: {overlap: 1.6 mm}")
	if o.Leakage == nil || o.Worn().Leakage != nil || !strings.Contains(fmt.Sprint(o.Worn().Missing), "as it has when it is worn") {
		t.Errorf("%+v", o.Worn())
	}
}

// Facts: what is asked is rounded up, what was tested down; a class beyond a million is none; a life without openings is not asked.
func TestCycles(t *testing.T) {
	c := owned(t, "tested: {title: a, like: brush-fine-15, life: {cycles: 36525.9, from: a report}}")
	d := read(t, fmt.Sprintf(wornDoor, "hinged", "", 40.00001, "tested", ", set: {overlap: 1 mm}"))
	facts := Measure(d, c).Subjects[len(Measure(d, c).Subjects)-1].Facts
	if v := fmt.Sprint(facts["cycles_asked"].Value); v != "map[class:class 6 of EN 12400 or better cycles:146101]" {
		t.Error(v)
	}
	if v := fmt.Sprint(facts["cycles_tested"].Value); v != "map[cycles:36525 years:2.5 years]" {
		t.Error(v)
	}
	if classWords(1e6) != "class 8 of EN 12400 or better" || classWords(1e6+1) != "more than class 8 of EN 12400" {
		t.Error(classWords(1e6), classWords(1e6+1))
	}
	for src, want := range map[string]bool{"cycles_per_day: 0": false, "cycles_per_day: unknown": true, "cycles_per_day: 1": true} {
		d := read(t, strings.Replace(fmt.Sprintf(wornDoor, "hinged", "", 40.0, "tested", ""), "cycles_per_day: 40", src, 1))
		subjects := Measure(d, c).Subjects
		if _, ok := subjects[len(subjects)-1].Facts["cycles_asked"]; ok != want {
			t.Errorf("%s: asked %t", src, ok)
		}
	}
}

// What is left after the life is found when it is asked for: once, whoever asks, and the same as from an option of its own.
func TestWornIsFoundOnce(t *testing.T) {
	c := generic(t)
	o, again := after(t, c, "hinged", "", 40, "brush-fine-15", ", set: {overlap: 1 mm}"), after(t, c, "hinged", "", 40, "brush-fine-15", ", set: {overlap: 1 mm}")
	var found [4]*Worn
	var all sync.WaitGroup
	for i := range found {
		all.Go(func() { found[i] = o.Worn() })
	}
	all.Wait()
	for _, w := range found {
		if w == nil || w != found[0] {
			t.Fatalf("found %p and %p", w, found[0])
		}
	}
	if !reflect.DeepEqual(found[0], again.Worn()) {
		t.Errorf("%+v, of the same option %+v", found[0], again.Worn())
	}
}

// What all options have of their door is each one's own: a fact that one is given, or that is changed in it, is in no other.
func TestOptionsShareNoFacts(t *testing.T) {
	d := read(t, fmt.Sprintf(wornDoor, "hinged", "", 40.0, "none", "}, {id: y, seal: none"))
	m := Measure(d, generic(t))
	options := m.Subjects[len(m.Subjects)-2:]
	if options[0].ID != "option:x" || options[1].ID != "option:y" || options[1].Facts["operation"].Value != "hinged" {
		t.Fatalf("%+v", options)
	}
	f := options[0].Facts["operation"]
	f.Value = "sliding"
	options[0].Facts["operation"], options[0].Facts["unit"] = f, f
	if _, unit := options[1].Facts["unit"]; unit || options[1].Facts["operation"].Value != "hinged" {
		t.Errorf("%+v", options[1].Facts)
	}
}
