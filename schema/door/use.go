package door

import (
	"fmt"

	"sillwright/schema/quantity"
)

// readUse reads what people meet who open the door and walk through it.
func readUse(c cursor, out *Construction) {
	width, push, power := c.child("clear_width"), c.child("push_side"), c.child("power")
	out.PowerOffWidth, out.BreakOutWidth = width.child("power_off").length(notNegative), width.child("break_out").length(notNegative)
	out.ProjectionsGiven = c.child("projections").has()
	for _, p := range c.child("projections").items() {
		out.Projections = append(out.Projections, Projection{p.child("part").word(), p.child("from").length(notNegative), p.child("leaves").length(notNegative), p.at.pointer})
		if last := out.Projections[len(out.Projections)-1].Leaves; last.Known && out.FaceToStop.Known && last.Value > out.FaceToStop.Value {
			p.child("leaves").problem(last.Value.MM()+" mm, more than face_to_stop", "at most face_to_stop, "+out.FaceToStop.Value.MM()+" mm", "give the width that is left beside the part")
		}
	}
	if by := c.child("operated_by").word(); by.Known {
		out.SecurityOnly = Maybe[bool]{Value: by.Value == "security", Known: true, Pointer: by.Pointer}
	}
	spill := c.child("spill_sill").truth()
	out.BathroomPath, out.RefugeBalcony, out.SpillSill = c.child("bathroom_path").truth(), c.child("refuge_balcony").truth(), spill.Known && spill.Value
	out.AirPressure, out.FirePeriod = c.child("air_pressure").truth(), c.child("fire_period").word()
	out.Closer, out.SpringHinges, out.Latch = c.child("closer").truth(), c.child("spring_hinges").truth(), c.child("latch").truth()
	times := c.child("closing_times")
	out.ClosingTimesPointer = times.at.pointer
	for _, t := range times.items() {
		from, to, edge := t.child("from").angle(), t.child("to").angle(), t.child("to_edge").length(notNegative)
		if !t.child("to").has() && !t.child("to_edge").has() {
			t.problem("a time without its end", "to, or to_edge", "write the angle that it was timed to, or how far the leading edge then was from its closed place")
		}
		if !from.Known || (!to.Known && !edge.Known) {
			continue
		}
		if (to.Known && to.Value >= from.Value) || from.Value > 180*quantity.Degree {
			t.problem(fmt.Sprintf("from %s to %s deg", from.Value.Deg(), to.Value.Deg()), "from above to, up to 180 deg", "write the larger angle first: the door is closing")
			continue
		}
		out.ClosingTimes = append(out.ClosingTimes, ClosingTime{from.Value, to, edge, t.child("time").time(), t.at.pointer})
	}
	out.Power = Power{power.child("standard").truth(), power.child("standby").truth(), power.child("stays_open").truth(), power.child("manual_beside").truth()}
	out.PushSide = PushSide{JointsGiven: push.child("joints").has(), CavitiesCapped: push.child("cavities_capped").truth(), ShoeTaper: push.child("shoe_taper").angle(), Pointer: push.at.pointer}
	for _, j := range push.child("joints").items() {
		out.PushSide.Joints = append(out.PushSide.Joints, Joint{j.child("height").length(notNegative), j.child("step").length(notNegative), j.at.pointer})
	}
}

func readApproach(side string, both cursor) Approach {
	c := both.child(side)
	recess := c.child("recess")
	return Approach{
		Side: side, From: c.child("from").word(), Route: c.child("route_width").length(notNegative), Depth: c.child("depth").length(notNegative),
		BesideLatch: c.child("beside_latch").length(notNegative), BesideHinge: c.child("beside_hinge").length(notNegative),
		RecessDepth: recess.child("depth").length(notNegative), RecessBeside: recess.child("beside").length(notNegative),
		Slope: c.child("slope").slope(), Step: c.child("step").length(notNegative), FallsAway: c.child("falls_away").truth(), Impervious: c.child("impervious").truth(), Raisable: c.child("raisable").truth(), Firm: c.child("firm").truth(), Pointer: c.at.pointer,
	}
}

func readMount(c cursor) Mount {
	return Mount{c.child("on").word(), c.child("step").length(notNegative), c.at.pointer}
}
