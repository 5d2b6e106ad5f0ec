package sillwright.questions

import data.sillwright.compare

# METADATA
# description: Is one fact false?
# custom:
#   fact: [truth]
#   parts: {value: []}
answer("is-false", rule, facts) := [compare.missing("value", rule.fact)] if not facts[rule.fact]

answer("is-false", rule, facts) := [{
	"part": "value", "state": {true: "fail", false: "pass"}[fact.value], "at": fact.at,
	"measured": {"truth": fact.value}, "values": {},
}] if {
	fact := facts[rule.fact]
	is_boolean(fact.value)
}
