// Package wear estimates how a bottom seal loses height in use: by set, which is what it does not spring back, and by what the
// floor rubs off. Classes of durability tell how many openings a door or a seal was tested for.
//
// No wear of a door bottom seal was found published. Sets rest on tables of filaments and rubber, wear on Archard's law with
// rates of the bulk materials; between a clean tile and grit lie three powers of ten. A seal that was itself tested for life is
// better than all of it: see Calibrated.
package wear

import "slices"

// openings are the cycles of the classes 1 to 8 of EN 12400 (test EN 1191), read on two pages that agree.
var openings = []float64{5e3, 1e4, 2e4, 5e4, 1e5, 2e5, 5e5, 1e6}

// closings are the cycles of the classes C0 to C5 of EN 14600, of doors that close by themselves, read on two pages that agree.
var closings = []float64{0, 500, 1e4, 5e4, 1e5, 2e5}

// Class is the class of EN 12400 that a test over some cycles reaches: 0 where it reaches none.
func Class(cycles float64) int {
	return reached(openings, cycles)
}

// Least is the lowest class of EN 12400 that covers so many cycles, and the cycles of that class; false where they are more
// than a million, for which there is none.
func Least(cycles float64) (class int, tested float64, ok bool) {
	i, ok := covering(openings, cycles)
	if !ok {
		return 0, 0, false
	}
	return i + 1, openings[i], true
}

// Cycles of a class of EN 12400, 1 to 8; false for any other.
func Cycles(class int) (float64, bool) {
	if class < 1 || class > len(openings) {
		return 0, false
	}
	return openings[class-1], true
}

// LeastSelfClosing is the lowest class C of EN 14600 that covers so many cycles; false where they are more than 200 000.
func LeastSelfClosing(cycles float64) (class int, ok bool) {
	return covering(closings, cycles)
}

// daysPerYear is the mean year of the Julian calendar.
const daysPerYear = 365.25

// Asked is how many cycles, each an opening and a closing, are asked of a door: openings a day x 365.25 x years.
func Asked(perDay, years float64) float64 { return perDay * daysPerYear * years }

// Years that so many cycles last.
func Years(cycles, perDay float64) float64 { return cycles / (perDay * daysPerYear) }

func reached(classes []float64, cycles float64) int {
	i, exact := slices.BinarySearch(classes, cycles)
	if exact {
		i++
	}
	return i
}

func covering(classes []float64, cycles float64) (int, bool) {
	i, _ := slices.BinarySearch(classes, cycles)
	return i, i < len(classes)
}
