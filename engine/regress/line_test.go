package regress

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: got %.15g, want %.15g", what, got, want)
	}
}

// NIST Statistical Reference Datasets, linear regression, Norris: y, x.
var norris = [][2]float64{
	{0.1, 0.2}, {338.8, 337.4}, {118.1, 118.2}, {888.0, 884.6}, {9.2, 10.1}, {228.1, 226.5}, {668.5, 666.3}, {998.5, 996.3}, {449.1, 448.6},
	{778.9, 777.0}, {559.2, 558.2}, {0.3, 0.4}, {0.1, 0.6}, {778.1, 775.5}, {668.8, 666.9}, {339.3, 338.0}, {448.9, 447.5}, {10.8, 11.6},
	{557.7, 556.0}, {228.3, 228.1}, {998.0, 995.8}, {888.8, 887.6}, {119.6, 120.2}, {0.3, 0.3}, {0.6, 0.3}, {557.6, 556.8}, {339.3, 339.1},
	{888.0, 887.2}, {998.5, 999.0}, {778.9, 779.0}, {10.2, 11.1}, {117.6, 118.3}, {228.9, 229.2}, {668.4, 669.1}, {449.2, 448.9}, {0.2, 0.5},
}

// Certified values of the National Institute of Standards and Technology; the residual holds every datum.
func TestNorris_Published(t *testing.T) {
	var x, y []float64
	for _, p := range norris {
		x, y = append(x, p[1]), append(y, p[0])
	}
	l := Straight(x, y, nil)
	c := l.Covariance()
	near(t, "slope", l.Slope, 1.00211681802045, 1e-10)
	near(t, "intercept", l.Intercept, -0.262323073774029, 1e-10)
	near(t, "error of the slope", math.Sqrt(c[1][1]), 4.29796848199937e-4, 1e-10)
	near(t, "error of the intercept", math.Sqrt(c[0][0]), 0.232818234301152, 1e-10)
	near(t, "residual", math.Sqrt(l.Variance), 0.884796396144373, 1e-10)
	near(t, "R2", l.R2, 0.999993745883712, 1e-12)
	if l.Freedom != 34 {
		t.Errorf("%d degrees of freedom", l.Freedom)
	}
}

// Reference: weighted normal equations by gonum's mat, s^2 (X'WX)^-1; 100 sets of points.
func TestWeighted_Identity(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 100 {
		const n = 7
		var x, y, w []float64
		root, right := mat.NewDense(n, 2, nil), mat.NewDense(n, 1, nil)
		for i := range n {
			x, y, w = append(x, random.NormFloat64()), append(y, random.NormFloat64()), append(w, random.Float64())
			root.SetRow(i, []float64{math.Sqrt(w[i]), math.Sqrt(w[i]) * x[i]})
			right.Set(i, 0, math.Sqrt(w[i])*y[i])
		}
		var want, square, inverse mat.Dense
		if err := want.Solve(root, right); err != nil {
			t.Fatal(err)
		}
		square.Mul(root.T(), root)
		if err := inverse.Inverse(&square); err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for i := range n {
			e := y[i] - want.At(0, 0) - want.At(1, 0)*x[i]
			sum += w[i] * e * e
		}
		l := Straight(x, y, w)
		near(t, "slope", l.Slope, want.At(1, 0), 1e-9)
		near(t, "intercept", l.Intercept, want.At(0, 0), 1e-9)
		c := l.Covariance()
		for i := range 2 {
			for k := range 2 {
				near(t, "covariance", c[i][k], sum/(n-2)*inverse.At(i, k), 1e-8)
			}
		}
		near(t, "variance at a place", c[0][0]+2*0.3*c[0][1]+0.09*c[1][1], l.Variance*l.Leverage(0.3), 1e-9)
	}
}

// Student's t as printed in tables, for instance the NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, to 3 decimals; with six
// degrees as computed with scipy and jstat.
func TestStudent_Published(t *testing.T) {
	for freedom, want := range map[float64]float64{1: 12.706, 2: 4.303, 3: 3.182, 4: 2.776, 5: 2.571, 10: 2.228, 30: 2.042, 100: 1.984} {
		if got := Student(freedom); math.Abs(got-want) > 6e-4 {
			t.Errorf("%g: got %g, want %g", freedom, got, want)
		}
	}
	near(t, "6", Student(6), 2.446912, 4e-7)
	near(t, "without end", Student(math.Inf(1)), 1.959964, 1e-6)
	if !math.IsInf(Student(0), 1) {
		t.Error("no degree of freedom holds nothing")
	}
}
