package catalogue

import (
	"math"
	"strings"
	"testing"

	"sillwright/engine/doubt"
	"sillwright/engine/wear"
)

// A class of EN 12400 stands for its cycles (read on two pages); more cycles than the class asks may be given beside it.
func TestLifeByClass_Published(t *testing.T) {
	c, says := add(t, `
  class: {title: a, like: brush-fine-30, life: {class: 6, from: a report}}
  both: {title: a, like: brush-fine-30, life: {class: 5, cycles: 123456, from: a report}}
  worn: {title: a, like: brush-fine-30, worn: {loss: 0.4 mm, cycles: 50000, floor: tile, overlap: 1 mm, width: 0.9 m, from: a rig}}
  alike: {title: a, like: worn}
`)
	if says != "" {
		t.Fatal(says)
	}
	for name, want := range map[string]float64{"class": 200000, "both": 123456, "worn": 50000, "alike": 0} {
		if s, _ := c.Seal(name); s.Life != want {
			t.Errorf("%s: tested for %g openings, not %g", name, s.Life, want)
		}
	}
	if s, _ := c.Seal("alike"); s.Wear.Test != nil {
		t.Error("a life test is of the piece that was tested")
	}
}

// What was measured beats what is judged: the model gives the loss of the life test back, and a wear rate of its own is taken.
func TestWearing(t *testing.T) {
	c, says := add(t, `
  worn: {title: a, like: brush-fine-30, worn: {loss: 0.4 mm, cycles: 50000, floor: tile, overlap: 1 mm, width: 0.9 m, from: a rig}}
  rated: {title: a, like: blade-double-12, wear_rate: {low: 1e-5, likely: 2e-5, high: 4e-5, from: a rig}, recovery: {likely: 0.9, from: a rig}}
  set: {title: a, like: gasket-bulb-8, worn: {loss: 0.4 mm, cycles: 50000, floor: tile, overlap: 2 mm, width: 0.9 m, from: a rig}}
`)
	if says != "" {
		t.Fatal(says)
	}
	worn, _ := c.Seal("worn")
	s, calibrated, err := worn.Wearing("tile", 0.3, 0.5e-3, false)
	if err != nil || !calibrated {
		t.Fatal(calibrated, err)
	}
	loss, err := s.Loss(wear.Place{Rest: 1e-3, Sweep: []wear.Stretch{{Overlap: 1e-3, Slides: math.Pi * 0.9}}}, 50000)
	if err != nil || math.Abs(loss.Likely-0.4e-3) > 1e-9 {
		t.Errorf("the life test lost 0.4 mm, not %g m, %v", loss.Likely, err)
	}
	if other, _, err := worn.Wearing("concrete", 0.3, 0.5e-3, false); err != nil || other.Rate.Likely <= s.Rate.Likely {
		t.Errorf("concrete wears at %v, tile at %v, %v", other.Rate, s.Rate, err)
	}
	rated, _ := c.Seal("rated")
	if s, calibrated, err := rated.Wearing("stone", 0.7, 1e-3, false); err != nil || !calibrated || math.Abs(s.Rate.Likely-2e-14) > 1e-20 || s.Recovery != doubt.Exactly(0.9) || math.Abs(s.Area-3e-3) > 1e-12 {
		t.Errorf("%+v, %v, %v", s, calibrated, err)
	}
	set, _ := c.Seal("set")
	if s, calibrated, err := set.Wearing("tile", 0.7, 2e-3, false); err != nil || !calibrated || s.Force != nil || s.Recovery.Likely > 0.9 {
		t.Errorf("a gasket sets and does not rub: %+v, %v, %v", s, calibrated, err)
	}
	generic, _ := c.Seal("brush-fine-30")
	if s, calibrated, err := generic.Wearing("tile", 0.3, 1e-3, true); err != nil || calibrated || s.Force != nil {
		t.Errorf("a door that comes straight down rubs nothing: %+v, %v, %v", s, calibrated, err)
	}
}

func TestWearThatIsRefused(t *testing.T) {
	for entry, want := range map[string]string{
		"{title: a, like: brush-fine-30, life: {from: x}}":                                                                     "own.yaml:3",
		"{title: a, like: brush-fine-30, life: {class: 9, from: x}}":                                                           "1 to 8",
		"{title: a, like: brush-fine-30, life: {class: 6, cycles: 199999, from: x}}":                                           "200000 or more",
		"{title: a, like: brush-fine-30, recovery: {likely: 90, from: x}}":                                                     "write 0.9 for 90 per cent",
		"{title: a, like: brush-fine-30, wear_rate: {likely: 3, from: x}}":                                                     "mm3/(N m)",
		"{title: a, like: brush-fine-30, wear_rate: {low: 2, likely: 0.1, from: x}}":                                           "not in order",
		"{title: a, like: none, worn: {loss: 0.4 mm, cycles: 5, floor: tile, overlap: 1 mm, width: 0.9 m, from: x}}":           "bare gap",
		"{title: a, like: brush-fine-30, worn: {loss: 1 mm, cycles: 5, floor: tile, overlap: 1 mm, width: 0.9 m, from: x}}":    "less than the overlap",
		"{title: a, like: brush-fine-30, worn: {loss: 0.4 mm, cycles: 0, floor: tile, overlap: 1 mm, width: 0.9 m, from: x}}":  "own.yaml:3",
		"{title: a, like: brush-fine-30, worn: {loss: 0.4 mm, cycles: 5, floor: marsh, overlap: 1 mm, width: 0.9 m, from: x}}": "own.yaml:3",
		"{title: a, like: brush-fine-30, worn: {loss: 0.4 mm, cycles: 5, floor: tile, overlap: 1 mm, width: 900 m, from: x}}":  "900 m",
		"{title: a, like: brush-fine-30, worn: {loss: 0.4 kg, cycles: 5, floor: tile, overlap: 1 mm, width: 0.9 m, from: x}}":  "unit",
	} {
		_, says := add(t, "  mine: "+entry+"\n")
		if !strings.Contains(says, want) || !strings.Contains(says, "own.yaml:3:") {
			t.Errorf("%s:\n got %s\nwant %q", entry, says, want)
		}
	}
}
