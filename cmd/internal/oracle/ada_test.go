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

func moves(d door) truth { return or(swinging(d), is(d.operation, "sliding", "folding")) }

// thresholds of 1/2 in (13 mm), 1/4 in (6.4 mm) of it upright.
var americanShape = shape{height: half, heightPrinted: mm("13"), steep: quarter, steepPrinted: mm("6.4"), ramp: mm("12")}

func ada2010(d door) map[string]verdict {
	// ADA 404.2.5: 1/2 in (13 mm) high at most, and 302 and 303. Its exception, existing or
	// altered: 3/4 in (19 mm), bevelled on each side not steeper than 1:2; the Guide's figure
	// has the vertical edge of up to 1/4 in below the bevel here too.
	existing := americanShape.upTo(three4, nil)
	existing.edged = true
	return map[string]verdict{
		"threshold-profile":     either(americanShape.judge(d), excused(is(d.work, "existing", "alteration"), existing.judge(d))),
		"clear-width":           where(manual(d), width(d, inch(32, 1), nil, mm("16"))),
		"clear-width-deep":      where(and(manual(d), deeperThan24(d, mm("610"))), width(d, inch(36, 1), nil, mm("16"))),
		"opening-force-hinged":  where(and(adaForce(d), swinging(d), is(d.location, "internal")), opens(d, lbf("5"), nil)),
		"opening-force-sliding": where(and(adaForce(d), is(d.operation, "sliding", "folding")), opens(d, lbf("5"), nil)),
	}
}

// width judges ADA 404.2.3 and its like: clear width at least so much, face of door to
// stop at 90 degrees. In alterations a latch side stop may project 5/8 in into it, printed
// as 16 mm or 15.9 mm, which is looser: whether what is missing is that stop, the width
// does not tell.
func width(d door, least, printed, stop *big.Rat) verdict {
	return either(atLeast(d.clear.v, least, printed), excused(is(d.work, "alteration"), open(atLeast(d.clear.v, minus(least, stop), nil))))
}

// ADA 404.2.3: openings more than 24 in (610 mm) deep provide 36 in (915 mm). Between the
// inch and its looser rounding the text does not say whether the opening is that deep.
func deeperThan24(d door, printed *big.Rat) truth {
	return upToTruth(d.depth.v, inch(24, 1), printed).not()
}

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

// A117.1 404.2.4 (threshold; its exception asks for 1:2 "for the height exceeding 1/4
// inch", so that a lower side needs no bevel), 404.2.2 (width), 404.2.8 (force). In a Type
// B unit the doors other than the primary entrance are under 1104.5.2, of which paraphrases
// were seen: 3/4 in, and 31 3/4 in wide; up to that it is left open.
func a1172017(d door) map[string]verdict {
	typeB := and(is(d.serves, "dwelling"), is(d.unit, "type-b"), is(d.role, "outdoor-space", "garage", "room", "bathroom", "other"))
	existing := americanShape.upTo(three4, nil).judge(d)
	return map[string]verdict{
		"threshold-profile": either(americanShape.judge(d), excused(is(d.work, "existing", "alteration"), existing), excused(typeB, open(existing))),
		"clear-width": where(manual(d), either(width(d, inch(32, 1), nil, mm("16")),
			excused(typeB, open(atLeast(d.clear.v, inch(127, 4), nil))))),
		"clear-width-deep":      where(and(manual(d), deeperThan24(d, mm("610"))), width(d, inch(36, 1), nil, mm("16"))),
		"opening-force-hinged":  where(and(adaForce(d), swinging(d), is(d.location, "internal")), opens(d, lbf("5"), nil)),
		"opening-force-sliding": where(and(adaForce(d), is(d.operation, "sliding", "folding")), opens(d, lbf("5"), nil)),
	}
}
