package engine

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"sillwright/schema/fact"
)

// Every edge of a hinged leaf of 0.9 by 2 m is listed, and holes are its only ways for air.
const holes = `
door: {operation: hinged, height: 2 m, thickness: 40 mm}
leaves: [{id: A, width: 900 mm, gap: {readings: [{at: 0 mm, gap: 0 mm}, {at: 450 mm, gap: 0 mm}, {at: 900 mm, gap: 0 mm}], reading_error: 0 mm}}]
paths: [{path: head, area: 0 cm2}, {path: hinge, area: 0 cm2}, {path: latch, area: 4 cm2}]
options: [{id: x, seal: none}]
`

func optionOf(t *testing.T, spec string, wanted ...string) fact.Set {
	t.Helper()
	for _, s := range Measure(read(t, spec), generic(t), wanted...).Subjects {
		if s.ID == "option:x" {
			return s.Facts
		}
	}
	t.Fatal("no option x")
	return nil
}

// rateAt is the likely flow, and its band, at a pressure in pascals.
func rateAt(t *testing.T, f fact.Fact, pressure float64) (low, likely, high float64) {
	t.Helper()
	rates, _ := f.Value.([]any)
	for _, r := range rates {
		if r := r.(map[string]any); r["at"].(int64) == int64(math.Round(pressure*1e6)) {
			return r["low"].(float64), r["likely"].(float64), r["high"].(float64)
		}
	}
	t.Fatalf("no rate at %g Pa in %v", pressure, f.Value)
	return 0, 0, 0
}

// Bernoulli: a hole passes flow in proportion to the root of the pressure, so that 100 Pa gives twice the flow of 25 Pa, and a rate
// over an area times that area is the flow again. At 50 Pa an option leaks what Option.Leakage says.
func TestRates_Identity(t *testing.T) {
	facts := optionOf(t, holes, "leakage_rates")
	low, likely, high := rateAt(t, facts["leakage_rates"], 25)
	for _, p := range []float64{24.9, 50, 75, 100} {
		l, m, h := rateAt(t, facts["leakage_rates"], p)
		k := math.Sqrt(p / 25)
		for _, pair := range [][2]float64{{l, k * low}, {m, k * likely}, {h, k * high}} {
			if !scalar.EqualWithinRel(pair[0], pair[1], 1e-3) { // four figures are kept
				t.Errorf("at %g Pa %v m3/s, want %v", p, pair[0], pair[1])
			}
		}
	}
	m := Measure(read(t, holes), generic(t)).Options[0].Leakage
	if _, at50, _ := rateAt(t, facts["leakage_rates"], 50); !scalar.EqualWithinRel(at50, m.Likely, 1e-3) {
		t.Errorf("%v m3/s at 50 Pa, the option leaks %v", at50, m.Likely)
	}
	if _, edges, _ := rateAt(t, facts["edge_rates"], 25); edges != likely {
		t.Errorf("the hole at the latch passes %v m3/s, the door %v", edges, likely)
	}
}

// Geometry: a leaf of 0.9 by 2 m has 1.8 m2 and 5.8 m of joint, 4.9 m without its bottom; a pair of them 9.6 m, its meeting edge once.
func TestSizes_Identity(t *testing.T) {
	facts := optionOf(t, holes)
	area, _ := facts["leaf_area"].Value.(map[string]any)
	if area["width"] != int64(900e6) || area["height"] != int64(2000e6) || facts["joint_length"].Value != int64(5800e6) || facts["edge_joint"].Value != int64(4900e6) {
		t.Errorf("%v, joint %v, without the bottom %v", area, facts["joint_length"].Value, facts["edge_joint"].Value)
	}
	pair := optionOf(t, "door: {operation: pair, height: 2 m}\nleaves: [{id: A, width: 900 mm}, {id: B, width: 900 mm}]\noptions: [{id: x, seal: none}]")
	if pair["joint_length"].Value != int64(9600e6) || pair["edge_joint"].Value != int64(7800e6) {
		t.Errorf("a pair has a joint of %v, %v without its bottom", pair["joint_length"].Value, pair["edge_joint"].Value)
	}
	for _, spec := range []string{
		"door: {operation: sliding, height: 2 m}\nleaves: [{id: A, width: 900 mm}]\noptions: [{id: x, seal: none}]",
		"door: {operation: hinged}\nleaves: [{id: A, width: 900 mm}]\noptions: [{id: x, seal: none}]",
		"door: {operation: hinged, height: 2 m}\nleaves: [{id: A}]\noptions: [{id: x, seal: none}]",
	} {
		if f, ok := optionOf(t, spec)["joint_length"]; ok {
			t.Errorf("%s has a joint of %v", spec, f.Value)
		}
	}
}

// A way for air that nobody lists only adds: the sum is the least. What nobody asks for is not computed.
func TestRatesOfWhatIsNotListed(t *testing.T) {
	bare := `
door: {operation: hinged, height: 2 m, thickness: 40 mm}
leaves: [{id: A, width: 900 mm, gap: {readings: [{at: 0 mm, gap: 5 mm}, {at: 450 mm, gap: 5 mm}, {at: 900 mm, gap: 5 mm}]}}]
options: [{id: x, seal: none}]
`
	facts := optionOf(t, bare, "work", "edge_rates")
	if f, ok := facts["leakage_rates"]; !ok || !f.OrMore {
		t.Errorf("of a door whose edges are not listed: %v, %v", ok, f)
	}
	if f, ok := facts["edge_rates"]; ok {
		t.Errorf("no edge is listed, and they leak %v", f.Value)
	}
	if f := optionOf(t, holes, "leakage_rates")["leakage_rates"]; f.OrMore {
		t.Errorf("all edges are listed: %v", f)
	}
	if facts := optionOf(t, holes, "work"); slices.ContainsFunc(rateFacts, func(n string) bool { _, ok := facts[n]; return ok }) {
		t.Error("rates that nobody asked for")
	}
	if facts := optionOf(t, "door: {operation: hinged}\nleaves: [{id: A, width: 900 mm}]\noptions: [{id: x, seal: none}]", "leakage_rates"); facts["leakage_rates"].Value != nil {
		t.Errorf("nobody read the gap, and it leaks %v", facts["leakage_rates"].Value)
	}
}
