package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   In each item of one fact, a list of {at, part, whole}, is the part at least and at
#   most so much of the whole? By cross-multiplication, so that nothing is rounded.
# custom:
#   fact: [embedded_blades]
#   limits: {least: part, most: part}
#   parts: {least: [part, whole, limit], most: [part, whole, limit]}
#   found: {least: "{part} of {whole}", most: "{part} of {whole}"}
answer("part-within", rule, facts) := [compare.missing("least", rule.fact)] if not facts[rule.fact]

answer("part-within", rule, facts) := [check | some both in pairs; some check in both] if {
	items := facts[rule.fact].value
	pairs := [within_parts(rule, item) | some item in items]

	# An item, or a limit that the rule lacks, must not drop out unseen.
	count(pairs) == count(items)
}

within_parts(rule, item) := [
	share(item, "least", rule.limits.least, ">=", {true: "pass", false: "fail"}[(item.part * rule.limits.least.part[1]) >= (item.whole * rule.limits.least.part[0])]),
	share(item, "most", rule.limits.most, "<=", {true: "pass", false: "fail"}[(item.part * rule.limits.most.part[1]) <= (item.whole * rule.limits.most.part[0])]),
] if {
	is_number(item.part)
	is_number(item.whole)
} else := [{"part": "least", "state": "missing", "at": [item.at], "needs": [{"fact": rule.fact, "at": item.at}]}] if {
	lacks(item, ["part", "whole"])
}

share(item, part, limit, comparator, state) := {
	"part": part, "state": state, "at": [item.at],
	"measured": {"part": [item.part, item.whole]}, "limit": limit, "comparator": comparator,
	"values": {"part": {"length": item.part}, "whole": {"length": item.whole}, "limit": {"part": limit.part}},
}
