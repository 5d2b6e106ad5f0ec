package engine

import (
	"math"
	"slices"

	"sillwright/engine/catalogue"
	"sillwright/engine/profile"
	"sillwright/schema/door"
	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// Measured is everything that the engine can say of a door.
type Measured struct {
	Subjects []fact.Subject // the door, its leaves, its options: what the rules read
	Options  []Option       // as written; of one that the program is to set nothing but its offers
	Leaves   []door.Leaf    // with their true gaps, above the finish and to the leaf; none where they are not known
}

// Measure derives the facts of a door and of its options. It judges nothing. Every seal
// that the door names must be in the catalogue: see Unfit. Facts that take much computing,
// which are leakage_rates and edge_rates, are derived only where one of them is wanted.
func Measure(d *door.Door, c *catalogue.Catalogue, wanted ...string) Measured {
	shared := newScoring(d, c)
	var pressures []*scoring
	if rated(wanted) {
		pressures = shared.atPressures()
	}
	m := Measured{Leaves: shared.leaves, Subjects: []fact.Subject{{ID: "door", Kind: "door", Facts: doorFacts(shared)}}}
	for _, a := range d.Approach {
		m.Subjects = append(m.Subjects, fact.Subject{ID: "side:" + a.Side, Kind: "side", Facts: sideFacts(d, a)})
	}
	for _, l := range d.Leaves {
		m.Subjects = append(m.Subjects, fact.Subject{ID: "leaf:" + l.ID, Kind: "leaf", Facts: fact.Set{}})
	}
	for i, o := range d.Options {
		offers := shared.offers(o, i)
		if len(offers) == 0 {
			option := shared.option(o)
			m.Options = append(m.Options, option)
			m.Subjects = append(m.Subjects, shared.subject("option:"+o.ID, o, option, pressures))
			continue
		}
		m.Options = append(m.Options, Option{ID: o.ID, Title: o.Title, Offers: offers})
		for _, offer := range offers {
			m.Subjects = append(m.Subjects, shared.subject(offer.Subject, offer.Spec, offer.Option, pressures))
		}
	}
	putEdges(m.Subjects[0].Facts, d, c)
	return m
}

// put adds a fact where the spec knows it.
func put[T any](facts fact.Set, name string, m door.Maybe[T], value func(T) any) {
	if m.Known {
		facts[name] = fact.Fact{Value: value(m.Value), At: []string{m.Pointer}}
	}
}

func word(s string) any            { return s }
func yes(b bool) any               { return b }
func length(l quantity.Length) any { return int64(l) }
func newtons(f quantity.Force) any { return int64(f) }
func area(a quantity.Area) any     { return int64(a) }
func day(d quantity.Date) any      { return int64(d) }

func doorFacts(shared *scoring) fact.Set {
	d := shared.d
	facts := make(fact.Set, mostFacts)
	put(facts, "work", d.Site.Work, word)
	put(facts, "serves", d.Site.Serves, word)
	put(facts, "exposure", d.Site.Exposure, word)
	put(facts, "floor_finish", d.Site.Finish, word)
	put(facts, "open_flue", d.Site.OpenFlue, yes)
	putScope(facts, d)
	put(facts, "location", d.Leaf.Location, word)
	put(facts, "operation", d.Leaf.Operation, word)
	put(facts, "powered", d.Leaf.Powered, word)
	put(facts, "escape_route", d.Leaf.Escape, yes)
	putFireFacts(facts, d)
	put(facts, "floor_swept", d.Floor.Swept, word)
	put(facts, "floor_under_seal", d.Floor.UnderSeal, word)
	put(facts, "carpet_pile", d.Floor.CarpetPile, length)
	put(facts, "carpet_attached", d.Floor.CarpetAttached, yes)
	put(facts, "clear_width", d.Leaf.FaceToStop, length)
	put(facts, "clear_width_least", d.Leaf.LeastWidth, length)
	put(facts, "opening_depth", d.Leaf.OpeningDepth, length)
	putCarpet(facts, d)
	putClearance(facts, shared.truths)
	putUndercut(facts, shared.truths)
	putTransfer(facts, d, shared.truths)
	putApproached(facts, d)
	putThreshold(facts, d)
	putForce(facts, d)
	putOpening(facts, d)
	putTargets(facts, d)
	if len(d.Options) > 0 {
		facts["options"] = fact.Fact{Value: true, At: []string{"/options"}}
	}
	if edgesCovered(d) {
		facts["edge_fire_evidence"] = fact.Fact{Value: true, At: []string{"/evidence"}}
	}
	return facts
}

func putFireFacts(facts fact.Set, d *door.Door) {
	put(facts, "fire_rated", d.Leaf.FireRated, yes)
	put(facts, "smoke_control", d.Leaf.SmokeControl, yes)
}

// putCarpet: there is carpet where either floor is carpet, and none where both are known to be something else.
func putCarpet(facts fact.Set, d *door.Door) {
	under, swept := d.Floor.UnderSeal, d.Floor.Swept
	carpet := (under.Known && under.Value == "carpet") || (swept.Known && swept.Value == "carpet")
	carpet = carpet || d.Floor.Carpet
	if carpet || (under.Known && swept.Known) {
		facts["carpet"] = fact.Fact{Value: carpet, At: []string{under.Pointer, swept.Pointer}, Formula: "a carpet is described, or under_seal or swept is carpet"}
	}
}

func putThreshold(facts fact.Set, d *door.Door) {
	t := d.Threshold
	if t.OpeningsGiven {
		slots := []any{}
		for _, s := range t.Openings {
			slot := map[string]any{"at": s.Pointer}
			if s.Width.Known {
				slot["width"] = int64(s.Width.Value)
			}
			if s.Runs.Known {
				slot["runs"] = s.Runs.Value
			}
			slots = append(slots, slot)
		}
		facts["openings"] = fact.Fact{Value: slots, At: []string{t.Pointer + "/openings"}}
	}
	if !t.Given {
		return
	}
	putLevels(facts, d)
	putUnderLeaf(facts, d)
	sides := profile.Sides(t)
	if toCome(d) {
		// Every height is above a floor that is not there yet.
		for i := range sides {
			sides[i].Height, sides[i].Least, sides[i].Rising, sides[i].Upstands, sides[i].Needs = nil, 0, []profile.Rising{}, []profile.Upstand{}, []string{d.Site.Finish.Pointer}
			sides[i].Waits = "floor_finish"
		}
	}
	facts["profile"] = fact.Fact{Value: sides, At: []string{t.Pointer}, Formula: "heights: highest point less the floor of each side; rises summed from that side's floor"}
	raised, known := false, true
	for _, s := range sides {
		known = known && s.Height != nil
		raised = raised || len(s.Rising) > 0
	}
	if known || raised {
		facts["raised"] = fact.Fact{Value: raised, At: []string{t.Pointer}, Formula: "a segment rises"}
	}
}

func putForce(facts fact.Set, d *door.Door) {
	readings := d.Leaf.OpeningForce
	if !readings.Given() {
		return
	}
	bands := []any{}
	for _, b := range readings.Bands {
		band := map[string]any{"at": b.Pointer, "from": int64(b.From), "to": int64(b.To)}
		if b.Force.Known {
			band["force"] = int64(b.Force.Value)
		}
		bands = append(bands, onTrack(d, band))
	}
	for _, b := range readings.Unplaced {
		band := map[string]any{"at": b.Pointer}
		if b.From.Known {
			band["from"] = int64(b.From.Value)
		}
		if b.To.Known {
			band["to"] = int64(b.To.Value)
		}
		if b.Force.Known {
			band["force"] = int64(b.Force.Value)
		}
		bands = append(bands, onTrack(d, band))
	}
	facts["opening_force"] = fact.Fact{Value: bands, At: []string{readings.Pointer}}
}

// onTrack marks a force of a leaf that slides or folds: it has no angle, and is written as over the whole way.
func onTrack(d *door.Door, band map[string]any) map[string]any {
	if op := d.Leaf.Operation.Value; op == "sliding" || op == "folding" {
		band["track"] = true
	}
	return band
}

// putTargets adds the targets that the spec has, with what it knows of them.
func putTargets(facts fact.Set, d *door.Door) {
	t := d.Targets
	if t.Leakage {
		target := map[string]any{}
		if t.LeakageFlow.Known {
			target["flow"] = t.LeakageFlow.Value
		}
		if t.LeakagePressure.Known {
			target["at"] = t.LeakagePressure.Value
		}
		facts["leakage_target"] = fact.Fact{Value: target, At: []string{"/targets/leakage"}}
	}
	if _, written := d.Document.Root.Lookup(t.AirClass.Pointer); written {
		target := map[string]any{}
		if t.AirClass.Known {
			target["class"] = int64(t.AirClass.Value)
		}
		facts["air_class_target"] = fact.Fact{Value: target, At: []string{t.AirClass.Pointer}}
	}
	if t.House {
		facts["house_target"] = houseTarget(d)
	}
}

// toCome says whether a floor finish will still change every height.
func toCome(d *door.Door) bool { return d.Site.Finish.Known && d.Site.Finish.Value == "to come" }

// edgesCovered says whether every seal at another edge than the bottom has evidence. Where an edge is not listed, or its
// seal is not known, nobody can say so.
func edgesCovered(d *door.Door) bool {
	if !edgesListed(d) {
		return false
	}
	for _, p := range d.Paths {
		_, written := d.Document.Root.Lookup(p.Seal.Pointer)
		switch {
		case !p.Seal.Known && written:
			return false
		case p.Seal.Known && p.Seal.Value != "none" && !evidenced(d, p.Seal.Value, p.Leaf):
			return false
		}
	}
	return true
}

// evidenced says whether a seal has evidence on a leaf; on every leaf, where none is named.
func evidenced(d *door.Door, seal, leaf string) bool {
	covers := func(leaf string) bool {
		return slices.ContainsFunc(d.Evidence, func(e door.Evidence) bool { return e.Seal == seal && (e.Leaf == "" || e.Leaf == leaf) })
	}
	if leaf != "" || len(d.Leaves) == 0 {
		return covers(leaf)
	}
	return !slices.ContainsFunc(d.Leaves, func(l door.Leaf) bool { return !covers(l.ID) })
}

// covered says whether every seal of the option has evidence on every leaf that it is fitted to.
func covered(d *door.Door, o door.Option) bool {
	for _, f := range o.Fits {
		for _, l := range d.Leaves {
			if f.Leaf != "" && f.Leaf != l.ID {
				continue
			}
			if !evidenced(d, f.Seal.Value, l.ID) {
				return false
			}
		}
	}
	return len(d.Leaves) > 0
}

// figures rounds to four significant figures, far below any band, so that the same spec
// gives the same bytes on every machine; the ends of a band are rounded outwards.
func figures(v float64, round func(float64) float64) float64 {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return v
	}
	scale := math.Pow(10, 3-math.Floor(math.Log10(math.Abs(v))))
	return round(v*scale) / scale
}
