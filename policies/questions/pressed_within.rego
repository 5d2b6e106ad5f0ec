package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Is each gasket of one fact, a list of {at, edge, pressed, least, most}, pressed within
#   the range that it is made for?
# custom:
#   by_place: [pressed, least, most]
#   among: item
#   fact: [edge_gaskets_pressed, fitted_gaskets_pressed]
#   parts: {loose: [edge, limit, lack], tight: [edge, limit, excess]}
answer("pressed-within", rule, facts) := [compare.missing("loose", rule.fact)] if not facts[rule.fact]

answer("pressed-within", rule, facts) := [check | some both in pairs; some check in both] if {
	items := facts[rule.fact].value
	pairs := [within_range(rule, item) | some item in items]
	count(pairs) == count(items)
}

within_range(rule, item) := [
	{
		"part": "loose", "state": compare.at_least(item.pressed, low), "at": [item.at],
		"measured": {"length": item.pressed}, "limit": low, "comparator": ">=",
		"values": {"edge": {"word": item.edge}, "limit": {"length": item.least}, "lack": {"length": item.least - item.pressed}},
	},
	{
		"part": "tight", "state": compare.at_most(item.pressed, high), "at": [item.at],
		"measured": {"length": item.pressed}, "limit": high, "comparator": "<=",
		"values": {"edge": {"word": item.edge}, "limit": {"length": item.most}, "excess": {"length": item.pressed - item.most}},
	},
] if {
	every number in [item.pressed, item.least, item.most] {
		is_number(number)
	}
	low := {"kind": "length", "at_least": item.least}
	high := {"kind": "length", "at_most": item.most}
} else := [{"part": "loose", "state": "missing", "at": [item.at], "needs": [{"fact": rule.fact, "at": item.at}]}] if {
	lacks(item, ["pressed", "least", "most"])
}

# Something of an item is not known.
lacks(item, keys) if {
	some key in keys
	not item[key]
}
