package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Is the length of one fact at most the limit, or is the target true? A length that meets the limit asks for no target.
# custom:
#   by_place: [value]
#   fact: [length]
#   target: [truth]
#   limits: {value: at_most}
#   parts: {value: [measured, limit, excess]}
answer("at-most-unless", rule, facts) := [unless(rule, facts)]

unless(rule, facts) := {
	"part": "value", "state": "pass", "at": facts[rule.target].at,
	"measured": {"truth": true}, "comparator": "==", "values": {},
} if {
	facts[rule.target].value == true
} else := compare.missing("value", rule.fact) if {
	not facts[rule.fact]
} else := compare.missing("value", rule.target) if {
	not facts[rule.target]
	compare.at_most_of(facts[rule.fact], rule.limits.value) == "fail"
} else := compare.missing("value", rule.fact) if {
	is_number(facts[rule.fact].value)
	compare.at_most_of(facts[rule.fact], rule.limits.value) == "missing"
} else := {
	"part": "value", "state": state, "at": fact.at,
	"measured": {limit.kind: fact.value}, "limit": limit, "comparator": "<=",
	"values": {"measured": {limit.kind: fact.value}, "limit": {limit.kind: limit.at_most}, "excess": {limit.kind: fact.value - limit.at_most}},
} if {
	fact := facts[rule.fact]
	is_number(fact.value)
	limit := rule.limits.value
	state := compare.at_most_of(fact, limit)
}
