package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Each side of a threshold is walked from its own floor up. Its height has a limit; its
#   first part may be vertical; above that every rising segment must be gentle, judged both
#   from the side's floor and from the lowest point of the climb that the segment belongs to,
#   so that a dip starts no new allowance and a channel below the floor earns none.
# custom:
#   by_place: [height, least, above_floor, above_low]
#   among: item
#   gentle: true
#   fact: [profile]
#   limits: {height: at_most length, upright: at_most length, slope: ratio}
#   optional_limits: {bevel_each_side: flag, ramp: ratio}
#   parts:
#     height: [side, measured, limit, excess]
#     upright: [side, top, rise, limit, least_run, slope]
#     slope: [side, rise, run, limit, least_run]
#     climb: [side, measured, limit, excess]
#     each-side: [side]
#   parts_with: {each-side: bevel_each_side}
#   found:
#     upright: an upright face of {rise} with its top {top} up
#     slope: "{rise} over {run} ({measured})"
answer("change-in-level", _, facts) := [compare.missing("height", "profile")] if not facts.profile

answer("change-in-level", rule, facts) := array.concat(array.concat(heights, climbs), array.concat(deep, bevels)) if {
	sides := facts.profile.value
	heights := [side_height(side, rule.limits.height) | some side in sides]
	climbs := [climb(side, segment, rule.limits) | some side in sides; some segment in side.rising]
	deep := [out_of_a_dip(side, segment, rule.limits) | some side in sides; some segment in side.rising; segment.above_low > segment.above_floor]
	bevels := [bevelled(side, rule.limits) | some side in sides; rule.limits.bevel_each_side]

	# A limit that the rule lacks, or a segment that lacks its height, must not drop out unseen.
	count(heights) == count(sides)
	every side in sides {
		is_array(side.rising)
	}
	count(climbs) == sum([count(side.rising) | some side in sides])
	rule.limits.upright
	rule.limits.slope
}

climb(side, segment, limits) := object.union(shape(side, segment, limits), {"state": steepness(segment, limits)})

steepness(segment, limits) := "pass" if {
	compare.at_most(top(segment), limits.upright) == "pass"
} else := "missing" if {
	not is_number(segment.run)
} else := "pass" if {
	compare.gentle(segment.rise, segment.run, limits.slope)
} else := compare.at_most(top(segment), limits.upright)

top(segment) := max([segment.above_floor, segment.above_low]) if {
	is_number(segment.rise)
	is_number(segment.above_floor)
	is_number(segment.above_low)
}

shape(side, segment, limits) := {
	"part": "upright", "at": [segment.at],
	"measured": {"length": top(segment)}, "limit": limits.upright, "comparator": "<=",
	"values": {
		"side": {"word": side.side}, "top": {"length": top(segment)}, "rise": {"length": segment.rise},
		"limit": {"length": limits.upright.at_most}, "least_run": {"length": least_run(segment, limits)}, "slope": {"ratio": [limits.slope.rise, limits.slope.run]},
	},
} if {
	segment.run == 0
} else := {
	"part": "slope", "at": [segment.at], "comparator": "<=",
	"measured": {"ratio": [segment.rise, segment.run]}, "limit": {"kind": "ratio", "ratio": [limits.slope.rise, limits.slope.run]},
	"values": {
		"side": {"word": side.side}, "rise": {"length": segment.rise}, "run": {"length": segment.run},
		"limit": {"ratio": [limits.slope.rise, limits.slope.run]}, "least_run": {"length": least_run(segment, limits)},
	},
} if {
	is_number(segment.run)
} else := {
	"part": "slope", "at": [segment.at], "needs": [{"fact": "profile", "at": segment.at}],
	"values": {"side": {"word": side.side}},
}

# A climb that begins below the side's floor has a height of its own; of a long and gentle
# one the text speaks as a ramp, which is another rule's.
out_of_a_dip(side, segment, limits) := {
	"part": "climb", "state": depth_state(segment, limits), "at": [segment.at],
	"measured": {"length": segment.above_low}, "limit": limits.height, "comparator": "<=", "needs": [{"fact": "profile", "at": segment.at}],
	"values": {
		"side": {"word": side.side}, "measured": {"length": segment.above_low},
		"limit": {"length": limits.height.at_most}, "excess": {"length": segment.above_low - limits.height.at_most},
	},
}

depth_state(segment, limits) := "open" if {
	compare.at_most(segment.above_low, limits.height) == "fail"
	segment.run > 0
	compare.gentle(segment.rise, segment.run, limits.ramp)
} else := "missing" if {
	compare.at_most(segment.above_low, limits.height) == "fail"
	not is_number(segment.run)
	limits.ramp
} else := compare.at_most(segment.above_low, limits.height)

# The shortest run, in whole nanometres, over which this rise is gentle enough.
least_run(segment, limits) := ceil((segment.rise * limits.slope.run) / limits.slope.rise)

# What "bevelled on each side" asks of a side that is flush, or low enough to be
# vertical, the text does not say.
bevelled(side, limits) := {
	"part": "each-side", "state": bevel_state(side, limits), "at": side.at, "values": {"side": {"word": side.side}},
}

bevel_state(side, limits) := "pass" if {
	some segment in side.rising
	segment.run > 0
	compare.gentle(segment.rise, segment.run, limits.slope)
} else := "open"
