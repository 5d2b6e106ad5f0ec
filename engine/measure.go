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
	Options  []Option       // as written
}

// Measure derives the facts of a door and of its options. It judges nothing. Every seal
// that the door names must be in the catalogue: see Unfitted.
func Measure(d *door.Door, c *catalogue.Catalogue) Measured {
	m := Measured{Subjects: []fact.Subject{{ID: "door", Kind: "door", Facts: doorFacts(d)}}}
	for _, l := range d.Leaves {
		m.Subjects = append(m.Subjects, fact.Subject{ID: "leaf:" + l.ID, Kind: "leaf", Facts: fact.Set{}})
	}
	for _, o := range d.Options {
		option := measureOption(d, o, c)
		m.Options = append(m.Options, option)
		m.Subjects = append(m.Subjects, fact.Subject{ID: "option:" + o.ID, Kind: "option", Facts: optionFacts(d, o, option)})
	}
	return m
}

// put adds a fact where the spec knows it.
func put[T any](facts fact.Set, name string, m door.Maybe[T], value func(T) any) {
	if m.Known {
		facts[name] = fact.Fact{Value: value(m.Value), At: []string{m.Pointer}}
	}
}

func word(s string) any            { return s }
func truth(b bool) any             { return b }
func length(l quantity.Length) any { return int64(l) }

func doorFacts(d *door.Door) fact.Set {
	facts := fact.Set{}
	put(facts, "work", d.Site.Work, word)
	put(facts, "serves", d.Site.Serves, word)
	put(facts, "exposure", d.Site.Exposure, word)
	put(facts, "open_flue", d.Site.OpenFlue, truth)
	put(facts, "location", d.Leaf.Location, word)
	put(facts, "operation", d.Leaf.Operation, word)
	put(facts, "powered", d.Leaf.Powered, word)
	put(facts, "escape_route", d.Leaf.Escape, truth)
	putFireFacts(facts, d)
	put(facts, "floor_swept", d.Floor.Swept, word)
	put(facts, "floor_under_seal", d.Floor.UnderSeal, word)
	put(facts, "carpet_pile", d.Floor.CarpetPile, length)
	put(facts, "carpet_attached", d.Floor.CarpetAttached, truth)
	put(facts, "clear_width", d.Leaf.FaceToStop, length)
	put(facts, "clear_width_least", d.Leaf.LeastWidth, length)
	put(facts, "opening_depth", d.Leaf.OpeningDepth, length)
	putCarpet(facts, d)
	putThreshold(facts, d)
	putForce(facts, d)
	return facts
}

func putFireFacts(facts fact.Set, d *door.Door) {
	put(facts, "fire_rated", d.Leaf.FireRated, truth)
	put(facts, "smoke_control", d.Leaf.SmokeControl, truth)
}

// putCarpet: there is carpet where either floor is carpet, and none where both are known to be something else.
func putCarpet(facts fact.Set, d *door.Door) {
	under, swept := d.Floor.UnderSeal, d.Floor.Swept
	carpet := (under.Known && under.Value == "carpet") || (swept.Known && swept.Value == "carpet")
	if carpet || (under.Known && swept.Known) {
		facts["carpet"] = fact.Fact{Value: carpet, At: []string{under.Pointer, swept.Pointer}, Formula: "under_seal or swept is carpet"}
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
	sides := profile.Sides(t)
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
	if len(d.Leaf.OpeningForce) == 0 {
		return
	}
	bands := []any{}
	for _, b := range d.Leaf.OpeningForce {
		band := map[string]any{"at": b.Pointer, "from": int64(b.From), "to": int64(b.To)}
		if b.Force.Known {
			band["force"] = int64(b.Force.Value)
		}
		bands = append(bands, band)
	}
	facts["opening_force"] = fact.Fact{Value: bands, At: []string{d.Leaf.OpeningForcePointer}}
}

func optionFacts(d *door.Door, o door.Option, m Option) fact.Set {
	facts := fact.Set{}
	putFireFacts(facts, d)
	t := d.Targets
	if t.LeakageFlow.Known && t.LeakagePressure.Known {
		facts["leakage_target"] = fact.Fact{Value: map[string]any{"flow": t.LeakageFlow.Value, "at": t.LeakagePressure.Value}, At: []string{t.LeakageFlow.Pointer}}
	}
	if l := m.Leakage; l != nil {
		facts["leakage"] = fact.Fact{
			Value: map[string]any{"low": figures(l.Low), "likely": figures(l.Likely), "high": figures(l.High), "at": l.Pressure},
			At:    []string{o.Pointer}, Formula: "sum over the counted paths of the flow at the target's pressure",
		}
	}
	if covered(d, o) {
		facts["fire_evidence"] = fact.Fact{Value: true, At: []string{"/evidence"}}
	}
	return facts
}

// covered says whether every seal of the option has evidence on every leaf that it is fitted to.
func covered(d *door.Door, o door.Option) bool {
	for _, f := range o.Fits {
		for _, l := range d.Leaves {
			if f.Leaf != "" && f.Leaf != l.ID {
				continue
			}
			if !slices.ContainsFunc(d.Evidence, func(e door.Evidence) bool {
				return e.Seal == f.Seal.Value && (e.Leaf == "" || e.Leaf == l.ID)
			}) {
				return false
			}
		}
	}
	return len(d.Leaves) > 0
}

// figures rounds to four significant figures, far below any band, so that the same spec
// gives the same bytes on every machine.
func figures(v float64) float64 {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return v
	}
	scale := math.Pow(10, 3-math.Floor(math.Log10(math.Abs(v))))
	return math.Round(v*scale) / scale
}
