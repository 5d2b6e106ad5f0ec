package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Each side of a threshold, or the edge of a carpet, is climbed from its own floor. A climb, which has nothing
#   level and no fall within it, is an upright lip up to one height, whatever its shape; or a lip that is eased, by a
#   nose or as one slope, up to another; or, where the text has ramps, a ramp no steeper than `ramp`, up to
#   `ramp_rise` high and `ramp_run` long, no farther from the leaf than `from_leaf`, and with `within_jamb` no
#   longer than the jamb is deep. A mixture of these, and several climbs on a side of more than an
#   upright lip, the text does not describe: they are left open unless a part of them is too much by itself.
#   With `eased_below` a ramp may stand on an eased lip.
#   With `sill_edge` and `sill_lip` the first climb may be so high as the edge of a sill, and each as the lip
#   within it: a first climb between the two is left open.
# custom:
#   fact: [climbs, carpet_edge]
#   limits: {upright: at_most length, eased: at_most length}
#   optional_limits: {ramp: ratio, ramp_rise: at_most length, ramp_run: at_most length, from_leaf: at_most length, within_jamb: flag, eased_below: flag, sill_edge: at_most length, sill_lip: at_most length}
#   reads: [leaf_at, jamb_depth]
#   parts:
#     lip: [side, measured, limit, excess]
#     nose: [side, measured, limit, eased]
#     slope: [side, rise, run, limit]
#     rise: [side, measured, limit, excess]
#     run: [side, measured, limit, excess]
#     leaf: [side, measured, limit, excess]
#     jamb: [side, measured, limit, excess]
#     mixture: [side, measured]
#     several: [side, measured]
#     sill: [side, measured, limit, excess]
#   parts_with: {slope: ramp, rise: ramp_rise, run: ramp_run, leaf: from_leaf, jamb: within_jamb, sill: sill_lip}
#   passing: [none]
#   found: {slope: "{rise} over {run} ({measured})"}
answer("lip-or-ramp", rule, facts) := [compare.missing("lip", rule.fact)] if not facts[rule.fact]

answer("lip-or-ramp", rule, facts) := array.concat(checks, unread) if {
	ways := facts[rule.fact].value
	limits := object.union(rule.limits, {"fact": rule.fact})
	checks := [check | some way in ways; some check in way_checks(way, limits, facts)]
	unread := [unread_way(rule.fact, way) | some way in ways; count(way.needs) > 0]

	# A limit that the rule lacks, or a way that lacks its climbs, must not drop out unseen.
	is_number(rule.limits.upright.at_most)
	is_number(rule.limits.eased.at_most)
	every way in ways {
		is_array(way.climbs)
		is_array(way.needs)
		count(way_checks(way, limits, facts)) > 0
	}
}

unread_way(name, way) := {
	"part": "lip", "state": "missing", "at": way.needs, "values": {"side": {"word": way.side}},
	"needs": [{"fact": object.get(way, "waits", name), "at": at} | some at in way.needs],
}

way_checks(way, _, _) := [{"part": "none", "state": "pass", "at": [], "values": {"side": {"word": way.side}}}] if way.climbs == []

way_checks(way, limits, _) := [weather_sill_climb(way.side, i, climb, limits) | some i, climb in way.climbs] if {
	limits.sill_lip
	way.climbs != []
}

way_checks(way, limits, facts) := array.concat(checks, several_climbs(way, limits)) if {
	not limits.sill_lip
	way.climbs != []
	each := [climb_checks(way.side, climb, limits, facts) | some climb in way.climbs]
	count(each) == count(way.climbs)
	checks := [check | some list in each; some check in list]
}

# No text says how far apart two lips must be to be taken each by itself.
several_climbs(way, _) := [] if count(way.climbs) == 1

several_climbs(way, limits) := [{
	"part": "several", "state": {true: "pass", false: "open"}[top <= limits.upright.at_most],
	"at": [at | some climb in way.climbs; some at in climb.at],
	"values": {"side": {"word": way.side}, "measured": {"length": top}},
}] if {
	count(way.climbs) > 1
	top := max([climb.top | some climb in way.climbs])
}

climb_checks(side, climb, limits, facts) := [climb_length("lip", side, climb, climb.rise, limits.upright)] if {
	climb.rise <= limits.upright.at_most
} else := climb_without_run(side, climb, limits) if {
	not is_number(climb.run)
} else := [climb_upright(side, climb, limits)] if {
	climb.run == 0
} else := [climb_length("lip", side, climb, climb.rise, limits.eased)] if {
	climb_sloped(climb)
	climb.rise <= limits.eased.at_most
} else := ramp_checks(side, climb, limits, facts) if {
	climb_sloped(climb)
	limits.ramp
	no_ramp(climb, limits) == 0
} else := mixed_climb(side, climb, limits, facts)

climb_sloped(climb) if {
	every piece in climb.pieces {
		piece.run > 0
	}
}

# What of a climb is no ramp: its upright parts, and slopes that are too steep for one.
no_ramp(climb, limits) := sum([piece.rise | some piece in climb.pieces; not as_ramp(piece, limits)])

as_ramp(piece, limits) if {
	piece.run > 0
	compare.gentle(piece.rise, piece.run, limits.ramp)
}

climb_upright(side, climb, limits) := climb_length("lip", side, climb, climb.rise, limits.eased) if {
	climb.rise > limits.eased.at_most
} else := {
	"part": "nose", "state": lip_nose_state(climb.pieces[count(climb.pieces) - 1]), "at": climb.at,
	"measured": {"length": climb.rise}, "limit": limits.upright, "comparator": "<=",
	"needs": [{"fact": limits.fact, "at": at} | some at in climb.at],
	"values": {"side": {"word": side}, "measured": {"length": climb.rise}, "limit": {"length": limits.upright.at_most}, "eased": {"length": limits.eased.at_most}},
}

lip_nose_state(piece) := "missing" if {
	not piece.nose
} else := "fail" if {
	piece.nose == "square"
} else := "pass" if piece.nose in {"bevelled", "rounded"}

# A part without a run may be upright or a slope; what stands upright beside it is too much or not by itself.
climb_without_run(side, climb, limits) := [climb_length("lip", side, climb, climb.rise, limits.eased)] if {
	not limits.ramp
	climb.rise > limits.eased.at_most
} else := [{
	"part": "lip", "state": "missing", "at": climb.at, "values": {"side": {"word": side}},
	"needs": [{"fact": limits.fact, "at": piece.at} | some piece in climb.pieces; not is_number(piece.run)],
}] if {
	no_ramp_known(climb, limits) <= limits.eased.at_most
} else := [climb_length("lip", side, climb, no_ramp_known(climb, limits), limits.eased)]

no_ramp_known(climb, limits) := sum([piece.rise | some piece in climb.pieces; is_number(piece.run); not as_ramp(piece, limits)])

# A part too much by itself settles it; else nobody says whether the parts may follow each other.
mixed_climb(side, climb, limits, _) := [climb_too_steep(side, climb, limits)] if {
	limits.ramp
	climb_sloped(climb)
	no_ramp(climb, limits) > limits.eased.at_most
} else := [climb_length("lip", side, climb, no_ramp(climb, limits), limits.eased)] if {
	no_ramp(climb, limits) > limits.eased.at_most
}

mixed_climb(side, climb, limits, facts) := array.concat(array.concat(noses, ramps), [climb_mixture(side, climb, limits)]) if {
	no_ramp(climb, limits) <= limits.eased.at_most
	noses := [climb_high_face(side, piece, limits) | some piece in climb.pieces; piece.run == 0; climb_upright_part(climb) > limits.upright.at_most]
	ramps := [check | limits.ramp; some check in ramp_checks(side, climb, limits, facts)]
}

climb_upright_part(climb) := sum([piece.rise | some piece in climb.pieces; piece.run == 0])

climb_high_face(side, piece, limits) := {
	"part": "nose", "state": lip_nose_state(piece), "at": [piece.at],
	"measured": {"length": piece.rise}, "limit": limits.upright, "comparator": "<=", "needs": [{"fact": limits.fact, "at": piece.at}],
	"values": {"side": {"word": side}, "measured": {"length": piece.rise}, "limit": {"length": limits.upright.at_most}, "eased": {"length": limits.eased.at_most}},
}

climb_mixture(side, climb, limits) := {
	"part": "mixture", "state": mixture_state(climb, limits), "at": climb.at,
	"values": {"side": {"word": side}, "measured": {"length": climb.rise}},
}

mixture_state(climb, limits) := "pass" if {
	limits.eased_below
	every i, piece in climb.pieces {
		lies_well(climb, i, piece, limits)
	}
} else := "open"

lies_well(_, _, piece, limits) if as_ramp(piece, limits)

lies_well(climb, i, piece, limits) if {
	below := array.slice(climb.pieces, 0, i)
	count([lower | some lower in below; as_ramp(lower, limits)]) == 0
	eased_piece(piece)
}

eased_piece(piece) if piece.run > 0

eased_piece(piece) if piece.nose in {"rounded", "bevelled"}

# The steepest part is the one that is told.
climb_too_steep(side, climb, limits) := {
	"part": "slope", "state": "fail", "at": [piece.at], "comparator": "<=",
	"measured": {"ratio": [piece.rise, piece.run]}, "limit": {"kind": "ratio", "ratio": [limits.ramp.rise, limits.ramp.run]},
	"values": {"side": {"word": side}, "rise": {"length": piece.rise}, "run": {"length": piece.run}, "limit": {"ratio": [limits.ramp.rise, limits.ramp.run]}},
} if {
	steep := [piece | some piece in climb.pieces; not as_ramp(piece, limits)]
	piece := steep[0]
}

ramp_checks(side, climb, limits, facts) := array.concat(
	[{
		"part": "slope", "state": "pass", "at": climb.at, "comparator": "<=",
		"measured": {"ratio": [climb.rise, climb.run]}, "limit": {"kind": "ratio", "ratio": [limits.ramp.rise, limits.ramp.run]},
		"values": {"side": {"word": side}, "rise": {"length": climb.rise}, "run": {"length": climb.run}, "limit": {"ratio": [limits.ramp.rise, limits.ramp.run]}},
	}],
	[check | some name in ["ramp_rise", "ramp_run", "from_leaf", "within_jamb"]; limits[name]; check := ramp_check(name, side, climb, limits, facts)],
)

ramp_check("ramp_rise", side, climb, limits, _) := climb_length("rise", side, climb, climb.rise, limits.ramp_rise)

ramp_check("ramp_run", side, climb, limits, _) := climb_length("run", side, climb, climb.run, limits.ramp_run)

ramp_check("from_leaf", side, climb, limits, _) := climb_length("leaf", side, climb, climb.from_leaf, limits.from_leaf) if {
	is_number(climb.from_leaf)
} else := {"part": "leaf", "state": "missing", "at": climb.at, "needs": [{"fact": "leaf_at"}], "values": {"side": {"word": side}}}

ramp_check("within_jamb", side, climb, _, facts) := climb_length("jamb", side, climb, climb.run, {"kind": "length", "at_most": facts.jamb_depth.value}) if {
	is_number(facts.jamb_depth.value)
} else := {"part": "jamb", "state": "missing", "at": climb.at, "needs": [{"fact": "jamb_depth"}], "values": {"side": {"word": side}}}

# The first climb leads onto the edge of the sill, unless that is flush and it is the lip within it already.
weather_sill_climb(side, i, climb, limits) := object.union(climb_length("sill", side, climb, climb.rise, limits.sill_lip), {"state": weather_sill_state(i, climb.rise, limits)})

weather_sill_state(i, rise, limits) := "open" if {
	i == 0
	rise > limits.sill_edge.at_most
	rise <= limits.sill_lip.at_most
} else := compare.at_most(rise, limits.sill_lip)

climb_length(part, side, climb, measured, limit) := {
	"part": part, "state": compare.at_most(measured, limit), "at": climb.at,
	"measured": {"length": measured}, "limit": limit, "comparator": "<=",
	"values": {"side": {"word": side}, "measured": {"length": measured}, "limit": {"length": limit.at_most}, "excess": {"length": measured - limit.at_most}},
}
