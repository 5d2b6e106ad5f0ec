package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Each side of a threshold rises above its own floor by the limit at most, whatever its shape; 0 lets nothing rise.
#   With `step`, an upright face at the foot of the outer side may be a step up to the door, up to that height:
#   whether it may be there is left open, and the threshold is measured from its top. With `ramp`, a side that rises more,
#   up to that height, may be a ramp, with a lip of no more than the limit: whether it is one is left open. An exception may
#   leave out the outer side (`outer_free`), where the text lets the floor outside lie lower, or free it of any limit.
# custom:
#   fact: [profile]
#   limits: {height: at_most length}
#   optional_limits: {step: at_most length, ramp: at_most length, outer_free: flag, exempt: flag}
#   parts:
#     height: [side, measured, limit, excess]
#     step: [measured, limit]
#     ramp: [side, measured, limit]
#   parts_with: {step: step, ramp: ramp}
#   passing: [none]
answer("side-heights", rule, _) := [{"part": "none", "state": "pass", "at": [], "values": {}}] if rule.limits.exempt

answer("side-heights", rule, facts) := [compare.missing("height", "profile")] if {
	not rule.limits.exempt
	not facts.profile
}

answer("side-heights", rule, facts) := array.concat(heights, steps) if {
	not rule.limits.exempt
	sides := [side | some side in facts.profile.value; not left_out(side, rule.limits)]
	heights := [height_or_ramp(sides_from_step(side, rule.limits), rule.limits) | some side in sides]
	steps := [sides_step_check(side, rule.limits) | some side in sides]

	# A limit that the rule lacks must not drop out unseen.
	count(heights) == count(sides)
	count(heights) > 0
}

left_out(side, limits) if {
	limits.outer_free
	side.side == "outer"
}

# The upright face at the foot of the outer side, where the side is too high with it.
sides_step(side, limits) := face if {
	side.side == "outer"
	side_height(side, limits.height).state == "fail"
	face := side.upstands[0]
	face.at[0] == side.rising[0].at
	compare.at_most(face.height, limits.step) == "pass"
}

sides_from_step(side, limits) := object.union(side, {"height": less(side.height, face.height), "least": side.least - face.height}) if {
	face := sides_step(side, limits)
} else := side

sides_step_check(side, limits) := {
	"part": "step", "state": "open", "at": face.at, "measured": {"length": face.height}, "limit": limits.step, "comparator": "<=",
	"values": {"measured": {"length": face.height}, "limit": {"length": limits.step.at_most}},
} if {
	face := sides_step(side, limits)
}

height_or_ramp(side, limits) := {
	"part": "ramp", "state": "open", "at": side.at, "measured": {"length": side.height}, "limit": limits.ramp, "comparator": "<=",
	"values": {"side": {"word": side.side}, "measured": {"length": side.height}, "limit": {"length": limits.ramp.at_most}},
} if {
	too_high(side, limits)
	upright_in(side) <= limits.height.at_most
} else := {
	"part": "ramp", "state": "missing", "at": side.at, "needs": [{"fact": "profile", "at": at} | some at in unmeasured(side)],
	"values": {"side": {"word": side.side}},
} if {
	too_high(side, limits)
	known_upright(side) <= limits.height.at_most
} else := {
	"part": "height", "state": "missing", "at": side.needs, "values": {"side": {"word": side.side}},
	"needs": [{"fact": object.get(side, "waits", "profile"), "at": at} | some at in side.needs],
} if {
	# Too high already by what is known, but the whole may be a ramp.
	not is_number(side.height)
	compare.at_most(side.least, limits.ramp) == "pass"
	known_upright(side) <= limits.height.at_most
} else := side_height(side, limits.height)

# Higher than the limit, and no higher than a ramp may be; a height that is not known, null, is never higher.
too_high(side, limits) if {
	compare.at_most(side.height, limits.height) == "fail"
	compare.at_most(side.height, limits.ramp) == "pass"
}

unmeasured(side) := [segment.at | some segment in side.rising; not is_number(segment.run)]

known_upright(side) := sum([segment.rise | some segment in side.rising; segment.run == 0])

upright_in(side) := known_upright(side) if count(unmeasured(side)) == 0
