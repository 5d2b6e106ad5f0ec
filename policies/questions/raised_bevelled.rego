package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   A raised threshold is "bevelled", with no angle given. Each side has a height at most above its own
#   floor. A side that rises above it by bevels alone, which are parts with a run, passes; one that rises by
#   upright faces alone fails; one that has both, or an edge that is noted as bevelled or rounded, is left open.
#   `lip` is the height up to which upright faces alone are left open, too, for a neighbouring clause starts there.
#   `upright` is the height above the floor up to which a side may be upright: a face with its top above that fails.
#   `steep` is the slope beyond which a face that leans may be no bevel: that is left open.
#   What climbs out of a dip and not above the side's floor is not raised.
# custom:
#   fact: [profile]
#   limits: {height: at_most length}
#   optional_limits: {lip: at_most length, upright: at_most length, steep: ratio}
#   parts:
#     height: [side, measured, limit, excess]
#     bevel: [side, upright, top]
#     steep: [side, rise, run, limit]
#   parts_with: {steep: steep}
#   found: {steep: "{rise} over {run} ({measured})"}
answer("raised-bevelled", _, facts) := [compare.missing("height", "profile")] if not facts.profile

answer("raised-bevelled", rule, facts) := array.concat(array.concat(heights, bevels), leaners) if {
	sides := facts.profile.value
	heights := [side_height(side, rule.limits.height) | some side in sides]
	bevels := [raised_bevel(side, rule.limits) | some side in sides]
	leaners := [leaning_face(side, segment, rule.limits) | some side in sides; some segment in side.rising; rule.limits.steep; raised_slope(segment, rule.limits)]

	# A limit that the rule lacks, or a segment that lacks its height, must not drop out unseen.
	count(heights) == count(sides)
	every side in sides {
		is_array(side.rising)
		every segment in side.rising {
			is_number(segment.above_floor)
			is_number(segment.rise)
		}
	}
	count(bevels) == count(sides)
}

# What rises above the side's floor and, where a part may be upright, above that.
raised(segment, limits) if {
	segment.above_floor > 0
	not may_be_upright(segment, limits)
}

may_be_upright(segment, limits) if compare.at_most(segment.above_floor, limits.upright) == "pass"

raised_slope(segment, limits) if {
	raised(segment, limits)
	is_number(segment.run)
	segment.run > 0
}

raised_bevel(side, limits) := {
	"part": "bevel", "at": [segment.at | some segment in faces],
	"state": bevel_state_of({"known": is_number(side.height), "faces": faces, "slopes": slopes, "unread": unread}, limits),
	"needs": array.concat(unknown_rises(side), [{"fact": "profile", "at": segment.at} | some segment in unread]),
	"values": {
		"side": {"word": side.side}, "upright": {"length": sum([segment.rise | some segment in faces])},
		"top": {"length": max(array.concat([0], [segment.above_floor | some segment in faces]))},
	},
} if {
	up := [segment | some segment in side.rising; raised(segment, limits)]
	faces := [segment | some segment in up; segment.run == 0]
	slopes := [segment | some segment in up; raised_slope(segment, limits)]
	unread := [segment | some segment in up; not is_number(segment.run)]
}

unknown_rises(side) := [{"fact": object.get(side, "waits", "profile"), "at": at} | some at in side.needs]

bevel_state_of(up, limits) := "missing" if {
	not up.known
} else := "fail" if {
	limits.upright
	count(up.faces) > 0
} else := "open" if {
	count(up.faces) > 0
	count(up.slopes) > 0
} else := "missing" if {
	count(up.unread) > 0
} else := "pass" if {
	count(up.faces) == 0
} else := "open" if {
	some face in up.faces
	face.nose in {"bevelled", "rounded"}
} else := "open" if {
	every face in up.faces {
		compare.at_most(face.above_floor, limits.lip) == "pass"
	}
} else := "fail"

leaning_face(side, segment, limits) := {
	"part": "steep", "state": leaning(segment, limits), "at": [segment.at], "comparator": "<=",
	"measured": {"ratio": [segment.rise, segment.run]}, "limit": {"kind": "ratio", "ratio": [limits.steep.rise, limits.steep.run]},
	"values": {"side": {"word": side.side}, "rise": {"length": segment.rise}, "run": {"length": segment.run}, "limit": {"ratio": [limits.steep.rise, limits.steep.run]}},
}

leaning(segment, limits) := "pass" if {
	compare.gentle(segment.rise, segment.run, limits.steep)
} else := "open"
