package oracle

import "math/big"

// step is one part of a profile as somebody meets it who comes from one side: it rises
// if rise is above 0. to is the height of its far end above that side's floor, low the
// lowest point of the dip that it climbs out of, or 0; both nil from a rise on that is not
// known. A dip begins where the profile falls from the floor, or from above it; what falls
// within it begins no other.
type step struct {
	run, rise *big.Rat // nil: not known
	to, low   *big.Rat
	climb     *big.Rat // from the last fall, or the last rise that is not known, to its top: it stands no lower above its floor or its dip
	nose      string
}

// walk gives the profile as it is met from outside, or from inside.
func walk(profile []part, fromInside bool) []step {
	var out []step
	h, low, climb := new(big.Rat), new(big.Rat), new(big.Rat)
	for i, p := range profile {
		if fromInside {
			p = profile[len(profile)-1-i]
			p.rise = p.rise.turned()
		}
		s := step{run: p.run.v, rise: p.rise.v, low: low, nose: p.nose}
		switch {
		case h == nil || s.rise == nil:
			h, low, s.low = nil, nil, nil
		case s.rise.Sign() < 0 && h.Sign() >= 0: // down from the floor or above it: another dip
			h = plus(h, s.rise)
			low = lesser(h, new(big.Rat))
		default:
			h = plus(h, s.rise)
			low = lesser(low, h)
		}
		if s.rise == nil || s.rise.Sign() < 0 {
			climb = new(big.Rat)
		} else {
			climb = plus(climb, s.rise)
		}
		s.to, s.climb = h, climb
		out = append(out, s)
	}
	return out
}

// turned is the same part met from its other end.
func (x value) turned() value {
	if x.v != nil {
		x.v = minus(new(big.Rat), x.v)
	}
	return x
}

// measured says whether every rise of the profile is known.
func measured(d door) bool {
	for _, p := range d.profile {
		if p.rise.v == nil {
			return false
		}
	}
	return d.drawn
}

// everySide asks the same of both sides: the worse one is reported.
func everySide(d door, judge func([]step) verdict) verdict {
	if !d.drawn {
		return unknown
	}
	return all(judge(walk(d.profile, false)), judge(walk(d.profile, true)))
}

// high judges the highest point above the floor that the walk began on. What is known in
// part can fail, and cannot pass.
func high(steps []step, limit, printed *big.Rat) verdict {
	top := new(big.Rat)
	for _, s := range steps {
		if s.to == nil {
			return all(unknown, atMost(top, limit, printed))
		}
		top = greater(top, s.to)
	}
	return atMost(top, limit, printed)
}

// steep says whether a rising part is steeper than one up to n along.
func (s step) steep(n *big.Rat) truth {
	switch {
	case s.rise != nil && s.rise.Sign() <= 0:
		return no // it does not rise
	case s.run == nil || s.rise == nil:
		return notKnown
	case above(times(s.rise, n), s.run):
		return yes
	}
	return no
}

// bevelled judges one side by ADA 303.2 and 303.3 and the like: whatever rises above the
// first limit of the side's change in level is 1:2 or gentler. A part that is steeper ends
// within that first limit, measured both from the side's floor and from the lowest point
// of its dip, for a dip starts no new allowance.
func bevelled(steps []step, limit, printed *big.Rat) verdict {
	out := pass
	for _, s := range steps {
		steep := s.steep(mm("2"))
		if steep == no {
			continue
		}
		v := unknown
		switch {
		case s.to != nil:
			v = atMost(minus(s.to, s.low), limit, printed)
		case s.rise != nil && atMost(s.climb, limit, printed) == fail:
			v = fail // too much by itself, wherever it stands
		}
		if steep == notKnown && v != pass {
			v = unknown
		}
		out = all(out, v)
	}
	return out
}

// ramped judges by ADA 303.4 what climbs out of a dip: a change in level above the limit
// is a ramp. One of 1:n or gentler may be a ramp, with its landings or not: that is left
// open; for ADA 405 n is 12.
func ramped(steps []step, limit, printed, n *big.Rat) verdict {
	out := pass
	for _, s := range steps {
		switch {
		case s.to == nil:
			out = all(out, unknown)
			continue
		case s.rise.Sign() <= 0 || s.low.Sign() >= 0:
			continue
		}
		v := atMost(minus(s.to, s.low), limit, printed)
		if v == fail && s.steep(n) != yes {
			v = unknown
		}
		out = all(out, v)
	}
	return out
}

// edged: "a beveled edge on each side". A side without any part that rises 1:2 or gentler
// has none; what the words mean for one that is flush or low the text does not say.
func edged(steps []step) verdict {
	for _, s := range steps {
		if s.rise != nil && s.rise.Sign() > 0 && s.run != nil && s.run.Sign() > 0 && s.steep(mm("2")) == no {
			return pass
		}
	}
	return unknown
}

// topAbove is the highest point of the threshold above the floor of one side, nil if a
// part is not known.
func topAbove(d door, inside bool) *big.Rat {
	if !measured(d) {
		return nil
	}
	top := new(big.Rat)
	for _, s := range walk(d.profile, inside) {
		top = greater(top, s.to)
	}
	return top
}

// floorDifference is the inner floor less the outer one, nil if a rise is not known.
func floorDifference(d door) *big.Rat {
	if !measured(d) {
		return nil
	}
	sum := new(big.Rat)
	for _, p := range d.profile {
		sum = plus(sum, p.rise.v)
	}
	return sum
}

// shape is what a text asks of each side: its height, the first part that may be steep,
// and the slope from which a climb out of a dip may be a ramp. The printed ones are looser
// roundings, or nil.
type shape struct {
	height, heightPrinted *big.Rat
	steep, steepPrinted   *big.Rat
	ramp                  *big.Rat
	edged                 bool // a bevel on each side
}

func (h shape) judge(d door) verdict {
	return everySide(d, func(s []step) verdict {
		v := all(high(s, h.height, h.heightPrinted), bevelled(s, h.steep, h.steepPrinted), ramped(s, h.height, h.heightPrinted, h.ramp))
		if h.edged {
			v = all(v, edged(s))
		}
		return v
	})
}

// upTo is the same shape with another height.
func (h shape) upTo(height, printed *big.Rat) shape {
	h.height, h.heightPrinted = height, printed
	return h
}
