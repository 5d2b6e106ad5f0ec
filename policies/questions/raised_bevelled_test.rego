package sillwright.questions_test

import data.sillwright.questions

# British Columbia Building Code 2024, 3.8.3.6.(5): at most 13 mm, "and shall be beveled", without an angle; a neighbouring
# clause has bevels begin above 6 mm. Millimetres stand for lengths.
bevel_limits := {"height": {"kind": "length", "at_most": 13}}

lip_6 := {"lip": {"kind": "length", "at_most": 6}}

# Dubai Universal Design Code 7.10: "bevelled down to a height of 10 mm".
upright_10 := {"upright": {"kind": "length", "at_most": 10}}

steep_45 := {"steep": {"kind": "ratio", "rise": 1, "run": 1}}

bevel_checks(parts, more) := questions.answer("raised-bevelled", {"limits": object.union(bevel_limits, more)}, level([built(parts)]))

bevel_states(parts, more) := [[check.part, check.state] | some check in bevel_checks(parts, more)]

bevel_answer(side, more) := questions.answer("raised-bevelled", {"limits": object.union(bevel_limits, more)}, level([side]))

bevel_of(side, more) := [[check.part, check.state] | some check in bevel_answer(side, more)]

test_pass_raised_by_a_bevel_whole_result if {
	bevel_checks([[13, 26]], {}) == [
		{
			"part": "height", "state": "pass", "at": ["/top"], "measured": {"length": 13}, "limit": bevel_limits.height, "comparator": "<=",
			"values": {"side": {"word": "outer"}, "measured": {"length": 13}, "limit": {"length": 13}, "excess": {"length": 0}},
		},
		{
			"part": "bevel", "state": "pass", "at": [], "needs": [],
			"values": {"side": {"word": "outer"}, "upright": {"length": 0}, "top": {"length": 0}},
		},
	]
}

test_pass_raised_not_at_all if {
	[[check.part, check.state] | some check in questions.answer("raised-bevelled", {"limits": bevel_limits}, level([flush, flush]))] == [
		["height", "pass"], ["height", "pass"],
		["bevel", "pass"], ["bevel", "pass"],
	]
}

test_pass_raised_by_a_bevel_of_any_slope if bevel_states([[13, 1]], {}) == [["height", "pass"], ["bevel", "pass"]]

test_fail_raised_higher_than_its_limit if bevel_states([[14, 28]], {}) == [["height", "fail"], ["bevel", "pass"]]

test_fail_raised_by_an_upright_face_alone if {
	checks := bevel_checks([[4, 0], [6, 0]], {})
	[[check.part, check.state] | some check in checks] == [["height", "pass"], ["bevel", "fail"]]
	checks[1].at == ["/0", "/1"]
	checks[1].values == {"side": {"word": "outer"}, "upright": {"length": 10}, "top": {"length": 10}}
}

test_unknown_raised_part_upright_part_bevelled if {
	every parts in [[[6, 0], [7, 14]], [[6, 12], [7, 0]], [[1, 0], [12, 24]]] {
		bevel_states(parts, {}) == [["height", "pass"], ["bevel", "open"]]
		bevel_states(parts, lip_6) == [["height", "pass"], ["bevel", "open"]]
	}
}

test_unknown_raised_by_a_face_with_an_edge_taken_off if {
	every nose in ["bevelled", "rounded"] {
		side := {"side": "outer", "at": ["/0"], "needs": [], "height": 10, "rising": [{"at": "/0", "rise": 10, "run": 0, "above_floor": 10, "above_low": 10, "nose": nose}]}
		bevel_of(side, {})[1] == ["bevel", "open"]
	}
	side := {"side": "outer", "at": ["/0"], "needs": [], "height": 10, "rising": [{"at": "/0", "rise": 10, "run": 0, "above_floor": 10, "above_low": 10, "nose": "square"}]}
	bevel_of(side, {})[1] == ["bevel", "fail"]
}

test_unknown_raised_by_a_lip_below_where_the_neighbouring_clause_starts if {
	bevel_states([[6, 0]], lip_6)[1] == ["bevel", "open"]
	bevel_states([[3, 0], [3, 0]], lip_6)[1] == ["bevel", "open"]
}

test_fail_raised_by_a_lip_above_where_the_neighbouring_clause_starts if {
	bevel_states([[7, 0]], lip_6)[1] == ["bevel", "fail"]
	bevel_states([[6, 0], [1, 0]], lip_6)[1] == ["bevel", "fail"]
}

test_pass_raised_by_a_face_no_higher_than_may_be_upright if {
	bevel_states([[10, 0]], upright_10)[1] == ["bevel", "pass"]
	bevel_states([[10, 0], [3, 6]], upright_10)[1] == ["bevel", "pass"]
	bevel_states([[10, null], [3, 6]], upright_10)[1] == ["bevel", "pass"]
}

test_fail_raised_by_a_face_higher_than_may_be_upright if {
	bevel_states([[11, 0]], upright_10)[1] == ["bevel", "fail"]
	bevel_states([[11, 0], [2, 4]], upright_10)[1] == ["bevel", "fail"]
	bevel_states([[10, 20], [3, 0]], upright_10)[1] == ["bevel", "fail"]
}

test_unknown_raised_by_a_face_that_leans if {
	checks := bevel_checks([[6, 6], [7, 5]], steep_45)
	[[check.part, check.state] | some check in checks] == [["height", "pass"], ["bevel", "pass"], ["steep", "pass"], ["steep", "open"]]
	checks[3] == {
		"part": "steep", "state": "open", "at": ["/1"], "measured": {"ratio": [7, 5]}, "limit": {"kind": "ratio", "ratio": [1, 1]}, "comparator": "<=",
		"values": {"side": {"word": "outer"}, "rise": {"length": 7}, "run": {"length": 5}, "limit": {"ratio": [1, 1]}},
	}
}

test_pass_raised_by_a_face_that_leans_where_it_may_be_upright if {
	bevel_states([[10, 5], [3, 6]], object.union(steep_45, upright_10)) == [["height", "pass"], ["bevel", "pass"], ["steep", "pass"]]
}

test_pass_climb_out_of_a_dip_is_not_raised if {
	every rise_to in [0, -2] {
		side := {"side": "outer", "at": [], "needs": [], "height": 0, "rising": [{"at": "/1", "rise": 8, "run": 0, "above_floor": rise_to, "above_low": 8}]}
		bevel_of(side, steep_45) == [["height", "pass"], ["bevel", "pass"]]
	}
}

test_fail_climb_out_of_a_dip_above_the_floor_is_raised if {
	side := {"side": "outer", "at": [], "needs": [], "height": 1, "rising": [{"at": "/1", "rise": 8, "run": 0, "above_floor": 1, "above_low": 8}]}
	bevel_of(side, {}) == [["height", "pass"], ["bevel", "fail"]]
}

test_fail_raised_on_one_side_is_enough if {
	checks := questions.answer("raised-bevelled", {"limits": bevel_limits}, level([flush, built([[10, 0]])]))
	[[check.part, check.state] | some check in checks] == [["height", "pass"], ["height", "pass"], ["bevel", "pass"], ["bevel", "fail"]]
}

test_unknown_raised_over_a_run_that_nobody_measured if {
	checks := bevel_checks([[6, null], [7, 14]], {})
	[[check.part, check.state] | some check in checks] == [["height", "pass"], ["bevel", "missing"]]
	checks[1].needs == [{"fact": "profile", "at": "/0"}]
	bevel_states([[6, null], [7, 0]], lip_6)[1] == ["bevel", "missing"]
	bevel_states([[6, "12"]], steep_45) == [["height", "pass"], ["bevel", "missing"]]
}

test_unknown_raised_part_upright_whatever_was_not_measured if bevel_states([[6, null], [3, 0], [4, 8]], {})[1] == ["bevel", "open"]

test_unknown_raised_by_a_rise_that_nobody_measured if {
	side := {"side": "outer", "at": [], "needs": ["/1"], "least": 10, "height": null, "rising": [{"at": "/0", "rise": 10, "run": 0, "above_floor": 10, "above_low": 10}]}
	checks := questions.answer("raised-bevelled", {"limits": bevel_limits}, level([side]))
	[[check.part, check.state] | some check in checks] == [["height", "missing"], ["bevel", "missing"]]
	checks[1].needs == [{"fact": "profile", "at": "/1"}]
	waiting := questions.answer("raised-bevelled", {"limits": bevel_limits}, level([object.union(side, {"waits": "floor_finish"})]))
	waiting[1].needs == [{"fact": "floor_finish", "at": "/1"}]
}

test_unknown_raised_without_a_profile if {
	questions.answer("raised-bevelled", {"limits": bevel_limits}, {}) == [{"part": "height", "state": "missing", "at": [], "needs": [{"fact": "profile"}]}]
}

test_fail_raised_without_a_limit_gives_no_answer if {
	not questions.answer("raised-bevelled", {"limits": {}}, level([built([[10, 20]])]))
	not questions.answer("raised-bevelled", {"limits": lip_6}, level([flush]))
}

test_fail_raised_segment_of_the_wrong_shape_gives_no_answer if {
	good := {"at": "/0", "rise": 1, "run": 0, "above_floor": 1, "above_low": 1}
	every wrong in [{"above_floor": "1"}, {"above_floor": null}, {"rise": "abc"}, {"rise": null}] {
		not bevel_answer({"side": "outer", "at": [], "needs": [], "height": 1, "rising": [object.union(good, wrong)]}, {})
	}
	every rising in ["abc", 5, null, {}] {
		not bevel_answer({"side": "outer", "at": [], "needs": [], "height": 1, "rising": rising}, {})
	}
}
