# The width of a slot in the path, which several questions ask for.
package sillwright.questions

import data.sillwright.compare

slot_width(slot, limit) := {
	"part": "width", "state": compare.at_most(slot.width, limit), "at": [slot.at],
	"measured": {"length": slot.width}, "limit": limit, "comparator": "<=",
	"values": {"measured": {"length": slot.width}, "limit": {"length": limit.at_most}},
} if {
	is_number(slot.width)
} else := {"part": "width", "state": "missing", "at": [slot.at], "needs": [{"fact": "openings", "at": slot.at}]}
