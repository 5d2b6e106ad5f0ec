package seal

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"sillwright/engine/air"
	"sillwright/engine/crack"
	"sillwright/engine/doubt"
	"sillwright/engine/gap"
)

// What must hold of every edge, whatever closes it. Each edge is drawn by its own number, so that a failure can be drawn again.
func TestAnyEdge_Identity(t *testing.T) {
	for number := range uint64(300) {
		d := drawn{rand.New(rand.NewPCG(number, 2207))}
		e, a, dp := d.edge(t), d.air(t), d.between(math.Log(0.5), math.Log(600))
		c := anyEdge{t, fmt.Sprintf("edge %d", number), e, a, math.Exp(dp)}
		c.inOrder()
		c.pressure()
		c.mirrored()
		c.raised()
		c.taller()
		c.inSeries()
		c.cut()
	}
}

// anyEdge is a drawn edge under test.
type anyEdge struct {
	t    *testing.T
	name string
	e    Edge
	a    air.Air
	dp   float64
}

func (c anyEdge) errorf(format string, args ...any) {
	c.t.Helper()
	c.t.Errorf("%s, %s at %.4g Pa: %s", c.name, c.kinds(), c.dp, fmt.Sprintf(format, args...))
}

func (c anyEdge) kinds() string {
	out := "bare"
	for i, s := range c.e.Seals {
		if i == 0 {
			out = ""
		}
		out += fmt.Sprintf("[%T %+.2f mm tests %d]", s.Model, 1e3*s.Overlap, len(s.Tests))
	}
	return out
}

func (c anyEdge) flow(e Edge, dp float64) Flow {
	c.t.Helper()
	f, err := e.Leakage(dp, c.a)
	if err != nil {
		c.t.Fatalf("%s, %s: %v", c.name, c.kinds(), err)
	}
	return f
}

// inOrder: no figure that is none, the band in order, exponent, feet and share within theirs; and the same figures when asked again.
func (c anyEdge) inOrder() {
	f := c.flow(c.e, c.dp)
	r := Total(f)
	all := []float64{r.Low, r.Likely, r.High, r.Exponent, r.Share, f.Feet.Low, f.Feet.Likely, f.Feet.High, r.Largest.Low, r.Largest.High}
	for _, e := range f.Effects {
		all = append(all, e.Low, e.High)
	}
	for _, v := range all {
		if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
			c.errorf("figures %v", all)
			break
		}
	}
	if !(r.Low <= r.Likely && r.Likely <= r.High) {
		c.errorf("band %v", r.Range)
	}
	if !(r.Exponent >= 0.5-1e-9 && r.Exponent <= 1+1e-9) {
		c.errorf("exponent %.12g", r.Exponent)
	}
	if !(f.Feet.Low <= f.Feet.Likely && f.Feet.Likely <= f.Feet.High && f.Feet.Likely <= f.Likely) {
		c.errorf("feet pass %v of %g", f.Feet, f.Likely)
	}
	if !(r.Share >= 0 && r.Share <= 1) {
		c.errorf("share %g", r.Share)
	}
	if again := Total(c.flow(c.e, c.dp)); !reflect.DeepEqual(again, r) {
		c.errorf("asked again: %v after %v", again, r)
	}
	if at := c.flow(c.e.Higher(0), c.dp); at.Likely != f.Likely {
		c.errorf("hung 0 m higher %g, as it is %g", at.Likely, f.Likely)
	}
}

// pressure: a greater drop drives more through.
func (c anyEdge) pressure() {
	before := c.flow(c.e, c.dp).Likely
	for _, more := range []float64{1.05, 2, 3} {
		if q := c.flow(c.e, more*c.dp).Likely; before > 0 && !(q > before) {
			c.errorf("%g times the drop drives %g, before %g", more, q, before)
		} else {
			before = q
		}
	}
}

// mirrored: a line read from the other edge leaks the same.
func (c anyEdge) mirrored() {
	readings, width := c.e.Line.Readings(), c.e.Line.Width()
	for i := range readings {
		readings[i].At = width - readings[i].At
	}
	slices.Reverse(readings)
	e := c.e
	e.Line = line(c.t, width, readings...)
	was, is := Total(c.flow(c.e, c.dp)).Range, Total(c.flow(e, c.dp)).Range
	for _, v := range [][2]float64{{was.Low, is.Low}, {was.Likely, is.Likely}, {was.High, is.High}} {
		if math.Abs(v[0]-v[1]) > 1e-9*v[0] {
			c.errorf("mirrored %v, as read %v", is, was)
		}
	}
}

// raised: with daylight all along, more daylight never leaks less.
func (c anyEdge) raised() {
	e := c.e
	e.Seals = slices.Clone(e.Seals)
	for i := range e.Seals {
		e.Seals[i].Overlap = -math.Abs(e.Seals[i].Overlap) - (e.Line.Widest() - e.Line.Narrowest())
	}
	before := 0.0
	for _, raise := range []float64{0, 0.00005, 0.0002, 0.001, 0.002} {
		q := c.flow(e.Higher(raise), c.dp).Likely
		if !(q >= before*(1-1e-9)) {
			c.errorf("raised by %g m: %.9g after %.9g", raise, q, before)
		}
		before = q
	}
}

// taller: a gap that is wider all along never leaks less with seals that go down with the floor.
func (c anyEdge) taller() {
	before := 0.0
	for _, more := range []float64{0, 0.0001, 0.001, 0.004} {
		e := c.e
		readings := e.Line.Readings()
		for i := range readings {
			readings[i].Gap += more
		}
		e.Line = line(c.t, e.Line.Width(), readings...)
		q := c.flow(e, c.dp).Likely
		if !(q >= before*(1-1e-6)) { // the readings are rounded
			c.errorf("gap %g m wider: %.9g after %.9g", more, q, before)
		}
		before = q
	}
}

// inSeries: seals one behind the other leak no more than any of them alone.
func (c anyEdge) inSeries() {
	if len(c.e.Seals) < 2 {
		return
	}
	whole := c.flow(c.e, c.dp).Likely
	for i := range c.e.Seals {
		e := c.e
		e.Seals = c.e.Seals[i : i+1]
		if alone := c.flow(e, c.dp).Likely; whole > alone*(1+1e-9)+1e-15 {
			c.errorf("in series %.9g, seal %d alone %.9g", whole, i+1, alone)
		}
	}
}

// cut: a line cut at a reading leaks the sum of its parts with the same setting. Feet are closed; a drop seal rests on the
// highest place of the whole line, so it cannot be cut. Air runs along between two seals, so parts in series leak less than the whole.
func (c anyEdge) cut() {
	readings := c.e.Line.Readings()
	if len(readings) < 3 {
		return
	}
	e := c.e
	e.Alone = true
	e.Seals = slices.Clone(e.Seals)
	for i := range e.Seals {
		e.Seals[i].Foot = doubt.Range{}
		if _, falls := e.Seals[i].Model.(DropSeal); falls {
			return
		}
	}
	whole := c.flow(e, c.dp).Likely
	k := len(readings) / 2
	at := readings[k].At
	near, far := slices.Clone(readings[:k+1]), slices.Clone(readings[k:])
	for i := range far {
		far[i].At -= at
	}
	sum := 0.0
	for _, l := range []gap.Line{line(c.t, at, near...), line(c.t, e.Line.Width()-at, far...)} {
		part := e
		part.Line, part.Seals = l, slices.Clone(e.Seals)
		for i := range part.Seals {
			part.Seals[i].Overlap += e.Line.Widest() - l.Widest()
		}
		sum += c.flow(part, c.dp).Likely
	}
	switch {
	case len(e.Seals) > 1 && sum > whole*(1+1e-3):
		c.errorf("parts in series leak %.9g, the whole %.9g", sum, whole)
	case len(e.Seals) <= 1 && math.Abs(sum-whole) > 1e-3*whole:
		c.errorf("parts leak %.9g, the whole %.9g", sum, whole)
	}
}

// drawn draws what an edge may be.
type drawn struct{ *rand.Rand }

func (d drawn) between(low, high float64) float64 { return low + (high-low)*d.Float64() }

// about is a range about a likely value.
func (d drawn) about(v float64) doubt.Range {
	return doubt.Between(v*d.between(0.6, 1), v, v*d.between(1, 1.5))
}

func (d drawn) air(t *testing.T) air.Air {
	a, err := air.At(d.between(-20, 40), d.between(70000, 105000))
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func (d drawn) edge(t *testing.T) Edge {
	width := d.between(0.6, 2.5)
	base, uneven := d.between(0.001, 0.030), d.between(0, 0.006)
	var readings []gap.Reading
	for at := d.between(0, 0.3) * width; at <= width && len(readings) < 6; at += d.between(0.05, 0.5) * width {
		readings = append(readings, gap.Reading{At: at, Gap: base + uneven*d.Float64()})
	}
	e := Edge{Line: line(t, width, readings...), LeafThickness: d.between(0.030, 0.060), Bends: d.IntN(3)}
	if d.IntN(3) > 0 {
		e.ReadingError = d.between(0, 0.001)
	}
	for range d.IntN(4) {
		e.Seals = append(e.Seals, d.seal(t))
	}
	return e
}

func (d drawn) seal(t *testing.T) Fitted {
	f := Fitted{Name: fmt.Sprint("seal ", d.Uint32()), Overlap: d.between(-0.003, 0.006), Model: d.model()}
	if d.IntN(4) > 0 {
		f.Floor = Textures[d.IntN(len(Textures))]
	}
	if d.IntN(2) > 0 {
		f.Foot = d.about(d.between(0.0005, 0.005))
	}
	if _, measured := f.Model.(Measured); !measured && d.IntN(3) == 0 {
		f.Tests = d.tests(t, f)
	}
	if err := f.Check(); err != nil {
		t.Fatal(err)
	}
	return f
}

func (d drawn) model() Model {
	switch d.IntN(8) {
	case 0:
		return d.brush(d.between(0.012, 0.040))
	case 1, 2:
		b := d.brush(d.between(0.030, 0.100))
		b.Diameter, b.Thickness = d.about(d.between(0.00025, 0.0004)), d.about(d.between(0.008, 0.012))
		b.Tufts = &Tufts{Pitch: d.about(0.008), RootGap: d.about(0.00068), Widening: d.about(0.0068)}
		if d.IntN(2) > 0 {
			b.Embedded = &Embedded{Height: 0.010, Reach: doubt.Between(0.010, d.between(0.010, b.Length), b.Length)}
		}
		return b
	case 3:
		return Blade{Lips: 1 + d.IntN(3), Residual: d.about(0.0002), Contact: d.about(d.between(0.0005, 0.003))}
	case 4:
		g := Gasket{Residual: d.about(0.0002), Contact: d.about(d.between(0.001, 0.008))}
		g.Least = float64(d.IntN(2)) * d.between(0, 0.002)
		return g
	case 5, 6:
		return DropSeal{Fall: d.between(0.005, 0.020), Follow: d.about(d.between(0.0003, 0.003)), Residual: d.about(0.0002), Contact: d.about(0.005)}
	}
	return d.measured()
}

func (d drawn) brush(length float64) Brush {
	b := fineBrush(length)
	b.Diameter, b.Thickness, b.Solid = d.about(d.between(0.00015, 0.00025)), d.about(d.between(0.004, 0.008)), doubt.Between(0.3, d.between(0.35, 0.45), 0.55)
	b.Trim, b.Spread = d.about(d.between(0.0001, 0.0005)), d.about(d.between(0.1, 0.3))
	if d.IntN(3) == 0 {
		b.Modulus = doubt.Range{}
	}
	return b
}

// tests of a seal that leaks as its model does, times a factor: at several overlaps, or at one for a drop seal.
func (d drawn) tests(t *testing.T, f Fitted) []Test {
	f.Foot = doubt.Range{}
	_, falls := f.Model.(DropSeal)
	factor, turn := math.Exp(d.between(-1.2, 1.2)), d.between(-0.1, 0.1)
	var out []Test
	for _, overlap := range d.overlaps() {
		f.Overlap = overlap
		e := Edge{Line: line(t, 1, gap.Reading{Gap: 0.004}), LeafThickness: 0.04, Seals: []Fitted{f}}
		flow, err := e.Leakage(50, air.Standard())
		if err != nil {
			t.Fatal(err)
		}
		law := crack.Pair(50, factor*flow.Likely, flow.Exponent+turn)
		out = append(out, Test{Overlap: overlap, Floor: f.Floor, Law: law, Air: air.Standard(), Scatter: d.between(0, 0.3)})
		if falls {
			break
		}
	}
	return out
}

func (d drawn) overlaps() []float64 {
	out := []float64{d.between(-0.002, 0.001)}
	for range d.IntN(3) {
		out = append(out, out[len(out)-1]+d.between(0.0005, 0.003))
	}
	return out
}

// measured is a seal that leaks less the more it is pressed.
func (d drawn) measured() Measured {
	var m Measured
	q, n := d.between(5e-5, 0.01), d.between(0.5, 1)
	for _, overlap := range d.overlaps() {
		m.Tests = append(m.Tests, Test{Overlap: overlap, Law: crack.Pair(50, q, n), Air: air.Standard(), Scatter: d.between(0, 0.3)})
		q *= d.between(0.5, 1)
	}
	return m
}
