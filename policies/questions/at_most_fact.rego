package sillwright.questions

import data.sillwright.compare

# METADATA
# description: Is the length of one fact at most that of another, the target?
# custom:
#   by_place: [value]
#   among: all
#   fact: [length]
#   target: [length]
#   parts: {value: [measured, limit, excess]}
answer("at-most-fact", rule, facts) := lacking if {
	lacking := [compare.missing("value", name) | some name in [rule.fact, rule.target]; not facts[name]]
	count(lacking) > 0
}

answer("at-most-fact", rule, facts) := [compare.missing("value", rule.fact)] if {
	is_number(facts[rule.fact].value)
	compare.at_most_of(facts[rule.fact], {"at_most": facts[rule.target].value}) == "missing"
}

answer("at-most-fact", rule, facts) := [{
	"part": "value", "state": state, "at": array.concat(fact.at, target.at),
	"measured": {"length": fact.value}, "limit": limit, "comparator": "<=",
	"values": {"measured": {"length": fact.value}, "limit": {"length": target.value}, "excess": {"length": fact.value - target.value}},
}] if {
	fact := facts[rule.fact]
	target := facts[rule.target]
	is_number(fact.value)
	is_number(target.value)
	limit := {"kind": "length", "at_most": target.value}
	state := compare.at_most_of(fact, limit)
	state != "missing"
}
