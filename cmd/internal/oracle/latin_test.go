package oracle

import (
	"math/big"
	"testing"
)

// France, Spain and Portugal. Millimetres only.

// What these texts name and no other does.
func init() {
	lowRises = append(lowRises, pool(nil, 1, "4", "15", "20", "30", "33", "35", "40", "50")...)
	vertical = append(vertical, mm("15"), mm("20"))
	widths = append(widths, pool(nil, 1, "770", "780", "830", "870")...)
	forcePool = append(forcePool, mm("25"), mm("50"), mm("65"))
	slopeRatio = append(slopeRatio, per33, per33, per12)
}

var (
	per33 = big.NewRat(100, 33) // 1 up, so much along
	per12 = big.NewRat(100, 12)
)

// The French orders of 2014 (existing ERP), 2015 (housing), 2017 (new ERP) and 2026 (Mayotte).
func frAccess(d door) map[string]verdict {
	outdoors := and(is(d.order, "Mayotte"), is(d.location, "external"))
	erp := is(d.order, "new ERP", "existing ERP")
	balcony := and(is(d.order, "housing"), is(d.role, "outdoor-space"))
	lips := everySide(d, func(s []step) verdict { return ressauts(s, true) })
	// "Lorsqu'il ne peut être évité": whatever is not level is left to the authority.
	needed := unknown
	if measured(d) && topAbove(d, false).Sign() == 0 && topAbove(d, true).Sign() == 0 {
		needed = pass
	}
	inside := unknown
	if d.drawn {
		inside = ressauts(walk(d.profile, true), false)
	}
	common := or(erp, is(d.order, "Mayotte"), is(d.serves, "public", "common-area"), is(d.role, "communal-entrance", "private-entrance"))
	return map[string]verdict{
		"lips":           where(outdoors, lips),
		"lips-erp":       where(erp, lips),
		"lip-needed":     where(outdoors, needed),
		"lip-needed-erp": where(erp, needed),
		"lips-balcony":   where(balcony, inside),
		// Order of 2015, art. 14: 0.80 m, perhaps a nominal width, of which 0.77 m is left.
		"width-balcony":        where(balcony, atLeast(d.clear.v, mm("800"), mm("770"))),
		"clear-width-new":      where(is(d.order, "new ERP", "Mayotte"), either(atLeast(d.clear.v, mm("830"), nil), excused(is(d.role, "bathroom"), open(atLeast(d.clear.v, mm("770"), nil))))),
		"clear-width-existing": where(is(d.order, "existing ERP"), atLeast(d.clear.v, mm("770"), nil)),
		"opening-force":        where(and(is(d.powered, "none", "assisted"), common), band(d, "0", "90", mm("50"), nil)),
	}
}

// ressauts judges the lips of a walk: 2 cm with a rounded edge or a chamfer, 4 cm with a slope of 33 %, 2.50 m from each other. With
// whole the slope is "sur toute sa hauteur", and what is no steeper than 12 % may be an inclined plane; without, the order of 2015 names
// neither that nor the distance.
func ressauts(steps []step, whole bool) verdict {
	out, partly := pass, false
	for _, s := range steps {
		partly = partly || s.rise == nil
	}
	if partly {
		out = unknown
	}
	var lip []step
	lips, between := 0, new(big.Rat)
	end := func() {
		if len(lip) > 0 {
			out, lip, between = all(out, ressaut(lip, whole, partly)), nil, new(big.Rat)
		}
	}
	for _, s := range steps {
		switch {
		case s.rise != nil && s.rise.Sign() > 0:
			if len(lip) == 0 && lips > 0 && whole {
				out = all(out, atLeast(between, mm("2500"), nil))
			}
			if len(lip) == 0 {
				lips++
			}
			lip = append(lip, s)
		case s.rise != nil && s.rise.Sign() == 0 && s.run != nil && s.run.Sign() == 0: // nothing at all
		default:
			end()
			if s.rise == nil || s.run == nil || between == nil {
				between = nil
			} else {
				between = plus(between, s.run)
			}
		}
	}
	end()
	return out
}

func ressaut(lip []step, whole, partly bool) verdict {
	height, gentle, dark := new(big.Rat), false, partly
	for _, s := range lip {
		height = plus(height, s.rise)
		gentle = gentle || s.steep(per33) == no
		dark = dark || s.run == nil
	}
	top := lip[len(lip)-1]
	switch {
	case !above(height, mm("20")):
		return edgeOf(top, partly)
	case above(height, mm("40")):
		if whole {
			return plane(lip)
		}
		return fail
	}
	out := pass
	for _, s := range lip {
		switch t := s.steep(per33); {
		case t == notKnown, t == yes && !whole && (gentle || dark):
			out = all(out, unknown)
		case t == yes:
			out = fail
		}
	}
	return out
}

// edgeOf: "à bord arrondi ou muni d'un chanfrein", without an angle; what leans steeper than 45 degrees is left open.
func edgeOf(top step, partly bool) verdict {
	switch {
	case is(top.nose, "rounded", "bevelled") == yes:
		return pass
	case top.run == nil:
		return unknown
	case top.run.Sign() > 0:
		if top.steep(mm("1")) == no {
			return pass
		}
		return unknown
	case top.nose == "" || partly:
		return unknown
	}
	return fail
}

// plane: higher than any lip; if nothing in it is steeper than 12 % it may be an inclined plane.
func plane(parts []step) verdict {
	for _, s := range parts {
		if s.rise != nil && s.steep(per12) == yes {
			return fail
		}
	}
	return unknown
}

// DB SUA: SUA 1, 2.1 and 2.3; SUA 3, 1.3; Anejo A.
func dbSUA(d door) map[string]verdict {
	applies := and(or(is(d.serves, "public", "common-area", "workplace"), is(d.role, "communal-entrance", "private-entrance")),
		is(d.role, "entrance", "communal-entrance", "private-entrance", "room", "bathroom", "other"))
	// 2.3: a step by itself, not on an accessible route.
	stepped := and(d.accessible.not(), or(is(d.role, "entrance", "communal-entrance", "private-entrance"), is(d.serves, "common-area")))
	people := is(d.powered, "none", "assisted")
	return map[string]verdict{
		"sill":        where(applies, either(sillAs(d, false), excused(stepped, sillAs(d, true)))),
		"clear-width": where(d.accessible, atLeast(d.clear.v, mm("780"), nil)),
		"opening-force-accessible": where(and(d.exit, d.accessible, people),
			either(band(d, "0", "90", mm("25"), nil), excused(d.fire, band(d, "0", "90", mm("65"), nil)))),
		"opening-force-exit": where(and(d.exit, d.accessible.not(), people), band(d, "0", "90", mm("140"), nil)),
	}
}

// sillAs reads a sill as what it counts as; where nobody says, what all three readings say.
func sillAs(d door, stepped bool) verdict {
	of := map[string]verdict{
		"joint":            everySide(d, func(s []step) verdict { return climbs(s, mm("4")) }),
		"element":          everySide(d, element),
		"level-difference": everySide(d, func(s []step) verdict { return difference(s, stepped) }),
	}
	if d.as != "" {
		return of[d.as]
	}
	if v := of["joint"]; v == of["element"] && v == of["level-difference"] {
		return v
	}
	return unknown
}

// rise is the most that a side rises, from its floor or out of a dip; beyond what is not known what it climbs at least.
func rise(steps []step) (most *big.Rat, known bool) {
	most, known = new(big.Rat), true
	for _, s := range steps {
		switch {
		case s.to == nil:
			known = false
			most = greater(most, s.climb)
		case s.rise.Sign() > 0:
			most = greater(most, greater(s.to, minus(s.to, s.low)))
		}
	}
	return most, known
}

func climbs(steps []step, limit *big.Rat) verdict {
	most, known := rise(steps)
	switch {
	case above(most, limit):
		return fail
	case !known:
		return unknown
	}
	return pass
}

// element: 12 mm; above 6 mm no face steeper than 45 degrees. A steeper one below 6 mm of a higher element is left open.
func element(steps []step) verdict {
	out := high(steps, mm("12"), nil)
	if high(steps, mm("6"), nil) != fail {
		return out
	}
	for _, s := range steps {
		if s.rise == nil || s.rise.Sign() <= 0 {
			continue
		}
		top := s.climb
		if s.to != nil {
			top = s.to
		}
		switch t := s.steep(mm("1")); {
		case t == yes && above(top, mm("6")):
			return fail
		case t != no:
			out = all(out, unknown)
		}
	}
	return out
}

// difference: 5 cm at 25 %; what is higher may be a step where 2.3 allows one, or a ramp of 12 %.
func difference(steps []step, stepped bool) verdict {
	if most, _ := rise(steps); above(most, mm("50")) {
		if stepped {
			return unknown
		}
		return plane(steps)
	}
	out := climbs(steps, mm("50"))
	for _, s := range steps {
		if s.rise == nil {
			continue
		}
		switch s.steep(mm("4")) {
		case yes:
			return fail
		case notKnown:
			out = all(out, unknown)
		}
	}
	return out
}

// Decreto-Lei 163/2006, Anexo: 4.9.8 of both sides, 2.2.3, 4.9; by 3.3.8 in dwellings too.
func dl163(d door) map[string]verdict {
	doors := or(d.accessible, is(d.serves, "dwelling"))
	return map[string]verdict{
		"sill":                 where(doors, everySide(d, func(s []step) verdict { return high(s, mm("20"), nil) })),
		"clear-width-entrance": where(is(d.role, "entrance", "communal-entrance"), atLeast(d.clear.v, mm("870"), nil)),
		"clear-width": where(and(doors, is(d.role, "private-entrance", "outdoor-space", "garage", "room", "bathroom", "other")),
			atLeast(d.clear.v, mm("770"), nil)),
	}
}

// Worked by hand from the clauses that they name.
func TestJudgeLatin_Published(t *testing.T) {
	const fr, es, pt = "fr-access-2026/lips", "es-dbsua-2022/sill", "pt-dl163-2006/sill"
	mayotte := func(ps ...part) door { d := both("new", ps...); d.order = "Mayotte"; return d }
	sill := func(as string, ps ...part) door { d := both("new", ps...); d.as = as; return d }
	two := drawn("new", nosedUp("15", "rounded"), flat("300"), nosedUp("15", "rounded"))
	two.order = "Mayotte"
	terrace := sill("joint", up("20"))
	terrace.role = "outdoor-space"
	check(t, []handCase{
		{"arrêté du 22 janvier 2026, art. 3, 3°", fr, mayotte(nosedUp("20", "rounded")), pass},
		{"arrêté du 22 janvier 2026, art. 3, 3°", fr, mayotte(nosedUp("20.1", "square")), fail},
		{"arrêté du 22 janvier 2026, art. 3, 3°", fr, mayotte(bevel("30", "3.0303031")), pass},
		{"arrêté du 22 janvier 2026, art. 3, 3°, sur toute sa hauteur", fr, mayotte(up("15"), bevel("15", "4")), fail},
		{"arrêté du 22 janvier 2026, art. 3, 3°, 33 %", fr, mayotte(bevel("40", "3")), fail},
		{"arrêté du 22 janvier 2026, art. 3, 3°, 2,50 m", fr, two, fail},
		{"SUA 1, 2.1 a)", es, sill("joint", up("4")), pass},
		{"SUA 1, 2.1 a)", es, sill("joint", up("5")), fail},
		{"SUA 1, 2.1 a)", es, sill("element", up("5")), pass},
		{"SUA 1, 2.1 a), 60 degrees", es, sill("element", bevel("12", "0.5774")), fail},
		{"SUA 1, 2.1 b)", es, sill("level-difference", bevel("50", "4")), pass},
		{"SUA 1, 2.1 does not say which", es, sill("", up("4")), unknown},
		{"SUA 1, 2.1, exterior zones", es, terrace, notApplicable},
		{"Anexo, 4.9.8", pt, both("new", up("20")), pass},
		{"Anexo, 4.9.8, relativamente ao piso adjacente", pt, drawn("new", up("35"), up("-20")), fail},
	})
}
