package oracle

import "math/big"

// AS 1428.1, the Livable Housing Design Standard and D3D16 of the National Construction Code, and what is told of New
// Zealand's Building Code. Millimetres and newtons only.

// australian is what only these texts ask of a door.
type australian struct {
	class, entry                         string // entry: what stands for 150 mm between floor and ground
	accessible, care, smoke, weatherSill truth  // accessible: the building
	jamb, leafAt, thick                  value
}

// lips is what a text lets rise before a door: upright, eased by a nose or as one slope, or a ramp.
type lips struct {
	upright, eased    *big.Rat
	ramp              *big.Rat // so much along for one up; nil: no ramps
	rise, run, toLeaf *big.Rat // of a ramp; nil: no limit
	inJamb            bool
}

func as1428(d door) lips {
	return lips{upright: mm("3"), eased: mm("5"), ramp: mm("8"), rise: mm("35"), run: mm("280"), toLeaf: mm("20")}
}

// The 2021 edition is referenced from 29 July 2025, the 2009 one before; dates in ISO 8601 sort as they follow each other.
func since2025(d door) truth {
	if d.applied == "" {
		return notKnown
	}
	if d.applied >= "2025-07-29" {
		return yes
	}
	return no
}

func as14282021(d door) map[string]verdict {
	path := and(since2025(d), d.accessible)
	force := and(path, is(d.powered, "none"), d.fire.not(), d.au.smoke.not())
	// 10.4.2(e): 20 N to open the door first; the rest of its swing is left open.
	later := excused(upToTruth20(d.starting.v), unknown)
	return map[string]verdict{
		"threshold":      where(path, as1428(d).both(d)),
		"clear-width":    where(path, atLeast(d.clear.v, mm("850"), nil)),
		"starting-force": where(force, atMost(d.starting.v, mm("20"), nil)),
		"opening-force":  where(force, either(band(d, "0", "90", mm("20"), nil), later)),
	}
}

func upToTruth20(v *big.Rat) truth { return upToTruth(v, mm("20"), nil) }

func as14282009(d door) map[string]verdict {
	path := and(since2025(d).not(), d.accessible)
	l := as1428(d)
	l.toLeaf = nil // read of the later edition only
	return map[string]verdict{
		"threshold":   where(path, l.both(d)),
		"clear-width": where(path, atLeast(d.clear.v, mm("850"), nil)),
		// 13.5.2(e): whether a fire or smoke door is among the manual ones was not read.
		"opening-force": where(and(path, is(d.powered, "none")), either(band(d, "0", "90", mm("20"), nil), excused(or(d.fire, d.au.smoke), unknown))),
	}
}

func lhds2022(d door) map[string]verdict {
	entrance := and(is(d.au.class, "class-1a", "class-2"), is(d.role, "private-entrance"))
	l := lips{upright: mm("0"), eased: mm("5"), ramp: mm("8"), inJamb: true}
	sill := everyWay(d, func(w way) verdict {
		out := w.read()
		for i, c := range w.climbs {
			v := atMost(c.rise, mm("15"), nil)
			if i == 0 && v == pass && above(c.rise, mm("5")) {
				v = unknown // the edge of the sill, or the lip within it
			}
			out = all(out, v)
		}
		return out
	})
	return map[string]verdict{
		"threshold":   where(entrance, either(l.both(d), excused(d.au.weatherSill, sill))),
		"clear-width": where(entrance, atLeast(d.clear.v, mm("820"), nil)),
	}
}

// ncc2022 judges D3D16 alone: what else is there limits no threshold, width or force.
func ncc2022(d door) map[string]verdict {
	applies := is(d.au.class, "class-2", "class-3", "class-4", "class-5", "class-6", "class-7a", "class-7b", "class-8", "class-9a", "class-9b", "class-9c")
	flush := everyWay(d, func(w way) verdict {
		if len(w.climbs) > 0 {
			return fail
		}
		return w.read()
	})
	given := no
	if d.drawn {
		given = yes
	}
	must := or(d.au.accessible, d.accessible)
	out := is(d.leads, "road", "open-space")
	otherwise := or(d.au.care.not(), is(d.au.class, "class-2", "class-3", "class-4", "class-5", "class-6", "class-7a", "class-7b", "class-8", "class-9b"))
	return map[string]verdict{"doorway-threshold": where(applies, either(flush,
		excused(given, open(sills(d, mm("5"), false))),
		excused(and(is(d.au.class, "class-9a"), d.au.care), sills(d, mm("25"), false)),
		excused(and(is(d.au.class, "class-9c"), d.au.care), lips{ramp: mm("8"), rise: mm("25")}.ramps(d)),
		excused(and(must, out), lips{ramp: mm("8"), rise: mm("35"), run: mm("280"), toLeaf: mm("20")}.ramps(d)),
		excused(and(must, out), open(lips{ramp: mm("10"), rise: mm("190"), run: mm("1900")}.ramps(d))),
		excused(and(d.au.accessible.not(), is(d.leads, "road", "open-space", "stair-landing", "balcony"), otherwise), sills(d, mm("190"), true)),
	))}
}

// sills judges how high a threshold stands above the floor of each side, or of the outer one.
func sills(d door, limit *big.Rat, outerOnly bool) verdict {
	return everyWay(d, func(w way) verdict {
		if outerOnly && w.inside {
			return pass
		}
		return all(w.read(), atMost(w.top(), limit, nil))
	})
}

// ramps: nothing but ramps.
func (l lips) ramps(d door) verdict {
	return everyWay(d, func(w way) verdict {
		out := w.read()
		for _, c := range w.climbs {
			switch {
			case c.run != nil && c.steep(l.ramp).Sign() == 0:
				out = all(out, l.asRamp(d, c))
			case c.run == nil && !c.hasFace():
				out = all(out, unknown)
			default:
				out = fail
			}
		}
		return out
	})
}

func nzD1(d door) map[string]verdict {
	return map[string]verdict{
		"clear-width": where(d.accessible, atLeast(d.clear.v, mm("760"), nil)),
		// NZS 3604: 225 mm above unpaved ground, 150 mm above paving, unless there is a level entry.
		"floor-above-ground": where(is(d.location, "external"), either(atLeast(floorDifference(d), mm("225"), nil),
			excused(d.impervious, atLeast(floorDifference(d), mm("150"), nil)), excused(is(d.au.entry, "channel", "deck"), pass))),
	}
}

// australian draws what only these texts ask.
func (s source) australian(d *door, kinds bool) {
	p := 0.07
	d.au = australian{
		class:      s.word(p, "class-1a", "class-2", "class-5", "class-6", "class-9a", "class-9b", "class-9c"),
		entry:      s.word(0.2, "channel", "deck", "none"),
		accessible: s.truth(p), care: s.truth(p), smoke: pick(s, no, no, no, notKnown, yes), weatherSill: s.truth(0.2),
		jamb: s.length(0.2, pool(nil, 1, "40", "80", "120")), thick: s.length(0.2, pool(nil, 1, "40", "45")),
	}
	if d.region == australasian {
		d.applied, d.leads = s.word(p, "2025-07-28", "2025-07-29", "2025-07-29", "2026-01-02"), s.word(p, "road", "road", "open-space", "stair-landing", "balcony", "corridor")
	}
	if !kinds {
		return
	}
	if s.chance(0.7) { // what most of the rules are about
		d.accessible, d.fire, d.au.smoke, d.powered = yes, no, no, "none"
	}
	if s.chance(0.15) {
		d.role, d.au.class = "private-entrance", pick(s, "class-1a", "class-2")
	}
	if s.chance(0.15) && d.drawn {
		s.ramped(d)
	}
	s.leaf(d)
}

// ramped gives a door a ramp of a size that some text limits, on one side or on both.
func (s source) ramped(d *door) {
	rise := s.near(pick(s, mm("35"), mm("25"), mm("20"), mm("10"), mm("15"), mm("190")), nano)
	run := whole(times(rise, pick(s, mm("8"), mm("8"), mm("10"), mm("9"))))
	if s.chance(0.3) {
		run = pick(s, mm("280"), mm("1900"), mm("300"), mm("120"))
	}
	ramp := part{value{s.near(run, nano), "mm"}, value{rise, "mm"}, ""}
	d.profile = []part{ramp, {value{pick(s, mm("0"), mm("20"), mm("40"), mm("61")), "mm"}, value{new(big.Rat), "mm"}, ""}}
	if s.chance(0.3) {
		d.profile = append(d.profile, part{ramp.run, value{minus(new(big.Rat), rise), "mm"}, ""})
	}
	if s.chance(0.15) {
		d.profile = append([]part{s.upright(s.near(pick(s, mm("3"), mm("5"), mm("4")), nano))}, d.profile...)
	}
	if s.chance(0.3) {
		d.profile = []part{d.profile[1], {ramp.run, value{minus(new(big.Rat), rise), "mm"}, ""}}
	}
}

// leaf puts the closed leaf somewhere along the threshold.
func (s source) leaf(d *door) {
	if s.chance(0.2) {
		return
	}
	var places []*big.Rat
	along, known := new(big.Rat), true
	for _, p := range d.profile {
		places = append(places, along)
		if p.run.v == nil {
			known = false
			continue
		}
		along = plus(along, p.run.v)
	}
	at := pick(s, append(places, along, plus(along, mm("20")), minus(along, mm("20")))...)
	at = s.near(at, nano)
	if s.chance(0.3) {
		at = plus(at, pick(s, mm("20"), mm("-20")))
	}
	at = greater(new(big.Rat), at)
	if known && len(d.profile) > 0 {
		at = lesser(at, along)
	}
	d.au.leafAt = value{at, "mm"}
}
