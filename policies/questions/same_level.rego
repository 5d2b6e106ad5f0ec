package sillwright.questions

import data.sillwright.compare

# METADATA
# description: Is one length neither above zero nor below it, as the difference of two floors is that are to be level?
# custom:
#   fact: [length]
#   parts: {above: [measured], below: [measured]}
answer("same-level", rule, facts) := [compare.missing("above", rule.fact)] if not facts[rule.fact]

answer("same-level", rule, facts) := [
	level_check("above", fact, positive(fact.value)),
	level_check("below", fact, positive(0 - fact.value)),
] if {
	fact := facts[rule.fact]
	is_number(fact.value)
}

level_check(part, fact, over) := {
	"part": part, "state": {true: "fail", false: "pass"}[over], "at": fact.at,
	"measured": {"length": abs(fact.value)}, "values": {"measured": {"length": abs(fact.value)}},
}

positive(value) := value > 0
