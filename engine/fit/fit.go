package fit

import (
	"fmt"
	"math"
	"slices"

	"sillwright/engine/regress"
)

// Result is what the readings of one test give: the flow past the seal alone, in the air and by the meter of the test.
type Result struct {
	Drops, Flows []float64 // Pa, m3/s: as fitted, zero and rig taken off
	Whole        []float64 // flow with the rig's own
	Blanks       []float64 // the rig's own; nil: not given
	BlankLaw     *Power    // by which it was taken to the drops of the test; nil: read at them
	Turned       bool      // readings were written below 0

	Power       Power
	Pair        Pair
	Direct      Untransformed
	R2          float64   // of the line in logarithms
	Scatter     float64   // standard deviation of ln q about it
	Residuals   []float64 // ln q less that of the power law
	Studentised []float64 // each by the scatter of the others; 0 with fewer than four readings, or none
	Notes       []Note    // what does not stand in the way
}

// Span is the least and the most drop of the readings, Pa.
func (r *Result) Span() (least, most float64) { return slices.Min(r.Drops), slices.Max(r.Drops) }

// Extrapolated says whether a drop lies outside the readings, by more than a hundredth.
func (r *Result) Extrapolated(dp float64) bool {
	least, most := r.Span()
	return dp < 0.99*least || dp > 1.01*most
}

// Of fits the readings of a test, or says in a Refusal why they carry no fit. Beside the scatter, limits hold the errors of the meters
// where they are given, that of the zero and that of a rig tested blank by itself, each carried to ln C and n as it moves the line:
//
//	flow meter  d ln q = e/1.96;   gauge  d ln q = -n e/(1.96 dp);   zero  half of what it moved over sqrt 3, likewise
//
// (JCGM 100:2008, GUM: law of propagation; 4.3.7 for the zero, which is as likely anywhere between its ends.)
func Of(r Readings) (*Result, error) {
	n := netOf(r, false)
	if len(n.refused) == 0 {
		n.checkSpread()
	}
	if len(n.refused) > 0 {
		return nil, Refusal(n.refused)
	}
	power, line := powerOf(n.drops, n.flows)
	if n.rises(power); len(n.refused) > 0 {
		return nil, Refusal(n.refused)
	}
	pair, err := pairOf(n.drops, n.flows)
	if err != nil {
		return nil, err
	}
	direct, err := Direct(n.drops, n.flows)
	if err != nil {
		return nil, err
	}
	out := &Result{
		Drops: n.drops, Flows: n.flows, Whole: n.whole, Blanks: n.blanks, BlankLaw: n.blankLaw, Turned: n.turned,
		Direct: direct, R2: line.R2, Scatter: math.Sqrt(line.Variance), Studentised: n.outliers(line),
	}
	for i, dp := range n.drops {
		out.Residuals = append(out.Residuals, math.Log(n.flows[i]/power.C)-power.N*math.Log(dp))
	}
	out.Power, out.Pair = n.instruments(r, power, pair)
	n.exponent(out.Power)
	n.goodness(out)
	if len(n.refused) > 0 {
		return nil, Refusal(n.refused)
	}
	out.Notes = n.notes
	return out, nil
}

// normal is how many standard deviations hold 95 of 100 on both sides, and even how many hold all between two ends.
var (
	normal = regress.Student(math.Inf(1))
	ends   = math.Sqrt(3)
)

// instruments adds what the meters, the zero and the rig may be off by.
func (n *net) instruments(r Readings, power Power, pair Pair) (Power, Pair) {
	add := func(freedom float64, moves ...[]float64) {
		power = power.with(n.drops, freedom, moves...)
		pair = pair.with(n.drops, n.flows, freedom, moves...)
	}
	each := func(by func(dp float64) float64) []float64 {
		out := make([]float64, len(n.drops))
		for i, dp := range n.drops {
			out[i] = by(dp)
		}
		return out
	}
	slope := power.N
	for _, source := range []struct {
		size float64
		by   func(dp float64) float64
	}{
		{r.FlowError, func(float64) float64 { return r.FlowError / normal }},
		{r.PressurePart, func(float64) float64 { return -slope * r.PressurePart / normal }},
		{r.PressureError, func(dp float64) float64 { return -slope * r.PressureError / normal / dp }},
		{r.Zero[1] - r.Zero[0], func(dp float64) float64 { return -slope * (r.Zero[1] - r.Zero[0]) / 2 / ends / dp }},
	} {
		if source.size != 0 {
			add(math.Inf(1), each(source.by))
		}
	}
	if n.blankLaw != nil {
		moves, freedom := n.blankMoves()
		add(freedom, moves...)
	}
	return power, pair
}

// goodness holds the scatter against what is usual, and the fit against one that weighs otherwise.
func (n *net) goodness(r *Result) {
	if r.R2 < goodR2 {
		n.warn("r2", -1, fmt.Sprintf("r2 of %.4f", r.R2), fmt.Sprintf("%g or more (ISO 9972)", goodR2), "look for wind, a seal that moves, or a slip; test again")
	}
	if e := r.Power.Exponent(); r.Direct.N < e.Low-rounding || r.Direct.N > e.High+rounding {
		n.warn("law", -1, fmt.Sprintf("an exponent of %.3f where the flows count as they are, which gives the large ones the weight", r.Direct.N), fmt.Sprintf("%.3f to %.3f, as in logarithms", e.Low, e.High),
			"no one exponent holds over all of these readings: rely on the pair, and within the readings only")
	}
	if held := r.Pair.Held(); held != "" {
		what := map[string]string{"A": "a viscous part A", "B": "an inertial part B"}[held]
		n.warn("held", -1, fmt.Sprintf("readings that ask for %s of less than 0", what), "0 or more, which any path has", "it is held at 0, and the other part fitted alone; read at pressures farther apart to tell the two")
	}
}
