package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Are the parts of a face near the floor in one plane? Every joint at or below the height
#   is judged by how far one part stands off the other; a joint above it is free.
# custom:
#   limits: [height, step]
#   optional_limits: [exempt]
#   parts: [step]
answer("smooth-face", rule, _) := [{"part": "none", "state": "pass", "at": [], "values": {}}] if rule.limits.exempt

answer("smooth-face", rule, facts) := [compare.missing("step", rule.fact)] if {
	not rule.limits.exempt
	not facts[rule.fact]
}

answer("smooth-face", rule, facts) := [{"part": "none", "state": "pass", "at": facts[rule.fact].at, "values": {}}] if {
	not rule.limits.exempt
	facts[rule.fact].value == []
	is_number(rule.limits.height.at_most)
}

answer("smooth-face", rule, facts) := checks if {
	not rule.limits.exempt
	joints := facts[rule.fact].value
	count(joints) > 0
	checks := [joint(item, rule) | some item in joints]
	count(checks) == count(joints)
}

joint(item, rule) := {"part": "none", "state": "pass", "at": [item.at], "values": {}} if {
	item.height > rule.limits.height.at_most
	not item.height <= rule.limits.height.printed
} else := {
	"part": "step", "state": compare.at_most(item.step, limit), "at": [item.at],
	"measured": {limit.kind: item.step}, "limit": limit, "comparator": "<=",
	"values": {"measured": {limit.kind: item.step}, "limit": {limit.kind: limit.at_most}, "excess": {limit.kind: item.step - limit.at_most}},
} if {
	limit := rule.limits.step
	is_number(item.step)
	compare.at_most(item.height, rule.limits.height) == "pass"
} else := {
	"part": "step", "state": {"pass": "pass", "open": "open", "fail": "open"}[compare.at_most(item.step, limit)], "at": [item.at],
	"measured": {limit.kind: item.step}, "limit": limit, "comparator": "<=",
	"values": {"measured": {limit.kind: item.step}, "limit": {limit.kind: limit.at_most}, "excess": {limit.kind: item.step - limit.at_most}},
} if {
	# Above the height, but within the text's own looser rounding of it.
	limit := rule.limits.step
	is_number(item.step)
	compare.at_most(item.height, rule.limits.height) == "open"
} else := {"part": "step", "state": "pass", "at": [item.at], "measured": {"length": item.step}, "limit": rule.limits.step, "comparator": "<=", "values": {}} if {
	item.step <= rule.limits.step.at_most # whatever its height
} else := {"part": "step", "state": "missing", "at": [item.at], "needs": [{"fact": rule.fact, "at": item.at}]} if {
	is_number(rule.limits.step.at_most)
}
