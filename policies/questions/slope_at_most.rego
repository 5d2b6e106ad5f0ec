package sillwright.questions

import data.sillwright.compare

# METADATA
# description: Is a slope no steeper than the limit?
# custom:
#   gentle: true
#   fact: [floor_slope]
#   limits: {value: ratio}
#   parts: {value: [limit]}
answer("slope-at-most", rule, facts) := [compare.missing("value", rule.fact)] if not facts[rule.fact]

answer("slope-at-most", rule, facts) := [{
	"part": "value", "state": gentle(slope, rule.limits.value), "at": facts[rule.fact].at,
	"measured": {"ratio": [slope.rise, slope.run]}, "limit": {"kind": "ratio", "ratio": [rule.limits.value.rise, rule.limits.value.run]}, "comparator": "<=",
	"values": {"limit": {"ratio": [rule.limits.value.rise, rule.limits.value.run]}},
}] if {
	slope := facts[rule.fact].value
	is_number(slope.rise)
	is_number(slope.run)
}

# compare.gentle is undefined, not false, where the slope is steeper.
gentle(slope, limit) := "pass" if {
	compare.gentle(slope.rise, slope.run, limit)
} else := "fail" if {
	slope.rise * limit.run > slope.run * limit.rise
}
