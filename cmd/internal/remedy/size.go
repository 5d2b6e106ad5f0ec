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

// scale is the kind of a scalar value, with its finest step in a system.
type scale struct {
	quantity.Scale
	metric, imperial int64
}

var (
	lengths = scale{quantity.Lengths, int64(fineMetric), int64(fineImperial)}
	forces  = scale{quantity.Forces, int64(quantity.Newton / 10), int64(quantity.PoundForce / 10)}
	times   = scale{quantity.Times, int64(quantity.Second / 10), int64(quantity.Second / 10)}
	areas   = scale{quantity.Areas, int64(100 * quantity.SquareMillimetre), int64(quantity.Inch) * int64(quantity.Inch) / 4}
)

func (s scale) step(of quantity.System) int64 {
	if of == quantity.Imperial {
		return s.imperial
	}
	return s.metric
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

// base is an exact figure of a finding in the finest unit of its kind, of a slope as it is; false where it is none.
func base(exact, unit string) (*big.Rat, bool) {
	if unit == "1" {
		return new(big.Rat).SetString(exact)
	}
	s, ok := quantity.Scales[unit]
	if !ok {
		return nil, false
	}
	n, err := s.Parse(exact + " " + unit)
	return new(big.Rat).SetInt64(n), err == nil
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
