package catalogue

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"sillwright/engine/air"
	"sillwright/engine/crack"
	"sillwright/engine/seal"
	"sillwright/schema"
	"sillwright/schema/quantity"
)

// tests reads the flow tests of a seal. They calibrate its model; a seal without one is what was measured, at the overlaps that
// were tested.
func (r *reader) tests(s *Seal) {
	group, ok := r.node.Member("tests")
	if !ok {
		return
	}
	if s.Kind == "none" {
		r.problem(group.Span, "/tests", "tests of a bare gap", "tests of a seal", "give the seal its kind, or take the tests out")
		return
	}
	for i, n := range group.Items {
		at := fmt.Sprintf("/tests/%d", i)
		t := r.test(at, n, s.Kind)
		r.daylight(at, n, t)
		s.Tests = append(s.Tests, t)
	}
	if s.Kind == "drop-seal" && len(s.Tests) > 1 {
		r.problem(group.Span, "/tests", fmt.Sprintf("%d tests of a drop seal", len(s.Tests)), "one: it finds the floor by itself", "put the readings of all together, and write how far they differ as scatter")
		s.Tests = s.Tests[:1]
	}
	slices.SortStableFunc(s.Tests, func(a, b seal.Test) int { return cmp.Compare(a.Overlap, b.Overlap) })
	for i := 1; i < len(s.Tests); i++ {
		if s.Tests[i].Overlap == s.Tests[i-1].Overlap {
			r.problem(group.Span, "/tests", "two tests at an overlap of "+quantity.OfMetres(s.Tests[i].Overlap).MM()+" mm", "one test an overlap", "put the readings of both together, and write how far they differ as scatter")
		}
	}
	if s.Model == nil {
		s.Model, s.Tests = seal.Measured{Tests: s.Tests}, nil
	}
}

// test reads one of them.
func (r *reader) test(at string, n *schema.Node, kind string) seal.Test {
	t := seal.Test{Air: air.Standard(), Scatter: seal.TestScatter}
	overlap, given := n.Member("overlap")
	switch {
	case given:
		t.Overlap = r.length(at+"/overlap", overlap).Metres()
	case kind != "drop-seal":
		r.problem(n.Span, at, "a test without an overlap", "overlap: 0 mm for a seal that just touched", "say how far the seal was pressed, less than 0 for daylight")
	}
	if v, ok := n.Member("floor"); ok && v.Text != "smooth" {
		if floor, err := seal.TextureOf(v.Text); err == nil {
			t.Floor = floor
		}
	}
	if v, ok := n.Member("scatter"); ok {
		t.Scatter = r.value(at+"/scatter", v)
	}
	if v, ok := n.Member("from"); ok {
		r.from[at[1:]] = v.Text
	}
	r.testAir(at, n, &t)
	if pair, ok := n.Member("pair"); ok {
		viscous, _ := pair.Member("viscous")
		inertial, _ := pair.Member("inertial")
		if viscous != nil && inertial != nil {
			t.Law = crack.Law{A: r.value(at+"/pair/viscous", viscous), B: r.value(at+"/pair/inertial", inertial)}
		}
		if t.Law.A <= 0 && t.Law.B <= 0 {
			r.problem(pair.Span, at+"/pair", "a pair of zeros", "one of the two above 0", "give the pair that was fitted")
		}
		r.pressures(at+"/pressures", n, &t)
		return t
	}
	r.readings(at, n, &t)
	return t
}

// pressures reads which pressures a pair was fitted to.
func (r *reader) pressures(at string, n *schema.Node, t *seal.Test) {
	group, ok := n.Member("pressures")
	if !ok {
		return
	}
	for i, key := range []string{"least", "most"} {
		if v, ok := group.Member(key); ok {
			t.Drops[i] = r.measure(quantity.KindPressure, at+"/"+key, v)
		}
	}
	if !(t.Drops[0] >= seal.MinDrop && t.Drops[1] <= seal.MaxDrop && t.Drops[0] < t.Drops[1]) {
		r.problem(group.Span, at, fmt.Sprintf("pressures from %g to %g Pa", t.Drops[0], t.Drops[1]), fmt.Sprintf("least below most, within %g to %g Pa", seal.MinDrop, seal.MaxDrop), "give the least and the most pressure of the readings")
	}
}

// testAir is the air of the test: 20 C at sea level where it is not said.
func (r *reader) testAir(at string, n *schema.Node, t *seal.Test) {
	group, ok := n.Member("air")
	if !ok {
		return
	}
	temperature, altitude := 20.0, 0.0
	if v, ok := group.Member("temperature"); ok {
		temperature = r.measure(quantity.KindTemperature, at+"/air/temperature", v)
	}
	if v, ok := group.Member("altitude"); ok {
		altitude = r.length(at+"/air/altitude", v).Metres()
	}
	pressure, err := air.Pressure(altitude)
	if err == nil {
		t.Air, err = air.At(temperature, pressure)
	}
	if err != nil {
		r.problem(group.Span, at+"/air", err.Error(), "air as it is at a test", "check temperature and altitude")
		t.Air = air.Standard()
	}
}

// readings fits the quadratic pair, per metre of seal. What the pair misses of them widens the scatter.
func (r *reader) readings(at string, n *schema.Node, t *seal.Test) {
	length, _ := n.Member("length")
	group, _ := n.Member("readings")
	if length == nil || group == nil {
		return
	}
	metres := r.length(at+"/length", length).Metres()
	if metres <= 0 {
		r.problem(length.Span, at+"/length", length.Text, "more than 0 mm", "give the length of seal that was in the test")
		return
	}
	var drops, flows []float64
	for i, reading := range group.Items {
		pressure, _ := reading.Member("pressure")
		flow, _ := reading.Member("flow")
		if pressure == nil || flow == nil {
			return
		}
		where := fmt.Sprintf("%s/readings/%d", at, i)
		drop := r.measure(quantity.KindPressure, where+"/pressure", pressure)
		if drop != 0 && (drop < seal.MinDrop || drop > seal.MaxDrop) {
			r.problem(pressure.Span, where+"/pressure", pressure.Text, fmt.Sprintf("%g to %g Pa", seal.MinDrop, seal.MaxDrop), "give pressures of a flow test, often 10 to 100 Pa")
			return
		}
		drops = append(drops, drop)
		flows = append(flows, r.measure(quantity.KindFlow, where+"/flow", flow)/metres)
	}
	law, err := crack.Fit(drops, flows)
	if err != nil {
		r.problem(group.Span, at+"/readings", err.Error(), "readings above 0 at two pressures or more, the flow rising with the pressure", "check the readings and their units")
		return
	}
	off := 0.0
	for i, dp := range drops {
		off = math.Max(off, math.Abs(flows[i]/law.Flow(dp)-1))
	}
	if off > mostMisfit {
		r.problem(group.Span, at+"/readings", fmt.Sprintf("readings that lie up to %.0f %% off the law of a leak, dp = A q + B q^2", 100*off), "readings within 30 % of it", "look for a wrong unit or a slip; test again")
		return
	}
	t.Law, t.Scatter, t.Drops = law.Law, math.Max(t.Scatter, off), [2]float64{slices.Min(drops), slices.Max(drops)}
}

// mostMisfit is how far a reading may lie off the quadratic pair: engineering judgement.
const mostMisfit = 0.3

// daylight says whether a test leaks at least a part of what the daylight that it was made with lets pass by itself.
func (r *reader) daylight(at string, n *schema.Node, t seal.Test) {
	if t.Overlap >= 0 || t.Law == (crack.Law{}) {
		return
	}
	const dp, deep, most, part = 50, 0.05, 2.5, 0.3
	least := part * crack.Slot(-t.Overlap, deep, most, t.Air).Flow(dp)
	if q := t.Law.Flow(dp); q < least {
		r.problem(n.Span, at, fmt.Sprintf("%.3g L/s a metre at %d Pa with %.4g mm of daylight", 1000*q, dp, -1000*t.Overlap), fmt.Sprintf("%.3g L/s or more, a third of what such a slit lets pass", 1000*least), "check overlap, length and flow")
	}
}
