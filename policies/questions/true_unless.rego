package sillwright.questions

import data.sillwright.compare

# METADATA
# description: Is one fact true? An exception may free the door of it.
# custom:
#   fact: [truth]
#   optional_limits: {exempt: flag}
#   parts: {value: []}
#   passing: [none]
answer("true-unless", rule, _) := [{"part": "none", "state": "pass", "at": [], "values": {}}] if rule.limits.exempt

answer("true-unless", rule, facts) := [compare.missing("value", rule.fact)] if {
	not rule.limits.exempt
	not facts[rule.fact]
}

answer("true-unless", rule, facts) := [{
	"part": "value", "state": {true: "pass", false: "fail"}[fact.value], "at": fact.at,
	"measured": {"truth": fact.value}, "values": {},
}] if {
	not rule.limits.exempt
	fact := facts[rule.fact]
	is_boolean(fact.value)
}
