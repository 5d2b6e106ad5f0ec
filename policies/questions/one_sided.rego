package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   A threshold rises on one side only, and there by the limit at most, as a step does. Where it
#   rises on both sides, each within the limit, it is left open: the text lets some such thresholds be.
# custom:
#   fact: [profile]
#   limits: {height: at_most length}
#   parts:
#     height: [side, measured, limit, excess]
#     both: [outer, inner]
answer("one-sided", _, facts) := [compare.missing("height", "profile")] if not facts.profile

answer("one-sided", rule, facts) := array.concat(heights, [risen(facts.profile.value, facts.profile.at)]) if {
	heights := [side_height(side, rule.limits.height) | some side in facts.profile.value]

	# A limit that the rule lacks must not drop out unseen.
	count(heights) == count(facts.profile.value)
}

# A height that is not known is at least what the segments before the unknown one make.
risen(sides, at) := {"part": "both", "state": "pass", "at": at, "values": {}} if {
	some side in sides
	side.height == 0
} else := {
	"part": "both", "state": "open", "at": at,
	"values": {"outer": {"length": sides[0].height}, "inner": {"length": sides[1].height}},
} if {
	every side in sides {
		is_number(side.height)
	}
} else := {
	"part": "both", "state": "missing", "at": at,
	"needs": [{"fact": object.get(side, "waits", "profile"), "at": place} | some side in sides; some place in side.needs],
	"values": {},
}
