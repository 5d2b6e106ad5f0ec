package fit

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Untransformed is the power law of least squares of the flows themselves, with its standard errors.
type Untransformed struct {
	C, N           float64
	ErrorC, ErrorN float64 // NaN with two readings
	Squares        float64 // residual sum of squares
}

// Direct fits q = C dp^n to the flows as they are, by Gauss-Newton steps from the line in logarithms, halved while they lead uphill:
//
//	least sum (q - C dp^n)^2,  covariance s^2 (J'J)^-1,  s^2 = sum/(N - 2)
//
// A check of the fit in logarithms, not the one reported: it gives large flows nearly all the weight. dp and q of any units, above 0, at
// two dp or more. Held against NIST StRD DanWood. Errors: fewer than two readings; all at one dp.
func Direct(drops, flows []float64) (Untransformed, error) {
	if len(drops) < 2 {
		return Untransformed{}, errors.New("fewer than two readings")
	}
	p, line := powerOf(drops, flows)
	middle := math.Exp(line.Mean) // C at the middle of the readings, where it has nothing to do with n
	scale := p.C * math.Pow(middle, p.N)
	x, y := make([]float64, len(drops)), make([]float64, len(drops))
	for i, dp := range drops {
		x[i], y[i] = math.Log(dp/middle), flows[i]/scale
	}
	c, n, inverse, err := settle(x, y, p.N)
	if err != nil {
		return Untransformed{}, err
	}
	return untransformed(c, n, middle, scale, misfit(x, y, c, n), inverse, len(drops)), nil
}

// settle goes from a coefficient of 1 to the least sum of squares, and gives (J'J)^-1 there.
func settle(x, flows []float64, from float64) (c, n float64, inverse [2][2]float64, err error) {
	c, n = 1, from
	sum := misfit(x, flows, c, n)
	for range 100 {
		dc, dn, _, err := step(x, flows, c, n)
		if err != nil {
			return 0, 0, inverse, err
		}
		part, next := 1.0, sum
		for ; part > 1e-6; part /= 2 {
			if next = misfit(x, flows, c+part*dc, n+part*dn); next <= sum {
				break
			}
		}
		if !(next <= sum) {
			break // rounding: no step lowers it any more
		}
		c, n, sum = c+part*dc, n+part*dn, next
		if math.Abs(dc) <= 1e-13*c && math.Abs(dn) <= 1e-13 {
			break
		}
	}
	_, _, inverse, err = step(x, flows, c, n)
	return c, n, inverse, err
}

// untransformed takes the coefficient from the middle of the readings to 1 Pa, C = c scale middle^-n, and its error with it.
func untransformed(c, n, middle, scale, sum float64, inverse [2][2]float64, readings int) Untransformed {
	u := Untransformed{C: c * scale * math.Pow(middle, -n), N: n, Squares: sum * scale * scale, ErrorC: math.NaN(), ErrorN: math.NaN()}
	if readings > 2 {
		s := math.Sqrt(sum / float64(readings-2))
		u.ErrorC = s * u.C * math.Sqrt(part{covariance: inverse}.variance([2]float64{1 / c, -math.Log(middle)}))
		u.ErrorN = s * math.Sqrt(inverse[1][1])
	}
	return u
}

func misfit(x, flows []float64, c, n float64) float64 {
	sum := 0.0
	for i, q := range flows {
		e := q - c*math.Exp(n*x[i])
		sum += e * e
	}
	return sum
}

// step is the Gauss-Newton step, and (J'J)^-1.
func step(x, flows []float64, c, n float64) (dc, dn float64, inverse [2][2]float64, err error) {
	j, r := mat.NewDense(len(x), 2, nil), mat.NewDense(len(x), 1, nil)
	for i := range x {
		power := math.Exp(n * x[i])
		j.SetRow(i, []float64{power, c * power * x[i]})
		r.Set(i, 0, flows[i]-c*power)
	}
	var d, square, inv mat.Dense
	if err := d.Solve(j, r); err != nil {
		return 0, 0, inverse, err
	}
	square.Mul(j.T(), j)
	if err := inv.Inverse(&square); err != nil {
		return 0, 0, inverse, err
	}
	for i := range 2 {
		for k := range 2 {
			inverse[i][k] = inv.At(i, k)
		}
	}
	return d.At(0, 0), d.At(1, 0), inverse, nil
}
