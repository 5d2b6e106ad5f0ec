package wear

import (
	"math"

	"sillwright/engine/doubt"
	"sillwright/engine/drag"
)

const steps = 24

// Pressed is a table of the normal force of a seal on the floor by its overlap.
type Pressed struct {
	most float64            // overlap that it reaches to, m
	per  [steps + 1]float64 // N/m over the root of overlap/most, at even steps of that root
}

// Press tabulates the normal force N' (N/m) of a seal from first touch to an overlap of most (m), on a floor with a friction, and
// gives the factor that the force may be off by, about 1.
//
// Formula, source and range: drag.Brush, drag.Blade. Between 25 overlaps that are evenly spaced in their roots, N' over the root runs
// evenly: exact where N' goes with the overlap or with its root, as it does at first touch; within 0.4 per cent elsewhere (see the
// tests). The band is that of drag.PerMetre at most with friction taken as known. Error: an overlap beyond half the height.
func Press(seal drag.Seal, friction, most float64) (Pressed, doubt.Range, error) {
	p := Pressed{most: most}
	if most <= 0 {
		return p, doubt.Exactly(1), seal.Check()
	}
	var roots, overlaps [steps + 1]float64
	for i := range roots {
		roots[i] = math.Max(float64(i)/steps, 1e-3) // first touch has no root to divide by
		overlaps[i] = most * roots[i] * roots[i]
	}
	if err := drag.Normals(seal, friction, overlaps[:], p.per[:]); err != nil {
		return p, doubt.Range{}, err
	}
	for i := range p.per {
		p.per[i] /= roots[i]
	}
	band, err := drag.PerMetre(seal, most, 0, doubt.Exactly(friction))
	if err != nil || band.Likely <= 0 {
		return p, doubt.Exactly(1), err
	}
	return p, doubt.Between(band.Low/band.Likely, 1, band.High/band.Likely), nil
}

// Force at an overlap (m), N/m: nothing where the seal does not touch.
func (p *Pressed) Force(overlap float64) float64 {
	if overlap <= 0 || p.most <= 0 {
		return 0
	}
	root := math.Sqrt(min(overlap/p.most, 1))
	at := root * steps
	i := min(int(at), steps-1)
	return root * (p.per[i] + (at-float64(i))*(p.per[i+1]-p.per[i]))
}

// Over is the force over a sweep: see Force.
func (p *Pressed) Over(sweep []Stretch, off, gone float64) float64 {
	sum := 0.0
	for _, t := range sweep {
		sum += p.Force(t.Overlap+off-gone) * t.Slides
	}
	return sum
}
