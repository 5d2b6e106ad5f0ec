# It sits down in the package of the comparisons.
package sillwright.compare

answer("own-trap", rule, facts) := [{"part": "value", "state": at_most(facts[rule.fact].value, rule.limits.value), "at": []}] if {
	is_number(facts[rule.fact].value)
}

answer("own-trap", rule, facts) := [missing("value", rule.fact)] if not facts[rule.fact]

at_most(value, limit) := "pass"
