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
	readings := sill_readings(rule.limits, facts.profile.value)
}

answer("sill-as", rule, facts) := checks if {
	facts.profile
	not facts.threshold_as
	readings := sill_readings(rule.limits, facts.profile.value)
	checks := unsaid_reading(readings, {sill_outcome(reading) | some reading in readings})
}

sill_readings(limits, sides) := {"joint": joints, "element": array.concat(elements, faces), "level-difference": array.concat(levels, slopes)} if {
	joints := [sill_height(side, "joint", sill_rise(side), limits.joint, []) | some side in sides]
	elements := [sill_height(side, "element", known_height(side), limits.element, []) | some side in sides]
	faces := [sill_face(side, part, limits) | some side in sides; stands_out(side, limits.plain); some part in side.rising]
	levels := [sill_level(side, limits) | some side in sides]
	slopes := [sill_slope(side, part, limits) | some side in sides; not higher(side, limits.level); some part in side.rising]

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

sill_outcome(checks) := "fail" if {
	some check in checks
	check.state == "fail"
} else := "unknown" if {
	some check in checks
	check.state != "pass"
} else := "pass"

unsaid_reading(readings, outcomes) := array.concat(array.concat(readings.joint, readings.element), readings["level-difference"]) if {
	outcomes in [{"pass"}, {"fail"}]
} else := array.concat(
	[{"part": "reading", "state": "missing", "at": [], "needs": [{"fact": "threshold_as"}], "values": {}}],
	[check | some reading in readings; some check in reading; check.state == "missing"],
)

# What a side rises at most, out of its dips too; of a height that is not known what it is at least.
sill_rise(side) := max(array.concat([known_height(side)], [part.above_low | some part in side.rising]))

known_height(side) := side.height if {
	is_number(side.height)
} else := side.least

higher(side, limit) if compare.at_most(sill_rise(side), limit) == "fail"

# How high a side is as one of the three; a state that is given goes before that of the height.
sill_height(side, part, rise, limit, given) := {
	"part": part, "state": state, "at": array.concat(side.at, side.needs),
	"measured": {"length": rise}, "limit": limit, "comparator": "<=", "needs": array.concat(unread_rises(side), [need | count(given) > 0; some need in unread_runs(side)]),
	"values": {"side": {"word": side.side}, "measured": {"length": rise}, "limit": {"length": limit.at_most}, "excess": {"length": rise - limit.at_most}},
} if {
	state := array.concat(given, [height_state(side, rise, limit)])[0]
	is_number(rise)
}

height_state(side, rise, limit) := "fail" if {
	compare.at_most(rise, limit) == "fail"
} else := "missing" if {
	not is_number(side.height)
} else := "pass" if {
	limit # without it there is no answer
}

unread_rises(side) := [{"fact": object.get(side, "waits", "profile"), "at": at} | some at in side.needs]

stands_out(side, plain) if compare.at_most(known_height(side), plain) == "fail"

sill_face(side, part, limits) := {
	"part": "face", "state": face_state(part, limits), "at": [part.at], "comparator": "<=",
	"measured": {"ratio": [part.rise, part.run]}, "limit": {"kind": "ratio", "ratio": [limits.face.rise, limits.face.run]},
	"values": {
		"side": {"word": side.side}, "rise": {"length": part.rise}, "run": {"length": part.run},
		"measured": {"ratio": [part.rise, part.run]}, "limit": {"ratio": [limits.face.rise, limits.face.run]},
	},
} if {
	is_number(part.run)
} else := {"part": "face", "state": "missing", "at": [part.at], "needs": [{"fact": "profile", "at": part.at}], "values": {"side": {"word": side.side}}}

face_state(part, limits) := "pass" if {
	compare.gentle(part.rise, part.run, limits.face)
} else := "fail" if {
	compare.at_most(part.above_floor, limits.plain) == "fail"
} else := "open"

sill_level(side, limits) := sill_height(side, "level", sill_rise(side), limits.level, ["open" | higher(side, limits.level)]) if {
	limits.step
} else := sill_height(side, "level", sill_rise(side), limits.level, [ramp_state(side, limits.ramp) | higher(side, limits.level)])

unread_runs(side) := [{"fact": "profile", "at": part.at} | some part in side.rising; not is_number(part.run)]

ramp_state(side, ramp) := "fail" if {
	some part in side.rising
	steeper(part, ramp)
} else := "missing" if {
	count(unread_runs(side)) > 0
} else := "open"

sill_slope(side, part, limits) := {
	"part": "slope", "state": {true: "pass", false: "fail"}[gentle_enough(part, limits.slope)], "at": [part.at], "comparator": "<=",
	"measured": {"ratio": [part.rise, part.run]}, "limit": {"kind": "ratio", "ratio": [limits.slope.rise, limits.slope.run]},
	"values": {
		"side": {"word": side.side}, "rise": {"length": part.rise}, "run": {"length": part.run}, "measured": {"ratio": [part.rise, part.run]},
		"limit": {"ratio": [limits.slope.rise, limits.slope.run]}, "least_run": {"length": ceil((part.rise * limits.slope.run) / limits.slope.rise)},
	},
} if {
	is_number(part.run)
} else := {"part": "slope", "state": "missing", "at": [part.at], "needs": [{"fact": "profile", "at": part.at}], "values": {"side": {"word": side.side}}}

gentle_enough(part, slope) if {
	compare.gentle(part.rise, part.run, slope)
} else := false
