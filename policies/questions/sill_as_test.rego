package sillwright.questions_test

import data.sillwright.questions

# DB SUA, SUA 1, 2.1: joints 4 mm; small elements 12 mm, above 6 mm no steeper than 45 degrees; differences up to 5 cm at 25 %. 4.3.1:
# ramps 12 %. Millimetres stand for lengths.
sua := {
	"joint": {"kind": "length", "at_most": 4}, "element": {"kind": "length", "at_most": 12}, "plain": {"kind": "length", "at_most": 6},
	"face": {"kind": "ratio", "rise": 1, "run": 1}, "level": {"kind": "length", "at_most": 50}, "slope": {"kind": "ratio", "rise": 1, "run": 4},
	"ramp": {"kind": "ratio", "rise": 12, "run": 100},
}

# Parts [rise, run], one after the other.
sua_side(parts) := {
	"side": "outer", "at": ["/top"], "needs": [], "height": climbed(parts, count(parts)), "least": climbed(parts, count(parts)),
	"rising": [{"at": ["/0", "/1", "/2"][i], "rise": p[0], "run": p[1], "above_floor": climbed(parts, i + 1), "above_low": climbed(parts, i + 1)} | some i, p in parts],
}

climbed(parts, n) := sum([p[0] | some p in array.slice(parts, 0, n)])

sua_as(reading, limits, sides) := questions.answer("sill-as", {"limits": limits}, object.union(level(sides), {"threshold_as": {"value": reading, "at": ["/as"]}}))

sua_states(reading, parts) := [[check.part, check.state] | some check in sua_as(reading, sua, [sua_side(parts)])]

sua_unsaid(parts) := [[check.part, check.state] | some check in questions.answer("sill-as", {"limits": sua}, level([sua_side(parts)]))]

test_pass_joint_of_4 if sua_states("joint", [[4, 0]]) == [["joint", "pass"]]

test_fail_joint_of_5_whole_result if {
	sua_as("joint", sua, [sua_side([[5, 0]])]) == [{
		"part": "joint", "state": "fail", "at": ["/top"], "measured": {"length": 5}, "limit": sua.joint, "comparator": "<=", "needs": [],
		"values": {"side": {"word": "outer"}, "measured": {"length": 5}, "limit": {"length": 4}, "excess": {"length": 1}},
	}]
}

test_fail_joint_of_5_out_of_a_dip if {
	side := object.union(sua_side([]), {"rising": [{"at": "/1", "rise": 5, "run": 0, "above_floor": 0, "above_low": 5}]})
	[check.state | some check in sua_as("joint", sua, [side])] == ["fail"]
	[check.state | some check in sua_as("joint", sua, [object.union(side, {"height": null, "needs": ["/2"]})])] == ["fail"]
}

test_pass_element_of_12_whose_faces_lean_above_6 if {
	sua_states("element", [[12, 12]]) == [["element", "pass"], ["face", "pass"]]
	sua_states("element", [[6, 0]]) == [["element", "pass"]]
}

test_fail_element_of_13 if sua_states("element", [[13, 13]]) == [["element", "fail"], ["face", "pass"]]

test_fail_element_of_12_steeper_than_45_degrees_whole_result if {
	sua_as("element", sua, [sua_side([[12, 7]])])[1] == {
		"part": "face", "state": "fail", "at": ["/0"], "comparator": "<=",
		"measured": {"ratio": [12, 7]}, "limit": {"kind": "ratio", "ratio": [1, 1]},
		"values": {"side": {"word": "outer"}, "rise": {"length": 12}, "run": {"length": 7}, "measured": {"ratio": [12, 7]}, "limit": {"ratio": [1, 1]}},
	}
}

test_unknown_element_of_12_upright_up_to_6 if sua_states("element", [[6, 0], [6, 6]]) == [["element", "pass"], ["face", "open"], ["face", "pass"]]

test_unknown_element_of_a_run_that_nobody_measured if {
	sua_as("element", sua, [sua_side([[12, null]])])[1] == {
		"part": "face", "state": "missing", "at": ["/0"], "needs": [{"fact": "profile", "at": "/0"}], "values": {"side": {"word": "outer"}},
	}
}

test_fail_element_of_which_a_part_is_not_known if {
	side := object.union(sua_side([[8, 0]]), {"height": null, "needs": ["/2"]})
	[[check.part, check.state] | some check in sua_as("element", sua, [side])] == [["element", "missing"], ["face", "fail"]]
	low := object.union(sua_side([[5, 0]]), {"height": null, "needs": ["/2"]})
	[[check.part, check.state] | some check in sua_as("element", sua, [low])] == [["element", "missing"]]
}

test_pass_difference_of_50_at_25_per_cent_whole_result if {
	sua_as("level-difference", sua, [sua_side([[50, 200]])]) == [
		{
			"part": "level", "state": "pass", "at": ["/top"], "measured": {"length": 50}, "limit": sua.level, "comparator": "<=", "needs": [],
			"values": {"side": {"word": "outer"}, "measured": {"length": 50}, "limit": {"length": 50}, "excess": {"length": 0}},
		},
		{
			"part": "slope", "state": "pass", "at": ["/0"], "comparator": "<=", "measured": {"ratio": [50, 200]}, "limit": {"kind": "ratio", "ratio": [1, 4]},
			"values": {
				"side": {"word": "outer"}, "rise": {"length": 50}, "run": {"length": 200}, "measured": {"ratio": [50, 200]},
				"limit": {"ratio": [1, 4]}, "least_run": {"length": 200},
			},
		},
	]
}

test_fail_difference_steeper_than_25_per_cent if sua_states("level-difference", [[20, 79]]) == [["level", "pass"], ["slope", "fail"]]

test_unknown_difference_of_a_run_that_nobody_measured if {
	sua_as("level-difference", sua, [sua_side([[20, null]])])[1] == {
		"part": "slope", "state": "missing", "at": ["/0"], "needs": [{"fact": "profile", "at": "/0"}], "values": {"side": {"word": "outer"}},
	}
}

test_fail_difference_of_51 if sua_states("level-difference", [[51, 250]]) == [["level", "fail"]]

test_unknown_difference_of_51_that_may_be_a_ramp if {
	sua_states("level-difference", [[60, 500]]) == [["level", "open"]]
	sua_as("level-difference", sua, [sua_side([[60, null]])])[0].needs == [{"fact": "profile", "at": "/0"}]
	sua_states("level-difference", [[60, null]]) == [["level", "missing"]]
}

test_unknown_difference_of_51_that_may_be_a_step if {
	stepped := object.union(sua, {"step": true})
	[[check.part, check.state] | some check in sua_as("level-difference", stepped, [sua_side([[150, 0]])])] == [["level", "open"]]
	[[check.part, check.state] | some check in sua_as("level-difference", stepped, [sua_side([[50, 0]])])] == [["level", "pass"], ["slope", "fail"]]
}

test_unknown_sill_that_would_pass_as_one_and_fail_as_another if {
	sua_unsaid([[4, 0]]) == [["reading", "missing"]]
	checks := questions.answer("sill-as", {"limits": sua}, level([sua_side([[12, null]])]))
	checks[0] == {"part": "reading", "state": "missing", "at": [], "needs": [{"fact": "threshold_as"}], "values": {}}
	[[check.part, check.state] | some check in checks] == [["reading", "missing"], ["face", "missing"], ["slope", "missing"]]
}

test_unknown_sill_that_passes_as_two_and_may_as_the_third if sua_unsaid([[4, null]]) == [["reading", "missing"], ["slope", "missing"]]

test_unknown_joint_of_which_a_part_is_not_known_asks_for_that_alone if {
	side := object.union(sua_side([[3, null]]), {"height": null, "needs": ["/2"]})
	sua_as("joint", sua, [side])[0].needs == [{"fact": "profile", "at": "/2"}]
}

test_pass_sill_that_passes_as_any if sua_unsaid([[4, 16]]) == [["joint", "pass"], ["element", "pass"], ["level", "pass"], ["slope", "pass"]]

test_fail_sill_that_fails_as_any if sua_unsaid([[13, 0]]) == [["joint", "fail"], ["element", "fail"], ["face", "fail"], ["level", "pass"], ["slope", "fail"]]

test_unknown_sill_without_a_profile if {
	questions.answer("sill-as", {"limits": sua}, {"threshold_as": {"value": "joint", "at": []}}) == [{"part": "level", "state": "missing", "at": [], "needs": [{"fact": "profile"}]}]
	questions.answer("sill-as", {"limits": sua}, {}) == [{"part": "level", "state": "missing", "at": [], "needs": [{"fact": "profile"}]}]
}

test_fail_sill_lacking_a_limit_or_a_list_is_silence if {
	every name in ["joint", "element", "plain", "face", "level", "slope", "ramp"] {
		not sua_as("element", without(sua, name), [sua_side([[12, 7]])])
	}
	not sua_as("element", sua, [without(sua_side([]), "rising")])
}
