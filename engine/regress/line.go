// Package regress fits straight lines by least squares, with the errors of what they give. It knows nothing of air.
package regress

import (
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Line is y = Intercept + Slope x by weighted least squares, with what its errors need.
type Line struct {
	Intercept, Slope float64
	Mean             float64 // weighted mean of x
	Spread           float64 // weighted sum of (x - Mean)^2
	Weight           float64 // sum of the weights, which are scaled to a mean of 1: the number of points
	Freedom          int     // points less two
	Variance         float64 // of a residual at weight 1; NaN without freedom
	R2               float64 // coefficient of determination; NaN where y does not vary
}

// Straight fits a line to points; weights may be nil.
//
//	Slope = sum w (x - xm)(y - ym) / sum w (x - xm)^2,  Intercept = ym - Slope xm,  Variance = sum w e^2/(N - 2)
//
// Sums are centred (gonum stat), so that nothing cancels; weights count by their ratios only. Wanted: as many y as x, at least two
// different x. Errors are those of ordinary least squares, and hold where w is inverse to the variance of y.
func Straight(x, y, weights []float64) Line {
	w := even(weights)
	l := Line{Weight: float64(len(x)), Freedom: len(x) - 2, Variance: math.NaN(), Mean: stat.Mean(x, w)}
	l.Intercept, l.Slope = stat.LinearRegression(x, y, w, false)
	l.R2 = stat.RSquared(x, y, w, l.Intercept, l.Slope)
	mean, sum := stat.Mean(y, w), 0.0
	for i := range x {
		d, e := x[i]-l.Mean, y[i]-mean-l.Slope*(x[i]-l.Mean)
		l.Spread += at(w, i) * d * d
		sum += at(w, i) * e * e
	}
	if l.Freedom > 0 {
		l.Variance = sum / float64(l.Freedom)
	}
	return l
}

// even scales weights to a mean of 1.
func even(weights []float64) []float64 {
	if weights == nil {
		return nil
	}
	sum := 0.0
	for _, w := range weights {
		sum += w
	}
	out := make([]float64, len(weights))
	for i, w := range weights {
		out[i] = w * float64(len(weights)) / sum
	}
	return out
}

func at(w []float64, i int) float64 {
	if w == nil {
		return 1
	}
	return w[i]
}

// Covariance is that of intercept and slope, {{var a, cov}, {cov, var b}}:
//
//	var b = s^2/Sxx,  var a = s^2 (1/N + xm^2/Sxx),  cov = -s^2 xm/Sxx
func (l Line) Covariance() [2][2]float64 {
	b := l.Variance / l.Spread
	return [2][2]float64{{l.Variance/l.Weight + b*l.Mean*l.Mean, -b * l.Mean}, {-b * l.Mean, b}}
}

// Leverage is what one point of weight 1 at x has in its own fitted value: 1/N + (x - xm)^2/Sxx.
func (l Line) Leverage(x float64) float64 { return 1/l.Weight + (x-l.Mean)*(x-l.Mean)/l.Spread }

// Student is the factor of Student's t that holds 95 of 100 on both sides (gonum distuv): 12.706 with one degree of freedom, 2.447
// with six, 1.960 without end. Below one degree none does.
func Student(freedom float64) float64 { return StudentAt(0.975, freedom) }

// StudentAt is the quantile p of Student's t.
func StudentAt(p, freedom float64) float64 {
	switch {
	case !(freedom > 0):
		return math.Inf(1)
	case freedom > 1e6:
		return distuv.UnitNormal.Quantile(p)
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: freedom}.Quantile(p)
}
