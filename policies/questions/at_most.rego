package sillwright.questions

import data.sillwright.compare

# METADATA
# description: Is the length, force or angle of one fact at most the limit?
# custom:
#   fact: [length, force, angle]
#   limits: {value: at_most}
#   parts: {value: [measured, limit, excess]}
answer("at-most", rule, facts) := [compare.missing("value", rule.fact)] if not facts[rule.fact]

answer("at-most", rule, facts) := [compare.missing("value", rule.fact)] if {
	is_number(facts[rule.fact].value)
	compare.at_most_of(facts[rule.fact], rule.limits.value) == "missing"
}

answer("at-most", rule, facts) := [{
	"part": "value", "state": state, "at": fact.at,
	"measured": {limit.kind: fact.value}, "limit": limit, "comparator": "<=",
	"values": {"measured": {limit.kind: fact.value}, "limit": {limit.kind: limit.at_most}, "excess": {limit.kind: fact.value - limit.at_most}},
}] if {
	fact := facts[rule.fact]
	is_number(fact.value)
	limit := rule.limits.value
	state := compare.at_most_of(fact, limit)
	state != "missing"
}
