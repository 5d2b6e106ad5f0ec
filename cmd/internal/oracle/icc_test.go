package oracle

import "math/big"

// The International Building Code 2018 and the International Residential Code 2018.
// Roundings looser than the inch or pound: 1/4 in (6.4 mm), 3/4 in (19.1 mm),
// 7 3/4 in (197 mm; the IRC prints 196), 4 in (102 mm), 15 lbf (67 N). Not looser:
// 1/2 in (12.7), 1 1/2 in (38), 32 in (813), 5 lbf (22 N), 30 lbf (133 N).

func ibc2018(d door) map[string]verdict {
	// 1010.1 is for means of egress doors; powered ones are under 1010.1.4.2.
	egress := and(d.escape, manual(d))
	interior := and(egress, swinging(d), is(d.location, "internal"), d.fire.not())
	// 1010.1.3: other swinging doors, as well as sliding and folding doors.
	other := and(egress, moves(d), or(is(d.location, "external"), d.fire, is(d.operation, "sliding", "folding")))
	return map[string]verdict{
		"threshold-profile":      ibcThreshold(d),
		"clear-width":            ibcWidth(d),
		"opening-force-interior": where(interior, opens(d, lbf("5"), nil)),
		"unlatching-force":       where(and(other, d.latch), atMost(d.unlatching.v, lbf("15"), mm("67"))),
		"starting-force":         where(other, atMost(d.starting.v, lbf("30"), nil)),
		"full-open-force":        where(other, fullOpen(d)),
	}
}

// IBC 1010.1.7: sliding doors serving dwelling units 3/4 in (19.1 mm), other doors 1/2 in
// (12.7 mm), above the finished floor or landing; more than 1/4 in (6.4 mm) bevelled 1:2.
// Of a change in level otherwise the code states a slope and no height: a dip that is
// climbed at 1:2 or gentler is left open. Existing buildings had 3/4 in, bevelled on each
// side (3409.7.12 of 2003): the text of now was not seen.
func ibcThreshold(d door) verdict {
	base := shape{height: half, steep: quarter, steepPrinted: mm("6.4"), ramp: mm("2")}
	sliding := base.upTo(three4, mm("19.1"))
	existing := sliding
	existing.edged = true
	slides, dwelling := is(d.operation, "sliding"), is(d.serves, "dwelling")
	return either(base.judge(d), excused(and(slides, dwelling), sliding.judge(d)),
		ibcHigh(d, base), ibcTypeB(d, base), excused(is(d.work, "existing", "alteration"), open(existing.judge(d))))
}

// Exception 1: in sliding and side-hinged exterior doors up to 7 3/4 in
// (197 mm), if not required egress, not on an accessible route, and not in an Accessible,
// Type A or Type B unit. Whether what is so high must be bevelled it does not say.
func ibcHigh(d door, base shape) verdict {
	holds := and(is(d.serves, "dwelling"), is(d.location, "external"), is(d.operation, "hinged", "pair", "sliding"),
		d.escape.not(), d.accessible.not(), is(d.unit, "other"))
	bevelled := base.upTo(inch(31, 4), mm("197"))
	square := bevelled
	square.steep, square.steepPrinted = square.height, square.heightPrinted
	return excused(holds, either(bevelled.judge(d), open(square.judge(d))))
}

// Exception 2: in Type B units, where the outside is an impervious deck, patio or balcony
// at most 4 in (102 mm) below the floor, 4 3/4 in for sliding and 4 1/2 in for other
// doors; inside as ever. Its text was not seen: left open.
func ibcTypeB(d door, base shape) verdict {
	holds := and(is(d.serves, "dwelling"), is(d.unit, "type-b"), is(d.role, "outdoor-space"), d.impervious,
		upToTruth(floorDifference(d), inch(4, 1), mm("102")))
	in := topAbove(d, true)
	deck := func(height *big.Rat) verdict {
		s := base.upTo(height, nil)
		s.steep, s.steepPrinted = height, nil
		return open(s.judge(d))
	}
	return either(
		excused(and(holds, is(d.operation, "sliding"), upToTruth(in, three4, mm("19.1"))), deck(inch(19, 4))),
		excused(and(holds, swingingOrFolding(d), upToTruth(in, half, nil)), deck(inch(9, 2))))
}

func swingingOrFolding(d door) truth { return or(swinging(d), is(d.operation, "folding")) }

// IBC 1010.1.1: 32 in (813 mm). Not interior doors of dwelling units that are no
// Accessible, Type A or Type B unit (Exception 8). In Type B units 31 3/4 in (806 mm);
// whether a door to its deck or garage is in the unit the text does not say.
func ibcWidth(d door) verdict {
	applies := and(d.escape, or(is(d.serves, "public", "common-area", "workplace"), is(d.unit, "accessible", "type-a", "type-b"),
		is(d.location, "external"), is(d.role, "entrance", "communal-entrance", "private-entrance", "outdoor-space", "garage", "other")))
	typeB := and(is(d.serves, "dwelling"), is(d.unit, "type-b"))
	narrow := atLeast(d.clear.v, inch(127, 4), mm("806"))
	return where(applies, either(atLeast(d.clear.v, inch(32, 1), nil),
		excused(and(typeB, is(d.role, "room", "bathroom")), narrow),
		excused(and(typeB, is(d.role, "outdoor-space", "garage", "other")), open(narrow))))
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
	outer := and(is(d.location, "external"), is(d.serves, "dwelling"))
	required := and(outer, d.escape)
	// What opens inwards, or slides, does not swing over what is outside.
	clear := or(is(d.opens, "in"), is(d.operation, "sliding"))
	low := atMost(topAbove(d, false), inch(3, 2), nil)
	high := atMost(topAbove(d, false), inch(31, 4), nil)
	other := high
	if high == fail && clear != no {
		other = unknown // R311.3.2 Exception: no landing where at most two risers are outside and the door does not swing over them
	}
	return map[string]verdict{
		// R311.3.1: landings or floors at most 1 1/2 in (38 mm) below the top of the threshold.
		"egress-landing-inside": where(required, atMost(topAbove(d, true), inch(3, 2), nil)),
		// Its exception: outside 7 3/4 in (196 mm), if the door does not swing over it.
		"egress-landing-outside": where(required, either(low, excused(clear, high))),
		// R311.3.2: other doors 7 3/4 in (196 mm).
		"other-landing-outside": where(and(outer, d.escape.not()), other),
		// R311.2: 32 in (813 mm), face of door to stop, open 90 degrees.
		"clear-width": where(required, atLeast(d.clear.v, inch(32, 1), nil)),
	}
}
