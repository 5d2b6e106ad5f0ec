package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Are the parts of a face near the floor in one plane? Every joint at or below the height
#   is judged by how far one part stands off the other; a joint above it is free.
# custom:
#   by_place: [height, step]
#   fact: [push_side_joints, seal_joints]
#   limits: {height: at_most length, step: at_most length}
#   optional_limits: {exempt: flag}
#   parts: {step: [measured, limit, excess]}
#   passing: [none]
answer("smooth-face", rule, _) := [{"part": "none", "state": "pass", "at": [], "values": {}}] if rule.limits.exempt

answer("smooth-face", rule, facts) := face(rule, facts) if {
	not rule.limits.exempt
	is_number(rule.limits.height.at_most)
	is_number(rule.limits.step.at_most)
}

face(rule, facts) := [compare.missing("step", rule.fact)] if not facts[rule.fact]

face(rule, facts) := [{"part": "none", "state": "pass", "at": facts[rule.fact].at, "values": {}}] if facts[rule.fact].value == []

face(rule, facts) := checks if {
	joints := facts[rule.fact].value
	count(joints) > 0
	checks := [joint(item, rule) | some item in joints; compare.numbers(item, ["height", "step"])]
	count(checks) == count(joints)
}

joint(item, rule) := {"part": "none", "state": "pass", "at": [item.at], "values": {}} if {
	item.height > rule.limits.height.at_most
} else := stands_off(item, rule.limits.step) if {
	item.height <= rule.limits.height.at_most
	item.step
} else := stands_off(item, rule.limits.step) if {
	item.step <= rule.limits.step.at_most # whatever its height
} else := {"part": "step", "state": "missing", "at": [item.at], "needs": [{"fact": rule.fact, "at": item.at}]}

stands_off(item, limit) := {
	"part": "step", "state": compare.at_most(item.step, limit), "at": [item.at],
	"measured": {limit.kind: item.step}, "limit": limit, "comparator": "<=",
	"values": {"measured": {limit.kind: item.step}, "limit": {limit.kind: limit.at_most}, "excess": {limit.kind: item.step - limit.at_most}},
}
