package fit

import (
	"math"

	"sillwright/engine/crack"
	"sillwright/engine/doubt"
)

// Pair is the quadratic law of the flow (m3/s, or m2/s a metre), with the errors of A and B.
type Pair struct {
	crack.Fitted
	errors parts
}

// pairOf fits the pair (crack.Fit) with the error of its scatter.
func pairOf(drops, flows []float64) (Pair, error) {
	f, err := crack.Fit(drops, flows)
	if err != nil {
		return Pair{}, err
	}
	return Pair{f, parts{{f.Covariance, float64(f.Freedom)}}}, nil
}

// Held is "A" or "B" where the readings ask for less than 0 of it, beyond rounding, and it is held at 0.
func (p Pair) Held() string {
	const rounding = 1e-9
	q := p.Law.Flow(1)
	if p.Fitted.Held != "" && math.Min(p.Free.A*q, p.Free.B*q*q) > -rounding {
		return ""
	}
	return p.Fitted.Held
}

// Coefficients are A and B with their 95 per cent limits, none below 0. Of one that is held at 0 the high limit is that of what the
// readings asked for; limits of the other do not count on the hold.
func (p Pair) Coefficients() (a, b doubt.Range) {
	reach := [2]float64{p.errors.reach([2]float64{1, 0}), p.errors.reach([2]float64{0, 1})}
	limits := func(v, free, reach float64) doubt.Range {
		if v == 0 {
			return doubt.Between(0, 0, max(free+reach, 0))
		}
		return doubt.Between(max(v-reach, 0), v, v+reach)
	}
	return limits(p.A, p.Free.A, reach[0]), limits(p.B, p.Free.B, reach[1])
}

// Errors are the standard errors of A and B.
func (p Pair) Errors() (ofA, ofB float64) {
	ofA, _ = p.errors.of([2]float64{1, 0})
	ofB, _ = p.errors.of([2]float64{0, 1})
	return ofA, ofB
}

// Flow is the flow at a drop (Pa) with its 95 per cent limits: d ln q = -(dA + q dB)/(A + 2 B q), to first order.
func (p Pair) Flow(dp float64) doubt.Range {
	byA, byB := p.Law.Slopes(dp)
	return around(p.Law.Flow(dp), p.errors.reach([2]float64{byA, byB}))
}

// Over is the law of the flow per metre, of so many metres of seal: A by them, B by their square.
func (p Pair) Over(metres float64) Pair { return p.scaled(metres, metres*metres) }

// scaled multiplies A and B.
func (p Pair) scaled(a, b float64) Pair {
	p.Law = crack.Law{A: p.Law.A * a, B: p.Law.B * b}
	p.Free = crack.Law{A: p.Free.A * a, B: p.Free.B * b}
	p.errors = p.errors.through([2][2]float64{{a, 0}, {0, b}})
	return p
}

// with adds a source of error: by how much one standard deviation of it moves each ln q. What that does to A and B is found by moving
// the readings a little either way.
func (p Pair) with(drops, flows []float64, freedom float64, moves ...[]float64) Pair {
	const little = 1e-4
	sum := [2][2]float64{}
	for _, m := range moves {
		most := 0.0
		for _, v := range m {
			most = max(most, math.Abs(v))
		}
		if most == 0 {
			continue
		}
		up, down := make([]float64, len(flows)), make([]float64, len(flows))
		for i, q := range flows {
			up[i], down[i] = q*math.Exp(m[i]*little/most), q*math.Exp(-m[i]*little/most)
		}
		high, err1 := crack.Fit(drops, up)
		low, err2 := crack.Fit(drops, down)
		if err1 != nil || err2 != nil {
			continue // readings that just rise; the scatter counts
		}
		by := most / (2 * little)
		sum = plus(sum, outer((high.Free.A-low.Free.A)*by, (high.Free.B-low.Free.B)*by))
	}
	p.errors = append(p.errors[:len(p.errors):len(p.errors)], part{sum, freedom})
	return p
}
