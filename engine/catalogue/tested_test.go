package catalogue

import (
	"math"
	"strings"
	"testing"

	"sillwright/engine/air"
	"sillwright/engine/crack"
	"sillwright/engine/doubt"
	"sillwright/engine/seal"
)

func add(t *testing.T, entries string) (*Catalogue, string) {
	t.Helper()
	c, err := Generic()
	if err != nil {
		t.Fatal(err)
	}
	var says []string
	for _, p := range c.Add("own.yaml", []byte("format: sillwright/seals/1\nseals:\n"+entries)) {
		says = append(says, p.Error())
	}
	return c, strings.Join(says, "\n")
}

// Readings laid by a known pair, on two metres of seal in warm air at 500 m: the pair comes back, a metre, with the air of the test.
func TestReadingsBecomeAPair_Identity(t *testing.T) {
	c, says := add(t, `
  own:
    title: own
    kind: brush
    tests:
      - overlap: 1 mm
        length: 2 m
        air: {temperature: 30 C, altitude: 500 m}
        readings: [{pressure: 10 Pa, flow: 2 L/s}, {pressure: 60 Pa, flow: 8 L/s}]
        scatter: 0.1
        from: a rig
      - {overlap: 0 mm, pair: {viscous: 1000, inertial: 2000}, pressures: {least: 10 Pa, most: 0.08 kPa}, floor: stone, from: a rig}
`)
	if says != "" {
		t.Fatal(says)
	}
	s, _ := c.Seal("own")
	m, ok := s.Model.(seal.Measured)
	if !ok || len(m.Tests) != 2 || len(s.Tests) != 0 {
		t.Fatalf("%+v", s)
	}
	first, second := m.Tests[0], m.Tests[1] // in order of their overlaps
	if first.Overlap != 0 || first.Law != (crack.Law{A: 1000, B: 2000}) || first.Floor.Name != "stone" || first.Scatter != seal.TestScatter || first.Drops != [2]float64{10, 80} || first.Air != air.Standard() {
		t.Errorf("%+v", first)
	}
	// 10 = A q + B q^2 at q = 1e-3, 60 at 4e-3: B = (60/4e-3 - 10/1e-3)/3e-3, A = 10/1e-3 - B 1e-3.
	b := (60/4e-3 - 10/1e-3) / 3e-3
	if math.Abs(second.Law.B/b-1) > 1e-9 || math.Abs(second.Law.A/(1e4-b*1e-3)-1) > 1e-9 {
		t.Errorf("pair %+v", second.Law)
	}
	pressure, err := air.Pressure(500)
	if err != nil {
		t.Fatal(err)
	}
	if warm, err := air.At(30, pressure); err != nil || second.Air != warm || second.Scatter != 0.1 || s.From["tests/0"] != "a rig" {
		t.Errorf("air %+v, %v; from %v", second.Air, err, s.From)
	}
}

// A test of a seal that is predicted calibrates it, one that is like another keeps its parameters.
func TestTestsCalibrate(t *testing.T) {
	c, says := add(t, "  own: {title: own, like: brush-fine-30, foot: {likely: 1 mm, from: x}, life: {cycles: 50000, from: a report}, tests: [{overlap: 0 mm, pair: {viscous: 9000, inertial: 10}, from: a rig}]}\n")
	if says != "" {
		t.Fatal(says)
	}
	s, _ := c.Seal("own")
	if _, ok := s.Model.(seal.Brush); !ok || len(s.Tests) != 1 || s.Foot != doubt.Exactly(0.001) || s.Life != 50000 || s.Drag == nil {
		t.Errorf("%+v", s)
	}
	if s, _ := c.Seal("gasket-v-8"); s.Foot != genericFoot {
		t.Errorf("foot %v of a seal of which nothing is said", s.Foot)
	}
}

// Tests and life are those of the piece that was tested: a seal that is like it has the parameters only.
func TestLikeInheritsNoTests(t *testing.T) {
	c, says := add(t, `
  tested: {title: tested, like: brush-fine-30, foot: {likely: 1 mm, from: x}, life: {cycles: 50000, from: a report}, tests: [{overlap: 0 mm, pair: {viscous: 9000, inertial: 10}, from: a rig}]}
  alike: {title: alike, like: tested}
  own: {title: own, like: alike, life: {cycles: 70000, from: a report}}
`)
	if says != "" {
		t.Fatal(says)
	}
	for name, life := range map[string]float64{"alike": 0, "own": 70000} {
		s, _ := c.Seal(name)
		if len(s.Tests) != 0 || s.Life != life || s.From["tests/0"] != "" || s.Foot != doubt.Exactly(0.001) || s.Model == nil {
			t.Errorf("%s: %+v", name, s)
		}
	}
}

// What the pair misses of the readings widens the scatter; figures may be written as programs write them.
func TestMisfitWidensTheScatter(t *testing.T) {
	c, says := add(t, "  own: {title: own, like: brush-fine-30, life: {cycles: 2e5, from: x}, tests: [{overlap: 0 mm, length: 1 m, readings: [{pressure: 10 Pa, flow: 1 L/s}, {pressure: 30 Pa, flow: 2 L/s}, {pressure: 50 Pa, flow: 5 L/s}], scatter: 0.01, from: x}]}\n  pair: {title: p, kind: blade, tests: [{overlap: 0 mm, pair: {viscous: 1.2e4, inertial: 2.5e5}, from: x}]}\n")
	if says != "" {
		t.Fatal(says)
	}
	own, _ := c.Seal("own")
	if got := own.Tests[0]; !(got.Scatter > 0.1 && got.Scatter < 0.3) || got.Drops != [2]float64{10, 50} || own.Life != 2e5 {
		t.Errorf("%+v, life %v", got, own.Life)
	}
	if pair, _ := c.Seal("pair"); pair.Model.(seal.Measured).Tests[0].Law != (crack.Law{A: 12000, B: 250000}) {
		t.Errorf("%+v", pair.Model)
	}
}

func TestSealsThatAreRefused(t *testing.T) {
	for entry, want := range map[string]string{
		"{title: a, like: brush-fine-30, tests: [{overlap: 0 mm, length: 1 m, readings: [{pressure: 50 Pa, flow: 3 L/s}, {pressure: 50 Pa, flow: 3.1 L/s}], from: x}]}":                                  "one pressure only",
		"{title: a, like: brush-fine-30, tests: [{overlap: 0 mm, length: 1 m, readings: [{pressure: 10 Pa, flow: 3 L/s}, {pressure: 50 Pa, flow: 2 L/s}], from: x}]}":                                    "is not above that",
		"{title: a, like: brush-fine-30, tests: [{overlap: 0 mm, length: 1 m, readings: [{pressure: 0 Pa, flow: 3 L/s}, {pressure: 50 Pa, flow: 2 L/s}], from: x}]}":                                     "both must be above 0",
		"{title: a, like: brush-fine-30, tests: [{overlap: 0 mm, length: 0 m, readings: [{pressure: 10 Pa, flow: 1 L/s}, {pressure: 50 Pa, flow: 2 L/s}], from: x}]}":                                    "more than 0 mm",
		"{title: a, like: brush-fine-30, tests: [{overlap: 0 mm, length: 1 m, readings: [{pressure: 10 Pa, flow: 1 L}, {pressure: 50 Pa, flow: 2 L/s}], from: x}]}":                                      "write the unit as",
		"{title: a, like: brush-fine-30, tests: [{pair: {viscous: 1, inertial: 1}, from: x}]}":                                                                                                           "a test without an overlap",
		"{title: a, like: brush-fine-30, tests: [{overlap: 0 mm, pair: {viscous: 0, inertial: 0}, from: x}]}":                                                                                            "a pair of zeros",
		"{title: a, like: brush-fine-30, tests: [{overlap: 0 mm, pair: {viscous: 1, inertial: 1}, pressures: {least: 80 Pa, most: 10 Pa}, from: x}]}":                                                    "pressures from 80 to 10 Pa",
		"{title: a, like: brush-fine-30, tests: [{overlap: 0 mm, from: x}]}":                                                                                                                             "own.yaml:3",
		"{title: a, like: brush-fine-30, tests: [{overlap: 0 mm, pair: {viscous: 1, inertial: 1}, from: x}, {overlap: 0 mm, pair: {viscous: 2, inertial: 1}, from: x}]}":                                 "two tests at an overlap of 0 mm",
		"{title: a, like: brush-fine-30, tests: [{overlap: 0 mm, air: {temperature: 500 C}, pair: {viscous: 1, inertial: 1}, from: x}]}":                                                                 "air temperature is 500 C",
		"{title: a, like: drop-seal-12, tests: [{pair: {viscous: 1, inertial: 1}, from: x}, {pair: {viscous: 2, inertial: 1}, from: x}]}":                                                                "2 tests of a drop seal",
		"{title: a, like: brush-fine-30, tests: [{overlap: -8 mm, length: 1 m, readings: [{pressure: 10 Pa, flow: 0.001 L/s}, {pressure: 50 Pa, flow: 0.003 L/s}], from: x}]}":                           "a third of what such a slit lets pass",
		"{title: a, like: brush-fine-30, tests: [{overlap: 0 mm, length: 1 m, readings: [{pressure: 0.01 Pa, flow: 0.001 L/s}, {pressure: 50 Pa, flow: 0.003 L/s}], from: x}]}":                          "0.1 to 2000 Pa",
		"{title: a, like: brush-fine-30, tests: [{overlap: 0 mm, length: 1 m, readings: [{pressure: 10 Pa, flow: 0.05 L/s}, {pressure: 12 Pa, flow: 5 L/s}, {pressure: 50 Pa, flow: 6 L/s}], from: x}]}": "off the law of a leak",
		"{title: a, like: brush-fine-30, tests: [{overlap: 0 mm, length: 1 m, readings: [{pressure: 10 Pa, flow: 0.01 L/s}, {pressure: 50 Pa, flow: 6.25 L/s}], from: x}]}":                              "off the law of a leak",
		"{title: a, like: brush-fine-30, length: {low: 50 mm, likely: 60 mm, high: 70 mm, from: x}}":                                                                                                     "one length",
		"{title: a, like: none, tests: [{overlap: 0 mm, pair: {viscous: 1, inertial: 1}, from: x}]}":                                                                                                     "tests of a bare gap",
		"{title: a, kind: tufted-brush, length: {likely: 50 mm, from: x}, diameter: {likely: 0.3 mm, from: x}}":                                                                                          "a tufted-brush without thickness",
		"{title: a, kind: drop-seal, length: {likely: 12 mm, from: x}, follow: {likely: 1 mm, from: x}}":                                                                                                 "a drop-seal without residual_gap",
		"{title: a, like: tufted-50, tuft_pitch: {likely: 1 mm, from: x}}":                                                                                                                               "do not fit a pitch",
		"{title: a, like: tufted-50, modulus: {likely: 3.3 kPa, from: x}}":                                                                                                                               "write the unit as GPa or MPa",
		"{title: a, like: blade-single-12, modulus: {likely: 0.00001 MPa, from: x}}":                                                                                                                     "a seal that can be computed",
		"{title: a, like: brush-fine-30, foot: {likely: 200 mm, from: x}}":                                                                                                                               "clearance at the feet",
	} {
		_, says := add(t, "  mine: "+entry+"\n")
		if !strings.Contains(says, want) || !strings.Contains(says, "own.yaml:3:") {
			t.Errorf("%s:\n got %s\nwant %q", entry, says, want)
		}
	}
}
