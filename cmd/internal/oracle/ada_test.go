package oracle

import "math/big"

// The 2010 ADA Standards and ICC A117.1-2017. Both print inches with rounded metric
// values: 1/4 in (6.4 mm), 1/2 in (13 mm), 3/4 in (19 mm), 32 in (815 mm), 36 in (915 mm),
// 24 in (610 mm), 5 lbf (22.2 N). The inch governs; 6.4, 13 and 610 are the looser ones.

var (
	quarter = inch(1, 4)
	half    = inch(1, 2)
	three4  = inch(3, 4)
)

func swinging(d door) truth { return is(d.operation, "hinged", "pair", "pivot") }

func manual(d door) truth { return is(d.powered, "none") }

// ada2010 and a1172017 differ in numbering only, as far as these rules go.
func ada2010(d door) map[string]verdict {
	return map[string]verdict{
		"threshold-profile":     americanThreshold(d),
		"clear-width":           where(manual(d), americanWidth(d, inch(32, 1))),
		"clear-width-deep":      where(and(manual(d), deeperThan24(d, mm("610"))), deepWidth(d)),
		"opening-force-hinged":  where(and(adaForce(d), swinging(d), is(d.location, "internal")), opens(d, lbf("5"), nil)),
		"opening-force-sliding": where(and(adaForce(d), is(d.operation, "sliding", "folding")), opens(d, lbf("5"), nil)),
	}
}

// ADA 404.2.5: 1/2 in (13 mm) high at most, and 302 and 303. Its exception, existing or
// altered: 3/4 in (19 mm), bevelled on each side not steeper than 1:2. The Guide's figure,
// and A117.1 404.2.4 in words, ask for the bevel above the first 1/4 in.
func americanThreshold(d door) verdict {
	climbs := func(limit, printed *big.Rat) verdict {
		return everySide(d, func(s []step) verdict { return ramped(s, limit, printed) })
	}
	usual := all(upTo(d, half, mm("13")), climbs(half, mm("13")))
	existing := all(upTo(d, three4, nil), climbs(three4, nil), everySide(d, edged))
	return all(bevels(d, mm("6.4")), either(usual, excused(is(d.work, "existing", "alteration"), existing)))
}

// ADA 404.2.3: clear width at least so much, face of door to stop at 90 degrees. In
// alterations a latch side stop may project 5/8 in (16 mm) into it: whether what is
// missing is that stop, the width does not tell.
func americanWidth(d door, least *big.Rat) verdict {
	v := atLeast(d.clear.v, least, nil)
	if v == fail && is(d.work, "alteration") != no && !below(d.clear.v, minus(least, mm("16"))) {
		return unknown
	}
	return v
}

// ADA 404.2.3: openings more than 24 in (610 mm) deep provide 36 in (915 mm). Between the
// inch and its looser rounding the text does not say whether the opening is that deep.
func deeperThan24(d door, printed *big.Rat) truth {
	switch {
	case d.depth.v == nil:
		return notKnown
	case !above(d.depth.v, inch(24, 1)):
		return no
	case !above(d.depth.v, printed):
		return notKnown
	}
	return yes
}

func deepWidth(d door) verdict { return americanWidth(d, inch(36, 1)) }

// ADA 404.2.9: not fire doors (the authority's minimum), not doors that only security
// staff operate (404.1 Exception), not powered doors (404.2 is for manual ones).
func adaForce(d door) truth { return and(manual(d), d.fire.not(), guarded(d).not()) }

// guarded: only security staff operate it; somebody has to say so.
func guarded(d door) truth {
	if d.security == yes {
		return yes
	}
	return no
}

// opens judges the force from closed to 90 degrees, where the clear width is measured; the
// text names no angles.
func opens(d door, limit, printed *big.Rat) verdict { return band(d, "0", "90", limit, printed) }

// A117.1 404.2.4 (threshold), 404.2.2 (width), 404.2.8 (force).
func a1172017(d door) map[string]verdict {
	return map[string]verdict{
		"threshold-profile":     americanThreshold(d),
		"clear-width":           where(manual(d), americanWidth(d, inch(32, 1))),
		"opening-force-hinged":  where(and(adaForce(d), swinging(d), is(d.location, "internal")), opens(d, lbf("5"), nil)),
		"opening-force-sliding": where(and(adaForce(d), is(d.operation, "sliding", "folding")), opens(d, lbf("5"), nil)),
	}
}
