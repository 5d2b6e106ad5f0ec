package seal

import (
	"math"

	"sillwright/engine/crack"
	"sillwright/engine/doubt"
	"sillwright/engine/gap"
)

// calibration corrects a model by tests, place by place along the width. Per metre, with the same parameter values in both,
//
//	between two tested overlaps:  q = q_model r,  r runs evenly from q_measured/q_model(test) of the one to that of the other
//	beyond them:                  q = q_measured + q_model - q_model(test) where the place leaks more than the nearest test, by the model
//	                              q = q_measured q_model/q_model(test) where it leaks less
//
// so that what is uncertain about the seal as a whole falls out, and only what differs between the test and the door stays in the
// band, beside the scatter between tests. What daylight adds to a brush that touched in its test is the crack under its tips, whatever
// its body leaks: hence the sum. The proportion keeps a tighter place from leaking less than nothing. All agree at the tests, so the
// flow has no jump where a place passes from one to the next. The overlap of a drop seal is of no account: its first test counts.
//
// Deviation: along a stretch of the width between two tested overlaps the mean r counts, on stretches of a quarter of their distance.
// Source: engineering judgement, not measured.
type calibration struct {
	trials  []trial
	scatter int // the parameter that is the scatter between tests
	x       []float64
	parts   []part
	shift   float64
	likely  float64 // flow at the part of the drop
}

// trial is a test as the model sees it: one metre of even gap.
type trial struct {
	Test
	run   Run
	floor []Named // parameters on the floor of the test

	model, own      float64 // flow by the model a metre, and its exponent, at the drop and for the values in hand
	measured, found float64 // the same by the test
}

// part is what of the width lies between two tested overlaps, or beyond one.
type part struct {
	run    Run
	metres float64
	tests  [2]int  // between which; the same twice beyond
	weight float64 // of the second, by the mean overlap
}

// set adds the scatter between tests to the parameters. tests rise by overlap.
func (c *calibration) set(s *stage, tests []Test) {
	c.trials = c.trials[:0]
	if len(tests) == 0 {
		return
	}
	if _, drops := s.fitted.Model.(DropSeal); drops {
		tests = tests[:1]
	}
	for _, t := range tests {
		c.trials = append(c.trials, trial{Test: t, floor: s.fitted.Model.Parameters(t.Floor, nil), run: Run{
			Pieces: []gap.Piece{{Length: 1}}, Touching: t.Overlap, Drop: s.run.Drop, Air: s.run.Air, LeafThickness: s.run.LeafThickness,
		}})
	}
	c.scatter = len(s.params)
	s.params = append(s.params, scatterOf(tests))
	c.split(s)
}

// quarters is into how many stretches the way between two tests is cut.
const quarters = 4

// split parts the width by the overlaps that were tested, for the shift of the run.
func (c *calibration) split(s *stage) {
	c.parts, c.shift = c.parts[:0], s.run.Shift
	last := len(c.trials) - 1
	if _, drops := s.fitted.Model.(DropSeal); drops {
		c.add(s, math.Inf(-1), math.Inf(1), 0, 0)
		return
	}
	c.add(s, math.Inf(-1), c.trials[0].Overlap, 0, 0)
	for k := range last {
		from, to := c.trials[k].Overlap, c.trials[k+1].Overlap
		for i := range quarters {
			step := (to - from) / quarters
			c.add(s, from+step*float64(i), from+step*float64(i+1), k, k+1)
		}
	}
	c.add(s, c.trials[last].Overlap, math.Inf(1), last, last)
}

// add cuts out what of the run has an overlap from low to high.
func (c *calibration) add(s *stage, low, high float64, first, second int) {
	p := part{run: s.run, tests: [2]int{first, second}}
	p.run.Pieces, p.run.squash, p.run.tips = nil, overlaps{}, nil
	for _, piece := range s.run.Pieces {
		if cut, ok := within(piece, s.run.Touching-s.run.Shift-high, s.run.Touching-s.run.Shift-low); ok {
			p.run.Pieces = append(p.run.Pieces, cut)
			p.metres += cut.Length
			p.weight += cut.Length * s.run.overlap((cut.From+cut.To)/2)
		}
	}
	if p.metres > 0 {
		if from, to := c.trials[first].Overlap, c.trials[second].Overlap; from < to {
			p.weight = (p.weight/p.metres - from) / (to - from)
		} else {
			p.weight = 0
		}
		c.parts = append(c.parts, p)
	}
}

// within is the stretch of a piece whose gap as read is above least and at most most.
func within(p gap.Piece, least, most float64) (gap.Piece, bool) {
	low, high := math.Max(math.Min(p.From, p.To), least), math.Min(math.Max(p.From, p.To), most)
	if p.From == p.To {
		return p, p.From > least && p.From <= most
	}
	if high <= low {
		return gap.Piece{}, false
	}
	p.Length *= (high - low) / math.Abs(p.To-p.From)
	if p.From < p.To {
		p.From, p.To = low, high
	} else {
		p.From, p.To = high, low
	}
	return p, true
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

// model is what the model itself passes on a run, feet apart.
func (c *calibration) model(s *stage, x []float64, r *Run, dp float64) (q, n float64) {
	s.spare = s.spare[:0]
	for k := range s.ways.Many {
		if k != s.foot {
			s.spare = s.fitted.Model.Lay(k, x, r, s.spare)
		}
	}
	return crack.Bundle(s.spare).At(dp)
}

// flow is the corrected flow at a drop, with its exponent, for the parameter values and the shift of the stage.
func (c *calibration) flow(s *stage, dp float64) (flow, exponent float64) {
	if c.shift != s.run.Shift {
		c.split(s)
	}
	for i := range c.trials {
		t := &c.trials[i]
		t.model, t.own = c.model(s, c.values(s, t), &t.run, dp)
		t.measured, t.found = t.Law.In(t.Air, t.run.Air).At(dp)
	}
	sum, weighted := 0.0, 0.0
	for i := range c.parts {
		p := &c.parts[i]
		q, n := c.model(s, s.x, &p.run, dp)
		q, n = c.correct(p, q, n)
		sum += q
		weighted += q * n
	}
	if sum <= 0 {
		return 0, 1
	}
	return sum * s.x[c.scatter], min(max(weighted/sum, 0.5), 1)
}

// correct gives the flow of a part and its exponent from those of the model.
func (c *calibration) correct(p *part, q, n float64) (flow, exponent float64) {
	ratio, slope := 0.0, 0.0
	for side, weight := range [2]float64{1 - p.weight, p.weight} {
		t := &c.trials[p.tests[side]]
		if weight == 0 || t.model <= 0 {
			continue
		}
		if p.tests[0] == p.tests[1] && q > t.model*p.metres { // beyond the tests, and more open
			sum := t.measured*p.metres + q - t.model*p.metres
			return sum, (t.measured*p.metres*t.found + q*n - t.model*p.metres*t.own) / sum
		}
		r := weight * t.measured / t.model
		ratio += r
		slope += r * (t.found - t.own)
	}
	if ratio <= 0 {
		return 0, 1
	}
	return q * ratio, n + slope/ratio
}

// supplied is the part of the likely flow that the tests themselves supply: what is left to the model is at most the rest.
func (c *calibration) supplied(s *stage) float64 {
	sum := 0.0
	for _, p := range c.parts {
		for side, weight := range [2]float64{1 - p.weight, p.weight} {
			t := c.trials[p.tests[side]]
			q, _ := t.Law.In(t.Air, t.run.Air).At(s.part)
			sum += weight * q * p.metres
		}
	}
	if c.likely <= 0 {
		return 1
	}
	return sum / c.likely
}

var doubtTest = doubt.Own("scatter between tests", "test more pieces of the seal, at the overlap that it is set to")

// scatterOf is a factor on the flow: the largest scatter of the tests.
func scatterOf(tests []Test) Named {
	most := 0.0
	for _, t := range tests {
		most = math.Max(most, t.Scatter)
	}
	return Named{doubtTest, doubt.Between(1-most, 1, 1/(1-most))}
}
