package sillwright.questions

import data.sillwright.compare

# METADATA
# description: Is the sum of two lengths at most the limit?
# custom:
#   fact: [length]
#   target: [length]
#   limits: {value: at_most length}
#   parts: {value: [measured, limit, excess]}
answer("{{.Question}}", rule, facts) := [check] if {
	every name in [rule.fact, rule.target] {
		is_number(facts[name].value)
	}
	sum := facts[rule.fact].value + facts[rule.target].value
	limit := rule.limits.value
	check := {
		"part": "value", "state": compare.at_most(sum, limit), "at": array.concat(facts[rule.fact].at, facts[rule.target].at),
		"measured": {"length": sum}, "limit": limit, "comparator": "<=",
		"values": {"measured": {"length": sum}, "limit": {"length": limit.at_most}, "excess": {"length": sum - limit.at_most}},
	}
}

# What is not known is missing: silence is no answer.
answer("{{.Question}}", rule, facts) := [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": name} | some name in unknown]}] if {
	unknown := [name | some name in [rule.fact, rule.target]; not own_sum_known(facts, name)]
	count(unknown) > 0
}

own_sum_known(facts, name) if is_number(facts[name].value)
