package oracle

import "math/big"

// The texts of Germany, Switzerland, Austria, the Netherlands and Poland. Millimetres and newtons only.

// eachSide: no side rises above its floor by more.
func eachSide(d door, limit string) verdict {
	return everySide(d, func(s []step) verdict { return high(s, mm(limit), nil) })
}

// inFrame judges the clear width of the frame; what the open leaf leaves clear is a least one.
func inFrame(d door, limit string) verdict {
	switch {
	case d.frame.v != nil:
		return atLeast(d.frame.v, mm(limit), nil)
	case d.clear.v != nil && !below(d.clear.v, mm(limit)):
		return pass
	}
	return unknown
}

// framed says whether the frame is so wide.
func framed(d door, limit string) truth {
	switch inFrame(d, limit) {
	case pass:
		return yes
	case fail:
		return no
	}
	return notKnown
}

func din18040(d door) map[string]verdict {
	within := and(is(d.german, "part 2"), is(d.location, "internal"), is(d.role, "room", "bathroom", "other"))
	return map[string]verdict{
		// 4.3.3.1: not permitted; where technically unavoidable, which is asked for, 2 cm at most.
		"sill": either(eachSide(d, "0"), open(eachSide(d, "20"))),
		// 4.3.3.2, Table 1: 90 cm, within dwellings that are not marked R 80 cm. Whether the leaf counts is open.
		"clear-width": either(atLeast(d.clear.v, mm("900"), nil), excused(within, atLeast(d.clear.v, mm("800"), nil)),
			excused(framed(d, "900"), unknown), excused(and(framed(d, "800"), within), unknown)),
		// Class 3 of EN 12217: 25 N to open a door that swings or slides. Closers are another matter.
		"opening-force": where(lightly(d), band(d, "0", "90", mm("25"), nil)),
	}
}

// lightly: a door without power and without a closer that swings or slides.
func lightly(d door) truth {
	return and(is(d.operation, "hinged", "pair", "pivot", "sliding"), manual(d), d.closer.not())
}

func oenormB1600(d door) map[string]verdict {
	terrace := and(is(d.role, "outdoor-space"), is(d.location, "external"))
	entrance := is(d.role, "entrance", "communal-entrance", "private-entrance")
	return map[string]verdict{
		// Without threshold; 2 cm where unavoidable, which is asked for.
		"sill":         where(terrace.not(), either(eachSide(d, "0"), open(eachSide(d, "20")))),
		"terrace-sill": where(terrace, eachSide(d, "30")),
		// The frame counts: 80 cm, entrances 90 cm.
		"clear-width":    inFrame(d, "800"),
		"entrance-width": where(entrance, inFrame(d, "900")),
		// "Easy to open": 25 N is, more may be.
		"opening-force": where(lightly(d), either(band(d, "0", "90", mm("25"), nil), excused(manual(d), unknown))),
	}
}

func sia500(d door) map[string]verdict {
	public, outer, dwelling := is(d.serves, "public", "workplace"), is(d.location, "external"), is(d.serves, "dwelling")
	terrace := and(dwelling, is(d.role, "outdoor-space"), outer)
	way := and(is(d.serves, "dwelling", "common-area"), or(is(d.serves, "common-area"), is(d.role, "communal-entrance", "private-entrance")))
	out, in := topAbove(d, false), topAbove(d, true)
	level := func(top *big.Rat) truth { return upToTruth(top, mm("0"), nil) }
	return map[string]verdict{
		// 3.3.2.1 and 3.3.2.2: 25 mm; one-sided, or a cover strip or compelling reasons, which are asked for.
		"public-inner-sill": where(and(public, is(d.location, "internal")), oneSided(d)),
		"public-outer-sill": where(and(public, outer), oneSided(d)),
		// 8.1.2: none; whether a step on one side is one is open.
		"escape-sill": where(and(public, d.escape), either(eachSide(d, "0"), excused(or(level(out), level(in)), open(eachSide(d, "25"))))),
		// 9.2.2: one-sided, 25 mm.
		"way-to-dwelling-sill": where(way, oneSided(d)),
		// 10.1.3, A24: 25 mm above both floors; outside more if that floor can be raised.
		"terrace-inside":  where(terrace, atMost(in, mm("25"), nil)),
		"terrace-outside": where(terrace, raisedLater(d, out)),
		// 3.3.1.1: 0.80 m, which nothing narrows.
		"clear-width": atLeast(d.least.v, mm("800"), nil),
	}
}

// oneSided: a step of at most 25 mm on one side; on both sides it is left open.
func oneSided(d door) verdict {
	v, out, in := eachSide(d, "25"), topAbove(d, false), topAbove(d, true)
	if v == pass && out.Sign() > 0 && in.Sign() > 0 {
		return unknown
	}
	return v
}

func raisedLater(d door, top *big.Rat) verdict {
	v := atMost(top, mm("25"), nil)
	switch {
	case d.raising == yes:
		return pass
	case d.raising == notKnown && v == fail:
		return unknown
	}
	return v
}

func bouwbesluit2012(d door) map[string]verdict {
	ramp := everySide(d, rampOrLevel)
	house := and(is(d.serves, "dwelling"), is(d.work, "new"))
	since, before := notKnown, notKnown
	if d.applied != "" { // dates of one length are in the order of their letters
		since, before = no, yes
		if d.applied >= "2022-01-01" {
			since, before = yes, no
		}
	}
	front, outdoors := is(d.role, "private-entrance"), is(d.role, "outdoor-space")
	way := or(front, is(d.leads, "road", "open-space"))
	entrance := is(d.role, "entrance", "communal-entrance", "private-entrance", "outdoor-space")
	return map[string]verdict{
		// 4.27(2): above 0.02 m a ramp, 1 m at most.
		"entrance-level": where(and(is(d.role, "communal-entrance"), is(d.location, "external")), ramp),
		// Since 2022 every entrance of a new dwelling; before, one, and another may be it.
		"dwelling-entrances": where(and(house, or(front, outdoors), way, since), ramp),
		"one-entrance":       where(and(house, front, before), either(eachSide(d, "20"), excused(drawnTruth(d), unknown))),
		// 4.22(1): 0.85 m; outdoor space that is extra, and a leaf within a frame so wide, are asked for.
		"free-passage": where(entrance, either(atLeast(d.clear.v, mm("850"), nil), excused(outdoors, unknown), excused(framed(d, "850"), unknown))),
	}
}

func drawnTruth(d door) truth {
	if d.drawn {
		return yes
	}
	return notKnown
}

// rampOrLevel: 20 mm, or a ramp up to 1 m with a lip of no more. What slope makes a ramp is left open.
func rampOrLevel(steps []step) verdict {
	low := high(steps, mm("20"), nil)
	if low == pass {
		return pass
	}
	lips, sloped := new(big.Rat), true
	for _, s := range steps {
		if s.upright() {
			lips = plus(lips, s.rise)
			sloped = sloped && !above(lips, mm("20"))
		}
	}
	if low == fail && sloped && high(steps, mm("1000"), nil) != fail {
		return unknown
	}
	return low
}

func warunkiTechniczne(d door) map[string]verdict {
	entrance, inner := is(d.role, "entrance", "communal-entrance", "private-entrance"), is(d.location, "internal")
	room := and(inner, is(d.role, "room", "bathroom", "other"))
	public, other := is(d.serves, "public"), is(d.role, "other")
	return map[string]verdict{
		// § 62(3) and (1).
		"entrance-sill":  where(entrance, eachSide(d, "20")),
		"entrance-width": where(entrance, inFrame(d, "900")),
		// § 75(3): none; technical rooms and stores of public buildings are left out.
		"inner-sill": where(and(room, or(is(d.role, "room"), public)), either(eachSide(d, "0"), excused(other, unknown))),
		// § 75(1), (2) and § 79(1).
		"inner-width": where(and(room, or(is(d.role, "room", "bathroom"), public)), either(inFrame(d, "900"),
			excused(is(d.serves, "dwelling", "common-area", "workplace"), inFrame(d, "800")), excused(other, unknown))),
	}
}
