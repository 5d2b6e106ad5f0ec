package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Is an uncertain opening force at most the limit over the whole range of angles? Each stretch of angles passes
#   where the high end of its band is within the limit, fails where the low end is not, and is too close to tell
#   in between. Where an end that decides is not known it is asked for, as is an angle that no stretch covers. The
#   low end is of the most over low_from to low_to, the stretch where these are left out: if they reach beyond the
#   range it need not be so within, which is asked for, save along a track. A low end that begins with the door
#   closed may be the force that sets it in motion: up to `start` it is left open. A stretch of which an angle is
#   not known counts unless its high end is within the limit, and then has to be placed. Without limits on the
#   angles every stretch counts and none is missed. An exception may free a door of any limit.
# custom:
#   by_place: [low, likely, high]
#   fact: [opening_force_sealed]
#   limits: {value: at_most force}
#   optional_limits: {angles: rising angle, start: at_most force, exempt: flag}
#   parts: {value: [low, high, limit, excess, from, to], angles: [from]}
#   parts_with: {angles: angles}
#   passing: [none]
#   found: {value: "{low} to {high}"}
answer("force-band-by-angle", rule, _) := [{"part": "none", "state": "pass", "at": [], "values": {}}] if rule.limits.exempt

answer("force-band-by-angle", rule, facts) := [compare.missing("value", "opening_force_sealed")] if {
	not rule.limits.exempt
	not facts.opening_force_sealed
}

answer("force-band-by-angle", rule, facts) := array.concat(array.concat(forces, unplaced), gaps) if {
	not rule.limits.exempt
	bands := [band | some band in facts.opening_force_sealed.value; compare.given(band, ["from", "to"])]
	loose := [band | some band in facts.opening_force_sealed.value; not compare.given(band, ["from", "to"])]
	met := [band | some band in bands; meets(band, rule.limits)]
	need := {"fact": "opening_force_sealed", "at": facts.opening_force_sealed.at[0]}
	forces := [force_band(band, rule.limits, need) | some band in met]
	unplaced := [unread_force(band, need) | some band in loose; not within_anywhere(band, rule.limits.value); not beyond(band, object.get(rule.limits, "angles", {}))]
	gaps := [unread_band(angle, facts.opening_force_sealed.at) | some angle in uncovered(bands, rule.limits)]

	# A limit that the rule lacks must not drop out unseen, nor a text stand for a number.
	count(forces) == count(met)
	every band in facts.opening_force_sealed.value {
		compare.numbers(band, ["from", "to", "low_from", "low_to", "low", "likely", "high"])
	}
}

within_anywhere(band, limit) if compare.at_most(band.high, limit) == "pass"

force_band(band, limits, need) := {
	"part": "value", "state": state, "at": [band.at],
	"measured": {"force": first_of(band, ["likely", "low"])}, "limit": limits.value, "comparator": "<=",
	"values": object.union(band_ends(band), {
		"limit": {"force": limits.value.at_most}, "excess": {"force": first_of(band, ["high", "low"]) - limits.value.at_most},
		"from": {"angle": over[0]}, "to": {"angle": over[1]},
	}),
} if {
	state := band_state(band, limits)
	state != "missing"
	over := low_over(band)
} else := object.union(unread_force(band, wanted(band, limits, need)), {"values": {"from": {"angle": band.from}, "to": {"angle": band.to}}}) if {
	limits.value # without it there is no answer
}

# Either end may be left out.
first_of(band, names) := [band[name] | some name in names; band[name]][0]

band_ends(band) := {name: {"force": band[name]} | some name in ["low", "high"]}

# The angles over which the most is at least the low end: of a door that was read over more than the stretch, those of its reading.
low_over(band) := [object.get(band, "low_from", band.from), object.get(band, "low_to", band.to)]

# The most over more than the range may stand beside it.
too_wide_a_band(band, limits) if {
	not band.track
	over := low_over(band)
	reaches_beyond(over[0], over[1], limits.angles)
}

wanted(band, limits, need) := object.union(need, {"from": {"angle": limits.angles.from}, "to": {"angle": limits.angles.to}}) if {
	too_wide_a_band(band, limits)
} else := object.union(need, {"from": {"angle": limits.angles.from}, "to": {"angle": limits.angles.to}}) if {
	# Part of what was read on the door alone: a reading with the seals settles the range.
	compare.given(band, ["high"])
	not compare.given(band, ["low"])
} else := need

band_state(band, limits) := "pass" if {
	compare.at_most(band.high, limits.value) == "pass"
} else := "missing" if {
	too_wide_a_band(band, limits)
} else := "missing" if {
	not compare.given(band, ["low"])
} else := "fail" if {
	compare.at_most(band.low, limits.value) == "fail"
	not starts(band, limits)
} else := "missing" if {
	not compare.given(band, ["high"])
} else := "open" if {
	compare.at_most(band.low, limits.value) != "pass"
} else := "close"

# It may be the force that sets the door in motion, which has a limit of its own.
starts(band, limits) if {
	low_over(band)[0] == 0
	compare.at_most(band.low, limits.start) == "pass"
}

unread_force(band, need) := {"part": "value", "state": "missing", "at": [band.at], "needs": [need]}

unread_band(angle, at) := {
	"part": "angles", "state": "missing", "at": at,
	"needs": [{"fact": "opening_force_sealed", "from": {"angle": angle}}], "values": {"from": {"angle": angle}},
}
