package quantity

import (
	"fmt"
	"math/big"
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
	r := big.NewRat(int64(f), int64(PoundForce))
	return strings.TrimRight(strings.TrimRight(r.FloatString(3), "0"), ".")
}

// CM2 writes the area in square centimetres without loss.
func (a Area) CM2() string { return fixed(int64(a), 14) }

// In writes the area in a system, with its unit, to 1/100 cm2 or 1/100 in2.
func (a Area) In(s System) string {
	unit, name := 100*SquareMillimetre, " cm2"
	if s == Imperial {
		unit, name = Area(Inch)*Area(Inch), " in2"
	}
	n := big.NewRat(int64(a), int64(unit)).FloatString(2)
	return strings.TrimRight(strings.TrimRight(n, "0"), ".") + name
}

// Deg writes the angle in degrees without loss.
func (a Angle) Deg() string { return fixed(int64(a), 6) }

// S writes the time in seconds without loss.
func (t Time) S() string { return fixed(int64(t), 9) }

// fixed writes n/10^places exactly, trimmed.
func fixed(n int64, places int) string {
	r := new(big.Rat).SetFrac(big.NewInt(n), new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil))
	s := r.FloatString(places)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
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
	n := big.NewRat(int64(f), int64(Newton)).FloatString(2)
	return strings.TrimRight(strings.TrimRight(n, "0"), ".") + " N"
}
