package drag

import (
	"math"
	"slices"
	"sync"

	"sillwright/engine/fibre"
)

// mesh is a line where its force is taken, its overlaps moved by a shift, for seals of one length.
type mesh struct {
	knots []knot
	spans []span

	lean, friction float64 // that the knots are bent by
}

// knot is a place of the integral.
type knot struct {
	overlap, reach, left float64 // reach: see fibre.Reach; left: what of the length stands over the floor
	weight, lever        float64
	bent                 fibre.Bent
}

// span is a straight piece of the line that touches, with its knots; of an even one there is one.
type span struct {
	length      float64
	first, past int
	even        bool
}

// meshes are two: of the line as it is, and moved.
var meshes = sync.Pool{New: func() any { return new([2]mesh) }}

// lay finds the knots. N has a square root at the first touch: in u = sqrt(overlap) it is smooth.
func (m *mesh) lay(l *Line, shift, length float64) {
	m.knots, m.spans = m.knots[:0], m.spans[:0]
	last := len(l.Places) - 1
	from := Place{0, l.Places[0].Overlap}
	for i := 0; i <= last+1; i++ {
		to := Place{l.Width, l.Places[last].Overlap}
		if i <= last {
			to = l.Places[i]
		}
		m.piece(l, Place{from.At, from.Overlap + shift}, Place{to.At, to.Overlap + shift})
		from = to
	}
	for i := range m.knots {
		k := &m.knots[i]
		k.reach, k.left = fibre.Reach(length, k.overlap), math.Max(length-k.overlap, 0)
	}
	m.lean = math.NaN()
}

// piece adds a straight piece, where it touches.
func (m *mesh) piece(l *Line, a, b Place) {
	first := len(m.knots)
	switch {
	case b.At <= a.At || a.Overlap <= 0 && b.Overlap <= 0:
		return
	case a.Overlap == b.Overlap:
		m.knots = append(m.knots, knot{overlap: a.Overlap, lever: l.lever((a.At + b.At) / 2)})
		m.spans = append(m.spans, span{b.At - a.At, first, first + 1, true})
		return
	case a.Overlap < 0:
		a = Place{a.At + (b.At-a.At)*a.Overlap/(a.Overlap-b.Overlap), 0}
	case b.Overlap < 0:
		b = Place{a.At + (b.At-a.At)*a.Overlap/(a.Overlap-b.Overlap), 0}
	}
	u0, u1 := math.Sqrt(a.Overlap), math.Sqrt(b.Overlap)
	m.knots = slices.Grow(m.knots, order)
	for i, t := range gauss.at {
		u := u0 + (u1-u0)*t
		grow := (u + u0) / (u0 + u1) // of the way along per t; its end is 1
		m.knots = append(m.knots, knot{overlap: u * u, weight: gauss.weight[i] * 2 * u / (u0 + u1), lever: l.lever(a.At + (b.At-a.At)*t*grow)})
	}
	m.spans = append(m.spans, span{b.At - a.At, first, first + order, false})
}

// moment integrates the normal force times its lever.
func (m *mesh) moment(s *strip, friction float64) float64 {
	tested := len(s.pulls) > 0
	if !tested && (m.lean != s.lean || m.friction != friction) {
		m.lean, m.friction = s.lean, friction
		for i := range m.knots {
			k := &m.knots[i]
			k.bent = fibre.BentBy(k.reach, k.left, s.lean, friction)
		}
	}
	buckling := fibre.Buckling(s.stiffness, s.length)
	normal := func(k *knot) float64 {
		if tested {
			return s.pulled(k.overlap, friction)
		}
		return s.count * k.bent.Press(buckling)
	}
	sum := 0.0
	for _, p := range m.spans {
		if p.even {
			k := &m.knots[p.first]
			sum += normal(k) * p.length * k.lever
			continue
		}
		part := 0.0
		for i := p.first; i < p.past; i++ {
			k := &m.knots[i]
			part += k.weight * normal(k) * k.lever
		}
		sum += part * p.length
	}
	return sum
}
