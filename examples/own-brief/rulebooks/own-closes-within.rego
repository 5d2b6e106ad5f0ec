package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Does the door close from one angle to another soon enough? A reading over that way or more that is short
#   enough proves it; one over that way or a part of it that is too long disproves it.
# custom:
#   fact: [closing_times]
#   limits: {value: at_most time, angles: falling angle}
#   parts: {value: [from, to, measured, limit, excess]}
answer("own-closes-within", rule, facts) := [check] if {
	readings := own_readings(facts)
	check := own_judge(readings, rule.limits)
}

own_readings(facts) := [] if not facts.closing_times

own_readings(facts) := [reading |
	some reading in facts.closing_times.value
	is_number(reading.from)
	is_number(reading.to)
	is_number(reading.time)
] if facts.closing_times

own_judge(readings, limits) := late[0] if {
	late := [own_timed(reading, limits, "fail") |
		some reading in readings
		reading.from <= limits.angles.from
		reading.to >= limits.angles.to
		compare.at_most(reading.time, limits.value) == "fail"
	]
	count(late) > 0
} else := soon[0] if {
	soon := [own_timed(reading, limits, "pass") |
		some reading in readings
		reading.from >= limits.angles.from
		reading.to <= limits.angles.to
		compare.at_most(reading.time, limits.value) == "pass"
	]
	count(soon) > 0
} else := {"part": "value", "state": "missing", "at": [], "needs": [{"fact": "closing_times"}]}

own_timed(reading, limits, state) := {
	"part": "value", "state": state, "at": [reading.at],
	"measured": {"time": reading.time}, "limit": limits.value, "comparator": "<=",
	"values": {
		"from": {"angle": reading.from}, "to": {"angle": reading.to}, "measured": {"time": reading.time},
		"limit": {"time": limits.value.at_most}, "excess": {"time": reading.time - limits.value.at_most},
	},
}
