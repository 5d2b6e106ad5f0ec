package sillwright.questions

import data.sillwright.compare

# METADATA
# description: Slots and gratings in the path, each at most so wide, whichever way it runs.
# custom:
#   by_place: [width]
#   fact: [openings]
#   limits: {width: at_most length}
#   parts: {width: [measured, limit]}
#   passing: [none]
answer("openings-any-way", _, facts) := [compare.missing("width", "openings")] if not facts.openings

answer("openings-any-way", _, facts) := [{"part": "none", "state": "pass", "at": facts.openings.at, "values": {}}] if facts.openings.value == []

answer("openings-any-way", rule, facts) := widths if {
	slots := facts.openings.value
	count(slots) > 0
	widths := [slot_opening(slot, rule.limits.width) | some slot in slots]

	# A limit that the rule lacks must not drop out unseen.
	count(widths) == count(slots)
}

slot_opening(slot, limit) := {
	"part": "width", "state": compare.at_most(slot.width, limit), "at": [slot.at],
	"measured": {"length": slot.width}, "limit": limit, "comparator": "<=",
	"values": {"measured": {"length": slot.width}, "limit": {"length": limit.at_most}},
} if {
	is_number(slot.width)
} else := {"part": "width", "state": "missing", "at": [slot.at], "needs": [{"fact": "openings", "at": slot.at}]}
