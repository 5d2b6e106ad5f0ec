package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Is the threshold at most so high above the floor of each side, whatever its shape? An exception may leave out the
#   outer side, where the text lets the floor outside lie lower.
# custom:
#   by_place: [height, least]
#   fact: [profile]
#   limits: {height: at_most length}
#   optional_limits: {outer_free: flag}
#   parts: {height: [side, measured, limit, excess]}
answer("height-at-most", _, facts) := [compare.missing("height", "profile")] if not facts.profile

answer("height-at-most", rule, facts) := heights if {
	sides := [side | some side in facts.profile.value; not left_out(side, rule.limits)]
	heights := [side_height(side, rule.limits.height) | some side in sides]

	# A limit that the rule lacks must not drop out unseen.
	count(heights) == count(sides)
	count(heights) > 0
}

left_out(side, limits) if {
	limits.outer_free
	side.side == "outer"
}
