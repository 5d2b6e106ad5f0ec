package oracle

// The International Building Code 2018 and the International Residential Code 2018.
// Roundings looser than the inch or pound: 1/4 in (6.4 mm), 3/4 in (19.1 mm),
// 7 3/4 in (197 mm; the IRC prints 196), 4 in (102 mm), 15 lbf (67 N). Not looser:
// 1/2 in (12.7), 1 1/2 in (38), 32 in (813), 5 lbf (22 N), 30 lbf (133 N).

func ibc2018(d door) map[string]verdict {
	interior := and(swinging(d), is(d.location, "internal"), d.fire.not())
	// 1010.1.3: other swinging doors, as well as sliding and folding doors.
	other := or(and(swinging(d), interior.not()), is(d.operation, "sliding", "folding"))
	return map[string]verdict{
		"threshold-profile":      ibcThreshold(d),
		"clear-width":            ibcWidth(d),
		"opening-force-interior": where(interior, opens(d, lbf("5"), nil)),
		"unlatching-force":       where(other, atMost(d.unlatching.v, lbf("15"), mm("67"))),
		"starting-force":         where(other, atMost(d.starting.v, lbf("30"), nil)),
		"full-open-force":        where(other, fullOpen(d)),
	}
}

// IBC 1010.1.7: sliding doors serving dwelling units 3/4 in (19.1 mm), other doors 1/2 in
// (12.7 mm), above the finished floor or landing; more than 1/4 in (6.4 mm) bevelled 1:2.
func ibcThreshold(d door) verdict {
	slides := and(is(d.operation, "sliding"), is(d.serves, "dwelling"))
	usual := choose(slides, upTo(d, three4, mm("19.1")), upTo(d, half, nil))
	return either(all(usual, bevels(d, mm("6.4"))), ibcHigh(d), ibcTypeB(d))
}

// Exception 1: in sliding and side-hinged exterior doors up to 7 3/4 in
// (197 mm), if not required egress, not on an accessible route, and not in an Accessible,
// Type A or Type B unit.
func ibcHigh(d door) verdict {
	holds := and(is(d.serves, "dwelling"), is(d.location, "external"), or(swinging(d), is(d.operation, "sliding")),
		d.escape.not(), d.accessible.not(), is(d.unit, "other"))
	return excused(holds, upTo(d, inch(31, 4), mm("197")))
}

// Exception 2: in Type B units, where the outside is an impervious deck, patio or balcony
// at most 4 in (102 mm) below the floor, on its side 4 3/4 in (120 mm) for sliding and
// 4 1/2 in (114 mm) for other doors; inside as ever.
func ibcTypeB(d door) verdict {
	out, in := topAbove(d, false), topAbove(d, true)
	slides := is(d.operation, "sliding")
	onOutside := choose(slides, atMost(out, inch(19, 4), nil), atMost(out, inch(9, 2), nil))
	onInside := choose(and(slides, is(d.serves, "dwelling")), atMost(in, three4, mm("19.1")), atMost(in, half, nil))
	down := atMost(floorDifference(d), inch(4, 1), mm("102"))
	holds := and(is(d.unit, "type-b"), is(d.role, "outdoor-space"), d.impervious)
	return excused(holds, all(down, onOutside, onInside, bevels(d, mm("6.4"))))
}

// IBC 1010.1.1: 32 in (813 mm). Exception 1: in not where the door is not part
// of the required means of egress.
func ibcWidth(d door) verdict {
	return where(or(d.escape, is(d.serves, "dwelling").not()), atLeast(d.clear.v, inch(32, 1), nil))
}

// IBC 1010.1.3: swings to full open at 15 lbf (67 N). A reading that begins with the
// closed door may be the force that sets it in motion, at most 30 lbf.
func fullOpen(d door) verdict {
	full := opens(d, lbf("15"), mm("67"))
	if full != fail {
		return full
	}
	for i, r := range d.forces {
		if r.from.v != nil && r.from.v.Sign() == 0 && r.force.v != nil && !above(r.force.v, lbf("30")) {
			rest := d
			rest.forces = append([]reading{}, d.forces...)
			rest.forces[i].force = value{} // left open
			d = rest
		}
	}
	return opens(d, lbf("15"), mm("67"))
}

func irc2018(d door) map[string]verdict {
	external := is(d.location, "external")
	required := and(external, d.escape)
	// A hinged door that opens outwards swings over what is outside; others do not.
	over := and(swinging(d), is(d.opens, "out"))
	low := atMost(topAbove(d, false), inch(3, 2), nil)
	high := atMost(topAbove(d, false), inch(31, 4), nil)
	other := high
	if high == fail && over != yes {
		other = unknown // R311.3.2 Exception: no landing where at most two risers are outside and the door does not swing over them
	}
	return map[string]verdict{
		// R311.3.1: landings or floors at most 1 1/2 in (38 mm) below the top of the threshold.
		"egress-landing-inside": where(required, atMost(topAbove(d, true), inch(3, 2), nil)),
		// Its exception: outside 7 3/4 in (196 mm), if the door does not swing over it.
		"egress-landing-outside": where(required, either(low, excused(over.not(), high))),
		// R311.3.2: other doors 7 3/4 in (196 mm).
		"other-landing-outside": where(and(external, d.escape.not()), other),
		// R311.2: 32 in (813 mm), face of door to stop, open 90 degrees.
		"clear-width": where(required, atLeast(d.clear.v, inch(32, 1), nil)),
	}
}
