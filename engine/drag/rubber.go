package drag

import (
	"fmt"

	"sillwright/engine/doubt"
)

// Gent is the tensile modulus (Pa) of rubber by its hardness (degrees Shore A):
//
//	E = 0.0981 (56 + 7.62336 S)/(0.137505 (254 - 2.54 S)) MPa
//
// Source: Gent 1958, from memory, not verified. Range: S 20..80, else an error. Other fits give 2.2 to 5.9 MPa at S =
// 60, where this gives 3.6: see Hardness.
func Gent(shore float64) (float64, error) {
	if !(shore >= 20 && shore <= 80) {
		return 0, fmt.Errorf("hardness is %g Shore A; allowed is 20 to 80", shore)
	}
	return 0.0981e6 * (56 + 7.62336*shore) / (0.137505 * (254 - 2.54*shore)), nil
}

// Hardness is the modulus (Pa) by Gent, with the band that fits of hardness to modulus differ by at S = 60, taken in
// proportion at every hardness: 2.2/3.605 to 5.9/3.605 of it. Source: two readings of one fit, E = e^x or 10^x MPa
// with x = 0.0235 S - 0.6403 (secondary, S 30..60). Range: as Gent.
func Hardness(shore float64) (doubt.Range, error) {
	e, err := Gent(shore)
	return doubt.Between(e*2.2/3.605, e, e*5.9/3.605), err
}
