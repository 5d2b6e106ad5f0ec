package sillwright.questions

import data.sillwright.compare

# METADATA
# description: Is the length, force or angle of one fact at least the limit?
# custom:
#   fact: [length, force, angle]
#   limits: {value: at_least}
#   parts: {value: [measured, limit, lack]}
answer("at-least", rule, facts) := [compare.missing("value", rule.fact)] if not facts[rule.fact]

answer("at-least", rule, facts) := [compare.missing("value", rule.fact)] if {
	is_number(facts[rule.fact].value)
	compare.at_least_of(facts[rule.fact], rule.limits.value) == "missing"
}

answer("at-least", rule, facts) := [{
	"part": "value", "state": state, "at": fact.at,
	"measured": {limit.kind: fact.value}, "limit": limit, "comparator": ">=",
	"values": {"measured": {limit.kind: fact.value}, "limit": {limit.kind: limit.at_least}, "lack": {limit.kind: limit.at_least - fact.value}},
}] if {
	fact := facts[rule.fact]
	is_number(fact.value)
	limit := rule.limits.value
	state := compare.at_least_of(fact, limit)
	state != "missing"
}
