package oracle

import "math/big"

// The Approved Documents of England: M volumes 1 and 2, and C. Millimetres only.

func admVolume1(d door) map[string]verdict {
	communal, private := is(d.role, "communal-entrance"), is(d.role, "private-entrance")
	entrance := or(communal, private)
	// 2.20, 2.21, 3.22, 3.23: the entrances and all other external doors, those to garden, balcony and garage among them.
	outer := or(entrance, is(d.role, "outdoor-space", "garage"), is(d.location, "external"))
	m1, wide := is(d.variant, "M4(1)"), is(d.variant, "M4(2)", "M4(3)")
	// 3.14(l): power assisted where it takes more than 30 N, or 22.5 N from 30 to 60 degrees.
	power := and(is(d.variant, "M4(3)"), communal, is(d.powered, "none"))
	return map[string]verdict{
		// Appendix A: at most 15 mm, upstands above 5 mm chamfered, as few as possible. M4(1)
		// asks it of the principal entrances (1.9, 1.14), where 1.14(c) has a step of 150 mm
		// "where unavoidable", which is left open.
		"threshold": where(and(or(entrance, wide), outer), either(upstands(d, "bevelled"),
			excused(and(m1, private), open(aboveStep(d))))),
		"entrance-step": where(and(m1, private), atMost(floorDifference(d), mm("150"), nil)),
		// 1.9(a), 1.14(a): 775 mm, Diagram 1.1, furniture and weatherboards ignored.
		"clear-width-entrance": where(and(m1, entrance), atLeast(d.clear.v, mm("775"), nil)),
		// 2.14(d), 2.20(d), 2.21, 3.14(e), 3.22(f), 3.23: 850 mm.
		"clear-width-entrance-wide": where(and(wide, outer), atLeast(d.clear.v, mm("850"), nil)),
		"opening-force-30":          where(power, swung(d, "0", "30", mm("30"))),
		"opening-force-60":          where(power, swung(d, "30", "60", mm("22.5"))),
	}
}

func admVolume2(d door) map[string]verdict {
	// Volume 1, 0.10: common parts of mixed use are under this volume.
	entrance := is(d.role, "entrance", "communal-entrance")
	// 2.17(a) manual entrance doors, 3.10(a) manual internal doors.
	force := and(manual(d), or(entrance, is(d.location, "internal")))
	return map[string]verdict{
		// 2.7(e): entrances; 15 mm, upstands above 5 mm chamfered or rounded.
		"threshold":   where(entrance, upstands(d, "bevelled", "rounded")),
		"clear-width": tableTwo(d),
		// Table 2, last row: external doors to buildings used by the general public.
		"clear-width-public-entrance": where(and(is(d.location, "external"), is(d.serves, "public")), newOrExisting(d, "1000", "775")),
		"opening-force-30":            where(force, swung(d, "0", "30", mm("30"))),
		"opening-force-60":            where(force, swung(d, "30", "60", mm("22.5"))),
	}
}

// swung: the angles are those of a door that swings; what they are for one that slides or
// folds the text does not say.
func swung(d door, from, to string, limit *big.Rat) verdict {
	return either(band(d, from, to, limit, nil), excused(is(d.operation, "sliding", "folding"), unknown))
}

// newOrExisting reads one row of Table 2: new buildings, existing buildings. An altered
// doorway is one of an existing building.
func newOrExisting(d door, forNew, forExisting string) verdict {
	return choose(is(d.work, "new"), atLeast(d.least.v, mm(forNew), nil), atLeast(d.least.v, mm(forExisting), nil))
}

// Table 2: straight on, and at right angles to a route of 1500 mm, 800 (750); to one of
// 1200 mm 825 (775). A narrower route has no row; the last is taken.
func tableTwo(d door) verdict {
	easy := is(d.from, "front")
	if easy != yes && d.from != "" && d.route.v != nil { // along the wall
		easy = or(easy, upToTruth(minus(mm("1500"), d.route.v), mm("0"), nil))
	} else if easy == no {
		easy = notKnown
	}
	return choose(easy, newOrExisting(d, "800", "750"), newOrExisting(d, "825", "775"))
}

// upstands judges each side: 15 mm high at most, upright faces above 5 mm with one of
// the noses, at most one upstand and one slope.
func upstands(d door, noses ...string) verdict {
	return everySide(d, func(s []step) verdict {
		return all(high(s, mm("15"), nil), faces(s, noses), few(s))
	})
}

// aboveStep judges a threshold from the top of an upright face at the foot of its outer
// side, which may be a step into the dwelling of at most 150 mm; a rounded nose is open.
func aboveStep(d door) verdict {
	if !d.drawn {
		return unknown
	}
	rest := walk(d.profile, false)
	for i, s := range rest {
		if s.rise == nil {
			continue // it may be level, or part of the step
		}
		if s.rise.Sign() > 0 {
			rest = nil
			if s.upright() {
				rest = walk(d.profile, false)[i:]
			}
			break
		}
	}
	face, n := new(big.Rat), 0
	for n < len(rest) && rest[n].upright() {
		face = plus(face, rest[n].rise)
		n++
	}
	if n == 0 || above(face, mm("150")) {
		return fail
	}
	above := []step{}
	for _, s := range rest[n:] {
		if s.to != nil {
			s.to = minus(s.to, face)
		}
		above = append(above, s)
	}
	noses := []string{"bevelled", "rounded"}
	in := walk(d.profile, true)
	return all(high(above, mm("15"), nil), faces(above, noses), few(above), high(in, mm("15"), nil), faces(in, noses), few(in))
}

// faces: "any upstands higher than 5mm chamfered" (Volume 1), "chamfered or rounded"
// (Volume 2). Upright parts that follow each other are one face, its nose the upper one's.
func faces(steps []step, noses []string) verdict {
	out, face, upright := pass, new(big.Rat), new(big.Rat)
	for _, s := range steps {
		if s.upright() {
			upright = plus(upright, s.rise)
		}
	}
	for i, s := range steps {
		if s.rise == nil || s.rise.Sign() > 0 && s.run == nil {
			face = new(big.Rat)
			if s.rise == nil || above(s.rise, mm("5")) {
				out = all(out, unknown)
			}
			continue
		}
		if s.rise.Sign() <= 0 || s.run.Sign() > 0 {
			face = new(big.Rat)
			// A face that leans, steeper than 1:1: whether it is an upstand, or part of one, the text does not say.
			if s.steep(mm("1")) == yes && above(plus(s.rise, upright), mm("5")) {
				out = all(out, unknown)
			}
			continue
		}
		face = plus(face, s.rise)
		last := i+1 == len(steps) || !steps[i+1].upright()
		if last && above(face, mm("5")) {
			out = all(out, nosed(s.nose, noses))
		}
	}
	return out
}

func (s step) upright() bool {
	return s.rise != nil && s.rise.Sign() > 0 && s.run != nil && s.run.Sign() == 0
}

// nosed: Volume 1 writes "chamfered" only, so that a rounded nose is left open there.
func nosed(nose string, noses []string) verdict {
	switch {
	case is(nose, noses...) == yes:
		return pass
	case nose == "square":
		return fail
	}
	return unknown
}

// few: "a minimum number of upstands and slopes". One of each is; more is left open.
func few(steps []step) verdict {
	ups, slopes := 0, 0
	for i, s := range steps {
		switch {
		case s.rise == nil:
			return unknown
		case s.rise.Sign() <= 0:
		case s.run == nil:
			return unknown
		case !s.upright():
			slopes++
		case i == 0 || !steps[i-1].upright():
			ups++
		}
	}
	if ups > 1 || slopes > 1 {
		return unknown
	}
	return pass
}

// band judges the force between two angles. A reading over a stretch counts where it and
// the band have more than an end in common; one at a single angle counts at both ends of
// the band and covers nothing. What no reading covers, and a reading whose angles are not
// known, is not known; nor is what is too much somewhere in a reading that reaches beyond the
// band, but for a door along a track, which has no angles.
func band(d door, from, to string, limit, printed *big.Rat) verdict {
	low, high := mm(from), mm(to)
	out := pass
	if below(coveredTo(d.forces, low), high) {
		out = unknown
	}
	for _, r := range d.forces {
		v := r.meets(limit, printed)
		switch {
		case r.from.v != nil && above(r.from.v, high), r.to.v != nil && below(r.to.v, low): // beside the band
		case r.from.v == nil || r.to.v == nil:
			if v != pass {
				out = all(out, unknown)
			}
		case r.from.v.Cmp(r.to.v) == 0:
			if !below(r.from.v, low) && !above(r.from.v, high) {
				out = all(out, v)
			}
		case below(r.from.v, high) && above(r.to.v, low):
			if v == fail && (below(r.from.v, low) || above(r.to.v, high)) && d.operation != "sliding" && d.operation != "folding" {
				v = unknown
			}
			out = all(out, v)
		}
	}
	return out
}

// coveredTo is the angle up to which readings follow each other from one on.
func coveredTo(forces []reading, reached *big.Rat) *big.Rat {
	for moved := true; moved; {
		moved = false
		for _, r := range forces {
			if r.from.v != nil && r.to.v != nil && !above(r.from.v, reached) && above(r.to.v, reached) {
				reached, moved = r.to.v, true
			}
		}
	}
	return reached
}

// AD C 5.33(b): the sill that leads up to the threshold is at most 15 degrees (about
// 1:3.7). An upright face is no slope. tan 15 degrees is 2 less the root of 3, so that a
// slope r is within it where (2 - r) squared is at least 3. Diagram 14 is of "exposed
// areas": of a sheltered door it is left open. Not doors to a garage.
func adc2004(d door) map[string]verdict {
	slope := unknown
	if d.drawn {
		slope = pass
		for i, s := range walk(d.profile, false) {
			v, past := within15(s), pastLeaf(d, i)
			switch {
			case past == yes && s.rise != nil: // behind the leaf nothing leads up to it
				continue
			case past == notKnown && v == fail:
				v = unknown
			}
			slope = all(slope, v)
		}
	}
	applies := and(is(d.location, "external"), is(d.role, "garage").not())
	return map[string]verdict{"sill-slope": where(applies, either(slope, excused(is(d.exposure, "sheltered"), unknown)))}
}

func within15(s step) verdict {
	switch {
	case s.rise != nil && s.rise.Sign() <= 0:
		return pass
	case s.run == nil || s.rise == nil:
		return unknown // of an upright face too: what is missing is asked for first
	case s.run.Sign() == 0:
		return pass
	}
	r := minus(mm("2"), new(big.Rat).Quo(s.rise, s.run))
	if r.Sign() >= 0 && !below(times(r, r), mm("3")) {
		return pass
	}
	return fail
}
