package oracle

import "math/big"

// The texts limit the force that opens the door, its seals and all: each rule of an opening force is asked again of an option. The
// option here has no seal that rubs, so that its force is what was read with it or, at other angles, that of the door alone.

// sealedSlugs are the rules of force that are asked again.
var sealedSlugs = []string{"opening-force-hinged", "opening-force-sliding", "opening-force-interior", "opening-force-exterior", "opening-force-fire",
	"opening-force-dwelling", "opening-force", "opening-force-30", "opening-force-60", "full-open-force"}

// sealed judges the rules of force of a rulebook with the option's forces. Where no force at all was read the door's own rule asks.
func sealed(d door, judge func(door) map[string]verdict) map[string]verdict {
	with := d
	with.forces = fittedForces(d)
	of := judge(with)
	out := map[string]verdict{}
	for _, slug := range sealedSlugs {
		v, there := of[slug]
		switch {
		case !there:
			continue
		case len(with.forces) == 0:
			v = notApplicable
		}
		out[slug+"-sealed"] = v
	}
	return out
}

// fittedForces are the readings with the option, and those of the door alone where the first leave a gap. How a door moves that nobody
// says, nobody can say either what its seals add: a force of the door alone is then a least one.
func fittedForces(d door) []reading {
	out := append([]reading{}, d.fitted...)
	stretch := false
	for _, f := range d.fitted {
		stretch = stretch || (f.placed() && below(f.from.v, f.to.v))
	}
	for _, r := range d.forces {
		r.least = d.operation == ""
		if !r.placed() {
			if !stretch {
				out = append(out, r)
			}
			continue
		}
		out = append(out, left(r, d.fitted)...)
	}
	return out
}

// left is what of a reading no reading of a stretch covers; of one at an angle, unless another was taken just there.
func left(r reading, fitted []reading) []reading {
	if r.from.v.Cmp(r.to.v) == 0 {
		for _, f := range fitted {
			if f.placed() && !above(f.from.v, r.from.v) && !below(f.to.v, r.from.v) {
				return nil
			}
		}
		return []reading{r}
	}
	out := []reading{r}
	for _, f := range fitted {
		if !f.placed() || f.from.v.Cmp(f.to.v) == 0 {
			continue
		}
		var rest []reading
		for _, p := range out {
			if !below(f.from.v, p.to.v) || !above(f.to.v, p.from.v) {
				rest = append(rest, p)
				continue
			}
			before, after := p, p
			if before.to = f.from; below(before.from.v, before.to.v) {
				rest = append(rest, before)
			}
			if after.from = f.to; below(after.from.v, after.to.v) {
				rest = append(rest, after)
			}
		}
		out = rest
	}
	for i := range out { // it may have been heaviest where the other reading was taken
		out[i].most = out[i].from.v.Cmp(r.from.v) != 0 || out[i].to.v.Cmp(r.to.v) != 0
	}
	return out
}

func (r reading) placed() bool { return r.from.v != nil && r.to.v != nil }

// meets says whether the force of a reading is within a limit; a least one may be more, a greatest one less.
func (r reading) meets(limit, printed *big.Rat) verdict {
	v := atMost(r.force.v, limit, printed)
	if (r.least && v == pass) || (r.most && v == fail) {
		return unknown
	}
	return v
}

// heavier draws the readings with the seals no lighter than those of the door alone: no seal makes it so, and such a spec is refused.
func heavier(fitted, alone []reading) []reading {
	for i, f := range fitted {
		for _, r := range alone {
			beside := f.placed() && r.placed() && (below(f.to.v, r.from.v) || above(f.from.v, r.to.v))
			if !beside && f.force.v != nil && r.force.v != nil && below(fitted[i].force.v, r.force.v) {
				fitted[i].force.v = r.force.v
			}
		}
	}
	return fitted
}
