package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Each side of a threshold rises above its own floor by the limit at most; 0 lets nothing rise.
#   With `ramp`, a side that rises more, up to that height, may be a ramp, with a lip of no more than
#   the limit: whether it is one is left open. An exception may free it of any limit.
# custom:
#   fact: [profile]
#   limits: {height: at_most length}
#   optional_limits: {ramp: at_most length, exempt: flag}
#   parts:
#     height: [side, measured, limit, excess]
#     ramp: [side, measured, limit]
#   parts_with: {ramp: ramp}
#   passing: [none]
answer("side-heights", rule, _) := [{"part": "none", "state": "pass", "at": [], "values": {}}] if rule.limits.exempt

answer("side-heights", rule, facts) := [compare.missing("height", "profile")] if {
	not rule.limits.exempt
	not facts.profile
}

answer("side-heights", rule, facts) := heights if {
	not rule.limits.exempt
	heights := [height_or_ramp(side, rule.limits) | some side in facts.profile.value]

	# A limit that the rule lacks must not drop out unseen.
	count(heights) == count(facts.profile.value)
}

height_or_ramp(side, limits) := {
	"part": "ramp", "state": "open", "at": side.at, "measured": {"length": side.height}, "limit": limits.ramp, "comparator": "<=",
	"values": {"side": {"word": side.side}, "measured": {"length": side.height}, "limit": {"length": limits.ramp.at_most}},
} if {
	too_high(side, limits)
	upright_in(side) <= limits.height.at_most
} else := {
	"part": "ramp", "state": "missing", "at": side.at, "needs": [{"fact": "profile", "at": at} | some at in unmeasured(side)],
	"values": {"side": {"word": side.side}},
} if {
	too_high(side, limits)
	known_upright(side) <= limits.height.at_most
} else := {
	"part": "height", "state": "missing", "at": side.needs, "values": {"side": {"word": side.side}},
	"needs": [{"fact": object.get(side, "waits", "profile"), "at": at} | some at in side.needs],
} if {
	# Too high already by what is known, but the whole may be a ramp.
	not is_number(side.height)
	compare.at_most(side.least, limits.ramp) == "pass"
	known_upright(side) <= limits.height.at_most
} else := side_height(side, limits.height)

# Higher than the limit, and no higher than a ramp may be; a height that is not known, null, is never higher.
too_high(side, limits) if {
	compare.at_most(side.height, limits.height) == "fail"
	compare.at_most(side.height, limits.ramp) == "pass"
}

unmeasured(side) := [segment.at | some segment in side.rising; not is_number(segment.run)]

known_upright(side) := sum([segment.rise | some segment in side.rising; segment.run == 0])

upright_in(side) := known_upright(side) if count(unmeasured(side)) == 0
