package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   May a part stand into the opening? Below `low` nothing may stand into the width that is
#   required; from there to `top` a part may stand in by `reach`. Closers and stops count
#   only below `fittings`; the latch side stop may leave `latch_stop` of the required width.
#   A part that leaves the required width and still stands in by more than `reach` is open.
# custom:
#   by_place: [from, leaves, by]
#   fact: [projections]
#   limits: {width: at_least length, low: at_least length, reach: at_most length, top: at_least length, fittings: at_least length}
#   optional_limits: {latch_stop: at_least length}
#   parts:
#     low: [from, low, lack]
#     reach: [from, limit, excess]
#     top: [from, limit, lack]
#     fittings: [from, limit, lack]
#   passing: [none]
answer("projections", rule, facts) := standing_in(rule.limits, facts) if {
	every name in ["width", "low", "top", "fittings"] {
		is_number(rule.limits[name].at_least)
	}
	is_number(rule.limits.reach.at_most)
}

standing_in(_, facts) := [compare.missing("low", "projections")] if not facts.projections

standing_in(_, facts) := [{"part": "none", "state": "pass", "at": facts.projections.at, "values": {}}] if facts.projections.value == []

standing_in(limits, facts) := checks if {
	parts := facts.projections.value
	count(parts) > 0
	checks := [projection(item, limits) | some item in parts; compare.numbers(item, ["from", "leaves", "by"])]
	count(checks) == count(parts)
}

projection(item, limits) := {"part": "none", "state": "pass", "at": [item.at], "values": {}} if {
	item.from >= limits.top.at_least
} else := high("pass", item, limits) if {
	item.from >= limits[ceiling(item)].at_least
} else := {"part": "reach", "state": "pass", "at": [item.at], "measured": {"length": item.by}, "limit": limits.reach, "comparator": "<=", "values": {}} if {
	# At whatever height.
	item.by <= limits.reach.at_most
	item.leaves >= limits.width.at_least
} else := beside(item, limits) if {
	item.from < limits.low.at_least
} else := across(item, limits) if {
	item.from >= limits.low.at_least
} else := asked(item)

# Below `low`, where only what is left beside the part counts.
beside(item, limits) := left("pass", item, limits.width, limits) if {
	item.leaves >= limits.width.at_least
} else := left("pass", item, limits.latch_stop, limits) if {
	item.part == "latch-stop"
	item.leaves >= limits.latch_stop.at_least
} else := left("open", item, limits.latch_stop, limits) if {
	item.part == "latch-stop"
	item.leaves >= limits.latch_stop.printed
} else := asked(item) if {
	not item.part # it may be the latch side stop
	item.leaves >= min([limits.latch_stop.at_least, object.get(limits.latch_stop, "printed", limits.latch_stop.at_least)])
} else := left("open", item, limits.width, limits) if {
	item.leaves >= limits.width.printed
} else := left("fail", item, limits.width, limits) if {
	item.leaves
} else := asked(item)

# From `low` up, where only how far the part stands in counts.
across(item, limits) := reaching("pass", item, limits.reach) if {
	item.by <= limits.reach.at_most
} else := asked(item) if {
	not item.part # it may be a closer or a stop
	item.from >= limits.fittings.printed
} else := high("open", item, limits) if {
	item.by
	item.from >= limits[ceiling(item)].printed
} else := reaching("open", item, limits.reach) if {
	item.by <= limits.reach.printed
} else := reaching("open", item, limits.reach) if {
	item.by
	item.leaves >= limits.width.at_least
} else := reaching("fail", item, limits.reach) if {
	item.by
} else := asked(item)

ceiling(item) := "fittings" if {
	item.part in {"closer", "stop", "latch-stop"}
} else := "top"

# How far it stands in is told from the clear width, less what is left beside it.
asked(item) := {"part": "low", "state": "missing", "at": [item.at], "needs": [{"fact": "clear_width"}]} if {
	item.part
	item.from
	item.leaves
	not item.by
} else := {"part": "low", "state": "missing", "at": [item.at], "needs": [{"fact": "projections", "at": item.at}]}

left(state, item, limit, limits) := {
	"part": "low", "state": state, "at": [item.at],
	"measured": {"length": item.leaves}, "limit": limit, "comparator": ">=",
	"values": {"from": {"length": item.from}, "low": {"length": limits.low.at_least}, "lack": {"length": limit.at_least - item.leaves}},
}

reaching(state, item, limit) := {
	"part": "reach", "state": state, "at": [item.at],
	"measured": {"length": item.by}, "limit": limit, "comparator": "<=",
	"values": {"from": {"length": item.from}, "limit": {"length": limit.at_most}, "excess": {"length": item.by - limit.at_most}},
}

high(state, item, limits) := {
	"part": ceiling(item), "state": state, "at": [item.at],
	"measured": {"length": item.from}, "limit": limit, "comparator": ">=",
	"values": {"from": {"length": item.from}, "limit": {"length": limit.at_least}, "lack": {"length": limit.at_least - item.from}},
} if {
	limit := limits[ceiling(item)]
}
