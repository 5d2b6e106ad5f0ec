package oracle

import (
	"math/big"
	"math/rand/v2"
	"slices"
)

// source draws doors. It draws most where texts change their mind: at every limit, one
// nanometre or femtonewton beside it, at the printed roundings and beside those.
type source struct{ *rand.Rand }

func newSource(seed, n uint64) source { return source{rand.New(rand.NewPCG(seed, n))} }

func (s source) chance(p float64) bool { return s.Float64() < p }

func pick[T any](s source, from ...T) T { return from[s.IntN(len(from))] }

// word is one of them, or not known.
func (s source) word(p float64, words ...string) string {
	if s.chance(p) {
		return ""
	}
	return pick(s, words...)
}

func (s source) truth(p float64) truth {
	if s.chance(p) {
		return notKnown
	}
	return pick(s, yes, no)
}

var nano, femto = big.NewRat(1, 1_000_000), big.NewRat(1, 1_000_000_000_000_000)

// near is a limit, or the least that can be written above or below it.
func (s source) near(limit, least *big.Rat) *big.Rat {
	switch s.IntN(4) {
	case 0:
		return plus(limit, least)
	case 1:
		return minus(limit, least)
	}
	return limit
}

func (s source) length(p float64, pool []*big.Rat) value {
	if s.chance(p) {
		return value{}
	}
	return value{s.near(pick(s, pool...), nano), pick(s, "mm", "mm", "in", "in.", "cm", "m")}
}

func (s source) force(p float64) value {
	if s.chance(p) {
		return value{}
	}
	return value{s.near(pick(s, forcePool...), femto), pick(s, "N", "lbf")}
}

func pool(inches []int64, per int64, decimals ...string) []*big.Rat {
	var out []*big.Rat
	for _, n := range inches {
		out = append(out, inch(n, per))
	}
	for _, d := range decimals {
		out = append(out, mm(d))
	}
	return out
}

// Every limit that the texts name, in quarters of an inch and in mm, and what they round it to.
var (
	lowRises   = pool([]int64{1, 2, 3}, 4, "3", "5", "6", "6.4", "12", "13", "15", "19", "19.1", "20", "25", "0.5", "35", "4", "5", "3")
	highRises  = pool([]int64{6, 16, 18, 19, 31}, 4, "38", "39", "102", "114", "120", "121", "150", "196", "197", "198", "300", "190", "225", "150")
	vertical   = pool([]int64{1}, 4, "1", "3", "5", "6", "6.4", "6.41", "8", "12")
	widths     = pool([]int64{32 * 8, 36 * 8, 31*8 + 3, 35*8 + 3, 31 * 8, 34 * 8}, 8, "750", "775", "796.8", "796.9", "800", "813", "815", "825", "850", "914", "915", "1000", "898.4", "898.1", "760", "820", "850", "700", "1100")
	depths     = pool([]int64{24, 23, 25}, 1, "610", "609", "200", "300", "400")
	routes     = pool([]int64{48, 60}, 1, "900", "1050", "1200", "1500", "1800")
	forcePool  = []*big.Rat{lbf("5"), lbf("8.5"), lbf("15"), lbf("30"), mm("22"), mm("22.2"), mm("22.5"), mm("24"), mm("29"), mm("30"), mm("37.8"), mm("38"), mm("66.7"), mm("67"), mm("90"), mm("133"), mm("10"), mm("140"), mm("25"), mm("20"), mm("20")}
	angles     = []string{"0", "0.000001", "10", "29.999999", "30", "30.000001", "45", "59.999999", "60", "60.000001", "65", "90"}
	tan15      = mm("3.7320508075688773") // 1 up, so much along
	slopeRatio = []*big.Rat{mm("2"), mm("2"), mm("2"), mm("12"), mm("1"), mm("3.7"), mm("4"), mm("20"), tan15, tan15, mm("8"), mm("8"), mm("10")}
)

// whole rounds down to whole nanometres.
func whole(v *big.Rat) *big.Rat {
	n := new(big.Int).Quo(times(v, mm("1000000")).Num(), times(v, mm("1000000")).Denom())
	return new(big.Rat).SetFrac(n, big.NewInt(1_000_000))
}

func (s source) unit() string { return pick(s, "mm", "mm", "in", "in.", "cm", "m") }

func (s source) nose(p float64) string { return s.word(p, "square", "rounded", "bevelled") }

func (s source) upright(rise *big.Rat) part {
	return part{value{new(big.Rat), s.unit()}, value{rise, s.unit()}, s.nose(0.3)}
}

func (s source) slope(rise *big.Rat) part {
	run := whole(times(rise, pick(s, slopeRatio...)))
	if run.Sign() > 0 {
		run = s.near(run, nano)
	}
	return part{value{run, s.unit()}, value{rise, s.unit()}, s.nose(0.8)}
}

func (s source) level() part {
	return part{value{pick(s, mm("10"), mm("40"), mm("300"), inch(2, 1)), s.unit()}, value{new(big.Rat), s.unit()}, ""}
}

// climb goes up by so much, as a threshold does.
func (s source) climb(h *big.Rat) []part {
	if h.Sign() <= 0 {
		return nil
	}
	first := lesser(h, s.near(pick(s, vertical...), nano))
	rest := minus(h, first)
	out := []part{}
	switch s.IntN(10) {
	case 0:
		return append(out, s.upright(h))
	case 1:
		return append(out, s.slope(h))
	case 2, 3, 4:
		out = append(out, s.upright(first))
		if rest.Sign() > 0 {
			out = append(out, s.slope(rest))
		}
	case 5: // a lip on a bevel
		if rest.Sign() > 0 {
			out = append(out, s.slope(rest))
		}
		out = append(out, s.upright(first))
	case 6: // two lips
		out = append(out, s.upright(first), s.level())
		if rest.Sign() > 0 {
			out = append(out, s.upright(rest))
		}
	case 7: // a face in two parts, or two slopes
		out = append(out, pick(s, s.upright(first), s.slope(first)))
		if rest.Sign() > 0 {
			out = append(out, pick(s, s.upright(rest), s.slope(rest)))
		}
	case 8, 9: // a dip, such as a drained track
		d := pick(s, vertical...)
		dip := part{pick(s, s.level().run, value{v: new(big.Rat)}), value{minus(new(big.Rat), d), "mm"}, ""}
		out = append(out, dip, s.level())
		if s.chance(0.4) { // and a second one on the way up
			e := pick(s, vertical...)
			out = append(out, pick(s, s.upright(e), s.slope(e)), part{value{v: new(big.Rat)}, value{v: minus(new(big.Rat), pick(s, nano, mm("1"), e))}, ""})
		}
		out = append(out, s.climb(plus(h, d))...)
	}
	return out
}

// threshold goes up from outside and down to the inside, either by its own height.
func (s source) threshold() []part {
	heights := lowRises
	if s.chance(0.15) {
		heights = highRises
	}
	h := func() *big.Rat {
		if s.chance(0.12) {
			return new(big.Rat)
		}
		return s.near(pick(s, heights...), nano)
	}
	inside := pick(s, lowRises...)
	if s.chance(0.2) {
		inside = new(big.Rat)
	}
	outside := h()
	switch s.IntN(3) {
	case 0: // the floors differ by a limit
		outside = plus(inside, h())
	case 1:
		inside = outside
	}
	out := s.climb(outside)
	if s.chance(0.8) {
		out = append(out, s.level())
	}
	back := s.climb(inside)
	slices.Reverse(back)
	for _, p := range back {
		p.rise.v = minus(new(big.Rat), p.rise.v)
		out = append(out, p)
	}
	for i := range out {
		if s.chance(0.012) {
			out[i].rise = value{}
		}
		if s.chance(0.012) {
			out[i].run = value{}
		}
	}
	return out
}

func (s source) readings() []reading {
	if s.chance(0.08) {
		return nil
	}
	most := pick(s, forcePool...) // half of the doors take about so much at most
	force := func() value {
		f := s.force(0.03)
		if f.v != nil && s.IntN(2) == 0 {
			f.v = lesser(f.v, most)
		}
		return f
	}
	angle := func(a string) value {
		if s.chance(0.02) {
			return value{}
		}
		return value{v: mm(a)}
	}
	var out []reading
	cuts := []string{"0", pick(s, angles[2:5]...), pick(s, angles[6:]...)}
	if s.chance(0.85) {
		cuts = append(cuts, "100")
	}
	if s.chance(0.3) {
		cuts = []string{"0", pick(s, "60", "90", "90", "100")}
	}
	for i := 1; i < len(cuts); i++ {
		if !s.chance(0.04) {
			out = append(out, reading{from: angle(cuts[i-1]), to: angle(cuts[i]), force: force()})
		}
	}
	// A reading at one angle, where no other reading covers it.
	inside := func(a string) bool {
		return slices.ContainsFunc(out, func(r reading) bool {
			return r.from.v != nil && r.to.v != nil && above(mm(a), r.from.v) && below(mm(a), r.to.v)
		})
	}
	if a := pick(s, append(angles, cuts...)...); s.chance(0.5) && !inside(a) {
		out = append(out, reading{from: angle(a), to: angle(a), force: force()})
	}
	return out
}

// door draws one door. Half of them are of a kind that some text is about.
func (s source) door() door {
	p := 0.07 // how often something is not known
	d := door{
		variant: s.word(p, "M4(1)", "M4(2)", "M4(3)"), work: s.word(p, "new", "alteration", "existing"),
		serves: s.word(p, "public", "dwelling", "common-area", "workplace"), exposure: s.word(p, "sheltered", "exposed", "exposed"),
		unit:      s.word(p, "accessible", "type-a", "type-b", "other"),
		role:      s.word(p, "entrance", "communal-entrance", "private-entrance", "outdoor-space", "garage", "room", "bathroom", "other"),
		operation: s.word(p, "hinged", "hinged", "hinged", "pair", "pivot", "sliding", "sliding", "folding", "roller", "sectional"),
		location:  s.word(p, "external", "internal"), opens: s.word(p, "in", "out"), powered: s.word(p, "none", "none", "none", "assisted", "automatic"),
		from: s.word(0.3, "front", "hinge", "latch"), accessible: s.truth(p), escape: s.truth(p), fire: s.truth(p), latch: s.truth(p), impervious: s.truth(p),
		security: pick(s, no, no, no, notKnown, yes), drawn: !s.chance(0.05),
		clear: s.length(p, widths), depth: s.length(p, depths), route: s.length(0.2, routes), unlatching: s.force(p), starting: s.force(p), forces: s.readings(),
	}
	d.order, d.as, d.exit = s.word(p, "new ERP", "existing ERP", "housing", "Mayotte"), s.word(0.2, "joint", "element", "level-difference"), s.truth(p)
	d.least = d.clear
	if d.least.v == nil || s.chance(0.5) {
		if less := s.length(0.1, widths); less.v == nil || d.clear.v == nil || !above(less.v, d.clear.v) {
			d.least = less
		}
	}
	if s.chance(0.4) {
		d.fitted = heavier(s.readings(), d.forces)
	}
	if d.drawn && !s.chance(0.04) {
		d.profile = s.threshold()
	}
	d.more = s.more(p)
	if s.chance(0.5) {
		s.kind(&d)
	}
	d.region = 1 + s.IntN(len(rulebooks)-1)
	s.central(&d, d.region == central && s.chance(0.7))
	s.nordic(&d, d.region == nordic && s.chance(0.7))
	s.australian(&d, d.region == australasian && s.chance(0.7))
	if d.frame.v != nil && d.clear.v != nil && below(d.frame.v, d.clear.v) {
		d.frame = d.clear
	}
	return d
}

// Limits of the texts of central Europe.
var (
	centralRises  = pool(nil, 1, "20", "20", "21", "25", "25", "30", "0.5", "10", "60", "1000")
	centralForces = []*big.Rat{mm("25"), mm("25"), mm("24"), mm("26")}
)

// central adds what the texts of central Europe ask besides, and makes some doors of a kind that they are about.
func (s source) central(d *door, kinds bool) {
	p := 0.07
	d.german = s.word(p, "part 1", "part 2", "part 2", "part 2 R")
	d.applied = s.word(p, "2021-12-31", "2022-01-01", "2015-06-01", "2023-05-05")
	d.leads = s.word(p, "road", "open-space", "stair-landing", "balcony", "corridor", "other")
	d.closer, d.raising = s.truth(p), s.truth(p)
	d.frame = s.length(0.4, widths)
	if !kinds {
		return
	}
	if s.chance(0.6) && d.drawn {
		h := func() *big.Rat {
			if s.chance(0.3) {
				return new(big.Rat)
			}
			return s.near(pick(s, centralRises...), nano)
		}
		d.profile = s.climb(h())
		back := s.climb(h())
		slices.Reverse(back)
		for _, b := range append([]part{s.level()}, back...) {
			b.rise.v = minus(new(big.Rat), b.rise.v)
			d.profile = append(d.profile, b)
		}
	}
	switch s.IntN(8) {
	case 0: // an entrance that dwellings share
		d.role, d.location, d.serves = "communal-entrance", "external", "common-area"
	case 1: // a new house's garden door, or its front door
		d.serves, d.work, d.location, d.role, d.leads = "dwelling", "new", "external", pick(s, "outdoor-space", "private-entrance"), pick(s, "road", "open-space", "balcony")
	case 2: // a room door
		d.location, d.role, d.serves = "internal", pick(s, "room", "bathroom", "other"), pick(s, "dwelling", "public")
	case 3: // an escape door
		d.serves, d.escape, d.location = pick(s, "public", "workplace"), yes, pick(s, "external", "internal")
	case 4: // a manual door without a closer
		d.operation, d.powered, d.closer = pick(s, "hinged", "sliding", "pivot"), "none", no
		d.forces = []reading{{from: value{v: mm("0")}, to: value{v: mm("90")}, force: value{s.near(pick(s, centralForces...), femto), "N"}}}
		d.fitted = nil
	}
}

func (s source) more(p float64) more {
	return more{
		bathroom: s.truth(0.3), refuge: s.truth(p), spill: pick(s, no, no, no, yes), air: pick(s, no, no, no, yes, notKnown), springs: s.truth(p),
	}
}

// kind makes a door one that a text is about.
func (s source) kind(d *door) {
	switch s.IntN(8) {
	case 0: // a balcony or terrace door of a flat
		d.serves, d.location, d.role, d.operation = "dwelling", "external", "outdoor-space", pick(s, "sliding", "hinged")
		d.impervious, d.escape = yes, no
	case 1:
		d.unit, d.role, d.location, d.impervious = "type-b", "outdoor-space", "external", yes
	case 2: // the front door of a house
		d.serves, d.location, d.role, d.operation, d.escape = "dwelling", "external", "private-entrance", "hinged", yes
	case 3:
		d.role, d.variant, d.powered = "communal-entrance", "M4(3)", "none"
	case 4: // a room door
		d.location, d.role, d.operation, d.powered, d.fire = "internal", "room", "hinged", "none", no
	case 5: // a shop's
		d.location, d.role, d.serves, d.powered = "external", "entrance", "public", "none"
	case 7: // a house with a step at its door
		d.role, d.variant, d.location, d.drawn = "private-entrance", "M4(1)", "external", true
		d.profile = append([]part{s.upright(s.near(pick(s, mm("150"), mm("151"), mm("20"), mm("7")), nano))}, s.climb(pick(s, lowRises...))...)
	case 6: // a fire door
		d.fire, d.powered, d.security = yes, "none", no
	}
}
