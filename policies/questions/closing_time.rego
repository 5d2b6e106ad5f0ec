package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Does the door take long enough to close from one angle to another? A reading over a part
#   of that way that is long enough proves it; one over more than it that is too short
#   disproves it.
# custom:
#   limits: [value, angles]
#   parts: [value]
answer("closing-time", rule, facts) := [proof[0]] if {
	proof := [time(reading, rule.limits, "pass") |
		some reading in timed(facts)
		reading.from <= rule.limits.angles.from
		reading.to >= rule.limits.angles.to
		compare.at_least(reading.time, rule.limits.value) == "pass"
	]
	count(proof) > 0
} else := [disproof[0]] if {
	disproof := [time(reading, rule.limits, "fail") |
		some reading in timed(facts)
		reading.from >= rule.limits.angles.from
		reading.to <= rule.limits.angles.to
		compare.at_least(reading.time, rule.limits.value) == "fail"
	]
	count(disproof) > 0
} else := [compare.missing("value", "closing_times")] if {
	is_number(rule.limits.angles.from)
	is_number(rule.limits.value.at_least)
}

default timed(_) := []

timed(facts) := [reading | some reading in facts.closing_times.value; is_number(reading.time)]

time(reading, limits, state) := {
	"part": "value", "state": state, "at": [reading.at],
	"measured": {"time": reading.time}, "limit": limits.value, "comparator": ">=",
	"values": {"from": {"angle": reading.from}, "to": {"angle": reading.to}, "limit": {"time": limits.value.at_least}},
}
