package sillwright.questions_test

import data.sillwright.questions

# National Building Code of Canada 2020, 3.4.6.11.(2): at most 13 mm; (3): a step of at most 150 mm. Millimetres stand for lengths.
sides_limits := {"height": {"kind": "length", "at_most": 13}}

sides_step_limits := object.union(sides_limits, {"step": {"kind": "length", "at_most": 150}})

# A side with its least height, as every side has it.
sides_of(faces, slopes) := object.union(side, {"least": side.height}) if side := lipped(faces, slopes)

sides_states(limits, side) := [[check.part, check.state] | some check in questions.answer("side-heights", {"limits": limits}, level([side]))]

test_pass_side_heights_whole_result if {
	questions.answer("side-heights", {"limits": sides_limits}, level([sides_of([[13, "square"]], []), flush])) == [
		{
			"part": "height", "state": "pass", "at": ["/top"], "measured": {"length": 13}, "limit": sides_limits.height, "comparator": "<=",
			"values": {"side": {"word": "outer"}, "measured": {"length": 13}, "limit": {"length": 13}, "excess": {"length": 0}},
		},
		{
			"part": "height", "state": "pass", "at": [], "measured": {"length": 0}, "limit": sides_limits.height, "comparator": "<=",
			"values": {"side": {"word": "inner"}, "measured": {"length": 0}, "limit": {"length": 13}, "excess": {"length": -13}},
		},
	]
}

test_fail_side_too_high if {
	sides_states(sides_limits, sides_of([], [[14, 100]])) == [["height", "fail"]]
	sides_states(sides_step_limits, sides_of([], [[14, 100]])) == [["height", "fail"]]
}

test_unknown_side_on_a_step if {
	checks := questions.answer("side-heights", {"limits": sides_step_limits}, level([sides_of([[150, "square"]], [[13, 26]])]))
	[[check.part, check.state] | some check in checks] == [["height", "pass"], ["step", "open"]]
	checks[0].measured == {"length": 13}
	checks[1] == {
		"part": "step", "state": "open", "at": ["/f"], "measured": {"length": 150}, "limit": sides_step_limits.step, "comparator": "<=",
		"values": {"measured": {"length": 150}, "limit": {"length": 150}},
	}
}

test_pass_side_low_enough_is_on_no_step if sides_states(sides_step_limits, sides_of([[13, "square"]], [])) == [["height", "pass"]]

test_fail_side_on_a_step_too_high if sides_states(sides_step_limits, sides_of([[151, "square"]], [])) == [["height", "fail"]]

test_fail_side_too_high_on_a_step if sides_states(sides_step_limits, sides_of([[150, "square"]], [[14, 28]])) == [["height", "fail"], ["step", "open"]]

test_fail_side_with_a_step_inside if {
	sides_states(sides_step_limits, object.union(sides_of([[100, "square"]], []), {"side": "inner"})) == [["height", "fail"]]
}

test_fail_side_with_a_face_behind_a_slope if {
	side := object.union(sides_of([[100, "square"]], [[5, 10]]), {"rising": [{"at": "/s", "rise": 5, "run": 10}, {"at": "/f", "rise": 100, "run": 0}]})
	sides_states(sides_step_limits, side) == [["height", "fail"]]
}

test_unknown_side_whose_top_nobody_measured if {
	side := object.union(sides_of([[10, "square"]], []), {"height": null, "least": 10, "needs": ["/2"]})
	sides_states(sides_limits, side) == [["height", "missing"]]
	stepped := object.union(sides_of([[100, "square"]], []), {"height": null, "least": 100, "needs": ["/2"]})
	sides_states(sides_step_limits, stepped) == [["height", "missing"], ["step", "open"]]
}

test_unknown_sides_without_a_profile if {
	questions.answer("side-heights", {"limits": sides_limits}, {}) == [{"part": "height", "state": "missing", "at": [], "needs": [{"fact": "profile"}]}]
}

test_fail_sides_without_a_limit_give_no_answer if not questions.answer("side-heights", {"limits": {}}, level([flush]))
