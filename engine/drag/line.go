package drag

import (
	"fmt"

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

// force is the drag of the strip (N) on a mesh of the line.
func (l *Line) force(m *mesh, s *strip, friction float64) float64 {
	if !l.Slides {
		return friction * m.moment(s, friction) / l.Width
	}
	if s.round {
		return friction * m.moment(s, friction)
	}
	along := *s // friction pulls along the lip and does not bend it: its own lean does
	along.lean = lipLean * s.length
	return friction * m.moment(&along, 0)
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
