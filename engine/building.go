package engine

import (
	"slices"

	"sillwright/engine/profile"
	"sillwright/schema/door"
	"sillwright/schema/fact"
)

// putBuilding adds what a door or an option of a building is told apart by. An exemption has to be claimed, so there is none unless said.
func putBuilding(facts fact.Set, d *door.Door) {
	b := d.Site.Building
	put(facts, "building_class", b.Class, word)
	put(facts, "accessible_building", b.Accessible, yes)
	put(facts, "care_area", b.CareArea, yes)
	put(facts, "climate_zone", b.ClimateZone, word)
	put(facts, "conditioned", d.Leaf.Conditioned, yes)
	put(facts, "habitable", d.Leaf.Habitable, yes)
	exempt := "none"
	if b.SealingExempt.Known {
		exempt = b.SealingExempt.Value
	}
	facts["sealing_exempt"] = fact.Fact{Value: exempt, At: []string{"/site/sealing_exempt"}}
}

// putClimbs adds how the threshold and the edge of the carpet are climbed, and what keeps the water out beside them.
func putClimbs(facts fact.Set, d *door.Door) {
	t := d.Threshold
	put(facts, "weather_sill", t.WeatherSill, yes)
	put(facts, "jamb_depth", d.Leaf.JambDepth, length)
	put(facts, "leaf_at", t.LeafAt, length)
	put(facts, "level_entry", t.LevelEntry.By, word)
	put(facts, "channel_depth", t.LevelEntry.ChannelDepth, length)
	put(facts, "channel_length", t.LevelEntry.ChannelLength, length)
	put(facts, "channel_gap", t.LevelEntry.ChannelGap, length)
	put(facts, "membrane_drop", t.LevelEntry.MembraneDrop, length)
	if d.Floor.CarpetEdgeGiven {
		const at = "/floor/carpet/edge"
		facts["carpet_edge"] = fact.Fact{Value: []profile.Way{profile.Edge(d.Floor.CarpetEdge)}, At: []string{at}, Formula: "parts that rise with nothing level between are one climb"}
	}
	if !t.Given {
		return
	}
	ways := profile.Climbs(t, d.Leaf.Thickness)
	if toCome(d) {
		for i := range ways {
			ways[i].Top, ways[i].Climbs, ways[i].Needs, ways[i].Waits = nil, []profile.Climb{}, []string{d.Site.Finish.Pointer}, "floor_finish"
		}
	}
	facts["climbs"] = fact.Fact{Value: ways, At: []string{t.Pointer}, Formula: "parts that rise with nothing level between are one climb, seen from each side; from_leaf: along the path to the nearer face of the leaf"}
}

// putBottomSealed adds whether an option closes the bottom edge of every leaf with a seal, whatever that lets through.
func putBottomSealed(facts fact.Set, d *door.Door, o door.Option) {
	sealed, known := true, true
	leaves := d.Leaves
	if len(leaves) == 0 {
		leaves = []door.Leaf{{}}
	}
	for _, l := range leaves {
		fits := fitsOf(o, "bottom", l.ID)
		named := slices.ContainsFunc(fits, func(f door.Fit) bool { return f.Seal.Known && f.Seal.Value != "none" })
		sealed = sealed && named
		known = known && (named || !slices.ContainsFunc(fits, func(f door.Fit) bool { return !f.Seal.Known }))
	}
	if sealed || known {
		facts["bottom_sealed"] = fact.Fact{Value: sealed, At: []string{o.Pointer}, Formula: "every leaf has a seal at its bottom edge"}
	}
}
