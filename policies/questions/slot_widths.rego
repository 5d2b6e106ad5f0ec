package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Slots and gratings in the path: each at most so wide, whichever way it runs.
# custom:
#   by_place: [width]
#   fact: [openings]
#   limits: {width: at_most length}
#   parts: {width: [measured, limit]}
#   passing: [none]
answer("slot-widths", _, facts) := [compare.missing("width", "openings")] if not facts.openings

answer("slot-widths", _, facts) := [{"part": "none", "state": "pass", "at": facts.openings.at, "values": {}}] if facts.openings.value == []

answer("slot-widths", rule, facts) := widths if {
	slots := facts.openings.value
	count(slots) > 0
	widths := [slot_width(slot, rule.limits.width) | some slot in slots]

	# A limit that the rule lacks must not drop out unseen.
	count(widths) == count(slots)
}
