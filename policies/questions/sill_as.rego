package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   A threshold may count as a joint of the floor, as a small element by itself or as a difference in level. A
#   joint rises `joint` at most. An element stands `element` at most out of the floor, and where it is higher than
#   `plain` its faces are no steeper than `face` above that height; below it a steeper one is left open. A
#   difference in level is `level` at most, and all that rises slopes by `slope` at most; a higher one that is no
#   steeper than `ramp` may be a ramp, and with `step` a higher one may be a step: either is left open. Where
#   nobody says what it counts as, it passes or fails if it does so as any of the three.
# custom:
#   fact: [profile]
#   reads: [threshold_as]
#   limits: {joint: at_most length, element: at_most length, plain: at_most length, face: ratio, level: at_most length, slope: ratio, ramp: ratio}
#   optional_limits: {step: flag}
#   parts:
#     joint: [side, measured, limit, excess]
#     element: [side, measured, limit, excess]
#     face: [side, rise, run, limit, measured]
#     level: [side, measured, limit, excess]
#     slope: [side, rise, run, limit, least_run, measured]
#     reading: []
#   found:
#     face: "{rise} over {run} ({measured})"
#     slope: "{rise} over {run} ({measured})"
answer("sill-as", _, facts) := [compare.missing("level", "profile")] if not facts.profile

answer("sill-as", rule, facts) := readings[facts.threshold_as.value] if {
	readings := as_readings(rule.limits, facts.profile.value)
}

answer("sill-as", rule, facts) := checks if {
	not facts.threshold_as
	readings := as_readings(rule.limits, facts.profile.value)
	checks := as_unsaid(readings, {as_outcome(reading) | some reading in readings})
}

as_readings(limits, sides) := {"joint": joints, "element": array.concat(elements, faces), "level-difference": array.concat(levels, slopes)} if {
	joints := [as_height(side, "joint", as_rise(side), limits.joint, []) | some side in sides]
	elements := [as_height(side, "element", as_known_height(side), limits.element, []) | some side in sides]
	faces := [as_face(side, part, limits) | some side in sides; as_standing_out(side, limits.plain); some part in side.rising]
	levels := [as_level(side, limits) | some side in sides]
	slopes := [as_slope(side, part, limits) | some side in sides; not as_higher(side, limits.level); some part in side.rising]

	# A limit that the rule lacks, or a side that lacks its parts, must not drop out unseen.
	every list in [joints, elements, levels] {
		count(list) == count(sides)
	}
	limits.plain
	limits.face
	limits.slope
	limits.ramp
	every side in sides {
		is_array(side.rising)
	}
}

as_outcome(checks) := "fail" if {
	some check in checks
	check.state == "fail"
} else := "unknown" if {
	some check in checks
	check.state != "pass"
} else := "pass"

as_unsaid(readings, outcomes) := array.concat(array.concat(readings.joint, readings.element), readings["level-difference"]) if {
	outcomes in [{"pass"}, {"fail"}]
} else := array.concat(
	[{"part": "reading", "state": "missing", "at": [], "needs": [{"fact": "threshold_as"}], "values": {}}],
	[check | some reading in readings; some check in reading; check.state == "missing"],
)

# What a side rises at most, out of its dips too; of a height that is not known what it is at least.
as_rise(side) := max(array.concat([as_known_height(side)], [part.above_low | some part in side.rising]))

as_known_height(side) := side.height if {
	is_number(side.height)
} else := side.least

as_higher(side, limit) if compare.at_most(as_rise(side), limit) == "fail"

# How high a side is as one of the three; a state that is given goes before that of the height.
as_height(side, part, rise, limit, given) := {
	"part": part, "state": state, "at": array.concat(side.at, side.needs),
	"measured": {"length": rise}, "limit": limit, "comparator": "<=", "needs": array.concat(as_unread_rises(side), [need | count(given) > 0; some need in as_unread_runs(side)]),
	"values": {"side": {"word": side.side}, "measured": {"length": rise}, "limit": {"length": limit.at_most}, "excess": {"length": rise - limit.at_most}},
} if {
	state := array.concat(given, [as_height_state(side, rise, limit)])[0]
}

as_height_state(side, rise, limit) := "fail" if {
	compare.at_most(rise, limit) == "fail"
} else := "missing" if {
	not is_number(side.height)
} else := "pass"

as_unread_rises(side) := [{"fact": object.get(side, "waits", "profile"), "at": at} | some at in side.needs]

as_standing_out(side, plain) if compare.at_most(as_known_height(side), plain) == "fail"

as_face(side, part, limits) := {
	"part": "face", "state": as_face_state(part, limits), "at": [part.at], "comparator": "<=",
	"measured": {"ratio": [part.rise, part.run]}, "limit": {"kind": "ratio", "ratio": [limits.face.rise, limits.face.run]},
	"values": {
		"side": {"word": side.side}, "rise": {"length": part.rise}, "run": {"length": part.run},
		"measured": {"ratio": [part.rise, part.run]}, "limit": {"ratio": [limits.face.rise, limits.face.run]},
	},
} if {
	is_number(part.run)
} else := {"part": "face", "state": "missing", "at": [part.at], "needs": [{"fact": "profile", "at": part.at}], "values": {"side": {"word": side.side}}}

as_face_state(part, limits) := "pass" if {
	compare.gentle(part.rise, part.run, limits.face)
} else := "fail" if {
	compare.at_most(part.above_floor, limits.plain) == "fail"
} else := "open"

as_level(side, limits) := as_height(side, "level", as_rise(side), limits.level, ["open" | as_higher(side, limits.level)]) if {
	limits.step
} else := as_height(side, "level", as_rise(side), limits.level, [as_ramp_state(side, limits.ramp) | as_higher(side, limits.level)])

as_unread_runs(side) := [{"fact": "profile", "at": part.at} | some part in side.rising; not is_number(part.run)]

as_ramp_state(side, ramp) := "fail" if {
	some part in side.rising
	steeper_than(part, ramp)
} else := "missing" if {
	count(as_unread_runs(side)) > 0
} else := "open"

as_slope(side, part, limits) := {
	"part": "slope", "state": {true: "pass", false: "fail"}[as_gentle(part, limits.slope)], "at": [part.at], "comparator": "<=",
	"measured": {"ratio": [part.rise, part.run]}, "limit": {"kind": "ratio", "ratio": [limits.slope.rise, limits.slope.run]},
	"values": {
		"side": {"word": side.side}, "rise": {"length": part.rise}, "run": {"length": part.run}, "measured": {"ratio": [part.rise, part.run]},
		"limit": {"ratio": [limits.slope.rise, limits.slope.run]}, "least_run": {"length": ceil((part.rise * limits.slope.run) / limits.slope.rise)},
	},
} if {
	is_number(part.run)
} else := {"part": "slope", "state": "missing", "at": [part.at], "needs": [{"fact": "profile", "at": part.at}], "values": {"side": {"word": side.side}}}

as_gentle(part, slope) if {
	compare.gentle(part.rise, part.run, slope)
} else := false
