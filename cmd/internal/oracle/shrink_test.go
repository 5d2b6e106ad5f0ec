package oracle

import "slices"

// shrink takes out of a door whatever the disagreement does without.
func shrink(d door, apart func(door) bool) door {
	for smaller := true; smaller; {
		smaller = false
		for _, change := range changes(d) {
			if c := change(d); apart(c) {
				d, smaller = c, true
				break
			}
		}
	}
	return d
}

// changes are those that make a door smaller; each works on a copy.
func changes(d door) []func(door) door {
	var out []func(door) door
	words := func(d *door) []*string {
		return []*string{&d.variant, &d.work, &d.serves, &d.exposure, &d.unit, &d.role, &d.operation, &d.location, &d.opens, &d.powered, &d.from,
			&d.german, &d.applied, &d.leads, &d.order, &d.as, &d.au.class, &d.au.entry}
	}
	truths := func(d *door) []*truth {
		return []*truth{&d.accessible, &d.escape, &d.fire, &d.latch, &d.impervious, &d.security, &d.closer, &d.raising, &d.exit, &d.bathroom, &d.refuge, &d.air, &d.springs,
			&d.passage, &d.entranceFloor, &d.many, &d.au.accessible, &d.au.care, &d.au.smoke, &d.au.weatherSill}
	}
	values := func(d *door) []*value {
		return []*value{&d.clear, &d.least, &d.depth, &d.route, &d.unlatching, &d.starting, &d.frame, &d.au.jamb, &d.au.leafAt, &d.au.thick}
	}
	for i, w := range words(&d) {
		if *w != "" {
			out = append(out, func(c door) door { *words(&c)[i] = ""; return c })
		}
	}
	for i, t := range truths(&d) {
		if *t != notKnown {
			out = append(out, func(c door) door { *truths(&c)[i] = notKnown; return c })
		}
	}
	for i, v := range values(&d) {
		if v.v != nil {
			out = append(out, func(c door) door { *values(&c)[i] = value{}; return c })
		}
	}
	for i := range d.forces {
		out = append(out, func(c door) door { c.forces = slices.Delete(slices.Clone(c.forces), i, i+1); return c })
	}
	for i := range d.fitted {
		out = append(out, func(c door) door { c.fitted = slices.Delete(slices.Clone(c.fitted), i, i+1); return c })
	}
	if d.drawn && len(d.profile) == 0 {
		out = append(out, func(c door) door { c.drawn = false; return c })
	}
	for i, p := range d.profile {
		out = append(out, func(c door) door { c.profile = slices.Delete(slices.Clone(c.profile), i, i+1); return c })
		if p.nose != "" {
			out = append(out, func(c door) door {
				c.profile = slices.Clone(c.profile)
				c.profile[i].nose = ""
				return c
			})
		}
	}
	return out
}
