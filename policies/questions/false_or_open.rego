package sillwright.questions

import data.sillwright.compare

# METADATA
# description: Is one fact false? Where it is true the text names nothing that decides, and the authority does.
# custom:
#   fact: [truth]
#   parts: {value: []}
answer("false-or-open", rule, facts) := [compare.missing("value", rule.fact)] if not facts[rule.fact]

answer("false-or-open", rule, facts) := [{
	"part": "value", "state": {true: "open", false: "pass"}[fact.value], "at": fact.at,
	"measured": {"truth": fact.value}, "values": {},
}] if {
	fact := facts[rule.fact]
	is_boolean(fact.value)
}
