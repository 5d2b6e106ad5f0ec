package oracle

import "math/big"

// Norway (TEK17), Denmark (BR18) and Finland (Government Decree 241/2017). Millimetres only.

func tek17(d door) map[string]verdict {
	variant := d.variants["no-tek17"]
	universal, stepFree := is(variant, "universal-design"), is(variant, "universal-design", "accessible-dwelling")
	entrance := is(d.role, "entrance", "communal-entrance", "private-entrance")
	way, inside := or(entrance, d.passage), is(d.location, "internal")
	// 12-13(3)a: doors to and in access and escape routes; (4)a: of universal design the main ones only.
	onRoute := and(stepFree, or(entrance, d.accessible, d.escape), is(d.powered, "none"))
	offMain := and(universal, is(d.role, "outdoor-space", "garage", "room", "bathroom", "other"))
	return map[string]verdict{
		// 12-13(3)c: "Terskler skal være trinnfrie", without a number.
		"threshold": where(stepFree, levelOrOpen(d)),
		// 12-11(3)a: work and public buildings, and the entrance storey of a dwelling.
		"outdoor-access": where(and(stepFree, or(is(d.role, "outdoor-space"), is(d.leads, "balcony")), or(universal, d.entranceFloor)), levelOrOpen(d)),
		// 12-13(2)a, b, c.
		"clear-width":           where(way, freeWidth(d, "860")),
		"clear-width-many":      where(and(way, d.many), freeWidth(d, "1160")),
		"clear-width-dwelling":  where(and(is(d.serves, "dwelling"), inside, is(d.role, "room", "bathroom", "other")), freeWidth(d, "760")),
		"clear-width-universal": where(and(universal, inside), either(freeWidth(d, "860"), excused(is(d.role, "bathroom"), open(freeWidth(d, "760"))))),
		"opening-force":         where(onRoute, either(band(d, "0", "90", mm("30"), nil), excused(offMain, unknown))),
	}
}

func br18(d door) map[string]verdict {
	building, house := is(d.variants["dk-br18"], "building"), is(d.variants["dk-br18"], "detached-house")
	outdoors := or(is(d.location, "external"), is(d.role, "outdoor-space"))
	shared := or(outdoors, d.passage)
	return map[string]verdict{
		// 51(2) no. 3, 53, 56 no. 6: a door step of 2.5 cm at most.
		"door-step": where(and(building, shared), everySide(d, func(s []step) verdict { return high(s, mm("25"), nil) })),
		// 51(2) no. 4: outside in the same level as the floor inside.
		"outside-level": where(and(building, outdoors), sameLevel(d)),
		// 51(3): access on the level by one door at least, which the text does not measure.
		"house-access": where(and(house, outdoors), levelOrOpen(d)),
		// 52(1), 53, 56 no. 5; 208, on the storey of the entrance.
		"clear-width": where(shared, freeWidth(d, "770")),
		"clear-width-dwelling": where(and(is(d.serves, "dwelling"), is(d.location, "internal"), is(d.role, "room", "bathroom"), d.entranceFloor),
			freeWidth(d, "770")),
	}
}

func finland2017(d door) map[string]verdict {
	variant := d.variants["fi-access-2017"]
	other, inside := is(variant, "other-building"), is(d.location, "internal")
	// 4(3): in a detached and semi-detached house on the entrance floor only.
	storey := or(other, d.entranceFloor)
	return map[string]verdict{
		// 4(3): none, unless it is necessary, and then 20 mm at most; at the outdoor space of a dwelling the floor outside may be lower.
		"threshold": where(storey, either(everySide(d, noRise),
			open(everySide(d, func(s []step) verdict { return high(s, mm("20"), nil) })),
			excused(is(d.role, "outdoor-space"), open(innerHeight(d, mm("20")))))),
		"threshold-crossing": where(storey, levelOrOpen(d)), // "easily crossed"
		// 4(1) and 4(2).
		"clear-width-passageway": where(and(inside, or(d.passage, is(d.role, "private-entrance"))), freeWidth(d, "850")),
		"clear-width-room":       where(and(is(d.role, "room", "bathroom"), inside, storey), freeWidth(d, "800")),
		"clear-width-toilet":     where(and(other, is(d.role, "bathroom")), either(freeWidth(d, "850"), open(freeWidth(d, "800")))),
	}
}

func noRise(s []step) verdict { return high(s, new(big.Rat), nil) }

// levelOrOpen passes where nothing is above the floor of either side; what is, fails by no height.
func levelOrOpen(d door) verdict {
	return everySide(d, func(s []step) verdict {
		if v := noRise(s); v != fail {
			return v
		}
		return unknown
	})
}

func innerHeight(d door, limit *big.Rat) verdict {
	if !d.drawn {
		return unknown
	}
	return high(walk(d.profile, true), limit, nil)
}

func sameLevel(d door) verdict {
	switch difference := floorDifference(d); {
	case difference == nil:
		return unknown
	case difference.Sign() == 0:
		return pass
	}
	return fail
}

// freeWidth: the texts do not say whether handles and boards count. Past them it is wide enough, or not even without them.
func freeWidth(d door, limit string) verdict {
	switch {
	case d.clear.v != nil && below(d.clear.v, mm(limit)):
		return fail
	case d.least.v != nil && !below(d.least.v, mm(limit)):
		return pass
	}
	return unknown
}

// nordic draws what the texts of this file ask besides, and of Ireland and Dubai.
func (s source) nordic(d *door, kinds bool) {
	p := 0.07
	d.variants = map[string]string{
		"no-tek17":       s.word(p, "universal-design", "accessible-dwelling", "general"),
		"dk-br18":        s.word(p, "building", "detached-house"),
		"fi-access-2017": s.word(p, "small-house", "other-building"),
		"ie-tgdm-2010":   s.word(p, "dwelling", "other-building"),
	}
	d.passage, d.entranceFloor, d.many = s.truth(p), s.truth(p), s.truth(p)
	if !kinds {
		return
	}
	if s.chance(0.2) { // a room door of a dwelling
		d.serves, d.location, d.role, d.passage, d.entranceFloor = "dwelling", "internal", pick(s, "room", "bathroom"), no, yes
		d.clear = s.length(0, pool(nil, 1, "750", "760", "770", "780"))
		d.least = d.clear
		return
	}
	if s.chance(0.3) {
		return
	}
	width := s.length(0, pool(nil, 1, "760", "770", "800", "825", "850", "860", "900", "1160"))
	d.clear, d.least = width, width
	if s.chance(0.3) {
		d.clear.v = plus(width.v, mm("40"))
	}
	if d.drawn && s.chance(0.6) {
		h := s.near(pick(s, mm("10"), mm("20"), mm("25")), nano)
		d.profile = pick(s, []part(nil), append(s.climb(h), s.level()), []part{s.upright(h), s.level()}, []part{s.slope(h), s.level()})
	}
}
