package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Is there neither a step nor a ramp at the doorway, on either side? An exception may let each side rise by
#   `sill`, or the outer one by `sill_outside` whatever the inner one does, or may have nothing but ramps no steeper than
#   `ramp`, up to `ramp_rise` high and `ramp_run` long, no farther from the leaf than `from_leaf`.
# custom:
#   fact: [climbs]
#   optional_limits: {sill: at_most length, sill_outside: at_most length, ramp: ratio, ramp_rise: at_most length, ramp_run: at_most length, from_leaf: at_most length}
#   reads: [leaf_at]
#   parts:
#     step: [side, measured]
#     sill: [side, measured, limit, excess]
#     slope: [side, rise, run, limit]
#     rise: [side, measured, limit, excess]
#     run: [side, measured, limit, excess]
#     leaf: [side, measured, limit, excess]
#   parts_with: {sill: sill, slope: ramp, rise: ramp_rise, run: ramp_run, leaf: from_leaf}
#   passing: [none]
#   found: {slope: "{rise} over {run} ({measured})"}
answer("step-at-door", _, facts) := [compare.missing("step", "climbs")] if not facts.climbs

answer("step-at-door", rule, facts) := array.concat(checks, unread) if {
	ways := facts.climbs.value
	checks := [check | some way in ways; some check in doorway_checks(way, rule.limits, facts)]
	unread := [object.union(unread_way("climbs", way), {"part": "step"}) | some way in ways; count(way.needs) > 0; not free_side(way, rule.limits)]

	every way in ways {
		is_array(way.climbs)
		is_array(way.needs)
		count(doorway_checks(way, rule.limits, facts)) > 0
	}
}

# The inner side is free where only the outer one has a limit.
free_side(way, limits) if {
	limits.sill_outside
	way.side == "inner"
}

doorway_checks(way, limits, _) := [{"part": "none", "state": "pass", "at": [], "values": {}}] if {
	free_side(way, limits)
} else := [{"part": "none", "state": "pass", "at": [], "values": {}}] if {
	way.climbs == []
} else := [sill_height(way, limits.sill_outside)] if {
	limits.sill_outside
} else := [sill_height(way, limits.sill)] if {
	limits.sill
}

doorway_checks(way, limits, facts) := [check | some climb in way.climbs; some check in only_ramps(way.side, climb, limits, facts)] if {
	limits.ramp
	way.climbs != []
}

doorway_checks(way, limits, _) := [any_step(way.side, climb) | some climb in way.climbs] if {
	way.climbs != []
	not limits.sill
	not limits.sill_outside
	not limits.ramp
}

sill_height(way, limit) := doorway_length("sill", way.side, [at | some climb in way.climbs; some at in climb.at], top, limit) if {
	top := max([climb.top | some climb in way.climbs])
}

doorway_length(part, side, at, measured, limit) := {
	"part": part, "state": compare.at_most(measured, limit), "at": at,
	"measured": {"length": measured}, "limit": limit, "comparator": "<=",
	"values": {"side": {"word": side}, "measured": {"length": measured}, "limit": {"length": limit.at_most}, "excess": {"length": measured - limit.at_most}},
}

any_step(side, climb) := {
	"part": "step", "state": "fail", "at": climb.at, "measured": {"length": climb.rise},
	"values": {"side": {"word": side}, "measured": {"length": climb.rise}},
}

only_ramps(side, climb, limits, facts) := ramp_checks(side, climb, limits, facts) if {
	is_number(climb.run)
	no_ramp(climb, limits) == 0
} else := [any_step(side, climb)] if {
	some piece in climb.pieces
	piece.run == 0
} else := [climb_too_steep(side, climb, limits)] if {
	is_number(climb.run)
} else := [{
	"part": "slope", "state": "missing", "at": climb.at, "values": {"side": {"word": side}},
	"needs": [{"fact": "climbs", "at": piece.at} | some piece in climb.pieces; not is_number(piece.run)],
}]
