package engine

import (
	"maps"
	"math"

	"sillwright/schema/door"
	"sillwright/schema/fact"
)

// mostFacts is about as many as a door or an option has at most.
const mostFacts = 56

// common are the facts that all options of a door have, for another one.
func (shared *scoring) common() fact.Set {
	if shared.facts != nil {
		return maps.Clone(shared.facts)
	}
	d, facts := shared.d, make(fact.Set, mostFacts)
	put(facts, "work", d.Site.Work, word)
	put(facts, "serves", d.Site.Serves, word)
	put(facts, "location", d.Leaf.Location, word)
	put(facts, "role", d.Leaf.Role, word)
	put(facts, "glazed", d.Leaf.Glazed, yes)
	put(facts, "transfer_area", d.Leaf.TransferArea, area)
	put(facts, "powered", d.Leaf.Powered, word)
	put(facts, "operation", d.Leaf.Operation, word)
	put(facts, "floor_swept", d.Floor.Swept, word)
	put(facts, "duty_use", d.Duty.Use, word)
	put(facts, "escape_route", d.Leaf.Escape, yes)
	put(facts, "unit", d.Site.Unit, word)
	putPlace(facts, d)
	putDwelling(facts, d)
	put(facts, "air_pressure", d.Leaf.AirPressure, yes)
	putBuilding(facts, d)
	put(facts, "starting_force", d.Leaf.StartingForce, newtons)
	put(facts, "closer", d.Leaf.Closer, yes)
	put(facts, "spring_hinges", d.Leaf.SpringHinges, yes)
	put(facts, "latch", d.Leaf.Latch, yes)
	putOperator(facts, d)
	putShoe(facts, d)
	putFireFacts(facts, d)
	putTargets(facts, d)
	putSizes(facts, d)
	putAsked(facts, d)
	putUndercut(facts, shared.truths)
	shared.facts = facts
	return maps.Clone(facts)
}

func optionFacts(shared *scoring, o door.Option, m Option) fact.Set {
	d, c := shared.d, shared.c
	facts := shared.common()
	putTransferLeft(facts, shared, o)
	putSealJoints(facts, o, c)
	putPractice(facts, shared, o)
	putSealed(facts, d, o, m.InRange)
	putBottomSealed(facts, d, o)
	putTested(facts, d, o, c, m.Life)
	putOpenings(facts, d, o, m)
	if m.Set != nil {
		facts["setting"] = fact.Fact{Value: *m.Set, At: []string{o.Pointer}, Formula: "every bottom seal has an overlap, and at no place one of its whole free height"}
	}
	if m.InRange != nil {
		facts["in_range"] = fact.Fact{Value: *m.InRange, At: []string{o.Pointer}, Formula: "at every reading the overlap is one that the seal is made for"}
	}
	if l := m.Leakage; l != nil {
		facts["leakage"] = fact.Fact{
			Value: map[string]any{"low": figures(l.Low, math.Floor), "likely": figures(l.Likely, math.Round), "high": figures(l.High, math.Ceil), "at": l.Pressure},
			At:    []string{o.Pointer}, Formula: "sum over the counted paths of the flow at the target's pressure",
		}
	}
	putHouse(facts, shared, o, m)
	if covered(d, o) {
		facts["fire_evidence"] = fact.Fact{Value: true, At: []string{"/evidence"}}
	}
	return facts
}
