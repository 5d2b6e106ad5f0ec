package policies

import (
	"math"
	"strconv"

	"sillwright/schema/quantity"
)

// rateRounds are the kinds of a predicted rate, a pair of Rego's number and the unit in which the text writes its limit. The ends of a
// band are rounded outwards.
var rateRounds = map[string]func(float64) float64{"low_rate": math.Floor, "rate": math.Round, "high_rate": math.Ceil}

// rateOf reads a rate in its unit: a predicted one, or that of a limit, whose kind is its unit.
func rateOf(kind string, x any) (value float64, unit string, ok bool) {
	unit = kind
	if _, predicted := rateRounds[kind]; predicted {
		pair, _ := x.([]any)
		if len(pair) != 2 {
			return 0, "", false
		}
		x = pair[0]
		unit, _ = pair[1].(string)
	}
	per, ok := quantity.Rate(unit)
	if !ok {
		return 0, "", false
	}
	return float(x) / float64(per), unit, true
}

// rateMeasure is a rate for a machine, with the four figures that a flow is predicted to.
func rateMeasure(kind string, x any) *Measure {
	value, unit, ok := rateOf(kind, x)
	if !ok {
		return nil
	}
	value, _ = strconv.ParseFloat(strconv.FormatFloat(value, 'g', 4, 64), 64)
	return &Measure{Value: value, Unit: unit}
}

// rateWords writes a rate: that of a limit as its text prints it, a predicted one with the digits that it deserves.
func rateWords(kind string, x any) (string, bool) {
	value, unit, ok := rateOf(kind, x)
	if !ok {
		return "", false
	}
	if round := rateRounds[kind]; round != nil {
		return Significant(value, round) + " " + unit, true
	}
	return strconv.FormatFloat(value, 'g', 6, 64) + " " + unit, true
}
