package fit

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"sillwright/engine/crack"
	"sillwright/engine/regress"
	"sillwright/engine/seal"
)

// Readings are those of one flow test. Drops are Pa, flows m3/s.
type Readings struct {
	Drops, Flows  []float64
	Zero          [2]float64 // drop without flow, before and after: their mean is taken off every drop
	Blanks        []float64  // what the rig itself leaks at each drop, the seal taped over; nil: not read beside
	Blank         *Readings  // the same from a test of its own; nil: none
	FlowError     float64    // part of the flow that the meter may be off by, alike at all readings, 95 of 100
	PressureError float64    // the same of the drop, Pa
	PressurePart  float64    // the same of the drop, part of it
}

// Note is something that stands against a fit: what was found, what would do, and what to do about it.
type Note struct {
	ID      string
	Reading int // from 0; -1: all of them
	Found   string
	Allowed string
	Do      string
}

// Refusal is why readings carry no fit.
type Refusal []Note

func (r Refusal) Error() string {
	out := ""
	for i, n := range r {
		if i > 0 {
			out += "; "
		}
		out += "found " + n.Found + "; allowed: " + n.Allowed
	}
	return out
}

// Least and most that is asked of readings.
const (
	leastReadings = 3      // two make a law, and leave nothing to tell its error by
	fewReadings   = 5      // what ISO 9972 and ASTM E779 ask for (from memory, not verified)
	apart         = 1.0999 // of the drops, to count as two
	wideApart     = 2.0    // of the drops, to tell n: engineering judgement
	minFlow       = 1e-9   // m3/s
	maxFlow       = 1e3
	leastN        = 0.5  // orifice
	mostN         = 1.0  // laminar
	meterN        = 0.01 // of n, that no meter is good enough to tell, however small the scatter: engineering judgement
	goodR2        = 0.98 // ISO 9972 (from memory, not verified)
	mostZero      = 5.0  // Pa, ISO 9972 (a letter to its committee, read, says so)
	rounding      = 1e-9
)

// net is the readings as they are fitted: zero and rig taken off.
type net struct {
	drops, flows   []float64
	whole, blanks  []float64 // flow with the rig's, and the rig's own
	turned         bool      // drops and flows were below 0
	blankLaw       *Power    // of a rig that was read at other drops
	blankDrops     []float64
	blankVariance  float64 // of its ln q
	notes, refused []Note
}

func (n *net) warn(id string, reading int, found, allowed, do string) {
	n.notes = append(n.notes, Note{id, reading, found, allowed, do})
}

func (n *net) refuse(id string, reading int, found, allowed, do string) {
	n.refused = append(n.refused, Note{id, reading, found, allowed, do})
}

// netOf takes the zero off the drops and the rig's own leakage off the flows. A rig tested blank may pass nothing.
func netOf(r Readings, blank bool) *net {
	n := &net{whole: slices.Clone(r.Flows), blanks: slices.Clone(r.Blanks)}
	zero := (r.Zero[0] + r.Zero[1]) / 2
	below := 0
	for _, dp := range r.Drops {
		n.drops = append(n.drops, dp-zero)
		if dp-zero < 0 {
			below++
		}
	}
	if below == len(n.drops) && below > 0 {
		n.turn()
	}
	n.checkZero(r)
	if !n.count() || !n.positive(n.whole, blank) {
		return n
	}
	if r.Blank != nil {
		n.readBlank(*r.Blank)
	}
	n.flows = slices.Clone(n.whole)
	for i := range n.blanks {
		n.flows[i] -= n.blanks[i]
	}
	if n.blanks != nil && len(n.refused) == 0 {
		n.checkBlank()
	}
	return n
}

// turn takes readings of a depressurised rig, written below 0, as they are above it.
func (n *net) turn() {
	n.turned = true
	for i := range n.drops {
		n.drops[i] = -n.drops[i]
	}
	for _, flows := range [][]float64{n.whole, n.blanks} {
		if !slices.ContainsFunc(flows, func(q float64) bool { return q > 0 }) {
			for i := range flows {
				flows[i] = -flows[i]
			}
		}
	}
}

func (n *net) checkZero(r Readings) {
	for _, z := range r.Zero {
		if math.Abs(z) > mostZero {
			n.warn("zero-pressure", -1, fmt.Sprintf("a drop of %.3g Pa without flow", z), fmt.Sprintf("at most %g Pa either way (ISO 9972)", mostZero), "keep wind and warm air off the rig, and test again")
			return
		}
	}
}

func (n *net) count() bool {
	if len(n.drops) < leastReadings {
		n.refuse("readings", -1, counted(len(n.drops), "reading"), fmt.Sprintf("%d or more: two make a law, and nothing is left to tell its error by", leastReadings),
			"read at more pressures; five or more, well apart, are usual")
		return false
	}
	if len(n.drops) < fewReadings {
		n.warn("few-readings", -1, counted(len(n.drops), "reading"), fmt.Sprintf("%d or more", fewReadings), "read at more pressures: with few the limits are wide")
	}
	return true
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// positive wants drops and flows that a leak can have.
func (n *net) positive(flows []float64, blank bool) bool {
	for i, dp := range n.drops {
		switch q := flows[i]; {
		case !(dp >= seal.MinDrop && dp <= seal.MaxDrop):
			n.refuse("pressure", i, fmt.Sprintf("a pressure of %.4g Pa, the zero taken off", dp), fmt.Sprintf("%g to %g Pa, all with one sign", seal.MinDrop, seal.MaxDrop),
				"check the unit and the sign; leave the reading at rest out, and write it as `# zero pressure before:`")
		case blank && q == 0:
		case !(q > 0):
			n.refuse("flow", i, fmt.Sprintf("a flow of %.4g m3/s at %.4g Pa", q, dp), "more than 0: a leak passes air the way that the pressure drives it", "check the sign; a flow too small for the meter is no reading")
		case !(q >= minFlow && q <= maxFlow):
			n.refuse("flow", i, fmt.Sprintf("a flow of %.4g m3/s", q), fmt.Sprintf("%g to %g m3/s", minFlow, maxFlow), "check the unit of the flow")
		}
		if len(n.refused) >= mostRefusals {
			break
		}
	}
	return len(n.refused) == 0
}

// mostRefusals is how many readings are named of one fault.
const mostRefusals = 5

// checkSpread wants pressures apart, and a flow that rises with them.
func (n *net) checkSpread() {
	least, most := slices.Min(n.drops), slices.Max(n.drops)
	switch {
	case most < apart*least:
		n.refuse("span", -1, fmt.Sprintf("pressures from %.4g to %.4g Pa, which is one pressure", least, most), "pressures well apart, from the least to twice as much or more", "read at other pressures too, often 10 to 100 Pa")
		return
	case most < wideApart*least:
		n.warn("span", -1, fmt.Sprintf("pressures from %.4g to %.4g Pa", least, most), "from the least to twice as much or more", "read at pressures farther apart, which is what tells the exponent")
	}
	order := make([]int, len(n.drops))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(n.drops[a], n.drops[b]) })
	top := order[0]
	for _, i := range order[1:] {
		if n.flows[i] < n.flows[top] && n.drops[i] > 1.02*n.drops[top] {
			n.warn("falling", i, fmt.Sprintf("less flow at %.4g Pa than at %.4g Pa", n.drops[i], n.drops[top]), "a flow that rises with the pressure", "look for a slip, or for a seal that the pressure closes: then no law fits")
		}
		if n.flows[i] > n.flows[top] {
			top = i
		}
	}
}

// rises refuses readings of which a pair cannot be made since the flow does not rise.
func (n *net) rises(power Power) {
	if power.N > 0 {
		if _, err := crack.Fit(n.drops, n.flows); err == nil {
			return
		}
	}
	n.refuse("falling", -1, fmt.Sprintf("a flow that does not rise with the pressure: exponent %.3g", power.N), "a flow at the highest pressure above that at the lowest", "look for columns that were swapped, a wrong unit, or a seal that the pressure closes")
}

// exponent holds n against what a leak can have, with its limits.
func (n *net) exponent(p Power) {
	e := p.Exponent()
	found := fmt.Sprintf("an exponent of %.3f, 95 %% limits %.3f to %.3f", e.Likely, e.Low, e.High)
	const allowed = "0.5, an orifice, to 1, a narrow slit"
	switch {
	case e.High < leastN-meterN || e.Low > mostN+meterN:
		n.refuse("exponent", -1, found, allowed, "look for a wrong unit, columns that were swapped, a zero that was not taken off, or a seal that moves with the pressure")
	case e.Likely < leastN-rounding || e.Likely > mostN+rounding:
		n.warn("exponent", -1, found, allowed, "the limits still reach what a leak can have, or nearly; read more often before you rely on it")
	case e.High-e.Low > mostN-leastN:
		n.warn("exponent", -1, found, "limits less far apart than 0.5 is from 1", "these readings do not tell the exponent: read at pressures farther apart, or more often")
	}
}

// outliers names readings that are off by more than chance makes one of so many: studentised residuals, each by the scatter of the others,
// against Student's t at 0.05/(2 N), N - 3 degrees of freedom (the outlier test of regression texts, after Bonferroni; from memory, not verified).
// A reading is named where it is off the pair of the others too: a path that curves in logarithms is no slip.
func (n *net) outliers(line regress.Line) []float64 {
	out := make([]float64, len(n.drops))
	freedom := float64(line.Freedom - 1)
	if freedom < 1 || !(math.Sqrt(line.Variance) > rounding) {
		return out
	}
	limit, named := regress.StudentAt(1-0.025/line.Weight, freedom), 0
	for i, dp := range n.drops {
		x := math.Log(dp)
		e, h := math.Log(n.flows[i])-line.Intercept-line.Slope*x, line.Leverage(x)
		if h > 1-rounding {
			continue // the line goes through it, whatever it is
		}
		rest := line.Variance*float64(line.Freedom) - e*e/(1-h)
		out[i] = e / math.Sqrt(max(rest, line.Variance*rounding)/freedom*(1-h))
		if math.Abs(out[i]) > limit && named < mostRefusals && math.Abs(n.offPair(i)) > limit {
			named++
			n.warn("outlier", i, fmt.Sprintf("a flow %.1f %% off the line of the others at %.4g Pa: %.1f of its own errors", 100*math.Abs(math.Expm1(e/(1-h))), dp, math.Abs(out[i])),
				fmt.Sprintf("at most %.1f, which is exceeded by chance in 5 of 100 tests", limit), "look for a slip; repeat the reading, and leave none out without a reason")
		}
	}
	return out
}

// offPair is by how many of its own errors a reading is off the pair of all others.
func (n *net) offPair(i int) float64 {
	drops, flows := slices.Delete(slices.Clone(n.drops), i, i+1), slices.Delete(slices.Clone(n.flows), i, i+1)
	p, err := pairOf(drops, flows)
	if err != nil {
		return math.Inf(1) // the others are no test without it
	}
	squares := 0.0
	for k, dp := range drops {
		squares += math.Pow(math.Log(flows[k]/p.Law.Flow(dp)), 2)
	}
	byA, byB := p.Law.Slopes(n.drops[i])
	own, _ := p.errors.of([2]float64{byA, byB})
	return math.Log(n.flows[i]/p.Law.Flow(n.drops[i])) / math.Sqrt(squares/float64(max(p.Freedom, 1))+own*own)
}
