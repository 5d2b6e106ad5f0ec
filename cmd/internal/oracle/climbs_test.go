package oracle

import "math/big"

// climb is what rises with nothing level and no fall within; first and last are its parts in the profile, from outside.
type climb struct {
	steps       []step
	first, last int
	rise, run   *big.Rat // run nil: not known
}

// way is a threshold as it is climbed from one side.
type way struct {
	inside  bool
	climbs  []climb
	unknown bool // a rise is not known
}

// read says whether all of a way is known.
func (w way) read() verdict {
	if w.unknown {
		return unknown
	}
	return pass
}

// top is the highest end of a climb, above its floor or the lowest point of its dip.
func (w way) top() *big.Rat {
	out := new(big.Rat)
	for _, c := range w.climbs {
		out = greater(out, c.steps[len(c.steps)-1].height())
	}
	return out
}

func (s step) height() *big.Rat {
	if s.to == nil {
		return s.climb
	}
	return greater(s.to, minus(s.to, s.low))
}

func everyWay(d door, judge func(way) verdict) verdict {
	if !d.drawn {
		return unknown
	}
	return all(judge(wayOf(d, false)), judge(wayOf(d, true)))
}

func wayOf(d door, inside bool) way {
	out, going := way{inside: inside}, false
	for i, s := range walk(d.profile, inside) {
		at := i
		if inside {
			at = len(d.profile) - 1 - i
		}
		switch {
		case s.rise == nil:
			out.unknown, going = true, false
		case s.rise.Sign() < 0:
			going = false
		case s.rise.Sign() == 0:
			going = going && s.run != nil && s.run.Sign() == 0 // nothing at all
		default:
			if !going {
				out.climbs = append(out.climbs, climb{first: at, last: at, rise: new(big.Rat), run: new(big.Rat)})
			}
			c := &out.climbs[len(out.climbs)-1]
			c.steps, c.first, c.last, going = append(c.steps, s), min(c.first, at), max(c.last, at), true
			c.rise = plus(c.rise, s.rise)
			if s.run == nil || c.run == nil {
				c.run = nil
			} else {
				c.run = plus(c.run, s.run)
			}
		}
	}
	return out
}

// steep is how much of a climb rises in known parts that are no ramp of one up to n along; n nil: all of them.
func (c climb) steep(n *big.Rat) *big.Rat {
	out := new(big.Rat)
	for _, s := range c.steps {
		if s.run != nil && (n == nil || s.upright() || s.steep(n) == yes) {
			out = plus(out, s.rise)
		}
	}
	return out
}

func (c climb) hasFace() bool { return c.faces().Sign() > 0 }

func (c climb) faces() *big.Rat {
	out := new(big.Rat)
	for _, s := range c.steps {
		if s.upright() {
			out = plus(out, s.rise)
		}
	}
	return out
}

// both judges both sides, each from its own floor.
func (l lips) both(d door) verdict {
	return everyWay(d, func(w way) verdict {
		out := w.read()
		for _, c := range w.climbs {
			out = all(out, l.one(d, c))
		}
		// No text says how far apart two lips must be to be taken each by itself.
		if len(w.climbs) > 1 && above(w.top(), l.upright) {
			out = all(out, unknown)
		}
		return out
	})
}

func (l lips) one(d door, c climb) verdict {
	stands := c.steep(l.ramp)
	switch {
	case !above(c.rise, l.upright):
		return pass
	case above(stands, l.eased):
		return fail // too much upright, or too steep for a ramp
	case c.run == nil:
		return unknown
	case c.run.Sign() == 0:
		return eased(c.steps[len(c.steps)-1].nose)
	case !c.hasFace() && !above(c.rise, l.eased):
		return pass
	case l.ramp == nil:
		return unknown
	case stands.Sign() == 0:
		return l.asRamp(d, c)
	}
	// Part lip, part ramp: not described, but either may be too much by itself.
	out := all(unknown, l.asRamp(d, c))
	for _, s := range c.steps {
		if s.upright() && above(c.faces(), l.upright) {
			out = all(out, eased(s.nose))
		}
	}
	return out
}

func eased(nose string) verdict {
	switch nose {
	case "rounded", "bevelled":
		return pass
	case "square":
		return fail
	}
	return unknown
}

// asRamp judges the size of a ramp and where it stands.
func (l lips) asRamp(d door, c climb) verdict {
	out := pass
	if l.rise != nil {
		out = all(out, atMost(c.rise, l.rise, nil))
	}
	if l.run != nil {
		out = all(out, atMost(c.run, l.run, nil))
	}
	if l.toLeaf != nil {
		out = all(out, atMost(toLeaf(d, c), l.toLeaf, nil))
	}
	if l.inJamb {
		v := unknown
		if d.au.jamb.v != nil {
			v = atMost(c.run, d.au.jamb.v, nil)
		}
		out = all(out, v)
	}
	return out
}

// toLeaf is how far a climb stands off the nearer face of the closed leaf, nil if that is not known.
func toLeaf(d door, c climb) *big.Rat {
	start, leaf := placeOf(d, c.first), d.au.leafAt.v
	if start == nil || leaf == nil {
		return nil
	}
	end := start
	for _, p := range d.profile[c.first : c.last+1] {
		if p.run.v == nil {
			return nil
		}
		end = plus(end, p.run.v)
	}
	switch {
	case !above(end, leaf):
		return minus(leaf, end)
	case !above(start, leaf):
		return new(big.Rat)
	case d.au.thick.v == nil:
		return nil
	}
	return greater(new(big.Rat), minus(start, plus(leaf, d.au.thick.v)))
}

// placeOf is where a part of the profile begins along the path, nil if a run before it is not known.
func placeOf(d door, i int) *big.Rat {
	along := new(big.Rat)
	for _, p := range d.profile[:i] {
		if p.run.v == nil {
			return nil
		}
		along = plus(along, p.run.v)
	}
	return along
}

// pastLeaf says whether a part begins at the outer face of the closed leaf or behind it. No run is below 0, so what is known of those
// before it is the least; where nobody said where the leaf stands, it begins before it.
func pastLeaf(d door, i int) truth {
	if d.au.leafAt.v == nil {
		return no
	}
	known, along := true, new(big.Rat)
	for _, p := range d.profile[:i] {
		if p.run.v == nil {
			known = false
			continue
		}
		along = plus(along, p.run.v)
	}
	switch {
	case !below(along, d.au.leafAt.v):
		return yes
	case known:
		return no
	}
	return notKnown
}
