package policies

import (
	"math"
	"strconv"
	"strings"

	"sillwright/schema/quantity"
)

// rate is how a flow over an area or a length is written: in the unit of the text that limits it.
type rate struct {
	unit  string
	per   float64 // of Rego's numbers to one unit: nanometres or square micrometres an hour
	round func(float64) float64
}

// rateIn reads the kind of a value of a rate: its unit alone, for the exact one of a limit, or low, likely or high before it, for
// those of a band.
func rateIn(kind string) (rate, bool) {
	r := rate{unit: kind}
	for word, round := range map[string]func(float64) float64{"low ": math.Floor, "likely ": math.Round, "high ": math.Ceil} {
		if unit, ok := strings.CutPrefix(kind, word); ok {
			r.unit, r.round = unit, round
		}
	}
	per, ok := quantity.Rate(r.unit)
	r.per = float64(per)
	return r, ok
}

func (r rate) words(x float64) string {
	if r.round == nil {
		return strconv.FormatFloat(x/r.per, 'g', 6, 64) + " " + r.unit
	}
	return Significant(x/r.per, r.round) + " " + r.unit
}
