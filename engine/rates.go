package engine

import (
	"math"
	"slices"

	"sillwright/engine/seal"
	"sillwright/schema/door"
	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// ratePressures are the differences in pressure that published texts state the leakage of a door at. 25 Pa is no rounding of 24.9 Pa
// here: each text is judged at its own.
//
//	24.9 Pa  0.10 in of water, UL 1784 as the International Building Code calls for it (IBC 2009, 711.5.2)
//	25 Pa    smoke at room temperature, BS 476-31.1 and EN 1634-3 (Approved Document B volume 2, 2019, Table C1 note 2)
//	50 Pa    fan tests of buildings (ISO 9972)
//	75 Pa    0.30 in of water, windows and doors in North America (Minn. R. 1323.0543, which amends ASHRAE 90.1; AAMA/WDMA/CSA 101/I.S.2/A440)
//	100 Pa   the reference pressure of EN 12207
var ratePressures = []quantity.Pressure{24_900_000, 25 * quantity.Pascal, 50 * quantity.Pascal, 75 * quantity.Pascal, 100 * quantity.Pascal}

// rateFacts take a prediction at each of ratePressures, so they are derived only where a rule asks for one of them.
var rateFacts = []string{"leakage_rates", "edge_rates"}

// rated says whether any of the facts that are wanted is one of rateFacts.
func rated(wanted []string) bool {
	return slices.ContainsFunc(wanted, func(name string) bool { return slices.Contains(rateFacts, name) })
}

// atPressures is what the options share, at each of ratePressures.
func (shared *scoring) atPressures() []*scoring {
	out := make([]*scoring, len(ratePressures))
	for i, p := range ratePressures {
		out[i] = shared.under(float64(p) / float64(quantity.Pascal))
	}
	return out
}

// putRates adds what an option leaks at the pressures of published tests:
//
//	leakage_rates  m3/s through every way that is listed: what Option.Leakage is, at each of ratePressures
//	edge_rates     m3/s through head, hinge, latch and meeting edges alone: smoke tests that leave the threshold out
//
// Air is as the spec has it, else of 20 C at sea level. Each flow comes of the laws of the gaps and seals at that pressure, not of an
// exponent, and has its own band. Where an edge that such a door has is not listed, the sum is the least that it may be.
func putRates(facts fact.Set, at []*scoring, o door.Option) {
	var whole, edges []any
	for i, s := range at {
		all, some := s.leak(o), s.edges(o)
		if len(all.out.Missing) == 0 {
			whole = append(whole, rateOf(ratePressures[i], all.flows))
		}
		if len(some.out.Missing) == 0 && len(some.flows) > 0 {
			edges = append(edges, rateOf(ratePressures[i], some.flows))
		}
	}
	d := at[0].d
	put := func(name string, rates []any, listed bool, formula string) {
		if len(rates) == len(at) { // what is missing is missing at every pressure
			facts[name] = fact.Fact{Value: rates, At: []string{o.Pointer}, Formula: formula, OrMore: !listed}
		}
	}
	put("leakage_rates", whole, d.AllListed(), "sum over the counted paths of the flow at each pressure")
	put("edge_rates", edges, edgesListed(d), "sum over head, hinge, latch and meeting edges of the flow at each pressure")
}

// edges counts the edges that close on a stop or on another leaf, the bottom left out.
func (shared *scoring) edges(o door.Option) *summing {
	s := &summing{scoring: shared, out: &Option{ID: o.ID}}
	s.room()
	for i, p := range s.d.Paths {
		if slices.Contains(stopEdges, p.Kind) {
			s.path(i, p, o)
		}
	}
	return s
}

func rateOf(p quantity.Pressure, flows []seal.Flow) any {
	sum := seal.Total(flows...)
	return map[string]any{
		"at": int64(p), "low": figures(sum.Low, math.Floor), "likely": figures(sum.Likely, math.Round), "high": figures(sum.High, math.Ceil),
	}
}

// putSizes adds what a rate is taken over:
//
//	leaf_area     {width: of all leaves together, height}, nm: the area of the leaves, less than that of the frame
//	joint_length  nm, 2 width + (leaves + 1) height: the edges of the leaves, where two meet counted once
//	edge_joint    nm, the same without the bottom
//
// width is that of all leaves together, height that of the door. EN 12207 divides by the opening joint and by the whole element (test
// house ift Rosenheim), the IBC by the door opening. The joint of doors that slide, fold or roll is not this, and is left out.
func putSizes(facts fact.Set, d *door.Door) {
	height := d.Leaf.Height
	at := []string{height.Pointer}
	var width quantity.Length
	for _, l := range d.Leaves {
		if !l.Width.Known {
			return
		}
		width += l.Width.Value
		at = append(at, l.Width.Pointer)
	}
	if !height.Known || len(d.Leaves) == 0 {
		return
	}
	facts["leaf_area"] = fact.Fact{Value: map[string]any{"width": int64(width), "height": int64(height.Value)}, At: at, Formula: "width of all leaves together times height"}
	if !slices.Contains([]string{"hinged", "pair", "pivot"}, d.Leaf.Operation.Value) {
		return
	}
	upright := quantity.Length(len(d.Leaves)+1) * height.Value
	facts["joint_length"] = fact.Fact{Value: int64(2*width + upright), At: at, Formula: "2 width + (leaves + 1) height"}
	facts["edge_joint"] = fact.Fact{Value: int64(width + upright), At: at, Formula: "width + (leaves + 1) height"}
}
