package oracle

// The Fair Housing Accessibility Guidelines 1991 and the California Building Code 2022.

func fha1991(d door) map[string]verdict {
	return map[string]verdict{
		"threshold-profile": fhaThreshold(d),
		// Requirement 4: a deck, patio or balcony at most 1/2 in below the floor inside; of
		// impervious material at most 4 in.
		"deck-level": where(is(d.role, "outdoor-space"), either(
			atMost(floorDifference(d), half, nil),
			excused(d.impervious, atMost(floorDifference(d), inch(4, 1), nil)))),
		// Requirement 4: the landing of the primary entry door, if impervious, at most 1/2 in
		// below the floor inside.
		"entry-landing": where(and(is(d.role, "private-entrance"), d.impervious), atMost(floorDifference(d), half, nil)),
		"clear-width":   fhaWidth(d),
	}
}

// Requirement 4: at exterior doors, sliding tracks included, 3/4 in, bevelled 1:2; within
// the dwelling 1/4 in may be vertical and 1/2 in bevelled 1:2. No metric values printed.
func fhaThreshold(d door) verdict {
	return all(choose(is(d.location, "external"), upTo(d, three4, nil), upTo(d, half, nil)), bevels(d, nil))
}

// Requirement 3: doors within the dwelling 32 in nominal (a 34 in door will do); primary
// entry doors and those of common use by ANSI 4.13, 32 in clear.
func fhaWidth(d door) verdict {
	v := atLeast(d.clear.v, inch(32, 1), nil)
	entry := is(d.role, "private-entrance", "communal-entrance", "entrance")
	if v == fail && entry != yes && !below(d.clear.v, inch(31, 1)) {
		return unknown // nominal: the text gives no number
	}
	return v
}

// California: 1/4 in (6.4 mm), 1/2 in (12.7 mm), 32 in (813 mm), 24 in (610 mm), 36 in
// (914 mm, looser than 914.4), latch stop 5/8 in (15.9 mm), 5 lbf (22.2 N),
// 8.5 lbf (37.8 N; 38 N in 11B-809.8.2), 15 lbf (66.7 N).
func cbc2022(d door) map[string]verdict {
	applies := adaForce(d)
	internal, external := is(d.location, "internal"), is(d.location, "external")
	hinged, slides := swinging(d), is(d.operation, "sliding", "folding")
	dwelling := and(external, is(d.serves, "dwelling"), is(d.role, "private-entrance", "outdoor-space"))
	five := opens(d, lbf("5"), nil)
	return map[string]verdict{
		"threshold-profile": all(upTo(d, half, nil), bevels(d, mm("6.4"))), // 11B-404.2.5, 11B-303
		"clear-width":       where(manual(d), cbcWidth(d)),
		// 11B-404.2.9: hinged, sliding and folding doors 5 lbf.
		"opening-force-interior": where(and(applies, internal, or(hinged, slides)), five),
		// Exterior too. Its exception: 8.5 lbf where one leaf in eight there is powered.
		"opening-force-exterior": where(and(applies, external, or(hinged, slides), dwelling.not()), openUpTo(five, opens(d, lbf("8.5"), nil))),
		// Required fire doors: the authority's minimum, not above 15 lbf.
		"opening-force-fire": where(and(manual(d), d.fire, guarded(d).not()), opens(d, lbf("15"), nil)),
		// 11B-809.8.2: primary and secondary exterior doors of dwellings 8.5 lbf (38 N).
		"opening-force-dwelling": where(and(dwelling, manual(d), d.fire.not()), opens(d, lbf("8.5"), mm("38"))),
	}
}

// openUpTo leaves open what only an exception would pass whose condition no fact tells.
func openUpTo(usual, exception verdict) verdict {
	if usual == fail && exception != fail {
		return unknown
	}
	return usual
}

// 11B-404.2.3: 32 in, and 36 in where the opening is more than 24 in deep.
func cbcWidth(d door) verdict {
	v := atLeast(d.clear.v, inch(32, 1), nil)
	deep := atLeast(d.clear.v, inch(36, 1), mm("914"))
	v = choose(deeperThan24(d, mm("610")), deep, v)
	if v == fail && is(d.work, "alteration") != no && !below(d.clear.v, minus(inch(32, 1), mm("15.9"))) {
		return unknown
	}
	return v
}
