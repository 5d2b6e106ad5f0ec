package fit

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"sillwright/engine/crack"
	"sillwright/engine/seal"
)

func powerLaw(c, n float64, drops []float64) []float64 {
	out := make([]float64, len(drops))
	for i, dp := range drops {
		out[i] = c * math.Pow(dp, n)
	}
	return out
}

// Readings without error give back the law that they were made with, by all three fits, and no warning.
func TestOf_Identity(t *testing.T) {
	for _, n := range []float64{0.5, 0.65, 0.9, 1} {
		for _, c := range []float64{1e-7, 2.4e-4, 0.3} {
			r := of(t, Readings{Drops: setSDrops, Flows: powerLaw(c, n, setSDrops)})
			near(t, "C", r.Power.C, c, 1e-10)
			near(t, "n", r.Power.N, n, 1e-10)
			near(t, "direct C", r.Direct.C, c, 1e-8)
			near(t, "direct n", r.Direct.N, n, 1e-8)
			if len(r.Notes) > 0 {
				t.Errorf("n %g: %+v", n, r.Notes)
			}
			if n == 0.5 || n == 1 {
				near(t, "flow by the pair", r.Pair.Flow(50).Likely, c*math.Pow(50, n), 1e-9)
			}
		}
	}
}

// The order of the readings, and the unit of the flow, are of no account.
func TestInvariance_Identity(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 4))
	for range 50 {
		flows := drawn(random, crack.Slot(0.001, 0.03, 1.5, airNow).Flow, setSDrops)
		first := of(t, Readings{Drops: setSDrops, Flows: flows})
		order := random.Perm(len(flows))
		mixed := Readings{}
		for _, i := range order {
			mixed.Drops, mixed.Flows = append(mixed.Drops, setSDrops[i]), append(mixed.Flows, flows[i])
		}
		scaled := Readings{Drops: setSDrops}
		for _, q := range flows {
			scaled.Flows = append(scaled.Flows, 3.6*q)
		}
		for k, other := range []*Result{of(t, mixed), of(t, scaled)} {
			by := []float64{1, 3.6}[k]
			near(t, "n", other.Power.N, first.Power.N, 1e-12)
			near(t, "C", other.Power.C, by*first.Power.C, 1e-11)
			a, b := other.Power.Exponent(), first.Power.Exponent()
			near(t, "high n", a.High, b.High, 1e-11)
			near(t, "low flow", other.Power.Flow(50).Low, by*first.Power.Flow(50).Low, 1e-11)
			near(t, "A", other.Pair.A, first.Pair.A/by, 1e-8)
			near(t, "B", other.Pair.B, first.Pair.B/(by*by), 1e-8)
			near(t, "high flow by the pair", other.Pair.Flow(50).High, by*first.Pair.Flow(50).High, 1e-8)
			near(t, "direct n", other.Direct.N, first.Direct.N, 1e-8)
		}
		per := first.Power.Over(2)
		near(t, "a metre", per.Flow(50).High, first.Power.Flow(50).High/2, 1e-12)
		near(t, "a metre of the pair", first.Pair.Over(2).Flow(50).High, first.Pair.Flow(50).High/2, 1e-9)
	}
}

// A zero, a direction and a rig that were put on the readings come off again.
func TestNet_Identity(t *testing.T) {
	law := crack.Slot(0.001, 0.03, 1.5, airNow)
	rig := func(dp float64) float64 { return 5e-5 * math.Pow(dp, 0.7) }
	var r, down Readings
	r.Zero, down.Zero = [2]float64{1.5, 1.5}, [2]float64{-1.5, -1.5}
	for _, dp := range setSDrops {
		r.Drops, r.Flows, r.Blanks = append(r.Drops, dp+1.5), append(r.Flows, law.Flow(dp)+rig(dp)), append(r.Blanks, rig(dp))
		down.Drops, down.Flows, down.Blanks = append(down.Drops, -dp-1.5), append(down.Flows, -law.Flow(dp)-rig(dp)), append(down.Blanks, -rig(dp))
	}
	apart := r
	apart.Blanks = nil
	apart.Blank = &Readings{}
	for _, dp := range []float64{8, 17, 33, 50, 90} {
		apart.Blank.Drops, apart.Blank.Flows = append(apart.Blank.Drops, dp), append(apart.Blank.Flows, rig(dp))
	}
	tight := Readings{Drops: setSDrops, Flows: flowsOf(law, setSDrops), Blank: &Readings{Drops: []float64{20, 40, 60}, Flows: []float64{0, 0, 0}}}
	for name, in := range map[string]Readings{"beside": r, "depressurised": down, "apart": apart, "tight": tight} {
		got := of(t, in)
		near(t, name+", A", got.Pair.A, law.A, 1e-6)
		near(t, name+", B", got.Pair.B, law.B, 1e-6)
		if got.Turned != (name == "depressurised") || (got.BlankLaw != nil) != (name == "apart") {
			t.Errorf("%s: %+v", name, got)
		}
	}
}

// A zero that moved, and a rig that is known roughly, widen the limits; the estimate stays.
func TestErrorsWiden_Identity(t *testing.T) {
	plain := of(t, setS())
	moved := setS()
	moved.Zero = [2]float64{-1, 1}
	meter := setS()
	meter.FlowError = 0.1
	for name, r := range map[string]Readings{"zero": moved, "meter": meter} {
		got := of(t, r)
		near(t, name, got.Power.C, plain.Power.C, 1e-12)
		if p, q := got.Power.Flow(50), plain.Power.Flow(50); !(p.High > 1.001*q.High && p.Low < 0.999*q.Low) || !(got.Pair.Flow(50).High > plain.Pair.Flow(50).High) {
			t.Errorf("%s: %v after %v", name, p, q)
		}
	}
	// 10 per cent of 95 in 100 is far more than the scatter: the limits are little more than it.
	near(t, "high end", of(t, meter).Power.Flow(50).High/plain.Power.Flow(50).Likely, math.Exp(0.1), 3e-3)
	if e, f := of(t, meter).Power.Exponent(), plain.Power.Exponent(); math.Abs(e.High-f.High) > 1e-9 {
		t.Errorf("a scale of the flow says nothing of n: %v, %v", e, f)
	}
}

func TestRefusals(t *testing.T) {
	blank := func(r Readings, flows ...float64) Readings {
		r.Blanks = flows
		return r
	}
	apart := func(drops []float64, flows []float64) Readings {
		r := setS()
		r.Blank = &Readings{Drops: drops, Flows: flows}
		return r
	}
	almost := make([]float64, 8)
	for i, q := range setS().Flows {
		almost[i] = q * (1 - 0.02*float64(i%2) - 0.001)
	}
	for want, r := range map[string]Readings{
		"found 2 readings; allowed: 3 or more":              {Drops: []float64{10, 50}, Flows: []float64{1e-3, 3e-3}},
		"found 1 reading;":                                  {Drops: []float64{10}, Flows: []float64{1e-3}},
		"0 readings":                                        {},
		"a pressure of -10 Pa":                              {Drops: []float64{-10, 20, 30}, Flows: []float64{1e-3, 2e-3, 3e-3}},
		"a pressure of 0 Pa":                                {Drops: []float64{0, 20, 30}, Flows: []float64{1e-3, 2e-3, 3e-3}},
		"a pressure of 5e+04 Pa":                            {Drops: []float64{10, 20, 50000}, Flows: []float64{1e-3, 2e-3, 3e-3}},
		"a pressure of NaN Pa":                              {Drops: []float64{10, 20, math.NaN()}, Flows: []float64{1e-3, 2e-3, 3e-3}},
		"a flow of 0 m3/s at 20 Pa":                         {Drops: []float64{10, 20, 30}, Flows: []float64{1e-3, 0, 3e-3}},
		"a flow of NaN m3/s":                                {Drops: []float64{10, 20, 30}, Flows: []float64{1e-3, math.NaN(), 3e-3}},
		"a flow of +Inf m3/s":                               {Drops: []float64{10, 20, 30}, Flows: []float64{1e-3, math.Inf(1), 3e-3}},
		"a flow of 1e-12 m3/s":                              {Drops: []float64{10, 20, 30}, Flows: []float64{1e-12, 2e-3, 3e-3}},
		"pressures from 50 to 54 Pa, which is one pressure": {Drops: []float64{50, 52, 54}, Flows: []float64{1e-3, 1.1e-3, 1.2e-3}},
		"a flow that does not rise with the pressure: exponent -0.4": {Drops: []float64{10, 20, 40}, Flows: []float64{3e-3, 2e-3, 1.7e-3}},
		"an exponent of 1.500, 95 % limits 1.500 to 1.500":           {Drops: setSDrops, Flows: powerLaw(1e-4, 1.5, setSDrops)},
		"an exponent of 0.489":                                       {Drops: setSDrops, Flows: powerLaw(1e-4, 0.489, setSDrops)},
		"an exponent of 0.300":                                       {Drops: setSDrops, Flows: powerLaw(1e-4, 0.3, setSDrops)},
		"a blank flow of -0.001 m3/s":                                blank(setS(), -1e-3, 0, 0, 0, 0, 0, 0, 0),
		"do not differ beyond their error at 8 of 8 readings":        blank(setS(), almost...),
		"in the blank test 2 readings":                               apart([]float64{10, 50}, []float64{1e-5, 1e-4}),
		"in the blank test a flow of -1e-05":                         apart([]float64{10, 50, 60}, []float64{-1e-5, 1e-4, 2e-4}),
		"in the blank test a flow that does not rise":                apart([]float64{10, 50, 60}, []float64{1e-4, 0.9e-4, 0.9e-4}),
		"a blank test with flows of 0 at some pressures":             apart([]float64{11, 51, 61}, []float64{0, 1e-4, 2e-4}),
		"a blank test with pressures of the other sign":              apart([]float64{-11, -51, -61}, []float64{1e-5, 1e-4, 2e-4}),
		"pressures from 10 to 10 Pa":                                 apart([]float64{10, 10, 10}, []float64{1e-5, 1e-4, 2e-4}),
	} {
		_, err := Of(r)
		var refused Refusal
		if !errors.As(err, &refused) || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want %q", err, want)
		}
		for _, n := range refused {
			if n.ID == "" || n.Found == "" || n.Allowed == "" || n.Do == "" || n.Reading >= max(len(r.Drops), 1) {
				t.Errorf("a part is missing: %+v", n)
			}
		}
	}
	if _, err := Of(Readings{Drops: make([]float64, 100), Flows: make([]float64, 100)}); len(err.(Refusal)) > mostRefusals+1 {
		t.Errorf("%d refusals of one slip", len(err.(Refusal)))
	}
}

func TestWarnings(t *testing.T) {
	with := func(change func(r *Readings)) Readings {
		r := setS()
		change(&r)
		return r
	}
	rig := func(part float64) Readings {
		return with(func(r *Readings) {
			for _, q := range r.Flows {
				r.Blanks = append(r.Blanks, part*q)
			}
		})
	}
	random := rand.New(rand.NewPCG(1, 1))
	rough := make([]float64, 8)
	for i, dp := range setSDrops {
		rough[i] = 1e-4 * math.Pow(dp, 0.7) * math.Exp(0.2*random.NormFloat64())
	}
	wide := []float64{1, 2, 4, 8, 16, 32, 64, 128, 256, 512}
	for _, tc := range []struct {
		id, found string
		reading   int
		r         Readings
	}{
		{"few-readings", "3 readings", -1, Readings{Drops: []float64{10, 30, 80}, Flows: []float64{1.02e-3, 2.09e-3, 3.83e-3}}},
		{"span", "pressures from 50 to 80 Pa", -1, Readings{Drops: setSDrops[4:], Flows: setS().Flows[4:]}},
		{"falling", "less flow at 40 Pa than at 30 Pa", 3, with(func(r *Readings) { r.Flows[3] = 2e-3 })},
		{"outlier", "% off the line of the others at 40 Pa", 3, with(func(r *Readings) { r.Flows[3] = 3.2e-3 })},
		{"exponent", "an exponent of 1.0", -1, Readings{Drops: setSDrops, Flows: []float64{1e-3, 1.9e-3, 3.1e-3, 3.9e-3, 5.2e-3, 5.9e-3, 7.2e-3, 8.2e-3}}},
		{"exponent", "an exponent of 0.495, 95 % limits 0.495 to 0.495", -1, Readings{Drops: setSDrops, Flows: powerLaw(1e-3, 0.495, setSDrops)}},
		{"r2", "r2 of 0.9", -1, Readings{Drops: setSDrops, Flows: rough}},
		{"zero-pressure", "a drop of 6 Pa without flow", -1, with(func(r *Readings) {
			r.Zero = [2]float64{6, 6}
			for i := range r.Drops {
				r.Drops[i] += 6
			}
		})},
		{"held", "readings that ask for an inertial part B of less than 0", -1, Readings{Drops: setSDrops, Flows: []float64{1e-3, 1.95e-3, 3.05e-3, 3.95e-3, 5.1e-3, 5.9e-3, 7.1e-3, 8.1e-3}}},
		{"blank", "a rig that passes 60 % of the flow by itself", -1, rig(0.6)},
		{"blank", "do not differ beyond their error", -1, with(func(r *Readings) {
			r.Blanks = make([]float64, 8)
			r.Blanks[0] = 0.99 * r.Flows[0]
		})},
		{"blank-span", "a blank test at 20 to 60 Pa", -1, with(func(r *Readings) {
			r.Blank = &Readings{Drops: []float64{20, 35, 50, 60, 55}, Flows: powerLaw(1e-5, 0.6, []float64{20, 35, 50, 60, 55})}
		})},
		{"blank-few-readings", "in the blank test 3 readings", -1, with(func(r *Readings) {
			r.Blank = &Readings{Drops: []float64{12, 35, 80}, Flows: powerLaw(1e-5, 0.6, []float64{12, 35, 80})}
		})},
		{"law", "where the flows count as they are", -1, Readings{Drops: wide, Flows: flowsOf(crack.Slot(0.0012, 0.04, 1.5, airNow), wide)}},
	} {
		r, err := Of(tc.r)
		if err != nil {
			t.Errorf("%s: %v", tc.id, err)
			continue
		}
		i := slices.IndexFunc(r.Notes, func(n Note) bool { return n.ID == tc.id && strings.Contains(n.Found, tc.found) })
		if i < 0 || r.Notes[i].Reading != tc.reading || r.Notes[i].Allowed == "" || r.Notes[i].Do == "" {
			t.Errorf("%s: %+v", tc.id, r.Notes)
		}
	}
}

// Studentised residuals as the others alone judge a reading: left out, the line misses it by so many of its own errors.
func TestStudentised_Identity(t *testing.T) {
	r := of(t, setS())
	for i := range r.Drops {
		drops, flows := slices.Delete(slices.Clone(r.Drops), i, i+1), slices.Delete(slices.Clone(r.Flows), i, i+1)
		p, line := powerOf(drops, flows)
		x := math.Log(r.Drops[i])
		miss := math.Log(r.Flows[i]/p.C) - p.N*x
		near(t, fmt.Sprint(i), r.Studentised[i], miss/math.Sqrt(line.Variance*(1+line.Leverage(x))), 1e-9)
	}
}

// A path that curves in logarithms has no outlier at its ends: the pair, which curves, goes through all of it.
func TestCurvedIsNoOutlier(t *testing.T) {
	r := of(t, setS())
	if !(math.Abs(r.Studentised[0]) > 8) {
		t.Errorf("the first reading of set S lies %g of its errors off the line", r.Studentised[0])
	}
	if len(r.Notes) > 0 {
		t.Errorf("%+v", r.Notes)
	}
}

// Extrapolation is told apart from reading: 4 Pa and 100 Pa lie outside 10 to 80 Pa.
func TestExtrapolated(t *testing.T) {
	r := of(t, setS())
	for dp, want := range map[float64]bool{4: true, 9.95: false, 10: false, 50: false, 80.5: false, 100: true} {
		if r.Extrapolated(dp) != want {
			t.Errorf("%g Pa", dp)
		}
	}
}

func pieces(flows ...float64) []Piece {
	var out []Piece
	for _, f := range flows {
		out = append(out, Piece{Law: crack.Law{A: 12000, B: 2.5e6}.Over(f), Drops: [2]float64{10, 80}, Error: 0.01})
	}
	return out
}

// Tests of one seal become one: the mean in logarithms, with what another piece may differ by. t(1) = 12.706, t(2) = 4.303 (printed
// tables of Student's t).
func TestPool_Identity(t *testing.T) {
	pool := func(p []Piece) Pooled {
		out, err := Pool(p)
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	one := pool(pieces(1))
	if one.Scatter < seal.TestScatter-1e-12 || !one.Judged || one.Tests != 1 {
		t.Errorf("one test: %+v", one)
	}
	near(t, "one test", one.Scatter, seal.TestScatter, 1e-12)
	poor := pieces(1)
	poor[0].Error = 0.2
	near(t, "one poor test", pool(poor).Scatter, 1-math.Exp(-0.2*normal), 1e-12)

	missed := pieces(1)
	missed[0].Off = 0.2
	near(t, "a reading that is missed", pool(missed).Scatter, 0.2, 1e-12)

	same := pool(pieces(1, 1, 1))
	near(t, "A", same.Law.A, 12000, 1e-9)
	near(t, "three alike, by their own error", same.Scatter, 1-math.Exp(-4.3027*0.01*math.Sqrt(4.0/3)), 1e-4)
	near(t, "two alike", pool(pieces(1, 1.02)).Scatter, 1-math.Exp(-12.706*math.Log(1.02)/math.Sqrt2*math.Sqrt(1.5)), 1e-3)
	far := pool(pieces(1, 1.4, 1.1))
	if far.Judged || far.Tests != 3 {
		t.Errorf("tests that differ: %+v", far)
	}
	mean := (math.Log(1.4) + math.Log(1.1)) / 3
	s := math.Sqrt((mean*mean + math.Pow(math.Log(1.4)-mean, 2) + math.Pow(math.Log(1.1)-mean, 2)) / 2)
	near(t, "spread", far.Spread, s, 1e-9)
	near(t, "three that differ", far.Scatter, 1-math.Exp(-4.3027*s*math.Sqrt(4.0/3)), 1e-4)
	near(t, "flow", far.Law.Flow(40), crack.Law{A: 12000, B: 2.5e6}.Flow(40)*math.Exp(mean), 1e-6)

	meter := pieces(1, 1, 1, 1, 1, 1)
	for i := range meter {
		meter[i].Meter = 0.1
	}
	near(t, "a meter that all share", pool(meter).Scatter, 1-math.Exp(-math.Hypot(0.1, 2.5706*0.01*math.Sqrt(7.0/6))), 1e-4)
}

func TestPoolErrors(t *testing.T) {
	apart := pieces(1, 1)
	apart[1].Drops = [2]float64{70, 300}
	for want, p := range map[string][]Piece{"no test": nil, "only 70 to 80 Pa in common": apart, "another piece may pass less": pieces(1, 2)} {
		if _, err := Pool(p); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want %q", err, want)
		}
	}
}

// A piece of a fit: a metre of it in standard air.
func TestPieceOf_Identity(t *testing.T) {
	r := of(t, setS())
	p := PieceOf(r, 2, nil, 0.05)
	near(t, "flow", p.Law.Flow(50), r.Pair.Flow(50).Likely/2, 1e-9)
	worst := 0.0
	for _, dp := range steps(10, 80) {
		worst = max(worst, math.Log(r.Pair.Flow(dp).High/r.Pair.Flow(dp).Likely)/normal)
	}
	near(t, "error", p.Error, worst, 1e-9)
	off := 0.0
	for i, dp := range setSDrops {
		off = max(off, math.Abs(r.Flows[i]-r.Pair.Law.Flow(dp))/r.Pair.Law.Flow(dp))
	}
	near(t, "off", p.Off, off, 1e-9)
	if p.Drops != [2]float64{10, 80} || p.Meter != 0.05 {
		t.Errorf("%+v", p)
	}
	c := Conditions{Metered: airNow, Sample: airNow}
	near(t, "in standard air", PieceOf(r, 1, &c, 0).Law.A, r.Pair.A, 1e-9)
}
