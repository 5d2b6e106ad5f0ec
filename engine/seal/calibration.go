package seal

import (
	"math"

	"sillwright/engine/crack"
	"sillwright/engine/gap"
)

// calibration corrects a model by tests. With the same parameter values in both, per metre,
//
//	q = q_measured q_model(door)/q_model(test)                where the door leaks less than the test, by the model
//	q = q_measured + q_model(door) - q_model(test)            where it leaks more
//
// so that what is uncertain about the seal as a whole falls out, and only what differs between the test and the door stays in the
// band, beside the scatter between tests. What daylight adds to a brush that touched in its test is the crack under its tips, whatever
// its body leaks: hence the sum. The proportion keeps a tighter place from leaking less than nothing. Both agree at the test. Between
// two tested overlaps, where each end is known, the proportions of both count, by how near they are to the mean overlap along the width;
// beyond them the nearest test. The overlap of a drop seal is of no account: its first test counts.
// Source: engineering judgement, not measured.
type calibration struct {
	trials  []trial
	weight  [2]float64
	metres  float64
	scatter int // the parameter that is the scatter between tests
	x       []float64
}

// trial is a test as the model sees it: one metre of even gap.
type trial struct {
	Test
	run      Run
	floor    []Named // parameters on the floor of the test
	base     crack.Bundle
	ends     [maxWays]int
	flow     [maxWays]float64
	weighted [maxWays]float64
	measured float64 // at the seal's part of the drop, per metre
	exponent float64
}

// set takes the tests nearest to the mean overlap of the run, and adds their scatter to the parameters. tests rise by overlap.
func (c *calibration) set(s *stage, tests []Test) {
	c.trials = c.trials[:0]
	if len(tests) == 0 {
		return
	}
	sum, metres := 0.0, 0.0
	for _, p := range s.run.Pieces {
		sum += p.Length * (s.run.overlap(p.From) + s.run.overlap(p.To)) / 2
		metres += p.Length
	}
	c.metres = metres
	mean, above := sum/metres, 0
	if _, drops := s.fitted.Model.(DropSeal); drops {
		tests = tests[:1]
	}
	for above < len(tests) && tests[above].Overlap < mean {
		above++
	}
	chosen := []Test{tests[min(above, len(tests)-1)]}
	c.weight = [2]float64{1, 0}
	if above > 0 && above < len(tests) {
		chosen = append(chosen, tests[above-1])
		part := (mean - tests[above-1].Overlap) / (tests[above].Overlap - tests[above-1].Overlap)
		c.weight = [2]float64{part, 1 - part}
	}
	scatter := 0.0
	for _, t := range chosen {
		scatter = math.Max(scatter, t.Scatter)
		c.trials = append(c.trials, trial{Test: t, floor: s.fitted.Model.Parameters(t.Floor), run: Run{
			Pieces: []gap.Piece{{Length: 1}}, Touching: t.Overlap, Drop: s.run.Drop, Air: s.run.Air, LeafThickness: s.run.LeafThickness,
		}})
	}
	c.scatter = len(s.params)
	s.params = append(s.params, Named{doubtTest, scatterOf(Test{Scatter: scatter})})
}

// values are those of the door, with the floor of a test.
func (c *calibration) values(s *stage, t *trial) []float64 {
	c.x = append(c.x[:0], s.x...)
	for k, p := range t.floor {
		if p.Doubt != s.params[k].Doubt || p.Range != s.params[k].Range {
			c.x[k] = p.Likely
		}
	}
	return c.x
}

func (c *calibration) base(s *stage) {
	for i := range c.trials {
		t := &c.trials[i]
		x := c.values(s, t)
		for k, w := range s.ways {
			if k != s.foot {
				t.base = w.Lay(x, &t.run, t.base)
			}
			t.ends[k] = len(t.base)
		}
	}
}

// apply corrects a flow of the model, with its exponent, at a drop.
func (c *calibration) apply(s *stage, dp, q, n float64) (flow, exponent float64) {
	return c.correct(s, q, n, func(t *trial) (q, n, measured, exponent float64) {
		q, n = t.base.At(dp)
		measured, exponent = t.Law.In(t.Air, t.run.Air).At(dp)
		return q, n, measured, exponent
	})
}

func (c *calibration) correct(s *stage, q, n float64, of func(t *trial) (q, n, measured, exponent float64)) (flow, exponent float64) {
	if len(c.trials) == 0 {
		return q, n
	}
	sum, weighted := 0.0, 0.0
	for i := range c.trials {
		model, own, measured, exponent := of(&c.trials[i])
		model, measured = model*c.metres, measured*c.metres
		switch {
		case model > 0 && (q <= model || len(c.trials) > 1):
			f := c.weight[i] * measured * q / model
			sum += f
			weighted += f * (n + exponent - own)
		case q > model:
			sum += c.weight[i] * (measured + q - model)
			weighted += c.weight[i] * (measured*exponent + q*n - model*own)
		}
	}
	if sum <= 0 {
		return 0, 1
	}
	return sum * s.x[c.scatter], min(max(weighted/sum, 0.5), 1)
}

// keep notes what the model says of each test at the seal's part of the drop.
func (c *calibration) keep(s *stage) {
	for i := range c.trials {
		t := &c.trials[i]
		from := 0
		for k := range s.ways {
			q, n := t.base[from:t.ends[k]].At(s.part)
			t.flow[k], t.weighted[k] = q, q*n
			from = t.ends[k]
		}
		t.measured, t.exponent = t.Law.In(t.Air, t.run.Air).At(s.part)
	}
}

// moved corrects a flow of the model with some parameters changed, in the test as on the door.
func (c *calibration) moved(s *stage, changed uint32, q, n float64) (flow, exponent float64) {
	return c.correct(s, q, n, func(t *trial) (q, n, measured, exponent float64) {
		x := c.values(s, t)
		weighted := 0.0
		for k, w := range s.ways {
			f, m := t.flow[k], t.weighted[k]
			if k != s.foot && w.Uses&changed != 0 {
				s.spare = w.Lay(x, &t.run, s.spare[:0])
				f, m = s.spare.At(s.part)
				m *= f
			}
			q += f
			weighted += m
		}
		if q > 0 {
			n = weighted / q
		}
		return q, n, t.measured, t.exponent
	})
}
