package sillwright.questions

import data.sillwright.rates

# METADATA
# description: |
#   Is an uncertain flow at the limit's pressure, over the area of the target, at most the limit? `frame` is what the frame adds
#   at most to the area, which a text may divide by: what would meet the limit with it is no failure. With `proof_by_test` a
#   prediction never passes.
# custom:
#   fact: [leakage_rates, edge_rates]
#   target: [leaf_area]
#   limits: {value: at_most flow per area, pressure: at pressure}
#   optional_limits: {frame: part, proof_by_test: flag}
#   parts: {value: [low, high, likely, limit]}
#   found: {value: "{low} to {high}"}
answer("flow-per-area", rule, facts) := [{
	"part": "value", "state": flow.state, "at": flow.at, "needs": flow.needs,
	"measured": flow.likely, "limit": rule.limits.value, "comparator": "<=",
	"values": {"low": flow.low, "likely": flow.likely, "high": flow.high, "limit": {rule.limits.value.kind: rule.limits.value.at_most}},
}] if {
	flow := rates.weighed("area", rates.asked(rule), facts)
	flow.likely
} else := [{"part": "value", "state": "missing", "at": [], "needs": flow.needs}] if {
	flow := rates.weighed("area", rates.asked(rule), facts)
}
