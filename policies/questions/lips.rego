package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   A lip is what rises without a level or falling part in it, walked from either side. Up to `height` its upper
#   edge has one of the noses, or is that of a slope, which is a chamfer; a slope steeper than `steep` may be
#   none, and is left open. A higher lip, up to `sloped`, slopes by `slope` at most: over its whole height where
#   the rule says `whole`, else one that is steeper in part is left open. A still higher one that is no steeper
#   than `ramp` may be an inclined plane, and is left open. On one walk two lips stand at least `apart` from each
#   other. With `inner` only what is met from inside counts.
# custom:
#   fact: [profile]
#   limits: {height: at_most length, noses: "one_of square,rounded,bevelled", steep: ratio, sloped: at_most length, slope: ratio}
#   optional_limits: {apart: at_least length, ramp: ratio, whole: flag, inner: flag}
#   parts:
#     sloped: [side, measured, limit, excess]
#     edge: [side, measured, noses]
#     slope: [side, rise, run, limit, least_run, measured]
#     apart: [side, measured, limit, lack]
#   parts_with: {apart: apart}
#   passing: [none]
#   found: {slope: "{rise} over {run} ({measured})"}
answer("lips", _, facts) := [compare.missing("sloped", "profile")] if not facts.profile

answer("lips", rule, facts) := array.concat(array.concat(all, unread_sides), [nothing | count(all) + count(unread_sides) == 0]) if {
	limits := rule.limits
	sides := [side | some side in facts.profile.value; lip_counts(side, limits)]
	lips := [{"side": side, "parts": part} | some side in sides; some part in lips_of(side.rising)]
	tall := [tall_lip(lip, limits) | some lip in lips]
	edges := [lip_edge(lip, limits) | some lip in lips; low_lip(lip, limits)]
	slopes := [lip_slope(lip, part, limits) | some lip in lips; sloped_lip(lip, limits); some part in lip.parts]
	gaps := [lip_gap(side, part, limits.apart) | some side in sides; some part in side.rising; part.parted]
	all := array.concat(array.concat(tall, edges), array.concat(slopes, gaps))
	unread_sides := [lip_unread(side) | some side in sides; not is_number(side.height)]
	nothing := {"part": "none", "state": "pass", "at": facts.profile.at, "values": {}}

	# A limit that the rule lacks, or a side that lacks its parts, must not drop out unseen.
	count(tall) == count(lips)
	is_array(limits.noses.one_of)
	limits.steep
	limits.slope
	limits.height
	every side in facts.profile.value {
		is_array(side.rising)
	}
}

lip_counts(_, limits) if not limits.inner

lip_counts(side, _) if side.side == "inner"

# One list of parts for each lip.
lips_of(rising) := [array.slice(rising, start, end) |
	starts := [i | some i, part in rising; lip_begins(i, part)]
	some n, start in starts
	end := array.concat(starts, [count(rising)])[n + 1]
]

lip_begins(0, _)

lip_begins(_, part) if part.parted

lip_height(lip) := sum([part.rise | some part in lip.parts])

low_lip(lip, limits) if compare.at_most(lip_height(lip), limits.height) == "pass"

sloped_lip(lip, limits) if {
	not low_lip(lip, limits)
	compare.at_most(lip_height(lip), limits.sloped) == "pass"
}

tall_lip(lip, limits) := {
	"part": "sloped", "state": lip_tall_state(lip, limits), "at": lip_places(lip),
	"measured": {"length": height}, "limit": limits.sloped, "comparator": "<=",
	"needs": [{"fact": "profile", "at": part.at} | some part in lip.parts; not is_number(part.run)],
	"values": {
		"side": {"word": lip.side.side}, "measured": {"length": height}, "limit": {"length": limits.sloped.at_most},
		"excess": {"length": height - limits.sloped.at_most},
	},
} if {
	height := lip_height(lip)
}

lip_places(lip) := [part.at | some part in lip.parts]

lip_tall_state(lip, limits) := "pass" if {
	compare.at_most(lip_height(lip), limits.sloped) == "pass"
} else := "fail" if {
	not limits.ramp
} else := "fail" if {
	some part in lip.parts
	steeper_than(part, limits.ramp)
} else := "missing" if {
	some part in lip.parts
	not is_number(part.run)
} else := "open"

steeper_than(part, slope) if {
	is_number(part.run)
	not compare.gentle(part.rise, part.run, slope)
}

lip_edge(lip, limits) := {
	"part": "edge", "state": lip_edge_state(lip.side, top, limits), "at": [top.at], "measured": {"length": lip_height(lip)},
	"needs": [{"fact": "profile", "at": top.at}],
	"values": {"side": {"word": lip.side.side}, "measured": {"length": lip_height(lip)}, "noses": {"words": limits.noses.one_of}},
} if {
	top := lip.parts[count(lip.parts) - 1]
}

lip_edge_state(side, top, limits) := "pass" if {
	top.nose in limits.noses.one_of
} else := "missing" if {
	not is_number(top.run)
} else := "pass" if {
	compare.gentle(top.rise, top.run, limits.steep)
} else := "open" if {
	top.run > 0
} else := "missing" if {
	not top.nose
} else := "missing" if {
	# What is not known may go on above it.
	not is_number(side.height)
} else := "fail"

lip_slope(lip, part, limits) := {
	"part": "slope", "state": lip_slope_state(lip, part, limits), "at": [part.at], "comparator": "<=",
	"measured": {"ratio": [part.rise, part.run]}, "limit": {"kind": "ratio", "ratio": [limits.slope.rise, limits.slope.run]},
	"needs": [{"fact": "profile", "at": at} | some at in lip_open_places(lip)],
	"values": {
		"side": {"word": lip.side.side}, "rise": {"length": part.rise}, "run": {"length": part.run}, "measured": {"ratio": [part.rise, part.run]},
		"limit": {"ratio": [limits.slope.rise, limits.slope.run]}, "least_run": {"length": ceil((part.rise * limits.slope.run) / limits.slope.rise)},
	},
} if {
	is_number(part.run)
} else := {
	"part": "slope", "state": "missing", "at": [part.at], "needs": [{"fact": "profile", "at": part.at}], "values": {"side": {"word": lip.side.side}},
}

# What could still turn out to be a chamfer.
lip_open_places(lip) := array.concat([part.at | some part in lip.parts; not is_number(part.run)], lip.side.needs)

lip_slope_state(lip, part, limits) := "pass" if {
	compare.gentle(part.rise, part.run, limits.slope)
} else := "fail" if {
	limits.whole
} else := "open" if {
	some other in lip.parts
	is_number(other.run)
	compare.gentle(other.rise, other.run, limits.slope)
} else := "missing" if {
	count(lip_open_places(lip)) > 0
} else := "fail"

lip_gap(side, part, limit) := {
	"part": "apart", "state": compare.at_least(part.apart, limit), "at": [part.at],
	"measured": {"length": part.apart}, "limit": limit, "comparator": ">=",
	"values": {
		"side": {"word": side.side}, "measured": {"length": part.apart}, "limit": {"length": limit.at_least},
		"lack": {"length": limit.at_least - part.apart},
	},
} if {
	is_number(part.apart)
} else := {
	"part": "apart", "state": "missing", "at": [part.at], "needs": [{"fact": "profile", "at": part.at}], "values": {"side": {"word": side.side}},
}

lip_unread(side) := {
	"part": "sloped", "state": "missing", "at": side.needs, "values": {"side": {"word": side.side}},
	"needs": [{"fact": object.get(side, "waits", "profile"), "at": at} | some at in side.needs],
}
