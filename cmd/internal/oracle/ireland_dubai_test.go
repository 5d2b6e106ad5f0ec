package oracle

import "math/big"

// Technical Guidance Document M 2010, 1.3.3.2: manual internal doors of buildings other than dwellings.
func tgdM2010(d door) map[string]verdict {
	applies := and(is(d.variants["ie-tgdm-2010"], "other-building"), is(d.location, "internal"))
	byHand := and(applies, is(d.powered, "none"))
	// Table 2: 825 mm at right angles to a route of 1200 mm. The rows for straight on and for a wider route were not seen.
	straight, wider := is(d.from, "front"), notKnown
	if straight == no && d.route.v != nil {
		wider = upToTruth(d.route.v, mm("1200"), nil).not()
	}
	return map[string]verdict{
		"opening-force-30": where(byHand, swung(d, "0", "30", mm("30"))),
		"opening-force-60": where(byHand, swung(d, "30", "60", mm("22.5"))),
		"clear-width":      where(applies, either(atLeast(d.least.v, mm("825"), nil), excused(straight, unknown), excused(wider, unknown))),
	}
}

// Dubai Universal Design Code 5.12, 7.10 and 7.19.2.
func dubai2017(d door) map[string]verdict {
	balcony := or(is(d.role, "outdoor-space"), is(d.leads, "balcony"))
	return map[string]verdict{
		// 5.12 item 8: "Doors shall be level". Balcony doors have 7.10.
		"level": where(and(d.accessible, is(d.role, "outdoor-space").not()), everySide(d, noRise)),
		// 5.12 item 9.
		"opening-force": where(and(d.accessible, is(d.powered, "none")), band(d, "0", "90", mm("25"), nil)),
		"clear-width":   where(d.accessible, freeWidth(d, "900")),
		// 7.19.2 item 1: entrance and internal doors of new housing.
		"clear-width-housing": where(and(is(d.work, "new"), is(d.serves, "dwelling", "common-area"),
			or(is(d.role, "communal-entrance", "private-entrance"), is(d.location, "internal"))), freeWidth(d, "900")),
		// 7.10: the same level; flush where possible; raised at most 20 mm and "bevelled down to a height of 10 mm chamfered"; 900 mm.
		"balcony-threshold":   where(balcony, everySide(d, bevelledDown)),
		"balcony-flush":       where(balcony, levelOrOpen(d)),
		"balcony-level":       where(balcony, sameLevel(d)),
		"balcony-clear-width": where(balcony, atLeast(d.least.v, mm("900"), nil)),
	}
}

// bevelledDown: a side bevelled all the way passes, one that is upright alone and above 10 mm fails. Where it is both, is 10 mm
// at most, or an edge is taken off, the words can be read either way. What does not rise above the side's floor is not raised.
func bevelledDown(steps []step) verdict {
	height := high(steps, mm("20"), nil)
	var upright, sloped, unread, eased, tall bool
	for _, s := range steps {
		switch {
		case s.to == nil:
			return all(height, unknown)
		case s.rise.Sign() <= 0 || s.to.Sign() <= 0:
		case s.run == nil:
			unread = true
		case s.run.Cmp(new(big.Rat)) > 0:
			sloped = true
		default:
			upright = true
			eased = eased || is(s.nose, "bevelled", "rounded") == yes
			tall = tall || above(s.to, mm("10"))
		}
	}
	switch {
	case upright && sloped, unread:
		return all(height, unknown)
	case !upright:
		return height
	case eased, !tall:
		return all(height, unknown)
	}
	return fail
}
