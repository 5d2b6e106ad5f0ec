package engine

import (
	"sillwright/engine/catalogue"
	"sillwright/schema/door"
	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// sideMost is about as many as a side has.
const sideMost = 24

// sideFacts are what the rules read of the floor on one side of the door.
func sideFacts(d *door.Door, a door.Approach) fact.Set {
	facts := make(fact.Set, sideMost)
	put(facts, "operation", d.Leaf.Operation, word)
	put(facts, "role", d.Leaf.Role, word)
	putPlace(facts, d)
	put(facts, "accessible_route", d.Site.AccessibleRoute, yes)
	put(facts, "location", d.Leaf.Location, word)
	put(facts, "exposure", d.Site.Exposure, word)
	facts["outer_side"] = fact.Fact{Value: a.Side == "outside", At: []string{a.Pointer}}
	put(facts, "powered", d.Leaf.Powered, word)
	put(facts, "escape_route", d.Leaf.Escape, yes)
	putHolding(facts, d)
	putUse(facts, d, a.Side)
	put(facts, "approach_from", a.From, word)
	put(facts, "floor_depth", a.Depth, length)
	put(facts, "beside_latch", a.BesideLatch, length)
	put(facts, "beside_hinge", a.BesideHinge, length)
	putRecessed(facts, a)
	put(facts, "recess_depth", a.RecessDepth, length)
	put(facts, "recess_beside", a.RecessBeside, length)
	put(facts, "floor_step", a.Step, length)
	put(facts, "floor_firm", a.Firm, yes)
	put(facts, "falls_away", a.FallsAway, yes)
	if a.Slope.Known {
		facts["floor_slope"] = fact.Fact{Value: map[string]any{"rise": a.Slope.Value.Rise, "run": a.Slope.Value.Run}, At: []string{a.Slope.Pointer}}
	}
	return facts
}

// putRecessed: what stands out beside the latch ends the floor there.
func putRecessed(facts fact.Set, a door.Approach) {
	if !a.RecessDepth.Known || !a.BesideLatch.Known || (a.RecessDepth.Value > 0 && !a.RecessBeside.Known) {
		return
	}
	clear, at := a.BesideLatch.Value, a.BesideLatch.Pointer
	if a.RecessDepth.Value > 0 && a.RecessBeside.Value < clear {
		clear, at = a.RecessBeside.Value, a.RecessBeside.Pointer
	}
	facts["beside_latch_recessed"] = fact.Fact{Value: int64(clear), At: []string{at}, Formula: "clear floor beyond the latch side, up to what stands out there"}
}

// putUse: people pull a door on the side that it opens to, and push it on the other.
func putUse(facts fact.Set, d *door.Door, side string) {
	operation, opens := d.Leaf.Operation, d.Leaf.Opens
	if !operation.Known {
		return
	}
	switch operation.Value {
	case "sliding", "folding":
		facts["use"] = fact.Fact{Value: "slide", At: []string{operation.Pointer}, Formula: "a sliding or folding door"}
	case "hinged", "pair", "pivot":
		if opens.Known {
			use := "push"
			if (opens.Value == "in") == (side == "inside") {
				use = "pull"
			}
			facts["use"] = fact.Fact{Value: use, At: []string{opens.Pointer}, Formula: "pulled on the side that it opens to, pushed on the other"}
		}
	}
}

// putHolding are the facts of what holds the door, shut or open, and of who opens it.
func putHolding(facts fact.Set, d *door.Door) {
	put(facts, "closer", d.Leaf.Closer, yes)
	put(facts, "latch", d.Leaf.Latch, yes)
	put(facts, "standby_power", d.Leaf.Power.Standby, yes)
	put(facts, "stays_open", d.Leaf.Power.StaysOpen, yes)
	putOperator(facts, d)
}

// putOperator says who opens the door. An exemption has to be claimed, so a door is everybody's unless said.
func putOperator(facts fact.Set, d *door.Door) {
	only := d.Leaf.SecurityOnly
	facts["security_only"] = fact.Fact{Value: only.Known && only.Value, At: []string{"/door/operated_by"}, Formula: "operated_by: security"}
}

// putOpening are the facts of people who open the door and walk through it.
func putOpening(facts fact.Set, d *door.Door) {
	leaf := d.Leaf
	putHolding(facts, d)
	put(facts, "clear_width_power_off", leaf.PowerOffWidth, length)
	put(facts, "clear_width_break_out", leaf.BreakOutWidth, length)
	put(facts, "spring_hinges", leaf.SpringHinges, yes)
	put(facts, "power_standard", leaf.Power.Standard, yes)
	put(facts, "manual_beside", leaf.Power.ManualBeside, yes)
	put(facts, "cavities_capped", leaf.PushSide.CavitiesCapped, yes)
	putShoe(facts, d)
	put(facts, "threshold_firm", d.Threshold.Firm, yes)
	if leaf.ProjectionsGiven {
		facts["projections"] = fact.Fact{Value: projections(leaf), At: []string{"/door/projections"}, Formula: "stands in by: face_to_stop less the width left beside it"}
	}
	if leaf.PushSide.JointsGiven {
		joints := []any{}
		for _, j := range leaf.PushSide.Joints {
			joints = append(joints, joint(j.Height, j.Step, j.Pointer))
		}
		facts["push_side_joints"] = fact.Fact{Value: joints, At: []string{leaf.PushSide.Pointer + "/joints"}}
	}
	putClosing(facts, d)
}

// putShoe: an exemption has to be claimed; the rule asks whether the fact is there at all.
func putShoe(facts fact.Set, d *door.Door) {
	if taper := d.Leaf.PushSide.ShoeTaper; taper.Known {
		facts["shoe_taper"] = fact.Fact{Value: int64(taper.Value), At: []string{taper.Pointer}}
	}
}

func projections(leaf door.Construction) []any {
	out := []any{}
	for _, p := range leaf.Projections {
		item := map[string]any{"at": p.Pointer}
		if p.Part.Known {
			item["part"] = p.Part.Value
		}
		if p.From.Known {
			item["from"] = int64(p.From.Value)
		}
		if p.Leaves.Known {
			item["leaves"] = int64(p.Leaves.Value)
			if leaf.FaceToStop.Known {
				item["by"] = int64(leaf.FaceToStop.Value - p.Leaves.Value)
			}
		}
		out = append(out, item)
	}
	return out
}

func joint(height, step door.Maybe[quantity.Length], pointer string) map[string]any {
	out := map[string]any{"at": pointer}
	if height.Known {
		out["height"] = int64(height.Value)
	}
	if step.Known {
		out["step"] = int64(step.Value)
	}
	return out
}

// putSealJoints: what the bottom seals of an option add to the push side of the leaf.
// A bare gap adds nothing; a seal whose place is not known leaves the fact out.
func putSealJoints(facts fact.Set, o door.Option, c *catalogue.Catalogue) {
	joints, at := []any{}, []string{o.Pointer}
	for _, f := range o.Fits {
		if entry, ok := c.Seal(f.Seal.Value); ok && entry.Kind == "none" || f.Edge != "bottom" {
			continue
		}
		if !f.Mount.On.Known {
			return
		}
		at = append(at, f.Mount.Pointer)
		if f.Mount.On.Value == "push-face" {
			floor := door.Maybe[quantity.Length]{Known: true} // a bottom seal reaches down to it
			joints = append(joints, joint(floor, f.Mount.Step, f.Mount.Pointer))
		}
	}
	facts["seal_joints"] = fact.Fact{Value: joints, At: at, Formula: "bottom seals that are fixed on the push face"}
}
