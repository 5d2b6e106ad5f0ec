package sillwright.questions_test

import data.sillwright.questions

# AS 1428.1, with millimetres for lengths: 3 mm upright, 5 mm eased, ramps of 35 mm over 280 mm, 1:8, within 20 mm of the leaf.
lr_lip := {"upright": {"kind": "length", "at_most": 3}, "eased": {"kind": "length", "at_most": 5}}

lr_ramp := object.union(lr_lip, {
	"ramp": {"kind": "ratio", "rise": 1, "run": 8}, "ramp_rise": {"kind": "length", "at_most": 35},
	"ramp_run": {"kind": "length", "at_most": 280}, "from_leaf": {"kind": "length", "at_most": 20},
})

# The edge of a carpet: eased, and above that 1:8 to a total of 10 mm.
lr_edge := object.union(lr_lip, {"ramp": {"kind": "ratio", "rise": 1, "run": 8}, "ramp_rise": {"kind": "length", "at_most": 10}, "eased_below": true})

lr_jamb := object.union(lr_lip, {"ramp": {"kind": "ratio", "rise": 1, "run": 8}, "within_jamb": true})

lr_sill := object.union(lr_lip, {"sill_edge": {"kind": "length", "at_most": 5}, "sill_lip": {"kind": "length", "at_most": 15}})

# A climb of pieces [rise, run, nose], the leaf so far from it; a run of -1 is not known, and neither is a place of -1.
climbing(pieces, leaf) := object.union(
	{
		"at": [lr_places[i] | some i, _ in pieces], "rise": sum([p[0] | some p in pieces]), "top": sum([p[0] | some p in pieces]),
		"run": lr_run_sum(pieces), "pieces": [a_piece(i, p) | some i, p in pieces],
	},
	{"from_leaf": l | some l in [leaf]; l != -1},
)

lr_places := ["/0", "/1", "/2"]

lr_run_sum(pieces) := null if {
	some p in pieces
	p[1] == -1
} else := sum([p[1] | some p in pieces])

a_piece(i, p) := object.union({"at": lr_places[i], "rise": p[0], "run": known_run(p[1])}, {"nose": n | some n in [p[2]]; n != ""})

known_run(-1) := null

known_run(run) := run if run != -1

lr_way(climbs) := {"climbs": {"value": [{"side": "outer", "needs": [], "climbs": climbs}], "at": []}}

lr(limits, climbs) := questions.answer("lip-or-ramp", {"fact": "climbs", "limits": limits}, lr_way(climbs))

lr_states(limits, climbs) := [[check.part, check.state] | some check in lr(limits, climbs)]

one_climb(limits, pieces) := lr_states(limits, [climbing(pieces, 0)])

test_unknown_lip_without_a_threshold if {
	questions.answer("lip-or-ramp", {"fact": "climbs", "limits": lr_lip}, {}) == [{"part": "lip", "state": "missing", "at": [], "needs": [{"fact": "climbs"}]}]
}

test_unknown_lip_of_a_rise_that_nobody_knows if {
	facts := {"climbs": {"value": [{"side": "outer", "needs": ["/1"], "climbs": [], "waits": "floor_finish"}, {"side": "inner", "needs": ["/1"], "climbs": []}], "at": []}}
	answer := questions.answer("lip-or-ramp", {"fact": "climbs", "limits": lr_lip}, facts)
	[[check.part, check.state] | some check in answer] == [["none", "pass"], ["none", "pass"], ["lip", "missing"], ["lip", "missing"]]
	answer[2].needs == [{"fact": "floor_finish", "at": "/1"}]
	answer[3].needs == [{"fact": "climbs", "at": "/1"}]
}

test_pass_flush if lr_states(lr_ramp, []) == [["none", "pass"]]

test_pass_upright_lip_whole_result if {
	lr(lr_lip, [climbing([[3, 0, "square"]], 0)]) == [{
		"part": "lip", "state": "pass", "at": ["/0"], "measured": {"length": 3}, "limit": lr_lip.upright, "comparator": "<=",
		"values": {"side": {"word": "outer"}, "measured": {"length": 3}, "limit": {"length": 3}, "excess": {"length": 0}},
	}]
}

test_pass_eased_lip if {
	every pieces in [[[5, 0, "rounded"]], [[5, 0, "bevelled"]], [[2, 0, "square"], [3, 0, "rounded"]]] {
		one_climb(lr_ramp, pieces) == [["nose", "pass"]]
	}
}

test_pass_lip_that_is_one_slope if {
	one_climb(lr_ramp, [[5, 5, ""]]) == [["lip", "pass"]]
	one_climb(lr_lip, [[5, 1, ""]]) == [["lip", "pass"]]
}

test_fail_square_lip_between_the_limits if {
	lr(lr_lip, [climbing([[4, 0, "square"]], 0)]) == [{
		"part": "nose", "state": "fail", "at": ["/0"], "measured": {"length": 4}, "limit": lr_lip.upright, "comparator": "<=",
		"needs": [{"fact": "climbs", "at": "/0"}],
		"values": {"side": {"word": "outer"}, "measured": {"length": 4}, "limit": {"length": 3}, "eased": {"length": 5}},
	}]
}

test_unknown_lip_whose_edge_nobody_looked_at if one_climb(lr_lip, [[4, 0, ""]]) == [["nose", "missing"]]

test_fail_lip_that_is_too_high_however_eased if {
	one_climb(lr_ramp, [[6, 0, "rounded"]]) == [["lip", "fail"]]
	one_climb(lr_lip, [[6, 60, ""]]) == [["lip", "fail"]]
}

test_pass_ramp_whole_result if {
	checks := lr(lr_ramp, [climbing([[35, 280, ""]], 20)])
	[[check.part, check.state] | some check in checks] == [["slope", "pass"], ["rise", "pass"], ["run", "pass"], ["leaf", "pass"]]
	checks[0].measured == {"ratio": [35, 280]}
	checks[0].limit == {"kind": "ratio", "ratio": [1, 8]}
	checks[3].measured == {"length": 20}
}

test_fail_ramp_that_is_too_high if one_climb(lr_ramp, [[36, 288, ""]]) == [["slope", "pass"], ["rise", "fail"], ["run", "fail"], ["leaf", "pass"]]

test_fail_ramp_that_is_too_long if one_climb(lr_ramp, [[20, 300, ""]]) == [["slope", "pass"], ["rise", "pass"], ["run", "fail"], ["leaf", "pass"]]

test_fail_ramp_too_far_from_the_leaf if lr_states(lr_ramp, [climbing([[20, 160, ""]], 21)]) == [["slope", "pass"], ["rise", "pass"], ["run", "pass"], ["leaf", "fail"]]

test_unknown_ramp_of_a_leaf_that_nobody_placed if {
	checks := lr(lr_ramp, [climbing([[20, 160, ""]], -1)])
	checks[3] == {"part": "leaf", "state": "missing", "at": ["/0"], "needs": [{"fact": "leaf_at"}], "values": {"side": {"word": "outer"}}}
}

test_fail_ramp_that_is_too_steep if {
	checks := lr(lr_ramp, [climbing([[35, 250, ""]], 0)])
	[[check.part, check.state] | some check in checks] == [["slope", "fail"]]
	checks[0].values == {"side": {"word": "outer"}, "rise": {"length": 35}, "run": {"length": 250}, "limit": {"ratio": [1, 8]}}
	one_climb(lr_ramp, [[4, 8, ""], [4, 8, ""]]) == [["slope", "fail"]]
}

test_unknown_mixture if {
	one_climb(lr_lip, [[2, 0, "square"], [3, 6, ""]]) == [["mixture", "open"]]
	one_climb(lr_ramp, [[3, 0, "square"], [7, 56, ""]]) == [["slope", "pass"], ["rise", "pass"], ["run", "pass"], ["leaf", "pass"], ["mixture", "open"]]
	one_climb(lr_ramp, [[5, 10, ""], [20, 160, ""]]) == [["slope", "pass"], ["rise", "pass"], ["run", "pass"], ["leaf", "pass"], ["mixture", "open"]]
}

test_unknown_mixture_with_a_high_face_that_is_eased_or_not_looked_at if {
	states := [["slope", "pass"], ["rise", "pass"], ["run", "pass"], ["leaf", "pass"], ["mixture", "open"]]
	one_climb(lr_ramp, [[4, 0, "rounded"], [8, 64, ""]]) == array.concat([["nose", "pass"]], states)
	one_climb(lr_ramp, [[4, 0, ""], [8, 64, ""]]) == array.concat([["nose", "missing"]], states)
}

test_fail_mixture_with_a_part_that_is_too_much if {
	one_climb(lr_ramp, [[4, 0, "square"], [8, 64, ""]])[0] == ["nose", "fail"]
	one_climb(lr_ramp, [[6, 0, "rounded"], [8, 64, ""]]) == [["lip", "fail"]]
	one_climb(lr_lip, [[3, 0, "square"], [3, 6, ""]]) == [["lip", "fail"]]
	one_climb(lr_ramp, [[3, 0, "square"], [34, 280, ""]])[1] == ["rise", "fail"]
}

test_unknown_part_without_a_run if {
	one_climb(lr_ramp, [[4, -1, ""]]) == [["lip", "missing"]]
	one_climb(lr_lip, [[4, -1, ""]]) == [["lip", "missing"]]
	lr(lr_ramp, [climbing([[40, -1, ""]], 0)])[0].needs == [{"fact": "climbs", "at": "/0"}]
}

test_pass_part_without_a_run_that_is_low if one_climb(lr_ramp, [[3, -1, ""]]) == [["lip", "pass"]]

test_fail_beside_a_part_without_a_run if {
	one_climb(lr_lip, [[6, -1, ""]]) == [["lip", "fail"]]
	one_climb(lr_ramp, [[6, 0, "rounded"], [2, -1, ""]]) == [["lip", "fail"]]
}

test_pass_several_lips_within_the_upright_limit if {
	lr_states(lr_lip, [climbing([[1, 0, ""]], 0), object.union(climbing([[2, 0, ""]], 0), {"top": 3})]) == [["lip", "pass"], ["lip", "pass"], ["several", "pass"]]
}

test_unknown_several_lips if {
	lr_states(lr_lip, [climbing([[3, 0, ""]], 0), object.union(climbing([[3, 0, ""]], 0), {"top": 6})]) == [["lip", "pass"], ["lip", "pass"], ["several", "open"]]
}

test_pass_carpet_edge_of_a_ramp_above_an_eased_lip if {
	one_climb(lr_edge, [[5, 0, "rounded"], [5, 40, ""]]) == [["nose", "pass"], ["slope", "pass"], ["rise", "pass"], ["mixture", "pass"]]
	one_climb(lr_edge, [[5, 10, ""], [5, 40, ""]]) == [["slope", "pass"], ["rise", "pass"], ["mixture", "pass"]]
}

test_unknown_carpet_edge_of_a_ramp_above_an_upright_lip_or_below_an_eased_one if {
	one_climb(lr_edge, [[3, 0, "square"], [7, 56, ""]]) == [["slope", "pass"], ["rise", "pass"], ["mixture", "open"]]
	one_climb(lr_edge, [[5, 40, ""], [5, 0, "rounded"]]) == [["nose", "pass"], ["slope", "pass"], ["rise", "pass"], ["mixture", "open"]]
}

lr_in_jamb(facts) := [[check.part, check.state] | some check in questions.answer("lip-or-ramp", {"fact": "climbs", "limits": lr_jamb}, object.union(lr_way([climbing([[10, 80, ""]], 0)]), facts))]

test_pass_ramp_within_the_jamb if lr_in_jamb({"jamb_depth": {"value": 80, "at": []}}) == [["slope", "pass"], ["jamb", "pass"]]

test_fail_ramp_deeper_than_the_jamb if lr_in_jamb({"jamb_depth": {"value": 79, "at": []}}) == [["slope", "pass"], ["jamb", "fail"]]

test_unknown_ramp_in_a_jamb_that_nobody_measured if lr_in_jamb({}) == [["slope", "pass"], ["jamb", "missing"]]

test_pass_weather_sill if lr_states(lr_sill, [climbing([[5, 0, ""]], 0), climbing([[15, 0, ""]], 0)]) == [["sill", "pass"], ["sill", "pass"]]

test_unknown_weather_sill_whose_lip_stands_at_its_edge_or_within_it if {
	lr_states(lr_sill, [climbing([[6, 0, ""]], 0)]) == [["sill", "open"]]
	lr_states(lr_sill, [climbing([[15, 0, ""]], 0)]) == [["sill", "open"]]
}

test_fail_weather_sill if {
	lr_states(lr_sill, [climbing([[16, 0, ""]], 0)]) == [["sill", "fail"]]
	lr_states(lr_sill, [climbing([[5, 0, ""]], 0), climbing([[16, 0, ""]], 0)]) == [["sill", "pass"], ["sill", "fail"]]
}

test_pass_flush_weather_sill if lr_states(lr_sill, []) == [["none", "pass"]]
