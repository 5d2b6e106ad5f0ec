package oracle

// The Fair Housing Accessibility Guidelines 1991 and the California Building Code 2022.

func fha1991(d door) map[string]verdict {
	lower := floorDifference(d)
	outdoors, external := is(d.role, "outdoor-space"), is(d.location, "external")
	return map[string]verdict{
		"threshold-profile": fhaThreshold(d),
		// Of a lower impervious deck the threshold is measured from inside.
		"deck-threshold": where(and(outdoors, external, d.impervious, upToTruth(lower, half, nil).not()), fhaInside(d)),
		// Requirement 4: a deck, patio or balcony at most 1/2 in below the floor inside; of
		// impervious material at most 4 in.
		"deck-level": where(outdoors, either(atMost(lower, half, nil), excused(d.impervious, atMost(lower, inch(4, 1), nil)))),
		// Requirement 4: the landing outside the primary entry door, if impervious, at most
		// 1/2 in below the floor inside.
		"entry-landing":    where(and(is(d.role, "private-entrance"), external, d.impervious), atMost(lower, half, nil)),
		"clear-width":      fhaWidth(d),
		"clear-width-deep": where(deeperThan24(d, nil), atLeast(d.clear.v, inch(36, 1), nil)),
	}
}

// Requirement 4: 1/4 in may be vertical and 1/2 in bevelled 1:2; 3/4 in at exterior sliding
// doors, and by one reading (answer 19.1 of 1994) at every door. No metric values.
func fhaThreshold(d door) verdict {
	base := shape{height: half, steep: quarter, ramp: mm("12")}
	lower := floorDifference(d)
	external := is(d.location, "external")
	// A lower impervious deck is outside of it, see deck-threshold.
	applies := or(upToTruth(lower, half, nil), is(d.role, "outdoor-space").not(), is(d.location, "internal"), d.impervious.not())
	// A landing or deck may be 1/2 in lower: whether 3/4 in then is measured from it the text does not say.
	down := and(upToTruth(lower, mm("0"), nil).not(), upToTruth(lower, half, nil))
	landing := and(external, is(d.role, "private-entrance", "outdoor-space"), down, upToTruth(topAbove(d, true), three4, nil))
	high := base.upTo(three4, nil).judge(d)
	return where(applies, either(base.judge(d),
		excused(and(external, is(d.operation, "sliding")), high),
		excused(and(external, is(d.operation, "sliding").not()), open(high)),
		excused(landing, open(base.upTo(inch(5, 4), nil).judge(d)))))
}

func fhaInside(d door) verdict {
	top := topAbove(d, true)
	slides := is(d.operation, "sliding")
	high := atMost(top, three4, nil)
	return either(atMost(top, half, nil), excused(slides, high), excused(slides.not(), open(high)))
}

// Requirement 3: doors within the dwelling 32 in nominal (a 34 in door will do, and a
// standard six-foot sliding patio door): the text gives no number; 31 in is a judgement.
// Primary entry doors and those of common use by ANSI 4.13, 32 in clear.
func fhaWidth(d door) verdict {
	return either(atLeast(d.clear.v, inch(32, 1), nil),
		excused(is(d.role, "outdoor-space", "garage", "room", "bathroom"), open(atLeast(d.clear.v, inch(31, 1), nil))),
		excused(and(is(d.role, "outdoor-space"), is(d.operation, "sliding")), open(atLeast(d.clear.v, mm("0"), nil))))
}

// California: 1/4 in (6.4 mm), 1/2 in (12.7 mm), 32 in (813 mm), 24 in (610 mm), 36 in
// (914 mm, looser than 914.4), latch stop 5/8 in (15.9 mm), 5 lbf (22.2 N),
// 8.5 lbf (37.8 N; 38 N in 11B-809.8.2), 15 lbf (66.7 N).
func cbc2022(d door) map[string]verdict {
	base := shape{height: half, steep: quarter, steepPrinted: mm("6.4"), ramp: mm("12")}
	internal, external := is(d.location, "internal"), is(d.location, "external")
	dwelling := is(d.role, "private-entrance", "outdoor-space")
	entry := opens(d, lbf("8.5"), mm("38"))
	return map[string]verdict{
		// 11B-404.2.5, 11B-303; the exception for existing thresholds is reserved. 11B-809.8.1:
		// secondary exterior doors of some dwellings 3/4 in (19.1 mm), which no fact tells.
		"threshold-profile": either(base.judge(d),
			excused(and(external, is(d.role, "outdoor-space")), open(base.upTo(three4, mm("19.1")).judge(d)))),
		"clear-width":      where(manual(d), width(d, inch(32, 1), nil, mm("15.9"))),
		"clear-width-deep": where(and(manual(d), deeperThan24(d, mm("610"))), width(d, inch(36, 1), mm("914"), mm("15.9"))),
		// 11B-404.2.9: hinged, sliding and folding doors 5 lbf.
		"opening-force-interior": where(and(adaForce(d), internal, moves(d)), opens(d, lbf("5"), nil)),
		// Exterior too. Its exception: 8.5 lbf where one leaf in eight there is powered, and
		// 11B-809.8.2 for some dwellings; no fact tells either.
		"opening-force-exterior": where(and(adaForce(d), external, moves(d)), either(opens(d, lbf("5"), nil),
			open(opens(d, lbf("8.5"), nil)), excused(dwelling, open(entry)))),
		// Required fire doors: the authority's minimum, not above 15 lbf.
		"opening-force-fire": where(and(manual(d), d.fire, guarded(d).not(), moves(d)), opens(d, lbf("15"), nil)),
		// 11B-809.8.2: primary and secondary exterior doors of dwellings 8.5 lbf (38 N).
		"opening-force-dwelling": where(and(dwelling, external, manual(d), moves(d)), entry),
	}
}
