package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Is a gap at most the limit, from whichever side of the leaf it is measured? The target is how much what lies under the
#   leaf differs in height: the gap to either side is the one that was read, more or less that difference. Where one may meet
#   the limit and another miss it, which of them counts is open.
# custom:
#   fact: [length]
#   target: [length]
#   limits: {value: at_most}
#   parts: {value: [measured, limit, excess, least, most]}
#   found: {value: "{least} to {most}"}
answer("gap-at-most", rule, facts) := [compare.missing("value", name) | some name in unread] if {
	unread := [name | some name in [rule.fact, rule.target]; not facts[name]]
	count(unread) > 0
}

answer("gap-at-most", rule, facts) := [{
	"part": "value", "state": state, "at": array.concat(gap.at, differs.at),
	"measured": {limit.kind: gap.value}, "limit": limit, "comparator": "<=",
	"needs": [{"fact": name} | state == "missing"; some name in [rule.fact, rule.target]; partly(facts[name])],
	"values": {
		"measured": {limit.kind: gap.value}, "limit": {limit.kind: limit.at_most}, "excess": {limit.kind: gap.value - limit.at_most},
		"least": {limit.kind: gap.value - differs.value}, "most": {limit.kind: gap.value + differs.value},
	},
}] if {
	gap := facts[rule.fact]
	differs := facts[rule.target]
	is_number(gap.value)
	is_number(differs.value)
	limit := rule.limits.value
	state := gap_state(gap, differs, limit)
}

# A gap that was not read all along may be wider, and floors of which not all is known may differ less.
gap_state(gap, differs, limit) := "pass" if {
	gap.value + differs.value <= limit.at_most
	not gap.or_more
} else := "fail" if {
	gap.value - differs.value > limit.at_most
} else := "missing" if {
	some fact in [gap, differs]
	partly(fact)
} else := "open"

partly(fact) if fact.or_more

partly(fact) if fact.or_less
