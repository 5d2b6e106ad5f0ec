package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Is every part that slopes up to the door from outside gentle enough? An upright face is no
#   slope, and what rises behind the outer face of the closed leaf does not lead up to it. A part
#   that may be there, for a run before it is not known, is asked for where it is too steep.
# custom:
#   fact: [profile]
#   limits: {slope: angle}
#   optional_limits: {exempt: flag}
#   parts: {slope: [rise, run, limit, least_run]}
#   passing: [none]
#   found: {slope: "{rise} over {run} ({measured})"}
answer("sill-slope", rule, _) := [{"part": "none", "state": "pass", "at": [], "values": {}}] if rule.limits.exempt

answer("sill-slope", rule, facts) := [compare.missing("slope", "profile")] if {
	not rule.limits.exempt
	not facts.profile
}

answer("sill-slope", rule, facts) := or_level(array.concat(slopes, unread), facts.profile.at) if {
	not rule.limits.exempt
	[outer] := [side | some side in facts.profile.value; side.side == "outer"]
	parts := [segment | some segment in outer.rising; leads_up(segment)]
	slopes := [sill_part(segment, rule.limits) | some segment in parts]
	unread := [sill_unread(at, outer) | some at in outer.needs]

	# A limit that the rule lacks, or a part that lacks its rise, must not drop out unseen.
	count(slopes) == count(parts)
	is_number(rule.limits.slope.rise)
	is_number(rule.limits.slope.run)
}

or_level(checks, at) := [{"part": "none", "state": "pass", "at": at, "values": {}}] if {
	checks == []
} else := checks

leads_up(segment) if {
	segment.run != 0
	not segment.past_leaf
}

sill_unread(at, side) := {"part": "slope", "state": "missing", "at": [at], "needs": [{"fact": object.get(side, "waits", "profile"), "at": at}]}

sill_part(segment, limits) := {
	"part": "slope", "state": sill_state(segment, limits.slope), "at": [segment.at], "comparator": "<=",
	"measured": {"ratio": [segment.rise, segment.run]}, "limit": {"kind": "angle", "incline": [limits.slope.rise, limits.slope.run, limits.slope.angle]},
	"values": {
		"rise": {"length": segment.rise}, "run": {"length": segment.run},
		"limit": {"incline": [limits.slope.rise, limits.slope.run, limits.slope.angle]}, "least_run": {"length": least_run(segment, limits)},
	},
} if {
	is_number(segment.run)
	is_number(segment.rise)
	not perhaps_past(segment, limits.slope)
} else := {"part": "slope", "state": "missing", "at": [segment.at], "needs": [{"fact": "profile", "at": segment.at}]} if {
	not is_number(segment.run)
} else := {"part": "slope", "state": "missing", "at": [segment.at], "needs": [{"fact": "profile", "at": "/threshold"}]} if {
	perhaps_past(segment, limits.slope)
}

perhaps_past(segment, limit) if {
	segment.unplaced
	sill_state(segment, limit) == "fail"
}

# compare.gentle is undefined, not false, where the slope is steeper.
sill_state(segment, limit) := "pass" if {
	compare.gentle(segment.rise, segment.run, limit)
} else := "fail" if {
	segment.rise * limit.run > segment.run * limit.rise
}
