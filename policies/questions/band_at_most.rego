package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Is an uncertain flow at most the target? Met when the high end of the band meets it,
#   missed when the low end misses it, too close to tell in between. A target that is a share of a `whole` and whose share is
#   not known can only be missed: by what exceeds all of it.
# custom:
#   by_place: [low, likely, high, flow, whole]
#   among: all
#   fact: [leakage, leakage_50]
#   target: [leakage_target, house_target]
#   parts: {value: [low, high, likely, limit]}
#   found: {value: "{low} to {high}"}
answer("band-at-most", rule, facts) := [compare.missing("value", rule.fact)] if not facts[rule.fact]

answer("band-at-most", rule, facts) := [compare.missing("value", rule.target)] if {
	facts[rule.fact]
	not bound(rule, facts)
}

answer("band-at-most", rule, facts) := [compare.missing("value", rule.fact)] if open_above(rule, facts)

answer("band-at-most", rule, facts) := [{
	"part": "value", "state": within(band, target), "at": array.concat(facts[rule.fact].at, facts[rule.target].at),
	"measured": {"flow": band.likely}, "limit": {"kind": "target_flow", "at_most": target}, "comparator": "<=",
	"values": {"low": {"low_flow": band.low}, "high": {"high_flow": band.high}, "likely": {"flow": band.likely}, "limit": {"target_flow": target}},
}] if {
	band := facts[rule.fact].value
	target := bound(rule, facts)
	not open_above(rule, facts)
	every figure in [band.low, band.likely, band.high] {
		is_number(figure)
	}
}

# A flow that may be more than was counted can miss a target, and cannot meet it.
open_above(rule, facts) if {
	facts[rule.fact].or_more
	within(facts[rule.fact].value, bound(rule, facts)) != "fail"
}

# A target is a flow at a pressure; without either it cannot be compared.
bound(rule, facts) := target.flow if {
	target := facts[rule.target].value
	is_number(target.flow)
	is_number(target.at)
} else := target.whole if {
	target := facts[rule.target].value
	is_number(target.whole)
	is_number(target.at)
	low := facts[rule.fact].value.low
	is_number(low)
	low > target.whole
}

within(band, target) := "pass" if {
	band.high <= target
} else := "fail" if {
	band.low > target
} else := "close"
