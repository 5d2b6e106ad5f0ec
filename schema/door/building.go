package door

import "sillwright/schema/quantity"

// Building is what some codes ask of the building that the door is in.
type Building struct {
	Class, ClimateZone   Maybe[string]
	Accessible, CareArea Maybe[bool]
	SealingExempt        Maybe[string] // a claim
}

// LevelEntry is what keeps the water out of a doorway that is hardly higher than the ground outside.
type LevelEntry struct {
	By                                      Maybe[string]
	ChannelDepth, ChannelLength, ChannelGap Maybe[quantity.Length]
	MembraneDrop                            Maybe[quantity.Length]
}

func readBuilding(site cursor) Building {
	return Building{
		Class: site.child("building_class").word(), ClimateZone: site.child("climate_zone").word(),
		Accessible: site.child("accessible_building").truth(), CareArea: site.child("care_area").truth(), SealingExempt: site.child("sealing_exempt").word(),
	}
}

func readLevelEntry(c cursor) LevelEntry {
	return LevelEntry{
		By: c.child("by").word(), ChannelDepth: c.child("channel_depth").length(notNegative), ChannelLength: c.child("channel_length").length(notNegative),
		ChannelGap: c.child("channel_gap").length(notNegative), MembraneDrop: c.child("membrane_drop").length(notNegative),
	}
}

func readSegments(list cursor) []Segment {
	var out []Segment
	for _, s := range list.items() {
		out = append(out, Segment{s.child("run").length(notNegative), s.child("rise").length(anySign), s.child("nose").word(), s.at.pointer})
	}
	return out
}
