package drag

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"sillwright/engine/doubt"
)

// Place is the overlap of the seal at a place: how far its free height exceeds the gap. Negative is daylight.
type Place struct {
	At      float64 // from the hinge edge, or from either end of a leaf that slides, m
	Overlap float64 // m
}

// Line is where a seal meets the floor: straight between its places, and held as it is outside them.
type Line struct {
	Width    float64 // W of the leaf, m
	Places   []Place // in order of At
	Error    float64 // overlap may be wrong by this either way, all along alike, m
	Friction doubt.Range
	Slides   bool // the leaf slides along the seal, instead of swinging about an edge
}

// check wants a width up to 20 m, places in order within it, overlaps up to half the height of the seal, an error up
// to 0.1 m and a friction of 0.01 to 5.
func (l *Line) check(seal Seal) error {
	if !(l.Width > 0 && l.Width <= 20) {
		return fmt.Errorf("width of the leaf is %g m; allowed is above 0 to 20", l.Width)
	}
	if !(l.Error >= 0 && l.Error <= 0.1) {
		return fmt.Errorf("error of the overlap is %g m; allowed is 0 to 0.1", l.Error)
	}
	if len(l.Places) == 0 {
		return fmt.Errorf("no place has an overlap; give at least one")
	}
	for i, p := range l.Places {
		if !(p.At >= 0 && p.At <= l.Width) {
			return fmt.Errorf("place %d is at %g m; allowed is 0 to the width, %g m", i+1, p.At, l.Width)
		}
		if i > 0 && p.At <= l.Places[i-1].At {
			return fmt.Errorf("place %d is at %g m, not after the one before it at %g m; give places in order",
				i+1, p.At, l.Places[i-1].At)
		}
		if err := checkOverlap(seal, p.Overlap); err != nil {
			return fmt.Errorf("place %d: %w", i+1, err)
		}
	}
	return l.Friction.Check("friction", 0.01, maxFriction)
}

// force is the drag of the strip on the line (N), with the overlap moved by shift.
func (l *Line) force(s *strip, friction, shift float64) float64 {
	bend := friction
	if l.Slides && !s.round { // friction pulls along the lip and does not bend it: its own lean does
		along := *s
		along.lean, s, bend = lipLean*s.length, &along, 0
	}
	last := len(l.Places) - 1
	from := Place{0, l.Places[0].Overlap}
	sum := 0.0
	for i := 0; i <= last+1; i++ {
		to := Place{l.Width, l.Places[last].Overlap}
		if i <= last {
			to = l.Places[i]
		}
		sum += l.piece(s, bend, Place{from.At, from.Overlap + shift}, Place{to.At, to.Overlap + shift})
		from = to
	}
	if l.Slides {
		return friction * sum
	}
	return friction * sum / l.Width
}

// piece integrates the normal force times its lever over a straight piece, where it touches.
func (l *Line) piece(s *strip, friction float64, a, b Place) float64 {
	switch {
	case b.At <= a.At || a.Overlap <= 0 && b.Overlap <= 0:
		return 0
	case a.Overlap == b.Overlap:
		return s.normal(a.Overlap, friction) * (b.At - a.At) * l.lever((a.At+b.At)/2)
	case a.Overlap < 0:
		a = Place{a.At + (b.At-a.At)*a.Overlap/(a.Overlap-b.Overlap), 0}
	case b.Overlap < 0:
		b = Place{a.At + (b.At-a.At)*a.Overlap/(a.Overlap-b.Overlap), 0}
	}
	// N has a square root at the first touch: in u = sqrt(overlap) it is smooth
	u0, u1 := math.Sqrt(a.Overlap), math.Sqrt(b.Overlap)
	sum := 0.0
	for i, t := range gauss.at {
		u := u0 + (u1-u0)*t
		grow := (u + u0) / (u0 + u1) // of the way along per t; its end is 1
		sum += gauss.weight[i] * 2 * u / (u0 + u1) * s.normal(u*u, friction) * l.lever(a.At+(b.At-a.At)*t*grow)
	}
	return sum * (b.At - a.At)
}

// lever is the arm (m) about the hinge; a leaf that slides has none.
func (l *Line) lever(x float64) float64 {
	if l.Slides {
		return 1
	}
	return x
}

const order = 7

// gauss is the Gauss-Legendre rule on 0..1.
var gauss = func() (g struct{ at, weight [order]float64 }) {
	quad.Legendre{}.FixedLocations(g.at[:], g.weight[:], 0, 1)
	return g
}()
