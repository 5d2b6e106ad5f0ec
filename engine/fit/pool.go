package fit

import (
	"fmt"
	"math"

	"sillwright/engine/crack"
	"sillwright/engine/regress"
	"sillwright/engine/seal"
)

// Piece is a test of one piece of a seal: its pair a metre in standard air, and how far the test itself may be off.
type Piece struct {
	Law   crack.Law
	Drops [2]float64 // least and most of its readings, Pa
	Error float64    // largest standard error of ln q within them
	Off   float64    // how far the pair misses a reading at most, part of the flow
	Meter float64    // part of it that is the meter's, alike in all tests on the rig: of ln q, 95 of 100
}

// PieceOf makes a piece of a fit: a metre of so many, in standard air, or taken for it where the air is not known.
func PieceOf(r *Result, metres float64, c *Conditions, meter float64) Piece {
	pair := r.Pair.Over(metres)
	if c != nil {
		pair = pair.Corrected(*c)
	}
	least, most := r.Span()
	p := Piece{Law: pair.Law, Drops: [2]float64{least, most}, Meter: meter}
	for i, dp := range r.Drops {
		p.Off = max(p.Off, math.Abs(r.Flows[i]/r.Pair.Law.Flow(dp)-1))
	}
	for _, dp := range steps(least, most) {
		byA, byB := pair.Law.Slopes(dp)
		p.Error = max(p.Error, pair.errors.reach([2]float64{byA, byB})/normal)
	}
	return p
}

// Pooled is what tests of several pieces of one seal at one overlap say of another piece.
type Pooled struct {
	Law     crack.Law
	Drops   [2]float64 // that all were read over
	Tests   int
	Spread  float64 // standard deviation of ln q between tests, the largest over Drops; 0 with one
	Scatter float64 // part of the flow by which another piece may differ, 95 of 100
	Judged  bool    // Scatter is what is taken for one test: engineering judgement, not measured
}

// Pool makes one pair of tests of one seal at one overlap, and says by which part of the flow another piece may differ, 95 of 100:
//
//	ln q = mean of ln q_k over the drops that all were read at;  s^2 = sum (ln q_k - ln q)^2/(k - 1)
//	1/(1 - scatter) = exp(sqrt((t s sqrt(1 + 1/k))^2 + m^2)),  t = Student(0.975, k - 1)
//
// s is never less than what the tests themselves are off by, m the meter's part. Source: prediction limits of one more value of a normal law (any text on
// statistics). Few tests tell little: t is 12.7 with two, 4.3 with three. Judgement that would make less of it holds 70 to 90 of 100 where
// pieces differ by 10 to 20 per cent, and not 95, so none is mixed in. One test says nothing of other pieces: seal.TestScatter is taken, or what the
// test is off by or the pair misses of a reading, where that is more. Errors: no tests; no drops in common; tests that differ beyond any use.
func Pool(pieces []Piece) (Pooled, error) {
	if len(pieces) == 0 {
		return Pooled{}, fmt.Errorf("no test; at least one is needed")
	}
	one := -math.Log(1 - seal.TestScatter)
	if len(pieces) == 1 {
		p := pieces[0]
		reach := max(one, p.Error*normal, -math.Log(1-min(p.Off, 0.999)))
		return Pooled{Law: p.Law, Drops: p.Drops, Tests: 1, Scatter: 1 - math.Exp(-reach), Judged: reach == one}, fits(reach)
	}
	out, within, meter, err := together(pieces)
	if err != nil {
		return Pooled{}, err
	}
	k := float64(len(pieces))
	s := math.Max(out.Spread, math.Sqrt(within))
	reach := math.Hypot(regress.Student(k-1)*s*math.Sqrt(1+1/k), meter)
	out.Scatter = 1 - math.Exp(-reach)
	return out, fits(reach)
}

// fits refuses tests that say next to nothing.
func fits(reach float64) error {
	const most = 0.95
	if 1-math.Exp(-reach) > most {
		return fmt.Errorf("tests by which another piece may pass less than %.0f %% of the flow, or %.0f times as much", 100*(1-most), 1/(1-most))
	}
	return nil
}

// together is the pair of the mean flow, with the spread of the tests about it; within is the mean square of their own errors, meter
// the part of them that is the meter's.
func together(pieces []Piece) (out Pooled, within, meter float64, err error) {
	out = Pooled{Tests: len(pieces), Drops: pieces[0].Drops}
	for _, p := range pieces {
		out.Drops = [2]float64{max(out.Drops[0], p.Drops[0]), min(out.Drops[1], p.Drops[1])}
		within += p.Error * p.Error / float64(len(pieces))
		meter = max(meter, p.Meter)
	}
	if !(out.Drops[1] >= wideApart*out.Drops[0]) {
		return out, 0, 0, fmt.Errorf("%d tests that have only %.4g to %.4g Pa in common", len(pieces), out.Drops[0], out.Drops[1])
	}
	drops := steps(out.Drops[0], out.Drops[1])
	flows := make([]float64, len(drops))
	for i, dp := range drops {
		mean, squares := 0.0, 0.0
		for _, p := range pieces {
			mean += math.Log(p.Law.Flow(dp)) / float64(len(pieces))
		}
		for _, p := range pieces {
			d := math.Log(p.Law.Flow(dp)) - mean
			squares += d * d
		}
		flows[i] = math.Exp(mean)
		out.Spread = max(out.Spread, math.Sqrt(squares/float64(len(pieces)-1)))
	}
	f, err := crack.Fit(drops, flows)
	out.Law = f.Law
	return out, within, meter, err
}

// steps are drops from the least to the most, evenly in logarithms.
func steps(least, most float64) []float64 {
	const count = 9
	out := make([]float64, count)
	for i := range out {
		out[i] = least * math.Pow(most/least, float64(i)/(count-1))
	}
	return out
}
