package remedy

import (
	"math/big"
	"strings"

	"sillwright/schema"
	"sillwright/schema/quantity"
)

// What a hand can set or a workshop can make, and so the steps in which changes are looked for: common practice, no
// published source.
const (
	fineMetric   = quantity.Millimetre / 10
	fineImperial = quantity.Inch / 64
)

// system is what a value is written in: inches where it names them, else millimetres. A value that is not written is
// given in the system of the whole spec.
func (s *spec) system(pointer string) quantity.System {
	n := s.node(pointer)
	if n == nil || n.Kind != schema.String {
		if n != nil && n.Kind == schema.Number {
			return quantity.Metric
		}
		return s.door.System()
	}
	for _, unit := range []string{"in", "\"", "ft", "foot", "feet", "lbf"} {
		if strings.Contains(n.Text, unit) {
			return quantity.Imperial
		}
	}
	return quantity.Metric
}

// scale is the kind of a scalar value and its finest steps.
type scale struct {
	step  func(quantity.System) int64
	parse func(string) (int64, error)
	write func(int64, quantity.System) string
}

var lengths = scale{
	func(s quantity.System) int64 {
		if s == quantity.Imperial {
			return int64(fineImperial)
		}
		return int64(fineMetric)
	},
	func(text string) (int64, error) { l, err := quantity.ParseLength(text); return int64(l), err },
	func(n int64, s quantity.System) string { return quantity.Length(n).In(s) },
}

var forces = scale{
	func(s quantity.System) int64 {
		if s == quantity.Imperial {
			return int64(quantity.PoundForce / 10)
		}
		return int64(quantity.Newton / 10)
	},
	func(text string) (int64, error) { f, err := quantity.ParseForce(text); return int64(f), err },
	func(n int64, s quantity.System) string { return quantity.Force(n).In(s) },
}

var times = scale{
	func(quantity.System) int64 { return int64(quantity.Second / 10) },
	func(text string) (int64, error) { t, err := quantity.ParseTime(text); return int64(t), err },
	func(n int64, _ quantity.System) string { return quantity.Time(n).S() + " s" },
}

var areas = scale{
	func(s quantity.System) int64 {
		if s == quantity.Imperial {
			return int64(quantity.Inch) * int64(quantity.Inch) / 4
		}
		return int64(100 * quantity.SquareMillimetre)
	},
	func(text string) (int64, error) { a, err := quantity.ParseArea(text); return int64(a), err },
	func(n int64, s quantity.System) string { return quantity.Area(n).In(s) },
}

// below is the greatest multiple of a step that is no more than a number, above the least that is no less.
func below(n, step int64) int64 {
	q := n / step
	if n%step < 0 {
		q--
	}
	return q * step
}

func above(n, step int64) int64 { return -below(-n, step) }

// base is an exact figure of a finding in base units of its kind, as a length in nanometres; false where it is none.
func base(exact, unit string) (*big.Rat, bool) {
	r, ok := new(big.Rat).SetString(exact)
	if !ok {
		return nil, false
	}
	of, ok := map[string]int64{
		"mm": int64(quantity.Millimetre), "N": int64(quantity.Newton), "s": int64(quantity.Second), "cm2": int64(100 * quantity.SquareMillimetre), "1": 1,
	}[unit]
	if !ok {
		return nil, false
	}
	return r.Mul(r, new(big.Rat).SetInt64(of)), true
}

// gap is by how much a finding misses its limit, in base units, without its sign; 0 where that is not known.
func gap(measured, limit *big.Rat) int64 {
	d := new(big.Rat).Sub(measured, limit)
	d.Abs(d)
	n := new(big.Int).Quo(d.Num(), d.Denom())
	if !d.IsInt() {
		n.Add(n, big.NewInt(1))
	}
	if !n.IsInt64() {
		return 0
	}
	return n.Int64()
}
