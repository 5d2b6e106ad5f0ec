package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Does a landing fall away from the door, in a single direction, and by no less than one slope
#   and no more than another? Its steepest slope in any direction is then its fall.
# custom:
#   fact: [floor_slope]
#   target: [falls_away]
#   limits: {gentlest: least_ratio, steepest: ratio}
#   optional_limits: {exempt: flag}
#   parts: {gentlest: [measured, limit], steepest: [measured, limit], away: []}
#   passing: [none]
answer("landing-fall", rule, _) := [{"part": "none", "state": "pass", "at": [], "values": {}}] if rule.limits.exempt

answer("landing-fall", rule, facts) := array.concat(falls, [away(rule, facts)]) if {
	not rule.limits.exempt
	falls := slopes_of(rule, facts)
}

slopes_of(rule, facts) := [compare.missing("gentlest", rule.fact)] if not facts[rule.fact]

slopes_of(rule, facts) := [
	fall_check("gentlest", slope, at, rule.limits.gentlest, ">="),
	fall_check("steepest", slope, at, rule.limits.steepest, "<="),
] if {
	slope := facts[rule.fact].value
	at := facts[rule.fact].at
	is_number(slope.rise)
	is_number(slope.run)
}

fall_check(part, slope, at, limit, comparator) := {
	"part": part, "state": fall_state(slope, limit, comparator), "at": at,
	"measured": {"ratio": [slope.rise, slope.run]}, "limit": {"kind": "ratio", "ratio": [limit.rise, limit.run]}, "comparator": comparator,
	"values": {"measured": {"ratio": [slope.rise, slope.run]}, "limit": {"ratio": [limit.rise, limit.run]}},
}

fall_state(slope, limit, "<=") := {true: "pass", false: "fail"}[(slope.rise * limit.run) <= (slope.run * limit.rise)]

fall_state(slope, limit, ">=") := {true: "pass", false: "fail"}[(slope.rise * limit.run) >= (slope.run * limit.rise)]

away(rule, facts) := compare.missing("away", rule.target) if not facts[rule.target]

away(rule, facts) := {"part": "away", "state": {true: "pass", false: "fail"}[facts[rule.target].value], "at": facts[rule.target].at, "values": {}}
