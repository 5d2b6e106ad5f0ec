package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Is the opening at least so wide past whatever projects, which is the fact? Where only the width from the face of the
#   leaf to the stop is, which is the target, it is left open: the text does not say whether handles and boards count.
# custom:
#   fact: [length]
#   target: [length]
#   limits: {value: at_least}
#   parts: {value: [measured, limit, lack], projects: [measured, limit, lack]}
answer("free-width", rule, facts) := [free(rule, facts)] if {
	every name in [rule.fact, rule.target] {
		is_number(object.get(facts, [name, "value"], 0))
	}
}

free(rule, facts) := width_part("value", "fail", facts[rule.target], rule.limits.value) if {
	wide_enough(rule.target, facts, rule.limits.value) == "fail"
} else := width_part("value", "pass", facts[rule.fact], rule.limits.value) if {
	wide_enough(rule.fact, facts, rule.limits.value) == "pass"
} else := compare.missing("value", rule.fact) if {
	wide_enough(rule.fact, facts, rule.limits.value) == "missing"
} else := compare.missing("value", rule.target) if {
	wide_enough(rule.target, facts, rule.limits.value) == "missing"
} else := width_part("projects", "open", facts[rule.fact], rule.limits.value)

wide_enough(name, facts, limit) := compare.at_least_of(facts[name], limit) if {
	facts[name]
} else := "missing"

width_part(part, state, fact, limit) := {
	"part": part, "state": state, "at": fact.at,
	"measured": {limit.kind: fact.value}, "limit": limit, "comparator": ">=",
	"values": {"measured": {limit.kind: fact.value}, "limit": {limit.kind: limit.at_least}, "lack": {limit.kind: limit.at_least - fact.value}},
}
