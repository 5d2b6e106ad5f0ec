package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Was the seal tested for as many openings as are asked? One fact holds the cycles of the
#   test and the years that they last, the target the cycles that are asked and their class.
# custom:
#   by_place: [cycles]
#   among: all
#   fact: [cycles_tested]
#   target: [cycles_asked]
#   parts: {value: [measured, limit, class, years]}
answer("cycles-tested", rule, facts) := lacking if {
	lacking := [compare.missing("value", name) | some name in [rule.fact, rule.target]; not has_cycles(facts, name)]
	count(lacking) > 0
}

answer("cycles-tested", rule, facts) := [{
	"part": "value", "state": compare.at_least(tested.cycles, limit), "at": array.concat(facts[rule.fact].at, facts[rule.target].at),
	"measured": {"count": tested.cycles}, "limit": limit, "comparator": ">=",
	"values": {"measured": {"count": tested.cycles}, "limit": {"count": asked.cycles}, "class": {"word": asked.class}, "years": {"word": tested.years}},
}] if {
	tested := facts[rule.fact].value
	asked := facts[rule.target].value
	is_number(tested.cycles)
	is_number(asked.cycles)
	limit := {"kind": "count", "at_least": asked.cycles}
}

has_cycles(facts, name) if facts[name].value.cycles != null
