package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   May a part stand into the opening? Below `low` nothing may stand into the width that is
#   required; from there to `top` a part may stand in by `reach`. Closers and stops count
#   only below `fittings`; the latch side stop may take `latch_stop` of the required width. A part that leaves the required width and still stands in by more
#   than `reach` is open.
# custom:
#   limits: [width, low, reach, top, fittings]
#   optional_limits: [latch_stop]
#   parts: [low, reach]
answer("projections", rule, facts) := [compare.missing("low", "projections")] if {
	not facts.projections
	count(missing_limits(rule)) == 0
}

answer("projections", rule, facts) := [{"part": "none", "state": "pass", "at": facts.projections.at, "values": {}}] if {
	facts.projections.value == []
	count(missing_limits(rule)) == 0
}

answer("projections", rule, facts) := checks if {
	count(missing_limits(rule)) == 0
	parts := facts.projections.value
	count(parts) > 0
	checks := [projection(item, rule.limits) | some item in parts]
	count(checks) == count(parts)
}

missing_limits(rule) := {name |
	some name in {"width", "low", "reach", "top", "fittings"}
	not rule.limits[name]
}

projection(item, limits) := {"part": "none", "state": "pass", "at": [item.at], "values": {}} if {
	item.from >= ceiling(item, limits).at_least
} else := shown("reach", "pass", item, limits) if {
	# At whatever height.
	item.by <= limits.reach.at_most
	item.leaves >= limits.width.at_least
} else := shown("low", "pass", item, limits) if {
	item.from < limits.low.at_least
	item.leaves >= limits.width.at_least
} else := shown("low", compare.at_least(item.leaves, taken), item, limits) if {
	item.from < limits.low.at_least
	item.part == "latch-stop"
	taken := {"at_least": limits.width.at_least - limits.latch_stop.at_most, "printed": limits.width.at_least - limits.latch_stop.printed}
} else := shown("low", "fail", item, limits) if {
	item.from < limits.low.at_least
	is_number(item.leaves)
} else := shown("reach", "pass", item, limits) if {
	item.from >= limits.low.at_least
	item.by <= limits.reach.at_most
} else := shown("reach", "open", item, limits) if {
	# Within the text's looser rounding of the height, or beside a wider opening than is required.
	item.from >= limits.low.at_least
	is_number(item.by)
	spared(item, limits)
} else := shown("reach", "fail", item, limits) if {
	item.from >= limits.low.at_least
	item.part
	is_number(item.by)
} else := {"part": "low", "state": "missing", "at": [item.at], "needs": [{"fact": "projections", "at": item.at}]}

spared(item, limits) if item.leaves >= limits.width.at_least

spared(item, limits) if item.from >= ceiling(item, limits).printed

ceiling(item, limits) := limits.fittings if {
	item.part in {"closer", "stop", "latch-stop"}
} else := limits.top

shown("low", state, item, limits) := {
	"part": "low", "state": state, "at": [item.at],
	"measured": {"length": item.leaves}, "limit": limits.width, "comparator": ">=",
	"values": {"from": {"length": item.from}, "low": {"length": limits.low.at_least}, "lack": {"length": limits.width.at_least - item.leaves}},
}

shown("reach", state, item, limits) := {
	"part": "reach", "state": state, "at": [item.at],
	"measured": {"length": item.by}, "limit": limits.reach, "comparator": "<=",
	"values": {"from": {"length": item.from}, "limit": {"length": limits.reach.at_most}, "excess": {"length": item.by - limits.reach.at_most}},
}
