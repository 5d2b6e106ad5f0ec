package catalogue

import (
	"math"
	"strings"
	"testing"

	"sillwright/engine/doubt"
	"sillwright/engine/drag"
)

// A pull test becomes a drag a metre: 1 lbf is 4.4482216152605 N (NIST SP 811, appendix B.8), over half a metre.
func TestPullsAreRead_Identity(t *testing.T) {
	c, says := add(t, `
  own:
    title: own
    like: brush-fine-15
    pulls:
      - {overlap: 3 mm, floor: stone, force: 1 lbf, length: 500 mm, scatter: 0.3, from: a rig}
      - {overlap: 2 mm, floor: tile, force: 3 N, length: 1 m, from: a rig}
      - {overlap: 1 mm, floor: tile, force: 2 N, length: 1 m, from: a rig}
  lip: {title: lip, like: blade-single-12, pulls: [{overlap: 1 mm, floor: tile, force: 9 N, length: 1 m, from: a rig}]}
  bulb: {title: bulb, like: gasket-bulb-8, pulls: [{overlap: 1 mm, floor: tile, force: 9 N, length: 1 m, from: a rig}]}
`)
	if says != "" {
		t.Fatal(says)
	}
	s, _ := c.Seal("own")
	if p := s.Pulls[0]; math.Abs(p.Force-2*4.4482216152605) > 1e-12 || p.Overlap != 0.003 || p.Scatter != 0.3 || p.Floor != "stone" || s.Pulls[1].Scatter != drag.PullScatter {
		t.Errorf("%+v", s.Pulls)
	}
	on := func(name, floor string, slides bool) (drag.Seal, doubt.Range, string) {
		s, _ := c.Seal(name)
		seal, friction, err := s.DragOn(floor, slides)
		if err != nil {
			return nil, friction, err.Error()
		}
		return seal, friction, ""
	}
	// On the floor of the tests they stand alone for friction, in order; on another that was pulled first is carried.
	seal, friction, _ := on("own", "tile", false)
	if p := seal.(drag.Pulled).Pulls; len(p) != 2 || p[0].Overlap != 0.001 || friction != doubt.Exactly(0.3) {
		t.Errorf("tile: %+v, %v", p, friction)
	}
	seal, friction, _ = on("own", "timber", false)
	if p := seal.(drag.Pulled).Pulls; len(p) != 1 || p[0].Floor != "stone" || friction.Low == friction.High {
		t.Errorf("timber: %+v, %v", p, friction)
	}
	// A pull across says nothing of a lip along which a leaf slides, and a gasket has no model to carry it to another floor.
	if seal, _, _ := on("lip", "tile", true); seal == nil {
		t.Error("a lip that slides along itself has its model")
	} else if _, pulled := seal.(drag.Pulled); pulled {
		t.Error("a pull across serves a lip that slides along itself")
	}
	if seal, friction, _ := on("bulb", "tile", false); seal == nil || friction != doubt.Exactly(1) {
		t.Errorf("bulb on tile: %v, %v", seal, friction)
	}
	if _, _, err := on("bulb", "carpet", false); !strings.Contains(err, "bulb was pulled on tile and not on this floor") {
		t.Error(err)
	}
	if _, _, err := on("gasket-bulb-8", "tile", false); !strings.Contains(err, "is not predicted") {
		t.Error(err)
	}
}

func TestPullsAreRefused(t *testing.T) {
	const good = "{overlap: 1 mm, floor: tile, force: 4 N, length: 1 m, from: a rig}"
	for pulls, want := range map[string]string{
		good: "",
		good + ", {overlap: 1 mm, floor: tile, force: 5 N, length: 1 m, from: a rig}":    "two pull tests at an overlap of 1 mm on tile",
		good + ", {overlap: 1 mm, floor: stone, force: 5 N, length: 1 m, from: a rig}":   "",
		"{overlap: 0 mm, floor: tile, force: 4 N, length: 1 m, from: a rig}":             "overlap of a pull test is 0 m",
		"{overlap: 8 mm, floor: tile, force: 4 N, length: 1 m, from: a rig}":             "allowed is above 0 to 0.0075",
		"{overlap: 1 mm, floor: tile, force: 0 N, length: 1 m, from: a rig}":             "drag of a pull test (N/m) is 0",
		"{overlap: 1 mm, floor: tile, force: 4 N, length: 0 m, from: a rig}":             "pulls[0].length: found 0 m",
		"{overlap: 1 mm, floor: tile, force: 4 kg, length: 1 m, from: a rig}":            "pulls[0].force",
		"{overlap: 1 mm, floor: tile, force: 4 N, length: 1 m}":                          "from",
		"{overlap: 1 mm, floor: marsh, force: 4 N, length: 1 m, from: a rig}":            "marsh",
		"{overlap: 1 mm, floor: tile, force: 4 N, length: 1 m, scatter: 1, from: a rig}": "scatter",
	} {
		_, says := add(t, "  own: {title: own, like: brush-fine-15, pulls: ["+pulls+"]}\n")
		if (want == "") != (says == "") || !strings.Contains(says, want) {
			t.Errorf("%s: %s, want %q", pulls, says, want)
		}
	}
	if _, says := add(t, "  own: {title: own, like: drop-seal-12, pulls: ["+good+"]}\n"); !strings.Contains(says, "pull tests of a drop-seal") {
		t.Error(says)
	}
}
