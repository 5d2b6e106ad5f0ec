package sillwright.questions

import data.sillwright.compare

# METADATA
# description: Is one fact true?
# custom:
#   fact: [truth]
#   parts: {value: []}
answer("is-true", rule, facts) := [compare.missing("value", rule.fact)] if not facts[rule.fact]

answer("is-true", rule, facts) := [{
	"part": "value", "state": {true: "pass", false: "fail"}[fact.value], "at": fact.at,
	"measured": {"truth": fact.value}, "values": {},
}] if {
	fact := facts[rule.fact]
	is_boolean(fact.value)
}
