package oracle

import "math/big"

// The National Building Code of Canada 2020, the British Columbia Building Code 2024 and the Third Schedule of the Building (Planning)
// Regulations of Hong Kong. Millimetres and newtons only.

func bc2024(d door) map[string]verdict {
	out := canada(d)
	// 3.8.3.6.(5): 13 mm, "and shall be beveled", with no height below which none is needed; 3.8.3.2.(3)(e) begins at 6 mm, so that a lone
	// lip of up to 6 mm is left open.
	out["threshold"] = where(reached(d), raised{height: mm("13"), lip: mm("6")}.judge(d))
	// 3.8.3.2.(3)(e), (f): bevelled 1 in 2 "between 6 mm and 13 mm"; more is a sloped floor or a ramp, which a climb out of a dip at 1:2 may be.
	path := shape{height: mm("13"), steep: mm("6"), ramp: mm("2")}
	out["change-in-level"] = where(d.accessible, path.judge(d))
	// 3.3.1.13.(1)(d): 13 mm, and above 6 mm bevelled 1 in 2.
	out["exit-access-threshold"] = where(exitAccess(d), raised{height: mm("13"), upright: mm("6"), slope: mm("2")}.judge(d))
	return out
}

func nbc2020(d door) map[string]verdict {
	out := canada(d)
	out["threshold"] = where(reached(d), raised{height: mm("13")}.judge(d))
	// 3.3.1.13.(1)(d) without the bevel that British Columbia added.
	out["exit-access-threshold"] = where(exitAccess(d), everySide(d, func(s []step) verdict { return high(s, mm("13"), nil) }))
	return out
}

// canada is what both codes say in the same words.
func canada(d door) map[string]verdict {
	// 3.8.3.6.(8) and (9): not at the entrance to a dwelling unit, not with a power operator; where it must close against a difference in
	// air pressure whether less would do is left open.
	path := and(d.accessible, home(d).not(), manual(d))
	force := func(limit string) verdict { return either(opens(d, mm(limit), nil), excused(d.air, unknown)) }
	return map[string]verdict{
		// 3.4.6.11.(2), (3): 13 mm; outside one step of 150 mm where ice or snow may block the door, which is left open.
		"exit-threshold": where(and(d.exit, d.spill.not()), either(everySide(d, func(s []step) verdict { return high(s, mm("13"), nil) }),
			excused(is(d.location, "external"), open(onStep(d))))),
		"clear-width":            where(reached(d), atLeast(d.clear.v, mm("850"), nil)), // 3.8.3.6.(2), (3)
		"opening-force-exterior": where(and(path, is(d.location, "external"), swinging(d)), force("38")),
		"opening-force-interior": where(and(path, is(d.location, "internal"), swinging(d)), force("22")),
		"opening-force-sliding":  where(and(path, is(d.operation, "sliding")), force("22")),
		"opening-force-exit":     where(and(d.exit, manual(d)), opens(d, mm("90"), nil)), // 3.4.6.16.(4)
	}
}

// 3.3.1.13.(1)(d): not a sill that confines spilled flammable liquid, not the door to a balcony that 3.3.1.7.(1)(c) does not require.
func exitAccess(d door) truth {
	return and(d.escape, d.spill.not(), or(is(d.leads, "balcony").not(), d.refuge))
}

// reached: 3.8.3.6.(2), (3), (5) are for the accessible path and for the path to one bathroom of a suite of residential occupancy.
func reached(d door) truth {
	path := d.bathroom
	if path == notKnown && is(d.serves, "dwelling") == no {
		path = no
	}
	return or(d.accessible, path)
}

func home(d door) truth { return is(d.role, "private-entrance") }

// onStep judges from the top of an upright face at the foot of the outer side, at most 150 mm high; the inner side as ever.
func onStep(d door) verdict {
	if !d.drawn {
		return unknown
	}
	out, face := walk(d.profile, false), new(big.Rat)
	first := 0
	for first < len(out) && out[first].rise != nil && out[first].rise.Sign() <= 0 {
		first++
	}
	if first == len(out) || out[first].rise == nil {
		return all(high(out, mm("13"), nil), high(walk(d.profile, true), mm("13"), nil))
	}
	for n := first; n < len(out) && (out[n].upright() || out[n].nothing()); n++ {
		face = plus(face, out[n].rise)
	}
	if face.Sign() == 0 || above(face, mm("150")) {
		return fail
	}
	rest := []step{}
	for _, s := range out {
		if s.to != nil {
			s.to = minus(s.to, face)
		}
		rest = append(rest, s)
	}
	return all(high(rest, mm("13"), nil), high(walk(d.profile, true), mm("13"), nil))
}

func (s step) nothing() bool {
	return s.rise != nil && s.rise.Sign() == 0 && s.run != nil && s.run.Sign() == 0
}

// raised is a threshold that is to be bevelled: its height; up to which a lone lip is left open; up to which it may be upright; the slope
// of the bevel, 1 to n. What is nil the text does not have.
type raised struct{ height, lip, upright, slope *big.Rat }

func (r raised) judge(d door) verdict {
	return everySide(d, func(s []step) verdict { return all(high(s, r.height, nil), r.bevels(s)) })
}

// bevels: what rises above the side's floor, and above what may be upright, is a bevel. Upright faces alone are none; beside bevels, and with
// an edge taken off, they are left open, and so is a face that leans more steeply than 1:1 where no slope is given.
func (r raised) bevels(steps []step) verdict {
	faces, slopes, unread, edges, lips := 0, 0, 0, 0, 0
	out := pass
	for _, s := range steps {
		switch {
		case s.rise == nil:
			return unknown // what follows may stand anywhere
		case s.rise.Sign() <= 0 || s.to.Sign() <= 0 || r.upright != nil && !above(s.to, r.upright):
			continue
		case s.run == nil:
			unread++
		case s.run.Sign() == 0:
			faces++
			if is(s.nose, "bevelled", "rounded") == yes {
				edges++
			}
			if r.lip != nil && !above(s.to, r.lip) {
				lips++
			}
		default:
			slopes++
			switch {
			case r.slope != nil && s.steep(r.slope) == yes:
				out = all(out, fail)
			case r.slope == nil && s.steep(mm("1")) == yes:
				out = all(out, unknown)
			}
		}
	}
	switch {
	case faces > 0 && r.upright != nil:
		return fail
	case faces > 0 && slopes > 0, unread > 0, edges > 0, faces > 0 && lips == faces:
		return all(out, unknown)
	case faces > 0:
		return fail
	}
	return out
}

func hkBPR(d door) map[string]verdict {
	by := and(d.accessible, manual(d)) // s. 37; a door that power opens is not pushed
	device := or(d.closer, d.springs)  // s. 43(1)
	loose := and(by, device, d.fire.not())
	return map[string]verdict{
		"threshold":              where(d.accessible, raised{height: mm("20")}.judge(d)),  // s. 42
		"clear-width":            where(d.accessible, atLeast(d.clear.v, mm("800"), nil)), // s. 38(a)
		"opening-force-interior": where(and(loose, is(d.location, "internal")), opens(d, mm("22"), nil)),
		"opening-force-exterior": where(and(loose, is(d.location, "external")), opens(d, mm("30"), nil)),
		"opening-force-fire":     where(and(by, d.fire), opens(d, mm("30"), nil)), // s. 43(3)
	}
}
