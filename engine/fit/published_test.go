package fit

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"sillwright/engine/air"
	"sillwright/engine/crack"
)

// airNow is standard air.
var airNow = air.Standard()

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: got %.15g, want %.15g", what, got, want)
	}
}

func of(t *testing.T, r Readings) *Result {
	t.Helper()
	out, err := Of(r)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// NIST Statistical Reference Datasets, nonlinear regression, DanWood: y = b1 x^b2, certified to 11 figures; the residual holds every
// datum.
func TestDanWood_Published(t *testing.T) {
	x := []float64{1.309, 1.471, 1.490, 1.565, 1.611, 1.680}
	y := []float64{2.138, 3.421, 3.597, 4.340, 4.882, 5.660}
	u, err := Direct(x, y)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "b1", u.C, 7.6886226176e-01, 1e-10)
	near(t, "b2", u.N, 3.8604055871e+00, 1e-10)
	near(t, "error of b1", u.ErrorC, 1.8281973860e-02, 1e-9)
	near(t, "error of b2", u.ErrorN, 5.1726610913e-02, 1e-9)
	near(t, "residual sum of squares", u.Squares, 4.3173084083e-03, 1e-10)
	near(t, "residual standard deviation", math.Sqrt(u.Squares/4), 3.2853114039e-02, 1e-10)
}

var (
	setSDrops = []float64{10, 20, 30, 40, 50, 60, 70, 80}
	setSFlows = []float64{1.02, 1.63, 2.09, 2.51, 2.88, 3.21, 3.55, 3.83} // L/s
)

func setS() Readings {
	flows := make([]float64, len(setSFlows))
	for i, q := range setSFlows {
		flows[i] = q / 1000
	}
	return Readings{Drops: slices.Clone(setSDrops), Flows: flows}
}

// A power fit as scipy, gonum, octave and statsmodels compute it from the same readings: n, C in L/s, limits of n.
func TestSetS_Published(t *testing.T) {
	r := of(t, setS())
	near(t, "n", r.Power.N, 0.63394238, 1e-7)
	near(t, "C", 1000*r.Power.C, 0.24048879, 1e-7)
	e := r.Power.Exponent()
	near(t, "low limit of n", e.Low, 0.6203356, 1e-6)
	near(t, "high limit of n", e.High, 0.6475492, 1e-6)
}

// The same readings by the equations of ISO 9972 as they are written, with gonum's regression and Student's t: C, and the flow at a drop.
func TestLimits_Published(t *testing.T) {
	r := of(t, setS())
	x, y := logs(r.Drops), logs(r.Flows)
	n := float64(len(x))
	a, b := stat.LinearRegression(x, y, nil, false)
	mean, variance := stat.MeanVariance(x, nil)
	_, variance2 := stat.MeanVariance(y, nil)
	covariance := stat.Covariance(x, y, nil)
	sn := math.Sqrt((variance2-b*covariance)/(n-2)) / math.Sqrt(variance)
	squares := 0.0
	for _, v := range x {
		squares += v * v
	}
	tt := distuv.StudentsT{Sigma: 1, Nu: n - 2}.Quantile(0.975)
	c := r.Power.Coefficient()
	near(t, "C", c.Likely, math.Exp(a), 1e-12)
	near(t, "low C", c.Low, math.Exp(a-tt*sn*math.Sqrt(squares/n)), 1e-9)
	near(t, "high C", c.High, math.Exp(a+tt*sn*math.Sqrt(squares/n)), 1e-9)
	for _, dp := range []float64{4, 10, 50, 100} {
		sy := sn * math.Sqrt((n-1)/n*variance+math.Pow(math.Log(dp)-mean, 2))
		q := r.Power.Flow(dp)
		near(t, "flow", q.Likely, math.Exp(a)*math.Pow(dp, b), 1e-12)
		near(t, "low flow", q.Low, q.Likely*math.Exp(-tt*sy), 1e-9)
		near(t, "high flow", q.High, q.Likely*math.Exp(tt*sy), 1e-9)
	}
}

// The corrections at both ends of a law: a laminar path goes with 1/mu, an orifice with 1/sqrt rho, and so does the pair. Between them the form of
// ASTM E779 stays within 0.6 per cent of the pair, in air that is 22 per cent lighter; that of ISO 9972 leaves the viscosity out.
func TestCorrections_Identity(t *testing.T) {
	hot, err := air.At(38, 84000)
	if err != nil {
		t.Fatal(err)
	}
	standard, at := air.Standard(), Conditions{Metered: hot, Sample: hot}
	for name, tc := range map[string]struct {
		law       crack.Law
		tolerance float64
	}{"laminar": {crack.Law{A: 20000}, 1e-9}, "orifice": {crack.Law{B: 5e6}, 1e-9}, "between": {crack.Slot(0.0008, 0.03, 1.5, hot), 6e-3}} {
		r := of(t, Readings{Drops: setSDrops, Flows: flowsOf(tc.law, setSDrops)})
		power, err := r.Power.Corrected(ASTME779, at)
		if err != nil {
			t.Fatal(err)
		}
		want := tc.law.In(hot, standard)
		near(t, name+", pair", r.Pair.Corrected(at).Flow(30).Likely, want.Flow(30), 1e-9)
		near(t, name+", power", power.C/r.Power.C, want.Flow(30)/tc.law.Flow(30), tc.tolerance)
		iso, err := r.Power.Corrected(ISO9972, at)
		if err != nil {
			t.Fatal(err)
		}
		near(t, name+", without viscosity", iso.C*math.Pow(hot.Viscosity/standard.Viscosity, 2*r.Power.N-1), power.C, 1e-12)
		en, err := r.Power.Corrected(EN1026, at)
		if err != nil {
			t.Fatal(err)
		}
		near(t, name+", standard volume", en.C, r.Power.C*hot.Density/standard.Density, 1e-12)
	}
	if _, err := of(t, setS()).Power.Corrected("e-779", at); err == nil {
		t.Error("a method that is none")
	}
	// Limits of n go on into C: with n known by the readings only, C_0 at its limits of n is C_0 of the formula there, seen from 1 Pa.
	r := of(t, setS())
	p, err := r.Power.Corrected(ASTME779, at)
	if err != nil {
		t.Fatal(err)
	}
	byN := 2*math.Log(hot.Viscosity/standard.Viscosity) - math.Log(hot.Density/standard.Density)
	c := r.Power.errors[0].covariance
	lnC, n := p.Errors()
	near(t, "error of n", n, math.Sqrt(c[1][1]), 1e-12)
	near(t, "error of ln C", lnC, math.Sqrt(c[0][0]+2*byN*c[0][1]+byN*byN*c[1][1]), 1e-9)
}

// Pressurised, the meter takes air from outside and the seal is passed by that of inside; depressurised the other way round (ISO 9972, from
// memory, not verified). What the meter took of dense air is more of thin air past the seal: mass is kept.
func TestDirections_Identity(t *testing.T) {
	inside, err1 := air.At(20, 101325)
	outside, err2 := air.At(0, 101325)
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	if c := Between(inside, outside, true); c.Metered != outside || c.Sample != inside {
		t.Errorf("pressurised: %+v", c)
	}
	c := Between(inside, outside, false)
	if c.Metered != inside || c.Sample != outside {
		t.Errorf("depressurised: %+v", c)
	}
	law := crack.Slot(0.001, 0.03, 1.5, outside)
	flows := flowsOf(law, setSDrops)
	for i := range flows {
		flows[i] *= outside.Density / inside.Density // the same mass, as the meter inside sees it
	}
	r := of(t, Readings{Drops: setSDrops, Flows: flows})
	got, want := r.Pair.Corrected(c), law.In(outside, air.Standard())
	near(t, "A", got.A, want.A, 1e-6)
	near(t, "B", got.B, want.B, 1e-6)
}

func flowsOf(l crack.Law, drops []float64) []float64 {
	out := make([]float64, len(drops))
	for i, dp := range drops {
		out[i] = l.Flow(dp)
	}
	return out
}
