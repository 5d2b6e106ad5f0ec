package quantity

import (
	"fmt"
	"math/big"
)

// Bounds of the exact types, far beyond any door, so that sums of them stay whole.
const (
	maxLength = 100_000 * Metre
	maxForce  = 5_000 * Newton
	maxAngle  = 100_000 * Degree
	maxTime   = 100_000 * Second
	maxArea   = 9 * SquareMetre
)

// whole turns an exact number into an int64 within a bound, or says what the finest step is.
func whole(text string, value *big.Rat, most int64, finest string) (int64, error) {
	if !value.IsInt() {
		return 0, &Error{fmt.Sprintf("%q, finer than %s", text, finest), "round it to what can be measured"}
	}
	if !value.Num().IsInt64() || value.Num().Int64() > most || value.Num().Int64() < -most {
		return 0, &Error{fmt.Sprintf("%q, far beyond any door", text), "check the number and its unit"}
	}
	return value.Num().Int64(), nil
}

// ParseLength reads a length such as "13 mm", "1/2 in" or "1 1/2 in"; a bare number is in millimetres.
func ParseLength(text string) (Length, error) {
	if n, ok := quickExact(text, quickLength, int64(maxLength)); ok {
		return Length(n), nil
	}
	value, err := parse(KindLength, text)
	if err != nil {
		return 0, err
	}
	n, err := whole(text, value, int64(maxLength), "a nanometre")
	return Length(n), err
}

// ParseForce reads a force such as "22.2 N" or "5 lbf"; a bare number is in newtons.
func ParseForce(text string) (Force, error) {
	if n, ok := quickExact(text, quickForce, int64(maxForce)); ok {
		return Force(n), nil
	}
	value, err := parse(KindForce, text)
	if err != nil {
		return 0, err
	}
	n, err := whole(text, value, int64(maxForce), "a femtonewton (0.01 lbf is exact)")
	return Force(n), err
}

// ParseAngle reads an angle such as "30 deg"; a bare number is in degrees.
func ParseAngle(text string) (Angle, error) {
	if n, ok := quickExact(text, quickAngle, int64(maxAngle)); ok {
		return Angle(n), nil
	}
	value, err := parse(KindAngle, text)
	if err != nil {
		return 0, err
	}
	n, err := whole(text, value, int64(maxAngle), "a millionth of a degree")
	return Angle(n), err
}

// ParseArea reads an area such as "76 cm2"; a bare number is in square centimetres.
func ParseArea(text string) (Area, error) {
	value, err := parse(KindArea, text)
	if err != nil {
		return 0, err
	}
	n, err := whole(text, value.Mul(value, big.NewRat(int64(SquareMetre), 1)), int64(maxArea), "a square nanometre")
	return Area(n), err
}

// ParseTime reads a time such as "6 s"; a bare number is in seconds.
func ParseTime(text string) (Time, error) {
	if n, ok := quickExact(text, quickTime, int64(maxTime)); ok {
		return Time(n), nil
	}
	value, err := parse(KindTime, text)
	if err != nil {
		return 0, err
	}
	n, err := whole(text, value, int64(maxTime), "a nanosecond")
	return Time(n), err
}
