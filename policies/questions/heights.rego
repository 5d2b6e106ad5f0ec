# METADATA
# description: The height of a side of the threshold, which several questions ask for.
package sillwright.questions

import data.sillwright.compare

side_height(side, limit) := {
	"part": "height", "state": compare.at_most(side.height, limit), "at": side.at,
	"measured": {"length": side.height}, "limit": limit, "comparator": "<=",
	"values": {
		"side": {"word": side.side}, "measured": {"length": side.height}, "limit": {"length": limit.at_most},
		"excess": {"length": side.height - limit.at_most},
	},
} if {
	is_number(side.height)
} else := {
	"part": "height", "state": "missing", "at": side.needs, "values": {"side": {"word": side.side}},
	"needs": [{"fact": object.get(side, "waits", "profile"), "at": at} | some at in side.needs],
}
