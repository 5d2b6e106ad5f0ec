package sillwright.questions

import data.sillwright.compare

# METADATA
# description: Is the length, force, angle or area of one fact at most the limit? An exception may free it of any.
# custom:
#   by_place: [value]
#   fact: [length, force, angle, area]
#   limits: {value: at_most}
#   optional_limits: {exempt: flag}
#   parts: {value: [measured, limit, excess]}
#   passing: [none]
answer("at-most", rule, _) := [{"part": "none", "state": "pass", "at": [], "values": {}}] if rule.limits.exempt

answer("at-most", rule, facts) := [compare.missing("value", rule.fact)] if {
	not rule.limits.exempt
	not facts[rule.fact]
}

answer("at-most", rule, facts) := [compare.missing("value", rule.fact)] if {
	not rule.limits.exempt
	is_number(facts[rule.fact].value)
	compare.at_most_of(facts[rule.fact], rule.limits.value) == "missing"
}

answer("at-most", rule, facts) := [{
	"part": "value", "state": state, "at": fact.at,
	"measured": {limit.kind: fact.value}, "limit": limit, "comparator": "<=",
	"values": {"measured": {limit.kind: fact.value}, "limit": {limit.kind: limit.at_most}, "excess": {limit.kind: fact.value - limit.at_most}},
}] if {
	not rule.limits.exempt
	fact := facts[rule.fact]
	is_number(fact.value)
	limit := rule.limits.value
	state := compare.at_most_of(fact, limit)
	state != "missing"
}
