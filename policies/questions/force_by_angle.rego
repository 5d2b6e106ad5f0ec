package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Is the opening force at most the limit over the whole range of angles? Every reading
#   is judged, and an angle that no reading covers is asked for. Without limits on the
#   angles, as for a sliding door, every reading counts and none is missed. A reading that begins
#   with the door closed may be the force that sets it in motion: up to `start` it is left open.
#   A reading at one angle counts at both ends of the range, and covers nothing; one at an angle
#   that is not known counts only if it is above the limit, and then has to be placed. One over
#   more angles than the range is the most over all of them: above the limit it need not be so
#   within the range, which is asked for; but for one along a track, of which the angles are only
#   a way to write the whole. An exception may free a door of any limit.
# custom:
#   by_place: [force]
#   fact: [opening_force]
#   limits: {value: at_most force}
#   optional_limits: {angles: rising angle, start: at_most force, exempt: flag}
#   parts: {value: [measured, limit, excess, from, to], angles: [from]}
#   parts_with: {angles: angles}
#   passing: [none]
answer("force-by-angle", rule, _) := [{"part": "none", "state": "pass", "at": [], "values": {}}] if rule.limits.exempt

answer("force-by-angle", rule, facts) := [compare.missing("value", "opening_force")] if {
	not rule.limits.exempt
	not facts.opening_force
}

answer("force-by-angle", rule, facts) := array.concat(array.concat(forces, unplaced), gaps) if {
	not rule.limits.exempt
	facts.opening_force
	bands := [band | some band in facts.opening_force.value; compare.given(band, ["from", "to"])]
	loose := [band | some band in facts.opening_force.value; not compare.given(band, ["from", "to"])]
	met := [band | some band in bands; meets(band, rule.limits)]
	forces := [force(band, rule.limits) | some band in met]
	unplaced := [at_some_angle(band) | some band in loose; not at_any_angle(band, rule.limits.value); not beyond(band, object.get(rule.limits, "angles", {}))]
	gaps := [unread(angle, facts.opening_force.at) | some angle in uncovered(bands, rule.limits)]

	# A limit that the rule lacks must not drop out unseen, nor a text stand for an angle.
	count(forces) == count(met)
	every band in loose {
		compare.numbers(band, ["from", "to", "force"])
	}
	every band in bands {
		is_number(band.from)
		is_number(band.to)
	}
}

meets(_, limits) if not limits.angles

meets(band, limits) if {
	band.from < limits.angles.to
	band.to > limits.angles.from
}

meets(band, limits) if {
	band.from == band.to
	band.from >= limits.angles.from
	band.from <= limits.angles.to
}

force(band, limits) := {
	"part": "value", "state": force_state(band, limits), "at": [band.at],
	"measured": {"force": band.force}, "limit": limit, "comparator": "<=",
	"values": {
		"measured": {"force": band.force}, "limit": {"force": limit.at_most}, "excess": {"force": band.force - limit.at_most},
		"from": {"angle": band.from}, "to": {"angle": band.to},
	},
} if {
	is_number(band.force)
	limit := limits.value
	not too_wide(band, limits)
} else := {
	"part": "value", "state": "missing", "at": [band.at],
	"needs": [{"fact": "opening_force", "at": band.at, "from": {"angle": limits.angles.from}, "to": {"angle": limits.angles.to}}],
	"values": {"from": {"angle": band.from}, "to": {"angle": band.to}},
} if {
	is_number(band.force)
	too_wide(band, limits)
} else := {
	"part": "value", "state": "missing", "at": [band.at], "needs": [{"fact": "opening_force", "at": band.at}],
	"values": {"from": {"angle": band.from}, "to": {"angle": band.to}},
} if {
	limits.value # without it there is no answer
}

force_state(band, limits) := "open" if {
	compare.at_most(band.force, limits.value) == "fail"
	band.from == 0
	compare.at_most(band.force, limits.start) == "pass"
} else := compare.at_most(band.force, limits.value)

# What is above the limit somewhere in a reading need not be so in the range that the reading reaches beyond.
too_wide(band, limits) if {
	compare.at_most(band.force, limits.value) != "pass"
	not band.track
	reaches_beyond(band.from, band.to, limits.angles)
}

reaches_beyond(from, _, angles) if from < angles.from

reaches_beyond(_, to, angles) if to > angles.to

# A reading at an angle that is not known counts unless it is within the limit, wherever it was taken.
at_any_angle(band, limit) if compare.at_most(band.force, limit) == "pass"

# Nor does one that the end which is known puts outside the range.
beyond(band, angles) if band.from > angles.to

beyond(band, angles) if band.to < angles.from

at_some_angle(band) := {"part": "value", "state": "missing", "at": [band.at], "needs": [{"fact": "opening_force", "at": band.at}]}

# The angles at which a stretch without a reading begins.
uncovered(_, limits) := set() if not limits.angles

uncovered(bands, limits) := {angle |
	angles := limits.angles
	some angle in ({angles.from} | {band.to | some band in bands; band.to > angles.from; band.to < angles.to})
	not covered(angle, bands)
} if {
	limits.angles
}

covered(angle, bands) if {
	some band in bands
	band.from <= angle
	angle < band.to
}

unread(angle, at) := {
	"part": "angles", "state": "missing", "at": at,
	"needs": [{"fact": "opening_force", "from": {"angle": angle}}], "values": {"from": {"angle": angle}},
}
