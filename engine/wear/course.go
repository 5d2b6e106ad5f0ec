package wear

import (
	"fmt"
	"math"

	"sillwright/engine/doubt"
)

// Course is a seal over some cycles: what Loss takes of them that is the same at every place. Not for several goroutines at once.
type Course struct {
	seal    Seal
	ends    [5]values
	cycles  float64
	to      [marches + 1]float64 // cycles after each step
	settled [3]settled           // by the settlings that were asked for
}

// The ends of what is uncertain in a course.
const (
	likely = iota
	loose  // sets least
	quick  // sets most
	slow   // wears least
	fast   // wears most
)

// settled is the part of a set that is there, for cycles of settling: in the middle of each step, and at last.
type settled struct {
	settling float64
	at       [marches]float64
	last     float64
}

// Over is the seal over some cycles. Errors: as Check, and cycles below 0.
func (s Seal) Over(cycles float64) (*Course, error) {
	if err := s.Check(); err != nil {
		return nil, err
	}
	if !(cycles >= 0) || math.IsInf(cycles, 1) {
		return nil, fmt.Errorf("%g cycles; they must be 0 or more", cycles)
	}
	return s.over(cycles), nil
}

// over wants a seal that passes its Check.
func (s Seal) over(cycles float64) *Course {
	c := &Course{seal: s}
	for i := range c.ends {
		c.ends[i] = values{rate: s.Rate.Likely, recovery: s.Recovery.Likely, settling: s.settling().Likely}
	}
	c.ends[loose].recovery, c.ends[loose].settling = s.Recovery.High, s.settling().High
	c.ends[quick].recovery, c.ends[quick].settling = s.Recovery.Low, s.settling().Low
	c.ends[slow].rate, c.ends[fast].rate = s.ends()
	c.reach(cycles)
	return c
}

// reach sets the cycles.
func (c *Course) reach(cycles float64) {
	c.cycles, c.settled = cycles, [3]settled{}
	for i := 1; i <= marches; i++ {
		part := float64(i) / marches
		c.to[i] = cycles * part * part * part
	}
}

// settledBy finds the parts for cycles of settling, once.
func (c *Course) settledBy(settling float64) *settled {
	at := 0
	for at < len(c.settled)-1 && c.settled[at].settling != settling && c.settled[at].settling != 0 {
		at++
	}
	s := &c.settled[at]
	if s.settling == settling {
		return s
	}
	s.settling = settling
	for i := range s.at {
		s.at[i] = -math.Expm1(-((c.to[i] + c.to[i+1]) / 2) / settling)
	}
	s.last = -math.Expm1(-c.cycles / settling)
	return s
}

// Loss is the height (m) that the seal has lost at a place: see Seal.Loss.
func (c *Course) Loss(p Place) (doubt.Band, error) {
	if err := doubt.Exactly(p.Error).Check("error of the overlap (m)", 0, 0.1); err != nil {
		return doubt.Band{}, err
	}
	return c.loss(p), nil
}

// mostSets is how many sets of values a band takes: those of Course.ends, and the overlaps off either way.
const mostSets = 7

// sets are values of what is uncertain, each one by one at its ends, with the losses that they come to.
type sets struct {
	n      int
	of     [mostSets]values
	losses [mostSets]float64
}

func (s *sets) add(v ...values) {
	s.n += copy(s.of[s.n:], v)
}

// loss is the band at a place.
func (c *Course) loss(p Place) doubt.Band {
	var all sets
	rubs := c.seal.rubs(p)
	if all.add(c.ends[:slow]...); rubs {
		all.add(c.ends[slow:]...)
	}
	if p.Error > 0 {
		down, up := c.ends[likely], c.ends[likely]
		down.off, up.off = -p.Error, p.Error
		all.add(down, up)
	}
	c.after(p, &all)
	return band(p, all.losses[:all.n], rubs)
}

// band of the losses by the sets of loss.
func band(p Place, losses []float64, rubs bool) doubt.Band {
	effects := make([]doubt.Effect, 0, 3)
	move := func(d doubt.Doubt) {
		at := 1 + 2*len(effects)
		effects = append(effects, doubt.Effect{Doubt: d, Low: losses[at], High: losses[at+1]})
	}
	move(doubtSet)
	if rubs {
		move(doubtRate)
	}
	if p.Error > 0 {
		move(doubt.Reading)
	}
	out := doubt.BandOf(losses[0], effects)
	out.High = math.Min(out.High, math.Max(p.top(p.Error), losses[0]))
	return out
}

// lane is one set of values on its way through the cycles.
type lane struct {
	set                *settled
	by, off, top, rate float64 // by: what the set comes to in the end; rate over the area
	worn               float64
	which              int
}

const marches = 24

// after finds the losses by some sets of values. Steps are short at first, where the set grows. The sets take each step side by side: each
// waits for its own sums alone, so a processor works on several at once.
func (c *Course) after(p Place, all *sets) {
	s := &c.seal
	var lanes [mostSets]lane
	n := 0
	rubs := s.rubs(p) && p.slides()
	for k := range all.n {
		v := &all.of[k]
		l := &lanes[n]
		*l = lane{set: c.settledBy(v.settling), by: (1 - v.recovery) * math.Max(p.Rest+v.off, 0), off: v.off, top: p.top(v.off), which: k}
		all.losses[k] = l.by * l.set.last
		if !s.rubs(p) || v.rate <= 0 || l.top <= 0 {
			continue
		}
		if !rubs {
			all.losses[k] = math.Min(all.losses[k], l.top)
			continue
		}
		l.rate = v.rate / s.Area
		n++
	}
	for i := range marches {
		span := c.to[i+1] - c.to[i]
		for k := 0; k < n; k++ {
			l := &lanes[k]
			gone := l.by*l.set.at[i] + l.worn
			left := l.top - gone
			if left <= l.top*1e-9 {
				all.settle(l)
				n--
				*l = lanes[n]
				k--
				continue
			}
			first := l.decay(s, p, gone, left)
			step := left * -math.Expm1(-first*span)
			if remains := left - step; remains > l.top*1e-9 {
				step = left * -math.Expm1(-(first+l.decay(s, p, gone+step, remains))/2*span)
			}
			l.worn += step
		}
	}
	for k := range n {
		all.settle(&lanes[k])
	}
}

// decay of what is left of the overlap, per cycle: constant where force goes with overlap.
func (l *lane) decay(s *Seal, p Place, gone, left float64) float64 {
	return l.rate * s.Force.Over(p.Sweep, l.off, gone) / left
}

// settle adds the wear of a lane to its set.
func (s *sets) settle(l *lane) {
	s.losses[l.which] = math.Min(s.losses[l.which]+l.worn, l.top)
}
