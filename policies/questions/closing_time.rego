package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Does the door take long enough to close from one angle to another? A reading over more
#   than that way that is too short disproves it; one over a part of the way that is long
#   enough proves it, if none disproves it.
# custom:
#   by_place: [time]
#   fact: [closing_times]
#   limits: {value: at_least time, angles: falling angle}
#   parts: {value: [from, to, limit]}
answer("closing-time", rule, facts) := [check] if {
	readings := closing_readings(facts)
	compare.numbers(object.union({"from": null, "to": null}, rule.limits.angles), ["from", "to"])
	is_number(rule.limits.value.at_least)
	check := closing(readings, rule.limits)
}

closing_readings(facts) := [] if not facts.closing_times

closing_readings(facts) := readings if {
	readings := [reading |
		some reading in facts.closing_times.value
		compare.numbers(object.union({"from": null, "to": null}, reading), ["from", "to", "time"])
	]
	count(readings) == count(facts.closing_times.value)
}

closing(readings, limits) := short[0] if {
	short := [timed(reading, limits, "fail") |
		some reading in readings
		reading.from >= limits.angles.from
		reading.to <= limits.angles.to
		compare.at_least(reading.time, limits.value) == "fail"
	]
	count(short) > 0
} else := long[0] if {
	long := [timed(reading, limits, "pass") |
		some reading in readings
		reading.from <= limits.angles.from
		reading.to >= limits.angles.to
		compare.at_least(reading.time, limits.value) == "pass"
	]
	count(long) > 0
} else := compare.missing("value", "closing_times")

timed(reading, limits, state) := {
	"part": "value", "state": state, "at": [reading.at],
	"measured": {"time": reading.time}, "limit": limits.value, "comparator": ">=",
	"values": {"from": {"angle": reading.from}, "to": {"angle": reading.to}, "limit": {"time": limits.value.at_least}},
}
