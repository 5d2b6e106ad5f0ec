package crack

import (
	"fmt"
	"math"
	"testing"

	"sillwright/engine/air"
)

// rounded is the air that the published check flows were computed for.
var rounded = air.Air{Density: 1.2041, Viscosity: 1.8134e-5}

func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: got %.9g, want %.9g within %g", what, got, want, rel)
	}
}

// Law of Baker, Sharples & Ward 1987 (from memory, not verified), 40 mm deep, C 1.5, 50 Pa; digits independently computed.
func TestSlot_Published(t *testing.T) {
	for _, tc := range []struct{ mm, c, want float64 }{
		{1, 1.5, 4.04592998e-03},
		{2, 1.5, 1.26659055e-02},
		{3, 1.5, 2.07738831e-02},
		{5, 1.5, 3.62529262e-02},
		{10, 1.5, 7.39282269e-02},
		{3, 2.5, 1.63539842e-02}, // one bend
	} {
		got := Slot(tc.mm/1000, 0.040, tc.c, rounded).Flow(50)
		near(t, fmt.Sprintf("%g mm, C %g", tc.mm, tc.c), got, tc.want, 1e-7)
	}
}

// Gross & Haberman 1989, Fire Safety Science, Proc. 2nd Int. Symp., table 2 (seen at second hand, three figures):
// straight crack 40 mm deep, 20 C, m3/s per m. Accepted: 10 % each, 5 % rms.
func TestOpening_Published(t *testing.T) {
	gaps := []float64{0.0005, 0.001, 0.005, 0.010}
	table := map[float64][]float64{
		10:  {0.000144, 0.00106, 0.0146, 0.0323},
		25:  {0.000358, 0.00227, 0.0243, 0.0507},
		100: {0.00138, 0.00628, 0.0507, 0.1012},
	}
	sum, count, worst := 0.0, 0, 0.0
	for _, dp := range []float64{10, 25, 100} {
		for i, want := range table[dp] {
			got := Opening(gaps[i], 0.040, 0, 0, air.Standard()).Flow(dp)
			near(t, fmt.Sprintf("%g Pa, %g m", dp, gaps[i]), got, want, 0.10)
			dev := got/want - 1
			sum, count = sum+dev*dev, count+1
			if math.Abs(dev) > math.Abs(worst) {
				worst = dev
			}
		}
	}
	rms := math.Sqrt(sum / float64(count))
	t.Logf("worst %.1f %%, rms %.1f %%", 100*worst, 100*rms)
	if rms > 0.05 {
		t.Errorf("rms deviation %.3f, allowed 0.05", rms)
	}
}

// Independently computed: 3 mm gap, 40 mm deep, 50 Pa. Both published forms must give it.
func TestDischarge_Identity(t *testing.T) {
	a := rounded
	l := Slot(0.003, 0.040, 1.5, a)
	near(t, "quadratic form", l.Discharge(0.003, 50, a), 0.759850, 1e-5)
	for _, d := range []float64{0.0003, 0.003, 0.01} {
		for _, dp := range []float64{1, 50, 300} {
			l := Slot(d, 0.040, 1.5, a)
			re := a.Density * (l.Flow(dp) / d) * 2 * d / a.Viscosity
			near(t, "both forms", DischargeAt(re, d, 0.040, 1.5), l.Discharge(d, dp, a), 1e-12)
		}
	}
}

// Independently computed local exponents for 0.5, 1 and 3 mm, 40 mm deep, 50 Pa.
func TestExponent_Published(t *testing.T) {
	for mm, want := range map[float64]float64{0.5: 0.966457, 1: 0.771808, 3: 0.535889} {
		near(t, fmt.Sprintf("%g mm", mm), Slot(mm/1000, 0.040, 1.5, rounded).Exponent(50), want, 1e-5)
	}
}

func TestExponent_Identity(t *testing.T) {
	for _, l := range []Law{{A: 3}, {B: 7}, {A: 2, B: 5}, Slot(0.001, 0.04, 1.5, rounded)} {
		for _, dp := range []float64{0.1, 4, 50, 500} {
			h := 1e-4
			numeric := math.Log(l.Flow(dp*(1+h))/l.Flow(dp*(1-h))) / math.Log((1+h)/(1-h))
			near(t, "derivative", l.Exponent(dp), numeric, 1e-6)
			q := l.Flow(dp)
			near(t, "(A+Bq)/(A+2Bq)", l.Exponent(dp), (l.A+l.B*q)/(l.A+2*l.B*q), 1e-12)
			near(t, "round trip", l.Drop(q), dp, 1e-12)
			near(t, "odd", l.Flow(-dp), -q, 0)
		}
	}
	if got := Slot(0, 0.04, 1.5, rounded); got.Flow(50) != 0 || got.Drop(0) != 0 || got.Exponent(50) != 1 {
		t.Errorf("closed crack: flow %v drop %v exponent %v", got.Flow(50), got.Drop(0), got.Exponent(50))
	}
}

// Limits with closed forms: plane Poiseuille flow q = dp d^3/(12 mu z) and an orifice q = d sqrt(2 dp/(rho C)).
func TestSlot_Identity(t *testing.T) {
	thin := Slot(20e-6, 0.04, 1.5, rounded)
	near(t, "viscous limit", thin.Flow(10), 10*math.Pow(20e-6, 3)/(12*rounded.Viscosity*0.04), 1e-6)
	wide := Slot(0.5, 0.04, 1.5, rounded)
	near(t, "inertial limit", wide.Flow(10), 0.5*math.Sqrt(2*10/(rounded.Density*1.5)), 1e-4)
	near(t, "orifice", Orifice(0.61, rounded).Over(0.01).Flow(50), 0.61*0.01*math.Sqrt(100/rounded.Density), 1e-12)
	near(t, "an orifice is a slot without friction", Slot(0.01, 0, 1/(0.61*0.61), rounded).Flow(50),
		Orifice(0.61, rounded).Over(0.01).Flow(50), 1e-12)
	near(t, "two metres", Slot(0.002, 0.04, 1.5, rounded).Over(2).Flow(50), 2*Slot(0.002, 0.04, 1.5, rounded).Flow(50), 1e-12)
	near(t, "free streamline", SharpEdge, 0.611, 1e-3)
}

func TestLoss_Identity(t *testing.T) {
	near(t, "slot", Loss(0.010, 0.040, 0), 1.5, 1e-12)
	near(t, "thin plate", Loss(0.040, 0.040, 0), 1/(0.61*0.61), 1e-12)
	for _, ratio := range []float64{6, 4, 3, 1.5, 1, 0.75} {
		for _, position := range []float64{-1, 0, 1} {
			near(t, fmt.Sprintf("no jump at z/d %g", ratio), Loss(1-1e-9, ratio, position), Loss(1+1e-9, ratio, position), 1e-6)
		}
	}
	near(t, "long slot, least", Loss(0.001, 0.040, -1), 1.3, 1e-12)
	near(t, "long slot, most", Loss(0.001, 0.040, 1), 1.7, 1e-12)
	near(t, "thin plate, least", Loss(0.1, 0.040, -1), 1/(0.64*0.64), 1e-12)
	for _, position := range []float64{-1, -0.3, 0, 0.5, 1} {
		for _, dp := range []float64{4, 50} {
			before := 0.0
			for d := 0.0001; d < 0.1; d *= 1.01 {
				q := Opening(d, 0.040, 0, position, rounded).Flow(dp)
				if q <= before {
					t.Fatalf("position %g, %g Pa: a wider gap of %g m leaks less", position, dp, d)
				}
				before = q
			}
		}
	}
	for d := 0.0005; d < 0.1; d *= 1.1 {
		if !(Loss(d, 0.04, -1) < Loss(d, 0.04, 0) && Loss(d, 0.04, 0) <= Loss(d, 0.04, 1)) {
			t.Errorf("loss range at gap %g m is not ordered", d)
		}
	}
}

// 28 mm under a 40 mm leaf at 50 Pa: 208 L/s per m by the slot law and 156 as a sharp-edged orifice, both
// independently computed.
func TestOpeningBetweenLaws_Published(t *testing.T) {
	slot := Slot(0.028, 0.040, 1.5, rounded).Flow(50)
	orifice := Orifice(0.61, rounded).Over(0.028).Flow(50)
	near(t, "slot law", slot, 0.208, 5e-3)
	near(t, "orifice law", orifice, 0.156, 5e-3)
	likely := Opening(0.028, 0.040, 0, 0, rounded).Flow(50)
	if !(orifice < likely && likely < slot) {
		t.Errorf("likely flow %.4f is not between %.4f and %.4f", likely, orifice, slot)
	}
}

func TestSeries_Published(t *testing.T) {
	// Closed form 1/A^2 = 1/A1^2 + 1/A2^2 for orifices of 0.01 and 0.02 m2: 0.00894427191 m2.
	o := Orifice(0.61, rounded)
	near(t, "orifices", Series(o.Over(0.01), o.Over(0.02)).Flow(50), o.Over(0.00894427191).Flow(50), 1e-9)
	var pairs [3]Law
	near(t, "orifices, solved", InSeries(50, pairs[:2], o.Over(0.01), o.Over(0.02)), o.Over(0.00894427191).Flow(50), 1e-9)
	// N equal stages of a power law, n 0.6: C_3/C = 3^-0.6 = 0.51728186.
	stage := power{0.002, 0.6}
	whole, _ := stage.At(50)
	near(t, "equal stages", InSeries(50, pairs[:], stage, stage, stage)/whole, 0.51728186, 1e-7)
}

// power is q = c dp^n, for closed forms that only a power law has.
type power struct{ c, n float64 }

func (p power) At(dp float64) (flow, exponent float64) { return p.c * math.Pow(dp, p.n), p.n }

func TestNetwork_Identity(t *testing.T) {
	a, b := Slot(0.002, 0.04, 1.5, rounded), Slot(0.0005, 0.01, 2.5, rounded)
	var pairs [3]Law
	near(t, "solved against the exact sum", InSeries(50, pairs[:2], a, b), Series(a, b).Flow(50), 1e-13)
	pair := Bundle{{a, 1}, {b, 2}}
	near(t, "parallel", pair.Flow(30), a.Flow(30)+2*b.Flow(30), 1e-15)
	// Unlike stages: the flow at which the drops add, by bisection.
	mixed := Bundle{{Orifice(0.61, rounded), 1e-4}, {Slot(0.0002, 0.02, 1.5, rounded), 1}}
	for _, dp := range []float64{0.5, 4, 50, 600} {
		q := InSeries(dp, pairs[:], pair, mixed, a)
		low, high := 0.0, math.Min(pair.Flow(dp), math.Min(mixed.Flow(dp), a.Flow(dp)))
		if q >= high {
			t.Errorf("%g Pa: series passes %g, its tightest part alone %g", dp, q, high)
		}
		for range 80 {
			mid := (low + high) / 2
			if dropOf(pair, mid)+dropOf(mixed, mid)+a.Drop(mid) < dp {
				low = mid
			} else {
				high = mid
			}
		}
		near(t, "unlike stages", q, low, 1e-11)
		more := InSeries(dp*1.0001, pairs[:], pair, mixed, a)
		less := InSeries(dp/1.0001, pairs[:], pair, mixed, a)
		InSeries(dp, pairs[:], pair, mixed, a)
		near(t, "slope of the pairs", Series(pairs[:]...).Exponent(dp), math.Log(more/less)/(2*math.Log(1.0001)), 1e-6)
	}
	if got := InSeries(50, pairs[:2], a, Slot(0, 0.04, 1.5, rounded)); got != 0 {
		t.Errorf("a closed stage passes %v", got)
	}
	if q, n := (Bundle{{Slot(0, 0.04, 1.5, rounded), 1}}).At(50); q != 0 || n != 1 {
		t.Errorf("a closed bundle passes %v with an exponent of %v", q, n)
	}
	q, n := mixed.At(50)
	l := Pair(50, q, n)
	near(t, "pair, flow", l.Flow(50), q, 1e-13)
	near(t, "pair, exponent", l.Exponent(50), n, 1e-13)
}

// dropOf is the drop at which a bundle passes q, by bisection.
func dropOf(b Bundle, q float64) float64 {
	low, high := 0.0, 1e6
	for range 100 {
		mid := (low + high) / 2
		if b.Flow(mid) < q {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// A law in other air: a crack laid in that air at once is the same.
func TestIn_Identity(t *testing.T) {
	cold, err := air.At(-5, 90000)
	if err != nil {
		t.Fatal(err)
	}
	was, is := Slot(0.001, 0.04, 1.5, rounded).In(rounded, cold), Slot(0.001, 0.04, 1.5, cold)
	near(t, "A", was.A, is.A, 1e-14)
	near(t, "B", was.B, is.B, 1e-14)
}
