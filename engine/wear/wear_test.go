package wear

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"sillwright/engine/doubt"
	"sillwright/engine/drag"
)

func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: got %.9g, want %.9g within %g", what, got, want, rel)
	}
}

func must[T any](t testing.TB) func(v T, err error) T {
	t.Helper()
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// EN 12400 as two pages print it: class 1 to 8 at 5 000, 10 000, 20 000, 50 000, 100 000, 200 000, 500 000, 1 000 000 cycles.
func TestClass_Published(t *testing.T) {
	for i, cycles := range []float64{5000, 10000, 20000, 50000, 100000, 200000, 500000, 1000000} {
		if got := Class(cycles); got != i+1 {
			t.Errorf("%g cycles reach class %d, not %d", cycles, got, i+1)
		}
		if got := Class(cycles - 1); got != i {
			t.Errorf("%g cycles reach class %d, not %d", cycles-1, got, i)
		}
		if got, tested, ok := Least(cycles); got != i+1 || tested != cycles || !ok {
			t.Errorf("%g cycles need class %d", cycles, got)
		}
		if got, ok := Cycles(i + 1); got != cycles || !ok {
			t.Errorf("class %d is %g cycles", i+1, got)
		}
	}
	if _, _, ok := Least(1000001); ok {
		t.Error("there is no class beyond a million cycles")
	}
	if _, ok := Cycles(9); ok {
		t.Error("there is no class 9")
	}
}

// EN 14600 as two pages print it: C0 to C5 at 0, 500, 10 000, 50 000, 100 000, 200 000 cycles.
func TestSelfClosing_Published(t *testing.T) {
	for i, cycles := range []float64{0, 500, 10000, 50000, 100000, 200000} {
		if got, ok := LeastSelfClosing(cycles); got != i || !ok {
			t.Errorf("%g cycles need C%d, not C%d", cycles, got, i)
		}
	}
	if _, ok := LeastSelfClosing(200001); ok {
		t.Error("there is no class beyond C5")
	}
}

// Bend recovery of brush filaments, a table on a trade page (read): nylon 6 and 6.6 97, nylon 6.12 93, polyester 92, polypropylene 75
// per cent. EPDM: compression set 20 to 60 per cent (a test house's page, read).
func TestRecovery_Published(t *testing.T) {
	r := Recovery(drag.Bristle)
	for _, percent := range []float64{97, 97, 93, 92, 75} {
		if percent/100 < r.Low || percent/100 > r.High {
			t.Errorf("a filament that recovers %g per cent is outside %v", percent, r)
		}
	}
	if r.Low != 0.75 || r.High != 0.97 {
		t.Errorf("the ends of the table are 0.75 and 0.97, not %v", r)
	}
	if e := Recovery(drag.Rubber); e.Low > 1-0.6 || e.High < 1-0.2 {
		t.Errorf("EPDM recovers 0.4 to 0.8: outside %v", e)
	}
}

// Plain nylon 6.6 against other plastics: wear factors 22, 265 (in 1e-8 mm3/(N m)) and 11, 132, 616 (in 1e-10 in3 min/(ft lbf h)) of
// one compounder's tables by ASTM D3702 (read): both ends and the units by hand, 16387.064 mm3, 0.3048 m, 4.4482216 N. Wear on a clean
// smooth floor reaches down to these, and covers the worst.
func TestSmoothWear_Published(t *testing.T) {
	unit := 1e-10 * 16387.064 / (0.3048 * 4.4482216 * 60)
	near(t, "unit", unit, 2.0144e-8, 1e-3)
	near(t, "one table in the units of the other", 132*unit, 265e-8, 0.01)
	r := must[doubt.Range](t)(Rate("tile", drag.Bristle))
	if worst, best := 616*unit*CubicMillimetre, 22e-8*CubicMillimetre; worst > r.High || best > r.Low*5 || worst < r.Low {
		t.Errorf("rates of %g to %g m2/N do not meet nylon's %g to %g", r.Low, r.High, best, worst)
	}
}

// DIN 53516 presses rubber at 1 kp (9.81 N) on abrasive paper over 40 m (read). Losses of 100 to 250 mm3 (from memory, not verified)
// bound what any floor does.
func TestAbrasivePaper_Published(t *testing.T) {
	for _, floor := range []string{"tile", "concrete", "stone", "unknown"} {
		r := must[doubt.Range](t)(Rate(floor, drag.Rubber))
		if paper := 100 / (9.81 * 40) * CubicMillimetre; r.High >= paper {
			t.Errorf("%s wears rubber at up to %g m2/N, as fast as abrasive paper at %g", floor, r.High, paper)
		}
	}
}

func still(o float64) Place { return Place{Rest: o, Sweep: []Stretch{{o, 2}}} }

// law is a force by the overlap alone, N/m.
type law func(overlap float64) float64

func (f law) Over(sweep []Stretch, off, gone float64) (sum float64) {
	for _, s := range sweep {
		sum += f(s.Overlap+off-gone) * s.Slides
	}
	return sum
}

func worn(force law, k float64) Seal {
	return Seal{Area: 2e-3, Force: force, Rate: doubt.Exactly(k), Recovery: doubt.Exactly(1), Settling: doubt.Exactly(1e4)}
}

// Force in proportion to the overlap, no set: what is left of the overlap falls exponentially. Exact at any length.
func TestProportionalForce_Identity(t *testing.T) {
	const stiffness, o, k = 8000.0, 1.5e-3, 1e-13
	s := worn(func(o float64) float64 { return stiffness * max(o, 0) }, k)
	for _, cycles := range []float64{1, 1e3, 1e5, 1e6, 3e6} {
		want := o * -math.Expm1(-k*stiffness*2*cycles/s.Area)
		near(t, "loss", must[doubt.Band](t)(s.Loss(still(o), cycles)).Likely, want, 1e-9)
	}
}

// A constant force wears in proportion to the way (Archard), until the seal leaves the floor.
func TestConstantForce_Identity(t *testing.T) {
	const force, o, k = 10.0, 1.5e-3, 1e-13
	s := worn(func(o float64) float64 {
		if o <= 0 {
			return 0
		}
		return force
	}, k)
	gone := o * s.Area / (k * force * 2) // cycles
	for _, part := range []float64{0.001, 0.1, 0.5, 0.9} {
		near(t, "loss", must[doubt.Band](t)(s.Loss(still(o), part*gone)).Likely, part*o, 0.01)
	}
	near(t, "after", must[doubt.Band](t)(s.Loss(still(o), 3*gone)).Likely, o, 1e-3)
}

// A force as the root of the overlap: dr/dN = -c sqrt(r), r = (sqrt(o) - c N/2)^2.
func TestRootForce_Identity(t *testing.T) {
	const o, k = 1.5e-3, 1e-13
	s := worn(func(o float64) float64 { return 200 * math.Sqrt(max(o, 0)) }, k)
	c := k * 200 * 2 / s.Area
	for _, part := range []float64{0.01, 0.3, 0.6, 0.9} {
		cycles := part * 2 * math.Sqrt(o) / c
		left := math.Sqrt(o) - c*cycles/2
		near(t, "loss", must[doubt.Band](t)(s.Loss(still(o), cycles)).Likely, o-left*left, 0.005)
	}
}

// Set alone: (1 - R) of the squash in the end, 63 per cent of it after N_s cycles; none where nothing is squashed.
func TestSet_Identity(t *testing.T) {
	s := Seal{Recovery: doubt.Exactly(0.75), Settling: doubt.Exactly(1e4)}
	near(t, "in the end", must[doubt.Band](t)(s.Loss(Place{Rest: 2e-3}, 1e7)).Likely, 0.25*2e-3, 1e-9)
	near(t, "after N_s", must[doubt.Band](t)(s.Loss(Place{Rest: 2e-3}, 1e4)).Likely, 0.25*2e-3*(1-1/math.E), 1e-9)
	for _, rest := range []float64{0, -1e-3} {
		if b := must[doubt.Band](t)(s.Loss(Place{Rest: rest}, 1e6)); b.Likely != 0 || b.High != 0 {
			t.Errorf("an overlap of %g m sets by %v", rest, b.Range)
		}
	}
}

// Set and wear with a force in proportion: r' = -a r - S', linear, so that its solution is
// r = o e^{-aN} - (1-R) o/N_s (e^{-N/N_s} - e^{-aN})/(a - 1/N_s).
func TestSetAndWear_Identity(t *testing.T) {
	const stiffness, o, k, recovery, settling = 8000.0, 1.5e-3, 5e-13, 0.8, 1e4
	s := worn(func(o float64) float64 { return stiffness * max(o, 0) }, k)
	s.Recovery = doubt.Exactly(recovery)
	a := k * stiffness * 2 / s.Area
	for _, n := range []float64{1e3, 1e4, 1e5, 5e5} {
		left := o*math.Exp(-a*n) - (1-recovery)*o/settling*(math.Exp(-n/settling)-math.Exp(-a*n))/(a-1/settling)
		near(t, "loss", must[doubt.Band](t)(s.Loss(still(o), n)).Likely, o-left, 0.003)
	}
}

// The way of a place: pi x for 90 degrees, opened and closed; of the middle of a leaf of 0.9 m 1.41 m, of its latch edge 2.83 m.
func TestSwept_Identity(t *testing.T) {
	right := math.Pi / 2
	for _, at := range [][]float64{{0, right}, {0, right / 3, right}, {0, right / 2, right}} {
		for x, want := range map[float64]float64{0: 0, 0.45: 1.4137, 0.9: 2.8274} {
			sum := 0.0
			for _, s := range Swept(x, at, make([]float64, len(at))) {
				sum += s.Slides
			}
			near(t, "way", sum, want, 1e-4)
		}
	}
}

// Nothing is lost beyond the largest overlap; more cycles, a faster wear or less recovery never lose less; the band is in order; and a
// place that leaves the floor has lost its overlap by then.
func TestLoss_Identity(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	brush := drag.Brush{
		Length: 0.02, Diameter: doubt.Exactly(0.18e-3), Thickness: doubt.Exactly(5e-3), Solid: doubt.Exactly(0.44),
		Lean: doubt.Exactly(5.3e-3), Modulus: doubt.Exactly(3.3e9),
	}
	p, _, err := Press(brush, 0.3, 6e-3)
	if err != nil {
		t.Fatal(err)
	}
	for range 500 {
		log := func(low, high float64) float64 { return low * math.Exp(r.Float64()*math.Log(high/low)) }
		k := log(1e-15, 1e-10)
		s := Seal{
			Area: 2.2e-3, Force: &p, Rate: doubt.Between(k/10, k, k*10), Factor: doubt.Between(0.5, 1, 2),
			Recovery: doubt.Between(0.75, 0.92, 0.97),
		}
		at := Place{Rest: -1e-3 + 4e-3*r.Float64(), Sweep: Swept(r.Float64(), []float64{0, 0.8, math.Pi / 2}, []float64{3e-3 * r.Float64(), -1e-3 + 4e-3*r.Float64(), 2e-3 * r.Float64()})}
		cycles := log(10, 1e6)
		b := must[doubt.Band](t)(s.Loss(at, cycles))
		if !(b.Low <= b.Likely && b.Likely <= b.High && b.Low >= 0 && b.High <= at.top(0)) {
			t.Fatalf("%v is not in order, or beyond %g", b.Range, at.top(0))
		}
		unsure := at
		unsure.Error = 0.5e-3 * r.Float64()
		if u := must[doubt.Band](t)(s.Loss(unsure, cycles)); u.Likely != b.Likely || u.High < b.High*(1-1e-9) || u.Low > b.Low*(1+1e-9) || u.High > at.top(unsure.Error) {
			t.Fatalf("with an error of %g m: %v, without %v", unsure.Error, u.Range, b.Range)
		}
		more := func(what string, s Seal, cycles float64) {
			if m := must[doubt.Band](t)(s.Loss(at, cycles)); m.Likely < b.Likely*(1-2e-3) {
				t.Fatalf("%s: loses %g, less than %g", what, m.Likely, b.Likely)
			}
		}
		more("more cycles", s, 2*cycles)
		faster := s
		faster.Rate = scaled(s.Rate, 3)
		more("faster", faster, cycles)
		softer := s
		softer.Recovery = doubt.Between(0.5, 0.7, 0.9)
		more("less recovery", softer, cycles)
		when := must[doubt.Range](t)(must[*Course](t)(s.Over(cycles)).Leaves(at))
		if !(when.Low <= when.Likely && when.Likely <= when.High) {
			t.Fatalf("leaves the floor after %v", when)
		}
		if at.Rest > 0 && !math.IsInf(when.Likely, 1) {
			if l := must[doubt.Band](t)(s.Loss(at, when.Likely)).Likely; l < at.Rest*(1-1e-5) {
				t.Fatalf("left the floor after %g cycles with %g of %g m lost", when.Likely, l, at.Rest)
			}
		}
	}
}

// The table of the force against the formula that it is taken from, at 400 overlaps: brush and blade.
func TestPress_Identity(t *testing.T) {
	seals := map[string]drag.Seal{
		"brush": drag.Brush{Length: 0.02, Diameter: doubt.Exactly(0.18e-3), Thickness: doubt.Exactly(5e-3), Solid: doubt.Exactly(0.44), Lean: doubt.Exactly(5.3e-3), Modulus: doubt.Exactly(3.3e9)},
		"blade": drag.Blade{Length: 0.012, Thickness: doubt.Exactly(1.5e-3), Modulus: doubt.Exactly(3.6e6), Lips: 2},
	}
	for name, seal := range seals {
		p, _, err := Press(seal, 0.3, 5e-3)
		if err != nil {
			t.Fatal(err)
		}
		for i := 1; i <= 400; i++ {
			o := 5e-3 * float64(i) / 400
			near(t, name, p.Force(o), must[float64](t)(seal.Normal(o, 0.3)), 0.004)
		}
		if p.Force(0) != 0 || p.Force(-1e-3) != 0 {
			t.Error("a seal in the air presses")
		}
	}
}

// A life test that the model itself makes gives its own wear rate back; on another floor in proportion, in a wider band. A loss that
// set explains leaves no wear.
func TestCalibrated_Identity(t *testing.T) {
	s := worn(func(o float64) float64 { return 8000 * max(o, 0) }, 4e-13)
	s.Recovery = doubt.Exactly(0.9)
	test := Test{Cycles: 5e4, Overlap: 1e-3, Width: 0.9, Floor: "tile"}
	test.Loss = must[doubt.Band](t)(s.Loss(Place{Rest: 1e-3, Sweep: []Stretch{{1e-3, math.Pi * 0.9}}}, 5e4)).Likely
	unknown := s
	unknown.Rate, unknown.Factor = doubt.Between(1e-15, 3e-14, 1e-12), doubt.Between(0.4, 1, 2)
	back := must[Seal](t)(unknown.Calibrated(test, 1, true))
	near(t, "rate", back.Rate.Likely, 4e-13, 1e-6)
	other := must[Seal](t)(unknown.Calibrated(test, 10, false))
	near(t, "rate elsewhere", other.Rate.Likely, 4e-12, 1e-6)
	if other.Rate.High/other.Rate.Likely <= back.Rate.High/back.Rate.Likely {
		t.Error("another floor must be less certain")
	}
	test.Loss = 0.05e-3
	set := must[Seal](t)(unknown.Calibrated(test, 1, true))
	near(t, "loss", must[doubt.Band](t)(set.Loss(Place{Rest: 1e-3, Sweep: []Stretch{{1e-3, 2}}}, 5e4)).Likely, 0.05e-3, 1e-6)
}

func TestErrorsStateTheRange(t *testing.T) {
	s := worn(func(o float64) float64 { return 1 }, 1e-13)
	failing := func(change func(s *Seal)) error {
		s := s
		change(&s)
		_, err := s.Loss(still(1e-3), 10)
		return err
	}
	_, marsh := Rate("marsh", drag.Rubber)
	_, felt := Rate("tile", "felt")
	_, cycles := s.Loss(still(1e-3), -1)
	_, off := s.Loss(Place{Error: -1}, 1)
	_, far := s.Calibrated(Test{Loss: 1.1e-3, Cycles: 1, Overlap: 1e-3, Width: 1}, 1, true)
	_, none := s.Calibrated(Test{Loss: 0.1e-3, Overlap: 1e-3, Width: 1}, 1, true)
	_, wide := s.Calibrated(Test{Loss: 0.1e-3, Cycles: 1, Overlap: 1e-3, Width: 900}, 1, true)
	for _, row := range []struct {
		err  error
		want string
	}{
		{failing(func(s *Seal) {}), ""},
		{failing(func(s *Seal) { s.Area = 0 }), "solid area of the seal (m2/m) is 0"},
		{failing(func(s *Seal) { s.Rate.High = 1 }), "wear rate (m2/N)"},
		{failing(func(s *Seal) { s.Recovery.High = 1.2 }), "recovery"},
		{failing(func(s *Seal) { s.Settling.Low = 0 }), "cycles of settling"},
		{off, "error of the overlap (m) is -1"}, {marsh, "use one of tile"}, {felt, "use one of bristle, rubber"}, {cycles, "-1 cycles"},
		{far, "must be less than the overlap"}, {none, "cycles of a life test"}, {wide, "width of the leaf of a life test is 900 m"},
	} {
		switch {
		case row.want == "" && row.err != nil:
			t.Error(row.err)
		case row.want != "" && (row.err == nil || !strings.Contains(row.err.Error(), row.want)):
			t.Errorf("got %v, want %q", row.err, row.want)
		}
	}
}

// One place under three overlaps in its sweep, with its band. One core of an Intel Xeon, Go 1.26:
//
//	2026-11-26  us: 6
func BenchmarkLoss(b *testing.B) {
	s := worn(func(o float64) float64 { return 8000 * max(o, 0) }, 4e-13)
	s.Rate = doubt.Between(1e-15, 4e-13, 1e-11)
	p := Place{Rest: 1e-3, Sweep: Swept(0.9, []float64{0, 0.8, math.Pi / 2}, []float64{1e-3, 1e-3, 1e-3})}
	c := s.over(146100)
	for b.Loop() {
		c.loss(p)
	}
}
