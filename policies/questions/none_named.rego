package sillwright.questions

import data.sillwright.compare

# METADATA
# description: Is nothing named by any item of one fact, a list of {at, names}?
# custom:
#   fact: [shorter_brushes]
#   parts: {value: [names]}
answer("none-named", rule, facts) := [compare.missing("value", rule.fact)] if not facts[rule.fact]

answer("none-named", rule, facts) := checks if {
	items := facts[rule.fact].value
	checks := [named(item) | some item in items]

	# An item without a list must not drop out unseen.
	count(checks) == count(items)
}

named(item) := {
	"part": "value", "state": {true: "pass", false: "fail"}[item.names == []], "at": [item.at],
	"measured": {"words": item.names}, "values": {"names": {"words": item.names}},
} if {
	is_array(item.names)
}
