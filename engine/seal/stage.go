package seal

import (
	"math"

	"sillwright/engine/crack"
)

// stage is one seal of an edge at work: its parameter values, and what each of its ways lets pass.
type stage struct {
	fitted Fitted
	params []Named
	x      []float64
	ways   Ways
	run    Run
	base   crack.Bundle // laws of every way, likely values
	ends   [maxWays]int // where each way's laws end in base
	spare  crack.Bundle
	tips   [2]scatteredGaps
	tests  calibration

	part     float64 // drop over this seal, Pa
	flow     [maxWays]float64
	weighted [maxWays]float64 // flow x exponent
	foot     int              // the way that is its feet; -1: none
}

func (s *stage) basis() string {
	if s.tested() && s.tests.supplied(s) >= mostly {
		return BasisMeasured
	}
	return s.fitted.Model.Basis()
}

// mostly is the part of a flow that tests must supply for it to count as measured.
const mostly = 0.5

// tested says whether tests calibrate the model.
func (s *stage) tested() bool { return len(s.tests.trials) > 0 }

// set prepares the seal on a run.
func (s *stage) set(f Fitted, run Run) {
	s.fitted, s.run, s.foot = f, run, -1
	s.tips[0].at, s.run.tips = s.tips[0].at[:0], &s.tips
	s.params, s.ways = f.Model.Parameters(f.Floor, s.params[:0]), f.Model.Ways(run.Drop)
	s.tests.set(s, f.Tests)
	if f.Foot.High > 0 {
		at := len(s.params)
		s.params = append(s.params,
			Named{doubtFeet, f.Foot},
			Named{doubtHole, dischargeRange})
		s.foot = s.ways.Many
		s.ways.add(uses(at, at+1))
	}
	s.x = s.x[:0]
	for _, p := range s.params {
		s.x = append(s.x, p.Likely)
	}
	s.base = s.base[:0]
	for i := range s.ways.Many {
		s.base = s.lay(i, &s.run, s.base)
		s.ends[i] = len(s.base)
	}
}

// lay lays a way. The two feet of a seal are holes as high as the gap at each end and as wide as the clearance.
func (s *stage) lay(way int, r *Run, out crack.Bundle) crack.Bundle {
	if way != s.foot {
		return s.fitted.Model.Lay(way, s.x, r, out)
	}
	at := len(s.params) - 2
	height := math.Max(r.Ends[0]+r.Shift, 0) + math.Max(r.Ends[1]+r.Shift, 0)
	return append(out, crack.Share{Law: crack.Orifice(s.x[at+1], r.Air), Extent: s.x[at] * height})
}

// At is the likely flow of the seal and its exponent. A test does not speak of the feet.
func (s *stage) At(dp float64) (flow, exponent float64) {
	if !s.tested() {
		return s.base.At(dp)
	}
	q, n := s.tests.flow(s, dp)
	if s.foot < 0 {
		return q, n
	}
	f, m := s.base[s.ends[s.foot-1]:].At(dp)
	return both(q, q*n, f, f*m)
}

// keep notes what each way passes at the seal's part of the drop.
func (s *stage) keep(part float64) {
	s.part = part
	from := 0
	for i := range s.ways.Many {
		q, n := s.base[from:s.ends[i]].At(part)
		s.flow[i], s.weighted[i] = q, q*n
		from = s.ends[i]
	}
	if s.tested() {
		s.tests.likely, _ = s.tests.flow(s, part)
	}
}

// moved is the flow with one parameter at another value. Ways that do not hang on it stay as they are.
func (s *stage) moved(k int, value float64) (flow, exponent float64) {
	likely := s.x[k]
	s.x[k] = value
	q, n := s.sum(1<<k, &s.run)
	s.x[k] = likely
	return q, n
}

// shifted is the flow with the gap off by some metres.
func (s *stage) shifted(shift float64) (flow, exponent float64) {
	s.run.Shift = shift
	q, n := s.sum(math.MaxUint32, &s.run)
	s.run.Shift = 0
	return q, n
}

// sum lays the ways that hang on some parameters anew and adds the rest as kept. Where tests correct the model, they lay its ways
// themselves.
func (s *stage) sum(changed uint32, r *Run) (flow, exponent float64) {
	q, weighted, footFlow, footWeighted := 0.0, 0.0, 0.0, 0.0
	for i := range s.ways.Many {
		if s.tested() && i != s.foot {
			continue
		}
		f, m := s.flow[i], s.weighted[i]
		if s.ways.Uses[i]&changed != 0 {
			s.spare = s.lay(i, r, s.spare[:0])
			f, m = s.spare.At(s.part)
			m *= f
		}
		if i == s.foot {
			footFlow, footWeighted = f, m
			continue
		}
		q += f
		weighted += m
	}
	if s.tested() {
		q, weighted = s.tests.flow(s, s.part)
		weighted *= q
	}
	return both(q, weighted, footFlow, footWeighted)
}

// both adds two flows, each with the product of flow and exponent.
func both(q, weighted, foot, footWeighted float64) (flow, exponent float64) {
	if q+foot <= 0 {
		return 0, 1
	}
	return q + foot, (weighted + footWeighted) / (q + foot)
}

// footless is the likely flow without the feet.
func (s *stage) footless() (flow, exponent float64) {
	if s.tested() {
		return s.tests.flow(s, s.part)
	}
	q, weighted := 0.0, 0.0
	for i := range s.ways.Many {
		if i != s.foot {
			q += s.flow[i]
			weighted += s.weighted[i]
		}
	}
	return both(q, weighted, 0, 0)
}
