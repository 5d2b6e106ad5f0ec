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
	put(facts, "entrance_floor", d.Site.EntranceFloor, yes)
	put(facts, "many_people", d.Site.ManyPeople, yes)
	put(facts, "unit", d.Site.Unit, word)
	put(facts, "role", d.Leaf.Role, word)
	putPlace(facts, d)
	put(facts, "threshold_as", d.Threshold.As, word)
	putBuilding(facts, d)
	putClimbs(facts, d)
	put(facts, "opens", d.Leaf.Opens, word)
	put(facts, "glazed", d.Leaf.Glazed, yes)
	put(facts, "transfer_area", d.Leaf.TransferArea, area)
	put(facts, "unlatching_force", d.Leaf.UnlatchingForce, newtons)
	put(facts, "starting_force", d.Leaf.StartingForce, newtons)
	put(facts, "outdoor_impervious", d.Approach[0].Impervious, yes)
	put(facts, "outdoor_falls_away", d.Approach[0].FallsAway, yes)
	putClaimed(facts, d)
	put(facts, "outdoor_raisable", d.Approach[0].Raisable, yes)
	putFrame(facts, d)
}

// putFrame: what the open leaf leaves clear, the frame leaves too. Where nobody measured the frame, it may be wider.
func putFrame(facts fact.Set, d *door.Door) {
	put(facts, "clear_width_frame", d.Leaf.FrameWidth, length)
	if face := d.Leaf.FaceToStop; face.Known && !d.Leaf.FrameWidth.Known {
		facts["clear_width_frame"] = fact.Fact{Value: int64(face.Value), OrMore: true, At: []string{face.Pointer}, Formula: "at least what is clear from the face of the open door to the stop"}
	}
}

// putPlace adds what the doors, sides and options of some codes are told apart by.
func putPlace(facts fact.Set, d *door.Door) {
	put(facts, "applied", d.Site.Applied, day)
	put(facts, "leads_to", d.Leaf.LeadsTo, word)
	put(facts, "exit", d.Leaf.Exit, yes)
	put(facts, "accessible_route", d.Site.AccessibleRoute, yes)
	put(facts, "passage", d.Leaf.Passage, yes)
}

// putDwelling says whether the door is the entrance of one dwelling, which some codes let off.
func putDwelling(facts fact.Set, d *door.Door) {
	if role := d.Leaf.Role; role.Known {
		facts["dwelling_entrance"] = fact.Fact{Value: role.Value == "private-entrance", At: []string{role.Pointer}, Formula: "role: private-entrance"}
	}
}

// putClaimed adds what the door is let off for, or is told apart by, in some codes. A sill that confines spilled liquid has to be claimed.
func putClaimed(facts fact.Set, d *door.Door) {
	putDwelling(facts, d)
	put(facts, "refuge_balcony", d.Leaf.RefugeBalcony, yes)
	put(facts, "fire_period", d.Leaf.FirePeriod, word)
	put(facts, "air_pressure", d.Leaf.AirPressure, yes)
	facts["spill_sill"] = fact.Fact{Value: d.Leaf.SpillSill, At: []string{"/door/spill_sill"}, Formula: "spill_sill: true"}
	put(facts, "bathroom_path", d.Leaf.BathroomPath, yes)
	if serves := d.Site.Serves; !d.Leaf.BathroomPath.Known && serves.Known && serves.Value != "dwelling" {
		facts["bathroom_path"] = fact.Fact{Value: false, At: []string{serves.Pointer}, Formula: "no door of a home"}
	}
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
