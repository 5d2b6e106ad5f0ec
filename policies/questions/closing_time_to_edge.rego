package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Does the door take long enough to close from an angle until its leading edge is so near to its closed place?
#   A timing over more than that way that is too short disproves it; one over a part of the way that is long
#   enough proves it, if none disproves it. Where only an angle was read the edge stood between `least` and
#   `most` from its closed place, and what holds for one of them only proves nothing.
# custom:
#   by_place: [time, least, most]
#   fact: [closing_to_edge]
#   limits: {value: at_least time, start: at angle, edge: at length}
#   parts: {value: [from, edge, limit]}
answer("closing-time-to-edge", rule, facts) := [check] if {
	readings := edge_readings(facts)
	is_number(rule.limits.start.at)
	is_number(rule.limits.edge.at)
	is_number(rule.limits.value.at_least)
	check := closing_to_edge(readings, rule.limits)
}

edge_readings(facts) := [] if not facts.closing_to_edge

edge_readings(facts) := readings if {
	readings := [reading |
		some reading in facts.closing_to_edge.value
		compare.numbers(object.union({"from": null, "least": null, "most": null}, reading), ["from", "least", "most", "time"])
	]
	count(readings) == count(facts.closing_to_edge.value)
}

closing_to_edge(readings, limits) := short[0] if {
	short := [timed_to_edge(reading, limits, "fail") |
		some reading in readings
		reading.from >= limits.start.at
		reading.most <= limits.edge.at
		compare.at_least(reading.time, limits.value) == "fail"
	]
	count(short) > 0
} else := long[0] if {
	long := [timed_to_edge(reading, limits, "pass") |
		some reading in readings
		reading.from <= limits.start.at
		reading.least >= limits.edge.at
		compare.at_least(reading.time, limits.value) == "pass"
	]
	count(long) > 0
} else := compare.missing("value", "closing_to_edge")

timed_to_edge(reading, limits, state) := {
	"part": "value", "state": state, "at": [reading.at],
	"measured": {"time": reading.time}, "limit": limits.value, "comparator": ">=",
	"values": {"from": {"angle": limits.start.at}, "edge": {"length": limits.edge.at}, "limit": {"time": limits.value.at_least}},
}
