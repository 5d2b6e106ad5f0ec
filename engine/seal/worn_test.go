package seal

import (
	"math"
	"testing"

	"sillwright/engine/air"
	"sillwright/engine/doubt"
	"sillwright/engine/gap"
)

// Worn by w all along is the same as set w less, feet and leaf as they are: over a level floor and a falling one, pressed and in
// daylight, with tests and without; with the whole band.
func TestWornEvenly_Identity(t *testing.T) {
	level, err := gap.New(0.9, []gap.Reading{{At: 0, Gap: 0.018}})
	if err != nil {
		t.Fatal(err)
	}
	falling, err := gap.New(0.9, []gap.Reading{{At: 0, Gap: 0.016}, {At: 0.5, Gap: 0.0165}, {At: 0.9, Gap: 0.018}})
	if err != nil {
		t.Fatal(err)
	}
	const loss = 0.0007
	for name, m := range kinds() {
		if _, drops := m.(DropSeal); drops {
			continue
		}
		if _, bare := m.(Bare); bare {
			continue
		}
		for _, line := range []gap.Line{level, falling} {
			for _, overlap := range []float64{-0.001, 0, 0.0007, 0.002} {
				fitted := Fitted{Name: name, Model: m, Floor: Texture{}, Overlap: overlap, Foot: doubt.Between(0.0005, 0.002, 0.004)}
				edge := Edge{Line: line, ReadingError: 0.0005, LeafThickness: 0.04, Seals: []Fitted{fitted}}
				less := edge.Higher(loss)
				worn, err := fitted.Wear(line, []float64{0, 0.5, 0.9}, []float64{loss, loss, loss})
				if err != nil {
					t.Fatal(err)
				}
				edge.Seals = []Fitted{worn}
				a, err := edge.Leakage(50, air.Standard())
				if err != nil {
					t.Fatal(err)
				}
				b, err := less.Leakage(50, air.Standard())
				if err != nil {
					t.Fatal(err)
				}
				x, y := a.Band(), b.Band()
				for _, pair := range [][2]float64{{x.Low, y.Low}, {x.Likely, y.Likely}, {x.High, y.High}} {
					if math.Abs(pair[0]-pair[1]) > 1e-6*pair[1] {
						t.Errorf("%s at %g m: worn %v, set higher %v", name, overlap, x, y)
						break
					}
				}
				if q, err := edge.Likely(50, air.Standard()); err != nil || math.Abs(q-a.Likely) > 1e-12*a.Likely {
					t.Errorf("%s: likely %g, %g, %v", name, q, a.Likely, err)
				}
			}
		}
	}
}

func TestWearWantsLosses(t *testing.T) {
	line, err := gap.New(0.9, []gap.Reading{{At: 0, Gap: 0.018}})
	if err != nil {
		t.Fatal(err)
	}
	for _, losses := range [][]float64{{0}, {0, -1}, {0, math.NaN()}} {
		if _, err := (Fitted{}).Wear(line, []float64{0, 0.9}, losses); err == nil {
			t.Errorf("losses %v at two places", losses)
		}
	}
	if _, err := (Fitted{}).Wear(line, []float64{0.9, 0}, []float64{0, 0}); err == nil {
		t.Error("places out of order")
	}
	if _, err := (Edge{}).Likely(50, air.Standard()); err == nil {
		t.Error("an edge without a line has no flow")
	}
}
