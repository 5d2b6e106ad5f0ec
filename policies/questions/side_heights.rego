package sillwright.questions

import data.sillwright.compare

# METADATA
# description: Is the threshold at most so high above the floor of either side? An exception may free it of any limit.
# custom:
#   by_place: [height, least]
#   fact: [profile]
#   limits: {height: at_most length}
#   optional_limits: {exempt: flag}
#   parts: {height: [side, measured, limit, excess]}
#   passing: [none]
answer("side-heights", rule, _) := [{"part": "none", "state": "pass", "at": [], "values": {}}] if rule.limits.exempt

answer("side-heights", rule, facts) := [compare.missing("height", "profile")] if {
	not rule.limits.exempt
	not facts.profile
}

answer("side-heights", rule, facts) := heights if {
	not rule.limits.exempt
	heights := [side_height(side, rule.limits.height) | some side in facts.profile.value]

	# A limit that the rule lacks must not drop out unseen.
	count(heights) == count(facts.profile.value)
}
