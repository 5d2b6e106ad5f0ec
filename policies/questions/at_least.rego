package sillwright.questions

import data.sillwright.compare

# METADATA
# description: Is the length, force, angle or area of one fact at least the limit? An exception may free it of any.
# custom:
#   by_place: [value]
#   fact: [length, force, angle, area]
#   limits: {value: at_least}
#   optional_limits: {exempt: flag}
#   parts: {value: [measured, limit, lack]}
#   passing: [none]
answer("at-least", rule, _) := [{"part": "none", "state": "pass", "at": [], "values": {}}] if rule.limits.exempt

answer("at-least", rule, facts) := [compare.missing("value", rule.fact)] if {
	not rule.limits.exempt
	not facts[rule.fact]
}

answer("at-least", rule, facts) := [compare.missing("value", rule.fact)] if {
	not rule.limits.exempt
	is_number(facts[rule.fact].value)
	compare.at_least_of(facts[rule.fact], rule.limits.value) == "missing"
}

answer("at-least", rule, facts) := [{
	"part": "value", "state": state, "at": fact.at,
	"measured": {limit.kind: fact.value}, "limit": limit, "comparator": ">=",
	"values": {"measured": {limit.kind: fact.value}, "limit": {limit.kind: limit.at_least}, "lack": {limit.kind: limit.at_least - fact.value}},
}] if {
	not rule.limits.exempt
	fact := facts[rule.fact]
	is_number(fact.value)
	limit := rule.limits.value
	state := compare.at_least_of(fact, limit)
	state != "missing"
}
