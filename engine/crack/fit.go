package crack

import (
	"fmt"
	"math"

	"sillwright/engine/regress"
)

// apart is how far two pressures must be apart to count as two: a tenth, less rounding.
const apart = 1.0999

// Fitted is a quadratic pair with its errors.
type Fitted struct {
	Law
	Held       string        // "A" or "B" where the readings asked for less than 0 of it and it was held at 0
	Free       Law           // what they asked for; Law where nothing is held
	Covariance [2][2]float64 // of Free, in the order A, B; NaN where Freedom is 0
	Freedom    int           // readings less two
}

// Fit finds the quadratic pair that is nearest to readings of the drop dp (Pa) and the flow q (m3/s, or m2/s a metre):
//
//	dp/q = A + B q,  least squares of the relative errors of dp: weights (q/dp)^2
//
// A or B below 0, which no path has, is taken as 0 and the other is fitted alone; Held says so. Source: the law is linear in A and B,
// so this is linear regression; its covariance is that of the pair before one was held. Errors: fewer than two readings, readings not
// above 0, one pressure only, a flow that does not rise with the pressure.
func Fit(drops, flows []float64) (Fitted, error) {
	if err := fitting(drops, flows); err != nil {
		return Fitted{}, err
	}
	y, weight := make([]float64, len(drops)), make([]float64, len(drops))
	for i, dp := range drops {
		y[i], weight[i] = dp/flows[i], flows[i]*flows[i]/(dp*dp)
	}
	line := regress.Straight(flows, y, weight)
	f := Fitted{Free: Law{A: line.Intercept, B: line.Slope}, Covariance: line.Covariance(), Freedom: line.Freedom}
	f.Law = f.Free
	switch {
	case f.B < 0:
		f.Law, f.Held = Law{A: alone(drops, flows, 1)}, "B"
	case f.A < 0:
		f.Law, f.Held = Law{B: alone(drops, flows, 2)}, "A"
	}
	return f, nil
}

// alone is the one coefficient of dp = k q^power by the same least squares: sum z / sum z^2, z = q^power/dp.
func alone(drops, flows []float64, power int) float64 {
	sum, squares := 0.0, 0.0
	for i, q := range flows {
		z := q / drops[i]
		if power == 2 {
			z *= q
		}
		sum += z
		squares += z * z
	}
	return sum / squares
}

// fitting says why readings make no pair.
func fitting(drops, flows []float64) error {
	if len(drops) != len(flows) {
		return fmt.Errorf("%d drops and %d flows; each reading needs both", len(drops), len(flows))
	}
	if len(drops) < 2 {
		return fmt.Errorf("%d readings; at least two are needed", len(drops))
	}
	least, most := 0, 0
	for i, dp := range drops {
		q := flows[i]
		if !(dp > 0 && q > 0) || math.IsInf(dp, 1) || math.IsInf(q, 1) {
			return fmt.Errorf("reading %d is %g Pa with a flow of %g; both must be above 0", i+1, dp, q)
		}
		if dp < drops[least] {
			least = i
		}
		if dp > drops[most] {
			most = i
		}
	}
	if drops[most] < apart*drops[least] {
		return fmt.Errorf("readings at one pressure only, %g Pa; a second one, well apart, is needed", drops[least])
	}
	if flows[most] <= flows[least] {
		return fmt.Errorf("the flow at %g Pa is not above that at %g Pa", drops[most], drops[least])
	}
	return nil
}

// Slopes are the derivatives of ln q at a drop (Pa) by A and by B: -1/(A + 2 B q) and -q/(A + 2 B q).
func (l Law) Slopes(dp float64) (byA, byB float64) {
	q := l.Flow(dp)
	s := l.A + 2*l.B*q
	return -1 / s, -q / s
}
