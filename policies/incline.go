package policies

import (
	"fmt"
	"math/big"

	"sillwright/schema/quantity"
)

const (
	// inclineReach is the longest run, in nanometres, of a part of a threshold that an angle decides exactly: 2 m.
	inclineReach = 2_000_000_000
	// inclinePrecision is the precision of the tangent in bits, over twice that of the fractions which it is compared with.
	inclinePrecision = 320
)

// Incline gives the tangent of an angle from the level as an exact fraction rise/run, for slopes of whole nanometres,
// and the angle in microdegrees:
//
//	tan(angle) = [a0; a1, a2, ...] as a continued fraction, p_k/q_k its convergents;
//	rise/run = p_k/q_k for the first even k with q_k >= 2e9
//
// angle: more than 0, less than 90 deg, whole microdegrees; not 45 deg, whose tangent is a plain ratio.
//
// Even convergents lie below the tangent, odd ones above, and between p_k/q_k and p_(k+1)/q_(k+1) there is no fraction
// whose denominator is less than q_k + q_(k+1). So no slope r/h with a run h of at most 2e9 nm (2 m) lies between
// rise/run and the tangent; and none is equal to the tangent, which is irrational for every other angle here (Niven,
// Irrational Numbers, 1956, chapter 3; from memory, not verified). So r/h <= tan(angle) exactly where r*run <= h*rise. Beyond 2 m the
// fraction is still below the tangent, by less than 1/(run*run): a steeper slope never passes. Rego multiplies and
// compares whole numbers exactly, whatever their size.
func Incline(text string) (rise, run, angle int64, err error) {
	a, err := quantity.ParseAngle(text)
	if err != nil || a <= 0 || a >= 90*quantity.Degree {
		return 0, 0, 0, fmt.Errorf("%q", text)
	}
	if a == 45*quantity.Degree {
		return 0, 0, 0, fmt.Errorf("%q, whose slope is the ratio 1:1", text)
	}
	p, q := big.NewInt(1), big.NewInt(0) // p_-1, q_-1
	pk, qk := new(big.Int), new(big.Int) // of the step before, p_-2 and q_-2, at first
	qk.SetInt64(1)
	x := tangent(a)
	for k := 0; ; k++ {
		whole, _ := x.Int(nil)
		p, pk = new(big.Int).Add(new(big.Int).Mul(whole, p), pk), p
		q, qk = new(big.Int).Add(new(big.Int).Mul(whole, q), qk), q
		if k%2 == 0 && q.Cmp(big.NewInt(inclineReach)) >= 0 {
			break
		}
		rest := real(0).Sub(x, real(0).SetInt(whole))
		x = real(0).Quo(real(1), rest)
	}
	if !p.IsInt64() || !q.IsInt64() {
		return 0, 0, 0, fmt.Errorf("%q, too steep to be told exactly", text)
	}
	return p.Int64(), q.Int64(), int64(a), nil
}

func real(n int64) *big.Float { return new(big.Float).SetPrec(inclinePrecision).SetInt64(n) }

// tangent is sin/cos by their power series, at an angle of 0 to pi/2:
//
//	sin x = x - x^3/3! + x^5/5! - ..., cos x = 1 - x^2/2! + x^4/4! - ...
//
// summed until a term is below 2^-320, so that the result is right to about 2^-300.
func tangent(a quantity.Angle) *big.Float {
	x := real(int64(a))
	x.Mul(x, pi()).Quo(x, real(int64(180*quantity.Degree)))
	square := real(0).Mul(x, x)
	series := func(term *big.Float, from int64) *big.Float {
		sum := real(0)
		for n := from; term.Sign() != 0 && term.MantExp(nil) > -inclinePrecision; n += 2 {
			sum.Add(sum, term)
			term = real(0).Neg(term.Mul(term, square))
			term.Quo(term, real((n+1)*(n+2)))
		}
		return sum
	}
	return real(0).Quo(series(real(0).Set(x), 1), series(real(1), 0))
}

// pi by Machin's formula, pi = 16 atan(1/5) - 4 atan(1/239), each by its power series.
func pi() *big.Float {
	atan := func(inverse int64) *big.Float {
		sum, power := real(0), real(0).Quo(real(1), real(inverse))
		for n := int64(0); power.MantExp(nil) > -inclinePrecision; n++ {
			term := real(0).Quo(power, real(2*n+1))
			if n%2 == 1 {
				term.Neg(term)
			}
			sum.Add(sum, term)
			power.Quo(power, real(inverse*inverse))
		}
		return sum
	}
	out := real(0).Mul(real(16), atan(5))
	return out.Sub(out, real(0).Mul(real(4), atan(239)))
}

// inclineWords writes the angle of a slope with the slope, as in 15 deg (1:3.73).
func inclineWords(x any) string {
	list, _ := x.([]any)
	if len(list) != 3 {
		return ""
	}
	angle, ok := integer(list[2])
	if !ok {
		return ""
	}
	return fmt.Sprintf("%s deg (%s)", quantity.Angle(angle).Deg(), slope([]any{list[0], list[1]}))
}

// inclineMeasure writes the tangent for a machine. Its decimals do not end: exact says what it is the tangent of.
func inclineMeasure(x any) *Measure {
	list, _ := x.([]any)
	if len(list) != 3 {
		return nil
	}
	m := value{"ratio": []any{list[0], list[1]}}.measure()
	if angle, ok := integer(list[2]); ok && m != nil {
		m.Exact = "tan " + quantity.Angle(angle).Deg() + " deg"
	}
	return m
}
