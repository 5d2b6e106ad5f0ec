package sillwright.questions

import data.sillwright.compare
import data.sillwright.conditions

# METADATA
# description: |
#   Is the clear floor on one side of the door large enough? The rule's rows are a table:
#   every row whose conditions hold must be met, by any one of its alternatives. A row that
#   may or may not hold, and is met, needs no asking.
# custom:
#   by_place: [value]
#   rows: {floor_depth: at_least, beside_latch: at_least, beside_latch_recessed: at_least, beside_hinge: at_least}
#   parts:
#     floor_depth: [measured, limit, lack]
#     beside_latch: [measured, limit, lack]
#     beside_latch_recessed: [measured, limit, lack]
#     beside_hinge: [measured, limit, lack]
answer("clear-space", rule, facts) := [check | some checks in judged; some check in checks] if {
	judged := [row_checks(row, facts) | some row in rule.rows]

	# A row that cannot be judged must not drop out unseen.
	count(judged) == count(rule.rows)
}

row_checks(row, facts) := [] if {
	conditions.hold(row.when, facts) == "false"
} else := checks if {
	checks := space(row, facts)
	settles(row, facts, checks)
} else := [object.union(compare.missing(part, "use"), {"needs": conditions.unclear(row.when, facts)})] if {
	part := space(row, facts)[0].part
}

settles(row, facts, _) if conditions.hold(row.when, facts) == "true"

settles(_, _, checks) if states(checks) == {"pass"}

# The alternative that is met; else the first that may still be; else the first.
space(row, facts) := checks if {
	ways := [measures(limits, facts) | some limits in row.any]
	count(ways) == count(row.any)
	checks := nearest_way(ways)
}

nearest_way(ways) := passing[0] if {
	passing := [way | some way in ways; states(way) == {"pass"}]
	count(passing) > 0
} else := undecided[0] if {
	undecided := [way | some way in ways; not "fail" in states(way)]
	count(undecided) > 0
} else := ways[0]

states(checks) := {check.state | some check in checks}

measures(limits, facts) := checks if {
	checks := [check |
		some part in ["floor_depth", "beside_latch", "beside_latch_recessed", "beside_hinge"]
		limit := limits[part]
		check := measure(part, limit, facts)
	]
	count(checks) == count(limits)
	count(checks) > 0
}

measure(part, limit, facts) := compare.missing(part, part) if {
	not facts[part]
	is_number(limit.at_least)
}

measure(part, limit, facts) := {
	"part": part, "state": compare.at_least(fact.value, limit), "at": fact.at,
	"measured": {limit.kind: fact.value}, "limit": limit, "comparator": ">=",
	"values": {"measured": {limit.kind: fact.value}, "limit": {limit.kind: limit.at_least}, "lack": {limit.kind: limit.at_least - fact.value}},
} if {
	fact := facts[part]
	is_number(fact.value)
}
