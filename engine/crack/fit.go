package crack

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"
)

// apart is how far two pressures must be apart to count as two: a tenth, less rounding.
const apart = 1.0999

// Fit finds the quadratic pair that is nearest to readings of the drop dp (Pa) and the flow q (m3/s, or m2/s a metre):
//
//	dp/q = A + B q,  least squares of the relative errors of dp: weights (q/dp)^2
//
// A or B below 0, which no path has, is taken as 0 and the other is fitted alone. Source: the law is linear in A and B, so this is linear
// regression (gonum stat). Errors: fewer than two readings, readings not above 0, one pressure only, a flow that
// does not rise with the pressure. It gives no limits of confidence.
func Fit(drops, flows []float64) (Law, error) {
	if len(drops) != len(flows) {
		return Law{}, fmt.Errorf("%d drops and %d flows; each reading needs both", len(drops), len(flows))
	}
	if len(drops) < 2 {
		return Law{}, fmt.Errorf("%d readings; at least two are needed", len(drops))
	}
	y, weight := make([]float64, len(drops)), make([]float64, len(drops))
	least, most := 0, 0
	for i, dp := range drops {
		q := flows[i]
		if !(dp > 0 && q > 0) || math.IsInf(dp, 1) || math.IsInf(q, 1) {
			return Law{}, fmt.Errorf("reading %d is %g Pa with a flow of %g; both must be above 0", i+1, dp, q)
		}
		y[i], weight[i] = dp/q, q*q/(dp*dp)
		if dp < drops[least] {
			least = i
		}
		if dp > drops[most] {
			most = i
		}
	}
	if drops[most] < apart*drops[least] {
		return Law{}, fmt.Errorf("readings at one pressure only, %g Pa; a second one, well apart, is needed", drops[least])
	}
	if flows[most] <= flows[least] {
		return Law{}, fmt.Errorf("the flow at %g Pa is not above that at %g Pa", drops[most], drops[least])
	}
	a, b := stat.LinearRegression(flows, y, weight, false)
	switch {
	case b < 0:
		a, b = stat.Mean(y, weight), 0
	case a < 0:
		_, b = stat.LinearRegression(flows, y, weight, true)
		a = 0
	}
	return Law{A: a, B: b}, nil
}
