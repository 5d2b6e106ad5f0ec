package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Each side of a threshold has a height at most; an upstand, which is an upright face, may be
#   higher than `upstand` only with one of the noses; and there are as few upstands and slopes
#   as can be: more than one of either on a side is left open, for no text says how many. So is a
#   slope that is steeper than `steep` and, with the upright faces of its side, rises more than an
#   upstand may: it is nearly one, or part of one.
#   With `step`, an upright face at the foot of the outer side may be a step into the building, up to
#   that height: whether it may be there is left open, and the threshold is measured from its top.
# custom:
#   fact: [profile]
#   limits: {height: at_most length, upstand: at_most length, noses: "one_of square,rounded,bevelled"}
#   optional_limits: {steep: ratio, step: at_most length}
#   parts:
#     height: [side, measured, limit, excess]
#     upstand: [side, measured, limit, noses]
#     count: [side, upstands, slopes]
#     steep: [side, rise, run, limit]
#     step: [measured, limit]
#   parts_with: {steep: steep, step: step}
#   found: {steep: "{rise} over {run} ({measured})"}
answer("upstands", _, facts) := [compare.missing("height", "profile")] if not facts.profile

answer("upstands", rule, facts) := array.concat(array.concat(array.concat(heights, faces), array.concat(counts, slopes)), steps) if {
	sides := [above_step(side, rule.limits) | some side in facts.profile.value]
	steps := [step_check(side, rule.limits) | some side in facts.profile.value; stepped(side, rule.limits)]
	heights := [side_height(side, rule.limits.height) | some side in sides]
	faces := [upright_face(side, upstand, rule.limits) | some side in sides; some upstand in side.upstands]
	counts := [few(side) | some side in sides]
	slopes := [nearly_upright(side, segment, rule.limits) | some side in sides; some segment in side.rising; segment.run != 0; rule.limits.steep]

	# A limit that the rule lacks, or a side that lacks its faces, must not drop out unseen.
	count(heights) == count(facts.profile.value)
	every side in sides {
		is_array(side.upstands)
		is_array(side.rising)
	}
	count(faces) == sum([count(side.upstands) | some side in sides])
	is_array(rule.limits.noses.one_of)
}

# The upright face at the foot of the outer side, where the threshold does not pass with it.
stepped(side, limits) := face if {
	side.side == "outer"
	face := side.upstands[0]
	fails_with(side, face, limits)
	face.at[0] == side.rising[0].at
	compare.at_most(face.height, limits.step) == "pass"
}

fails_with(side, _, limits) if side_height(side, limits.height).state == "fail"

fails_with(_, face, limits) if chamfered(face, limits) != "pass"

above_step(side, limits) := object.union(side, {"height": less(side.height, face.height), "least": object.get(side, "least", 0) - face.height, "upstands": array.slice(side.upstands, 1, count(side.upstands))}) if {
	face := stepped(side, limits)
} else := side

# A height that is not known stays so.
less(height, by) := height - by if {
	is_number(height)
} else := height

step_check(side, limits) := {
	"part": "step", "state": "open", "at": face.at, "measured": {"length": face.height}, "limit": limits.step, "comparator": "<=",
	"values": {"measured": {"length": face.height}, "limit": {"length": limits.step.at_most}},
} if {
	face := stepped(side, limits)
}

upright_face(side, upstand, limits) := {
	"part": "upstand", "state": chamfered(upstand, limits), "at": upstand.at,
	"measured": {"length": upstand.height}, "limit": limits.upstand, "comparator": "<=",
	"needs": [{"fact": "profile", "at": at} | some at in upstand.at],
	"values": {
		"side": {"word": side.side}, "measured": {"length": upstand.height},
		"limit": {"length": limits.upstand.at_most}, "noses": {"words": limits.noses.one_of},
	},
} if {
	is_number(upstand.height)
}

chamfered(upstand, limits) := "pass" if {
	compare.at_most(upstand.height, limits.upstand) == "pass"
} else := "missing" if {
	not upstand.nose
} else := "pass" if {
	upstand.nose in limits.noses.one_of
} else := compare.at_most(upstand.height, limits.upstand)

few(side) := {
	"part": "count", "state": as_few(side), "at": [at | some segment in side.rising; at := segment.at],
	"needs": [{"fact": "profile", "at": segment.at} | some segment in side.rising; not is_number(segment.run)],
	"values": {"side": {"word": side.side}, "upstands": {"count": count(side.upstands)}, "slopes": {"count": sloped(side)}},
}

as_few(side) := "missing" if {
	some segment in side.rising
	not is_number(segment.run)
} else := "open" if {
	max([count(side.upstands), sloped(side)]) > 1
} else := "pass"

sloped(side) := count([segment | some segment in side.rising; segment.run != 0])

nearly_upright(side, segment, limits) := {
	"part": "steep", "state": steep_state(side, segment, limits), "at": [segment.at], "comparator": "<=",
	"measured": {"ratio": [segment.rise, segment.run]}, "limit": {"kind": "ratio", "ratio": [limits.steep.rise, limits.steep.run]},
	"values": {"side": {"word": side.side}, "rise": {"length": segment.rise}, "run": {"length": segment.run}, "limit": {"ratio": [limits.steep.rise, limits.steep.run]}},
} if {
	is_number(segment.run)
} else := {"part": "steep", "state": steep_state(side, segment, limits), "at": [segment.at], "needs": [{"fact": "profile", "at": segment.at}], "values": {"side": {"word": side.side}}}

steep_state(side, segment, limits) := "pass" if {
	segment.rise + sum([face.height | some face in side.upstands]) <= limits.upstand.at_most
} else := "missing" if {
	not is_number(segment.run)
} else := "pass" if {
	compare.gentle(segment.rise, segment.run, limits.steep)
} else := "open"
