package quantity

import (
	"fmt"
	"math/bits"
	"strconv"
	"strings"
)

// MM writes the length in millimetres without loss and without needless zeros: 12.7, 6.35.
func (l Length) MM() string { return fixed(int64(l), 6) }

// Signed writes the length in millimetres to the given decimals with its sign: +0.5, -2.5, 0.0.
func (l Length) Signed(decimals int) string {
	s := strconv.FormatFloat(float64(l)/float64(Millimetre), 'f', decimals, 64)
	if zero := strconv.FormatFloat(0, 'f', decimals, 64); s == "-"+zero || s == zero {
		return zero
	}
	if l > 0 {
		return "+" + s
	}
	return s
}

// Inches writes the length as a fraction of an inch down to 1/64, or as a decimal to 3 places.
func (l Length) Inches() string {
	const sixtyFourth = Inch / 64
	sign := ""
	if l < 0 {
		sign, l = "-", -l
	}
	if l%sixtyFourth != 0 {
		return sign + strings.TrimRight(strings.TrimRight(strconv.FormatFloat(float64(l)/float64(Inch), 'f', 3, 64), "0"), ".")
	}
	n, d := int64(l/sixtyFourth), int64(64)
	whole, rest := n/d, n%d
	if rest == 0 {
		return sign + strconv.FormatInt(whole, 10)
	}
	for rest%2 == 0 {
		rest, d = rest/2, d/2
	}
	if whole == 0 {
		return fmt.Sprintf("%s%d/%d", sign, rest, d)
	}
	return fmt.Sprintf("%s%d %d/%d", sign, whole, rest, d)
}

// N writes the force in newtons without loss.
func (f Force) N() string { return fixed(int64(f), 15) }

// Lbf writes the force in pounds-force, exactly where 3 places hold it.
func (f Force) Lbf() string {
	return rounded(int64(f), int64(PoundForce), 3)
}

// CM2 writes the area in square centimetres without loss.
func (a Area) CM2() string { return fixed(int64(a), 14) }

// In writes the area in a system, with its unit, to 1/100 cm2 or 1/100 in2.
func (a Area) In(s System) string {
	unit, name := 100*SquareMillimetre, " cm2"
	if s == Imperial {
		unit, name = Area(Inch)*Area(Inch), " in2"
	}
	return rounded(int64(a), int64(unit), 2) + name
}

// Deg writes the angle in degrees without loss.
func (a Angle) Deg() string { return fixed(int64(a), 6) }

// S writes the time in seconds without loss.
func (t Time) S() string { return fixed(int64(t), 9) }

// fixed writes n/10^places exactly, trimmed.
func fixed(n int64, places int) string {
	sign, size := "", uint64(n)
	if n < 0 {
		sign, size = "-", -size
	}
	digits := strconv.FormatUint(size, 10)
	if short := places + 1 - len(digits); short > 0 {
		digits = strings.Repeat("0", short) + digits
	}
	point := len(digits) - places
	decimals := strings.TrimRight(digits[point:], "0")
	if decimals == "" {
		return sign + digits[:point]
	}
	return sign + digits[:point] + "." + decimals
}

// rounded writes n/unit to so many decimals, trimmed, halves away from zero. The unit is even, and the decimals are few.
func rounded(n, unit int64, places int) string {
	size, ten := uint64(n), uint64(1)
	if n < 0 {
		size = -size
	}
	for range places {
		ten *= 10
	}
	high, low := bits.Mul64(size, ten)
	low, carry := bits.Add64(low, uint64(unit)/2, 0)
	quotient, _ := bits.Div64(high+carry, low, uint64(unit))
	if n < 0 {
		return fixed(-int64(quotient), places)
	}
	return fixed(int64(quotient), places)
}

// System is a system of units that a text prints or a person reads.
type System string

// The two systems.
const (
	Metric   System = "mm"
	Imperial System = "in"
)

// In writes the length in a system, with its unit.
func (l Length) In(s System) string {
	if s == Imperial {
		return l.Inches() + " in"
	}
	return l.MM() + " mm"
}

// In writes the force in a system, with its unit, to 1/100 N or 1/1000 lbf.
func (f Force) In(s System) string {
	if s == Imperial {
		return f.Lbf() + " lbf"
	}
	return rounded(int64(f), int64(Newton), 2) + " N"
}
