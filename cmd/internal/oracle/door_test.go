package oracle

import (
	"encoding/json"
	"math/big"
	"slices"
	"strings"
)

// value is an exact length (mm), force (N) or angle (deg); v nil is not known. unit is
// how the spec writes it, where that is exact.
type value struct {
	v    *big.Rat
	unit string
}

// part is one piece of the threshold, from outside to inside. nose is of its upper edge.
type part struct {
	run, rise value
	nose      string
}

// reading is a force between two angles, ends included.
type reading struct {
	from, to, force value
	least           bool // it may be more
	most            bool // it may be less: it was read over more angles
}

// door is what the rules read; an empty word, notKnown and a nil value are not known.
type door struct {
	region                           int    // 0: any
	variant                          string // of uk-adm1-2015
	work, serves, exposure, unit     string
	role, operation, location, opens string
	powered, from                    string // from: how people come to it, on both sides
	accessible, escape, fire, latch  truth
	impervious, security             truth // security: no unless said
	clear, least, depth, route       value // route: its width along the wall, on both sides
	unlatching, starting             value
	forces                           []reading // of the door alone
	fitted                           []reading // with the seals of an option that rub on nothing
	profile                          []part
	drawn                            bool // the profile is given; an empty one is a level floor

	// What the texts of central Europe ask besides.
	german          string // variant of de-18040-2010
	applied, leads  string // a date such as 2022-01-01; what the door leads to
	closer, raising truth  // raising: the floor outside can be raised with little work
	frame           value  // between the faces of the frame

	// And those of France, Spain and Portugal.
	order string // the variant of fr-access-2026
	as    string // what the threshold counts as, in Spain
	exit  truth

	variants                     map[string]string // of the Nordic rulebooks and their like, by id
	passage, entranceFloor, many truth

	au australian

	more // and those of Canada and Hong Kong
}

// more is what the codes of Canada and Hong Kong ask besides.
type more struct {
	bathroom, refuge, spill, air, springs truth // spill: no unless said
}

// rulebooks are those of one region: a door is asked those of the first, which are many, and those of the one that it is drawn for.
var rulebooks = [][]string{
	{"us-ada-2010", "us-a117-2017", "us-ibc-2018", "us-irc-2018", "us-fha-1991", "us-ca-cbc-2022", "uk-adm1-2015", "uk-adm2-2015", "uk-adc-2004"},
	{"ca-nbc-2020", "ca-bc-2024", "hk-bpr"},
	{"fr-access-2026", "es-dbsua-2022", "pt-dl163-2006"},
	{"de-18040-2010", "ch-sia500-2009", "at-b1600", "nl-bb-2012", "pl-wt-2022"},
	{"no-tek17", "dk-br18", "fi-access-2017", "ie-tgdm-2010", "ae-dubai-2017"},
	{"au-as1428-2009", "au-as1428-2021", "au-lhds-2022", "au-ncc-2022", "nz-d1-2011"},
}

// The regions besides the first.
const (
	canadian = 1 + iota
	latin
	central
	nordic
	australasian
)

// asked are the rulebooks that the door is asked; one of no region is asked all.
func (d door) asked() []string {
	if d.region == 0 {
		return slices.Concat(rulebooks...)
	}
	return slices.Concat(rulebooks[0], rulebooks[d.region])
}

// decimal writes a number whose decimals end, or "".
func decimal(v *big.Rat, places int) string {
	s := v.FloatString(places)
	back, _ := new(big.Rat).SetString(s)
	if back.Cmp(v) != 0 {
		return ""
	}
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// fraction writes halves to sixty-fourths, as a rule reads them.
func fraction(v *big.Rat) string {
	if v.Denom().Int64() > 64 || 64%v.Denom().Int64() != 0 {
		return ""
	}
	whole, rest := new(big.Int).QuoRem(v.Num(), v.Denom(), new(big.Int))
	switch {
	case rest.Sign() == 0:
		return whole.String()
	case v.Sign() < 0 || whole.Sign() == 0:
		return v.Num().String() + "/" + v.Denom().String()
	}
	return whole.String() + " " + rest.String() + "/" + v.Denom().String()
}

// text writes a value in its own unit where that is exact, else in mm, N or deg.
func (x value) text(base string) string {
	if x.v == nil {
		return "unknown"
	}
	scaled := func(per *big.Rat) *big.Rat { return new(big.Rat).Quo(x.v, per) }
	s := ""
	switch x.unit {
	case "in":
		s = fraction(scaled(mm("25.4")))
	case "in.":
		s = decimal(scaled(mm("25.4")), 4)
	case "cm":
		s = decimal(scaled(mm("10")), 7)
	case "m":
		s = decimal(scaled(mm("1000")), 9)
	case "lbf":
		s = decimal(scaled(lbf("1")), 2)
	}
	if s == "" {
		return decimal(x.v, 15) + " " + base
	}
	return s + " " + strings.TrimSuffix(x.unit, ".")
}

type object = map[string]any

// put leaves out what is not known.
func put(o object, key, word string) {
	if word != "" {
		o[key] = word
	}
}

func putTruth(o object, key string, t truth) {
	if t != notKnown {
		o[key] = t == yes
	}
}

func putValue(o object, key, base string, x value) {
	if x.v != nil {
		o[key] = x.text(base)
	}
}

// spec is the door as sillwright reads it.
func (d door) spec() []byte {
	var books []any
	for _, id := range d.asked() {
		own := map[string]string{"uk-adm1-2015": d.variant, "de-18040-2010": d.german, "fr-access-2026": d.order}
		if variant := own[id] + d.variants[id]; variant != "" {
			books = append(books, object{"id": id, "variant": variant})
		} else {
			books = append(books, id)
		}
	}
	out := object{"format": "sillwright/door/1", "mark": "X1", "rulebooks": books, "site": d.site(), "door": d.leaf()}
	outside, inside := object{}, object{}
	put(outside, "from", d.from)
	put(inside, "from", d.from)
	putTruth(outside, "impervious", d.impervious)
	putTruth(outside, "raisable", d.raising)
	putValue(outside, "route_width", "mm", d.route)
	putValue(inside, "route_width", "mm", d.route)
	out["approach"] = object{"outside": outside, "inside": inside}
	option := object{"id": "x", "seal": "none"}
	putForces(option, d.fitted)
	out["options"] = []any{option}
	sill := object{}
	put(sill, "as", d.as)
	putTruth(sill, "weather_sill", d.au.weatherSill)
	putValue(sill, "leaf_at", "mm", d.au.leafAt)
	if d.au.entry != "" {
		sill["level_entry"] = object{"by": d.au.entry}
	}
	if d.drawn {
		segments := []any{}
		for _, p := range d.profile {
			s := object{"run": p.run.text("mm"), "rise": p.rise.text("mm")}
			put(s, "nose", p.nose)
			segments = append(segments, s)
		}
		sill["segments"] = segments
	}
	if len(sill) > 0 {
		out["threshold"] = sill
	}
	text, err := json.MarshalIndent(out, "", " ")
	if err != nil {
		panic(err)
	}
	return text
}

func (d door) site() object {
	site := object{}
	put(site, "work", d.work)
	put(site, "serves", d.serves)
	put(site, "exposure", d.exposure)
	put(site, "unit", d.unit)
	putTruth(site, "accessible_route", d.accessible)
	put(site, "applied", d.applied)
	putTruth(site, "entrance_floor", d.entranceFloor)
	putTruth(site, "many_people", d.many)
	put(site, "building_class", d.au.class)
	putTruth(site, "accessible_building", d.au.accessible)
	putTruth(site, "care_area", d.au.care)
	return site
}

func (d door) leaf() object {
	leaf := object{}
	put(leaf, "role", d.role)
	put(leaf, "operation", d.operation)
	put(leaf, "location", d.location)
	put(leaf, "opens", d.opens)
	put(leaf, "leads_to", d.leads)
	putTruth(leaf, "passage", d.passage)
	put(leaf, "powered", d.powered)
	putTruth(leaf, "escape_route", d.escape)
	putTruth(leaf, "fire_rated", d.fire)
	putTruth(leaf, "latch", d.latch)
	putTruth(leaf, "closer", d.closer)
	putTruth(leaf, "exit", d.exit)
	d.more.put(leaf)
	putTruth(leaf, "smoke_control", d.au.smoke)
	putValue(leaf, "jamb_depth", "mm", d.au.jamb)
	putValue(leaf, "thickness", "mm", d.au.thick)
	if d.security == yes {
		leaf["operated_by"] = "security"
	}
	width := object{}
	putValue(width, "face_to_stop", "mm", d.clear)
	putValue(width, "least", "mm", d.least)
	putValue(width, "frame", "mm", d.frame)
	leaf["clear_width"] = width
	putValue(leaf, "opening_depth", "mm", d.depth)
	putValue(leaf, "unlatching_force", "N", d.unlatching)
	putValue(leaf, "starting_force", "N", d.starting)
	putForces(leaf, d.forces)
	return leaf
}

func (m more) put(leaf object) {
	putTruth(leaf, "bathroom_path", m.bathroom)
	putTruth(leaf, "refuge_balcony", m.refuge)
	putTruth(leaf, "spill_sill", m.spill)
	putTruth(leaf, "air_pressure", m.air)
	putTruth(leaf, "spring_hinges", m.springs)
}

func putForces(into object, forces []reading) {
	var list []any
	for _, f := range forces {
		list = append(list, object{"from": f.from.text("deg"), "to": f.to.text("deg"), "force": f.force.text("N")})
	}
	if len(list) > 0 {
		into["opening_force"] = list
	}
}
