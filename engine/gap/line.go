// Package gap describes the bottom gap under a door along its seal line, and integrates flows over it.
package gap

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// Reading is a measured bottom gap: At m from the hinge edge, Gap m high.
type Reading struct{ At, Gap float64 }

// Line is the bottom gap along the width of a leaf: straight between readings, held constant beyond the first
// and the last. Make it with New.
type Line struct {
	width             float64
	readings          []Reading
	widest, narrowest float64
}

// New makes a line of a width (m) from readings sorted by place. One reading is a constant gap.
// It is an error when there is no reading, when one lies outside 0..width, is not beyond the one before it, or has a
// gap that is negative or not a number.
func New(width float64, readings []Reading) (Line, error) {
	if !(width > 0) || math.IsInf(width, 1) {
		return Line{}, fmt.Errorf("width is %g m; it must be positive", width)
	}
	if len(readings) == 0 {
		return Line{}, fmt.Errorf("no gap reading; at least one is needed")
	}
	l := Line{width: width, widest: readings[0].Gap, narrowest: readings[0].Gap}
	l.readings = append(l.readings, readings...)
	for i, r := range readings {
		switch {
		case !(r.At >= 0 && r.At <= width):
			return Line{}, fmt.Errorf("reading %d is at %g m; allowed is 0 to the width of %g m", i+1, r.At, width)
		case i > 0 && !(r.At > readings[i-1].At):
			return Line{}, fmt.Errorf("reading %d at %g m does not lie beyond reading %d at %g m; sort the readings by place and keep one a place",
				i+1, r.At, i, readings[i-1].At)
		case !(r.Gap >= 0) || math.IsInf(r.Gap, 1):
			return Line{}, fmt.Errorf("reading %d has a gap of %g m; it must be 0 or more", i+1, r.Gap)
		}
		l.widest = math.Max(l.widest, r.Gap)
		l.narrowest = math.Min(l.narrowest, r.Gap)
	}
	return l, nil
}

// Width is the length of the seal line, m.
func (l Line) Width() float64 { return l.width }

// Widest is the largest gap, m.
func (l Line) Widest() float64 { return l.widest }

// Narrowest is the smallest gap, m.
func (l Line) Narrowest() float64 { return l.narrowest }

// Readings is a copy of the readings.
func (l Line) Readings() []Reading { return append([]Reading(nil), l.readings...) }

// At is the gap (m) at a place x (m): linear between readings, constant beyond them. A Line not made by New has
// no gap anywhere.
func (l Line) At(x float64) float64 {
	if len(l.readings) == 0 {
		return 0
	}
	before := l.readings[0]
	if x <= before.At {
		return before.Gap
	}
	for _, r := range l.readings[1:] {
		if x <= r.At {
			return before.Gap + (r.Gap-before.Gap)*(x-before.At)/(r.At-before.At)
		}
		before = r
	}
	return before.Gap
}

// Piece is a stretch of the line over which the gap runs evenly From one height To another (m).
type Piece struct{ Length, From, To float64 }

// Pieces gives the stretches of the line from end to end: what lies between readings, and beyond the first and the last.
func (l Line) Pieces() []Piece { return l.AppendPieces(nil) }

// AppendPieces adds them to a list.
func (l Line) AppendPieces(list []Piece) []Piece {
	if len(l.readings) == 0 {
		return list
	}
	before := Reading{Gap: l.readings[0].Gap}
	add := func(r Reading) {
		if r.At > before.At {
			list = append(list, Piece{r.At - before.At, before.Gap, r.Gap})
		}
		before = r
	}
	for _, r := range l.readings {
		add(r)
	}
	add(Reading{l.width, before.Gap})
	return list
}

// Integrate is the integral of f(gap(x)) over the width, for f the flow per metre of a seal or a bare gap as a
// function of the gap (m2/s): the result is the whole flow (m3/s). Never replace it by the mean gap: flow is not linear
// in the gap. breaks and error as of Piece.Sample; with no break given, 0 is taken.
func (l Line) Integrate(f func(gap float64) float64, breaks ...float64) float64 {
	sum := 0.0
	for _, p := range l.Pieces() {
		p.Sample(breaks, func(gap, metres float64) { sum += metres * f(gap) })
	}
	return sum
}

// Sample visits gaps of the piece with the metres that each stands for, so that the sum of metres x f(gap) is the integral of f over
// the piece.
//
// breaks are gaps at which f has a kink, such as the gap where a seal just touches; with none given, 0 is taken.
// The gap is the variable. The piece is cut at breaks and halved until no part is longer
// than twice its distance from the nearest break plus 0.1 mm, since the laws of seals are curved most where a slot
// closes. Every part gets a Gauss-Legendre rule of fixed order (6, or 3 for parts that are short against that distance), so
// work and result are reproducible. Relative error: 1e-7 for crack laws, below 1e-5 for the models of
// package seal (see the tests of both).
func (p Piece) Sample(breaks []float64, visit func(gap, metres float64)) {
	a, b := min(p.From, p.To), max(p.From, p.To) // a mirrored piece gives the same bits
	if b-a <= 1e-9*math.Abs(b) {
		visit((a+b)/2, p.Length)
		return
	}
	sample(a, b, p.Length/(b-a), breaks, visit)
}

const (
	grade   = 0.0001 // m, the smallest length over which the laws of seals curve
	nearly  = 1e-12  // m, a break this close to an end needs no cut
	farAway = 0.5    // a part this short against its distance from a break is nearly straight
)

// sample visits the part from a to b, each metre of gap standing for some metres of line.
func sample(a, b, metres float64, breaks []float64, visit func(gap, metres float64)) {
	away := math.Inf(1)
	for _, k := range breaks {
		if k > a+nearly && k < b-nearly {
			sample(a, k, metres, breaks, visit)
			sample(k, b, metres, breaks, visit)
			return
		}
		away = math.Min(away, math.Max(a-k, k-b))
	}
	if len(breaks) == 0 {
		away = a
	}
	reach := math.Max(away, 0) + grade
	if b-a > 2*reach {
		mid := (a + b) / 2
		sample(a, mid, metres, breaks, visit)
		sample(mid, b, metres, breaks, visit)
		return
	}
	rule := &fine
	if b-a <= farAway*reach {
		rule = &coarse
	}
	for i := range rule.order {
		visit(a+(b-a)*rule.at[i], rule.weight[i]*(b-a)*metres)
	}
}

// gauss is a Gauss-Legendre rule on 0..1
type gauss struct {
	order      int
	at, weight [maxOrder]float64
}

const maxOrder = 6

var (
	fine   = legendre(maxOrder)
	coarse = legendre(3)
)

func legendre(order int) gauss {
	g := gauss{order: order}
	quad.Legendre{}.FixedLocations(g.at[:order], g.weight[:order], 0, 1)
	return g
}
