package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Is the threshold at most so high above the floor of each side, whatever its shape?
#   With `step`, an upright face at the foot of the outer side may be a step up to the door, up to that height:
#   whether it may be there is left open, and the threshold is measured from its top.
# custom:
#   by_place: [height, least]
#   fact: [profile]
#   limits: {height: at_most length}
#   optional_limits: {step: at_most length}
#   parts:
#     height: [side, measured, limit, excess]
#     step: [measured, limit]
#   parts_with: {step: step}
answer("side-heights", _, facts) := [compare.missing("height", "profile")] if not facts.profile

answer("side-heights", rule, facts) := array.concat(heights, steps) if {
	sides := facts.profile.value
	heights := [side_height(sides_from_step(side, rule.limits), rule.limits.height) | some side in sides]
	steps := [sides_step_check(side, rule.limits) | some side in sides]

	# A limit that the rule lacks must not drop out unseen.
	count(heights) == count(sides)
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
