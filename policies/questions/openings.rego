package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Slots and gratings in the path: each at most so wide, and its long way across the
#   direction of travel.
# custom:
#   by_place: [width]
#   fact: [openings]
#   limits: {width: at_most length}
#   parts: {width: [measured, limit], direction: []}
#   passing: [none]
answer("openings", _, facts) := [compare.missing("width", "openings")] if not facts.openings

answer("openings", _, facts) := [{"part": "none", "state": "pass", "at": facts.openings.at, "values": {}}] if facts.openings.value == []

answer("openings", rule, facts) := array.concat(widths, directions) if {
	slots := facts.openings.value
	count(slots) > 0
	widths := [slot_width(slot, rule.limits.width) | some slot in slots]
	directions := [slot_direction(slot) | some slot in slots]

	# A limit that the rule lacks must not drop out unseen.
	count(widths) == count(slots)
}

slot_direction(slot) := {
	"part": "direction", "state": {"across": "pass", "along": "fail", "none": "pass"}[slot.runs], "at": [slot.at],
	"measured": {"word": slot.runs}, "values": {},
} if {
	slot.runs in {"across", "along", "none"}
} else := {"part": "direction", "state": "missing", "at": [slot.at], "needs": [{"fact": "openings", "at": slot.at}]}
