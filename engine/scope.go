package engine

import (
	"slices"

	"sillwright/engine/profile"
	"sillwright/schema/door"
	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// putScope adds what the door is for, and the forces that a spec gives as one value: what decides which rules speak of it.
func putScope(facts fact.Set, d *door.Door) {
	put(facts, "accessible_route", d.Site.AccessibleRoute, yes)
	put(facts, "unit", d.Site.Unit, word)
	put(facts, "role", d.Leaf.Role, word)
	putPlace(facts, d)
	putBuilding(facts, d)
	putClimbs(facts, d)
	put(facts, "opens", d.Leaf.Opens, word)
	put(facts, "glazed", d.Leaf.Glazed, yes)
	put(facts, "transfer_area", d.Leaf.TransferArea, area)
	put(facts, "unlatching_force", d.Leaf.UnlatchingForce, newtons)
	put(facts, "starting_force", d.Leaf.StartingForce, newtons)
	put(facts, "outdoor_impervious", d.Approach[0].Impervious, yes)
	put(facts, "outdoor_falls_away", d.Approach[0].FallsAway, yes)
}

// putPlace adds what the doors, sides and options of some codes are told apart by.
func putPlace(facts fact.Set, d *door.Door) {
	put(facts, "applied", d.Site.Applied, day)
	put(facts, "leads_to", d.Leaf.LeadsTo, word)
	put(facts, "exit", d.Leaf.Exit, yes)
}

// putLevels adds the floors and the top of the threshold, each against the other:
//
//	floor_difference = sum of all rises
//	top_above_outside = highest point of the profile - floor outside, likewise inside
//
// in whole nanometres, exact. All are left out where a rise is not known, and where a floor finish to come will still
// change them.
func putLevels(facts fact.Set, d *door.Door) {
	t := d.Threshold
	if toCome(d) || slices.ContainsFunc(t.Segments, func(s door.Segment) bool { return !s.Rise.Known }) {
		return
	}
	var difference quantity.Length
	for _, s := range t.Segments {
		difference += s.Rise.Value
	}
	at := []string{t.Pointer}
	facts["floor_difference"] = fact.Fact{Value: int64(difference), At: at, Formula: "sum of all rises, from outside to inside"}
	for _, s := range profile.Sides(t) {
		name := map[string]string{"outer": "top_above_outside", "inner": "top_above_inside"}[s.Side]
		facts[name] = fact.Fact{Value: *s.Height, At: at, Formula: "highest point of the threshold less the floor of that side"}
	}
}
