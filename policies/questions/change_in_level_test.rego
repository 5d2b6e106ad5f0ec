package sillwright.questions_test

import data.sillwright.questions

# 2010 ADA Standards 404.2.5, 303.2 and 303.3: 1/2 in (13 mm) high, 1/4 in (6.4 mm) of it upright, the rest 1:2.
level_limits := {
	"height": {"kind": "length", "at_most": 12700000, "printed": 13000000},
	"upright": {"kind": "length", "at_most": 6350000, "printed": 6400000},
	"slope": {"kind": "ratio", "rise": 1, "run": 2},
}

level_rule := {"limits": level_limits}

level(sides) := {"profile": {"value": sides, "at": ["/threshold"]}}

# A side whose segments stand one on the other, each [rise, run] with run null where it is not known.
built(parts) := {
	"side": "outer", "at": ["/top"], "needs": [],
	"height": sum([part[0] | some part in parts]),
	"rising": [segment |
		some i, part in parts
		top := sum([parts[j][0] | some j, _ in parts; j <= i])
		segment := {"at": ["/0", "/1", "/2"][i], "rise": part[0], "run": part[1], "above_floor": top, "above_low": top}
	],
}

flush := {"side": "inner", "at": [], "needs": [], "height": 0, "rising": []}

answered(parts) := questions.answer("change-in-level", level_rule, level([built(parts)]))

# The part and state of every check: the height first, then each segment.
seen(parts) := [[check.part, check.state] | some check in answered(parts)]

test_pass_level_half_upright_half_bevelled_whole_result if {
	answered([[6350000, 0], [6350000, 12700000]]) == [
		{
			"part": "height", "state": "pass", "at": ["/top"],
			"measured": {"length": 12700000}, "limit": level_limits.height, "comparator": "<=",
			"values": {"side": {"word": "outer"}, "measured": {"length": 12700000}, "limit": {"length": 12700000}, "excess": {"length": 0}},
		},
		{
			"part": "upright", "state": "pass", "at": ["/0"],
			"measured": {"length": 6350000}, "limit": level_limits.upright, "comparator": "<=",
			"values": {
				"side": {"word": "outer"}, "top": {"length": 6350000}, "rise": {"length": 6350000},
				"limit": {"length": 6350000}, "least_run": {"length": 12700000}, "slope": {"ratio": [1, 2]},
			},
		},
		{
			"part": "slope", "state": "pass", "at": ["/1"],
			"measured": {"ratio": [6350000, 12700000]}, "limit": {"kind": "ratio", "ratio": [1, 2]}, "comparator": "<=",
			"values": {
				"side": {"word": "outer"}, "rise": {"length": 6350000}, "run": {"length": 12700000},
				"limit": {"ratio": [1, 2]}, "least_run": {"length": 12700000},
			},
		},
	]
}

test_pass_level_floor if {
	[[check.part, check.state] | some check in questions.answer("change-in-level", level_rule, level([flush, flush]))] == [["height", "pass"], ["height", "pass"]]
}

test_fail_level_bevel_one_nanometre_too_short if {
	seen([[6350000, 0], [6350000, 12699999]]) == [["height", "pass"], ["upright", "pass"], ["slope", "fail"]]
}

test_unknown_level_height_one_nanometre_above_the_inch if {
	seen([[6350000, 0], [6350001, 12700002]]) == [["height", "open"], ["upright", "pass"], ["slope", "pass"]]
}

test_unknown_level_height_at_the_printed_rounding if {
	seen([[6350000, 0], [6650000, 13300000]]) == [["height", "open"], ["upright", "pass"], ["slope", "pass"]]
}

test_fail_level_height_one_nanometre_above_the_printed_rounding if {
	seen([[6350000, 0], [6650001, 13300002]]) == [["height", "fail"], ["upright", "pass"], ["slope", "pass"]]
}

test_pass_level_upright_at_a_quarter_inch if seen([[6350000, 0]]) == [["height", "pass"], ["upright", "pass"]]

test_unknown_level_upright_one_nanometre_above_a_quarter_inch if seen([[6350001, 0]]) == [["height", "pass"], ["upright", "open"]]

test_unknown_level_upright_at_the_printed_rounding if seen([[6400000, 0]]) == [["height", "pass"], ["upright", "open"]]

test_fail_level_upright_one_nanometre_above_the_printed_rounding if seen([[6400001, 0]]) == [["height", "pass"], ["upright", "fail"]]

test_pass_level_steep_below_a_quarter_inch if seen([[6350000, 1000000]]) == [["height", "pass"], ["slope", "pass"]]

test_fail_level_lip_on_top_of_a_bevel if seen([[6300000, 12600000], [6400000, 0]]) == [["height", "pass"], ["slope", "pass"], ["upright", "fail"]]

test_fail_level_second_lip_on_the_first if seen([[6000000, 0], [6000000, 0]]) == [["height", "pass"], ["upright", "pass"], ["upright", "fail"]]

# The far wall of a channel tops out low above the floor, yet high above its own foot.
test_fail_level_wall_of_a_channel if {
	side := {"side": "outer", "at": ["/2"], "needs": [], "height": 2000000, "rising": [{"at": "/2", "rise": 12000000, "run": 0, "above_floor": 2000000, "above_low": 12000000}]}
	checks := questions.answer("change-in-level", level_rule, level([side]))
	[[check.part, check.state] | some check in checks] == [["height", "pass"], ["upright", "fail"], ["climb", "pass"]]
	checks[1].measured == {"length": 12000000}
}

# 2010 ADA Standards 303.4: a change in level above 1/2 in is a ramp, which begins at 1:12 (405.2).
sunken(rise, run) := [[check.part, check.state] |
	side := {"side": "outer", "at": [], "needs": [], "height": 0, "rising": [{"at": "/2", "rise": rise, "run": run, "above_floor": 0, "above_low": rise}]}
	limits := object.union(level_rule.limits, {"ramp": {"kind": "ratio", "rise": 1, "run": 12}})
	some check in questions.answer("change-in-level", {"limits": limits}, level([side]))
]

test_pass_level_out_of_a_dip_of_half_an_inch if sunken(12700000, 25400000) == [["height", "pass"], ["slope", "pass"], ["climb", "pass"]]

test_unknown_level_out_of_a_dip_within_the_rounding if sunken(12700001, 25400002) == [["height", "pass"], ["slope", "pass"], ["climb", "open"]]

test_fail_level_out_of_a_deep_dip if sunken(50000000, 100000000) == [["height", "pass"], ["slope", "pass"], ["climb", "fail"]]

test_fail_level_out_of_a_deep_dip_just_steeper_than_a_ramp if sunken(50000000, 599999999) == [["height", "pass"], ["slope", "pass"], ["climb", "fail"]]

test_unknown_level_out_of_a_deep_dip_of_unknown_run if sunken(50000000, null) == [["height", "pass"], ["slope", "missing"], ["climb", "missing"]]

test_unknown_level_out_of_a_deep_dip_by_a_ramp if sunken(50000000, 600000000) == [["height", "pass"], ["slope", "pass"], ["climb", "open"]]

test_fail_level_small_step_high_above_the_floor if {
	side := {"side": "outer", "at": ["/2"], "needs": [], "height": 9000000, "rising": [{"at": "/2", "rise": 3000000, "run": 0, "above_floor": 9000000, "above_low": 3000000}]}
	[check.state | some check in questions.answer("change-in-level", level_rule, level([side]))] == ["pass", "fail"]
}

test_fail_level_the_worse_side_is_enough if {
	checks := questions.answer("change-in-level", level_rule, level([flush, built([[13000001, 26000002]])]))
	[check.state | some check in checks] == ["pass", "fail", "pass"]
}

# 2/3 of 10 nm is 6.67 nm: rounded up, never down.
test_pass_level_least_run_is_rounded_up if {
	rule := {"limits": object.union(level_limits, {"slope": {"kind": "ratio", "rise": 3, "run": 2}})}
	checks := questions.answer("change-in-level", rule, level([built([[10, 7]])]))
	checks[1].values.least_run == {"length": 7}
}

test_pass_level_bevel_on_each_side if {
	rule := {"limits": object.union(level_limits, {"bevel_each_side": true})}
	checks := questions.answer("change-in-level", rule, level([built([[6350000, 0], [6350000, 12700000]])]))
	checks[3] == {"part": "each-side", "state": "pass", "at": ["/top"], "values": {"side": {"word": "outer"}}}
}

test_unknown_level_side_without_a_gentle_bevel if {
	rule := {"limits": object.union(level_limits, {"bevel_each_side": true})}
	every parts in [[[6350000, 0]], [[6350000, 12699999]]] {
		checks := questions.answer("change-in-level", rule, level([built(parts)]))
		checks[2] == {"part": "each-side", "state": "open", "at": ["/top"], "values": {"side": {"word": "outer"}}}
	}
	checks := questions.answer("change-in-level", rule, level([flush]))
	checks[1] == {"part": "each-side", "state": "open", "at": [], "values": {"side": {"word": "inner"}}}
}

test_unknown_level_missing_fact if {
	questions.answer("change-in-level", level_rule, {}) == [{"part": "height", "state": "missing", "at": [], "needs": [{"fact": "profile"}]}]
}

test_unknown_level_rise_that_is_not_known if {
	side := {"side": "outer", "at": [], "needs": ["/threshold/segments/1"], "height": null, "rising": []}
	questions.answer("change-in-level", level_rule, level([side])) == [{
		"part": "height", "state": "missing", "at": ["/threshold/segments/1"], "values": {"side": {"word": "outer"}},
		"needs": [{"fact": "profile", "at": "/threshold/segments/1"}],
	}]
}

test_unknown_level_run_that_is_not_known_above_a_quarter_inch if {
	answered([[6350000, 0], [1, null]])[2] == {
		"part": "slope", "state": "missing", "at": ["/1"], "needs": [{"fact": "profile", "at": "/1"}],
		"values": {"side": {"word": "outer"}},
	}
}

test_pass_level_run_that_is_not_known_below_a_quarter_inch if seen([[6350000, null]]) == [["height", "pass"], ["slope", "pass"]]

test_unknown_level_text_for_a_height_or_a_run if {
	side := {"side": "outer", "at": [], "needs": [], "height": "12", "rising": []}
	[check.state | some check in questions.answer("change-in-level", level_rule, level([side]))] == ["missing"]
	seen([[6350000, 0], [6350000, "12700000"]]) == [["height", "pass"], ["upright", "pass"], ["slope", "missing"]]
}

test_fail_level_segments_that_are_no_list_give_no_answer if {
	side := {"side": "outer", "at": [], "needs": [], "height": 5}
	every rising in ["abc", "", 5, null, {}] {
		not questions.answer("change-in-level", level_rule, level([object.union(side, {"rising": rising})]))
	}
	not questions.answer("change-in-level", level_rule, level([side]))
}

test_fail_level_segment_of_the_wrong_shape_gives_no_answer if {
	good := {"at": "/0", "rise": 1, "run": 0, "above_floor": 1, "above_low": 1}
	every wrong in [{"above_floor": "1"}, {"above_low": "1"}, {"above_floor": null}, {"rise": "abc"}] {
		side := {"side": "outer", "at": [], "needs": [], "height": 1, "rising": [object.union(good, wrong)]}
		not questions.answer("change-in-level", level_rule, level([side]))
	}
	every key in ["at", "rise", "above_floor", "above_low"] {
		lacking := {name: value | some name, value in good; name != key}
		side := {"side": "outer", "at": [], "needs": [], "height": 1, "rising": [lacking]}
		not questions.answer("change-in-level", level_rule, level([side]))
	}
}

test_fail_level_profile_of_the_wrong_shape_gives_no_checks if {
	every sides in ["abc", 5, true, null] {
		checks := [check | some check in questions.answer("change-in-level", level_rule, level(sides))]
		checks == []
	}
}

# A limit that is not there, or misspelt, must not let its part through.
test_fail_level_without_one_of_its_limits_gives_no_answer if {
	every name in ["height", "upright", "slope"] {
		rule := {"limits": {key: limit | some key, limit in level_limits; key != name}}
		not questions.answer("change-in-level", rule, level([built([[100000000, 0]])]))
		not questions.answer("change-in-level", rule, level([flush]))
	}
}
