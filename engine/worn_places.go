package engine

import (
	"fmt"
	"math"
	"slices"

	"sillwright/engine/gap"
	"sillwright/engine/wear"
	"sillwright/schema/door"
)

// spot is a place of a seal along the leaf.
type spot struct {
	wear.Place
	at float64 // m
}

// places are those of the readings, both edges and the middle between neighbours, each with its way over the floor.
func (w *wearing) places(l *truth, c Contact) ([]spot, error) {
	line := l.line
	ats := []float64{0, line.Width()}
	for _, r := range line.Readings() {
		ats = append(ats, r.At)
	}
	slices.Sort(ats)
	ats = slices.Compact(ats)
	for i := len(ats) - 1; i > 0; i-- {
		ats = slices.Insert(ats, i, (ats[i-1]+ats[i])/2)
	}
	angles, overlaps, err := w.swing(l, c)
	if err != nil {
		return nil, err
	}
	out := make([]spot, len(ats))
	for i, x := range ats {
		rest := overlaps[0](x)
		out[i] = spot{at: x, Place: wear.Place{Rest: rest}}
		switch w.d.Leaf.Operation.Value {
		case "roller", "sectional":
		case "sliding":
			out[i].Sweep = []wear.Stretch{{Overlap: rest, Slides: 2 * line.Width()}}
		default:
			along := make([]float64, len(angles))
			for k, of := range overlaps {
				along[k] = of(x)
			}
			out[i].Sweep = wear.Swept(x, angles, along)
		}
	}
	return out, nil
}

// swing gives the overlap by place of a leaf at 0, at each angle that was read, and as far as it opens.
func (w *wearing) swing(l *truth, c Contact) (angles []float64, overlaps []func(x float64) float64, err error) {
	switch op := w.d.Leaf.Operation; {
	case !op.Known:
		return nil, nil, fmt.Errorf("how the door moves is not known")
	case op.Value == "folding":
		return nil, nil, fmt.Errorf("the way of a folding leaf over the floor is not predicted")
	}
	line := l.line
	touching := c.Places[0].Overlap.Metres() + c.Places[0].Gap.Metres()
	closed := func(x float64) float64 { return touching - line.At(x) }
	angles, overlaps = []float64{0}, []func(float64) float64{closed}
	for _, a := range c.Angles {
		of := func(x float64) float64 {
			return closed(x) + (a.Places[0].Overlap - slices.MaxFunc(c.Places, byOverlap).Overlap).Metres()
		}
		if a.Whole {
			readings := make([]gap.Reading, len(a.Places))
			for i, t := range a.Places {
				readings[i] = gap.Reading{At: t.At.Metres(), Gap: t.Gap.Metres()}
			}
			along, err := gap.New(line.Width(), readings)
			if err != nil {
				return nil, nil, err
			}
			of = func(x float64) float64 { return touching - along.At(x) }
		}
		if rad := a.Angle.Degrees() * math.Pi / 180; rad > angles[len(angles)-1] {
			angles, overlaps = append(angles, rad), append(overlaps, of)
		}
	}
	if last := len(angles) - 1; angles[last] < math.Pi/2 {
		angles, overlaps = append(angles, math.Pi/2), append(overlaps, overlaps[last])
	}
	if len(c.Angles) == 0 && swings(w.d) {
		w.take("the floor that leaf " + l.ID + " sweeps to run on as it is under the closed leaf (read the gap at angles, swing)")
	}
	return angles, overlaps, nil
}

func swings(d *door.Door) bool {
	return !slices.Contains([]string{"sliding", "roller", "sectional"}, d.Leaf.Operation.Value)
}
