package sillwright.questions_test

import data.sillwright.questions

# Bouwbesluit 2012 art. 4.27(2): above 20 mm a ramp, of 1000 mm at most. Millimetres stand for lengths.
ramp_limits := {"height": {"kind": "length", "at_most": 20}, "ramp": {"kind": "length", "at_most": 1000}}

# DIN 18040 4.3.3.1: no threshold.
zero_limits := {"height": {"kind": "length", "at_most": 0}}

rises(limits, sides) := questions.answer("side-heights", {"limits": limits}, {"profile": {"value": sides, "at": ["/threshold"]}})

rise_states(limits, side) := [[check.part, check.state] | some check in rises(limits, [side])]

# A side of segments [rise, run]; a run of -1 is not known.
rise_side(segments) := {
	"side": "outer", "at": ["/top"], "needs": [], "height": sum([s[0] | some s in segments]), "least": sum([s[0] | some s in segments]),
	"rising": [{"at": i, "rise": s[0], "run": known_run(s[1])} | some i, s in segments],
}

known_run(run) := null if {
	run < 0
} else := run

half_known(segments, least) := object.union(rise_side(segments), {"height": null, "least": least, "needs": ["/threshold/segments/1"]})

test_pass_side_heights_level_whole_result if {
	rises(zero_limits, [rise_side([])]) == [{
		"part": "height", "state": "pass", "at": ["/top"], "measured": {"length": 0}, "limit": zero_limits.height, "comparator": "<=",
		"values": {"side": {"word": "outer"}, "measured": {"length": 0}, "limit": {"length": 0}, "excess": {"length": 0}},
	}]
}

test_fail_side_heights_one_above_zero if rise_states(zero_limits, rise_side([[1, 0]])) == [["height", "fail"]]

test_fail_side_heights_every_side_is_judged if {
	[check.state | some check in rises(zero_limits, [rise_side([]), rise_side([[5, 0]])])] == ["pass", "fail"]
}

test_unknown_side_heights_half_known if rise_states(zero_limits, half_known([], 0)) == [["height", "missing"]]

test_fail_side_heights_too_high_by_what_is_known if rise_states(zero_limits, half_known([[3, 0]], 3)) == [["height", "fail"]]

test_unknown_side_heights_no_profile if {
	questions.answer("side-heights", {"limits": zero_limits}, {}) == [{"part": "height", "state": "missing", "at": [], "needs": [{"fact": "profile"}]}]
}

test_pass_side_heights_exempt if {
	questions.answer("side-heights", {"limits": object.union(zero_limits, {"exempt": true})}, {"profile": {"value": [rise_side([[9, 0]])], "at": []}}) == [{"part": "none", "state": "pass", "at": [], "values": {}}]
}

test_pass_side_heights_exempt_without_a_profile if {
	questions.answer("side-heights", {"limits": object.union(zero_limits, {"exempt": true})}, {}) == [{"part": "none", "state": "pass", "at": [], "values": {}}]
}

test_fail_side_heights_rule_without_its_limit_gives_no_answer if not rises({}, [rise_side([])])

test_pass_side_heights_at_the_limit_with_a_ramp if rise_states(ramp_limits, rise_side([[20, 0]])) == [["height", "pass"]]

test_fail_side_heights_upright_above_the_limit if rise_states(ramp_limits, rise_side([[21, 0]])) == [["height", "fail"]]

test_fail_side_heights_two_lips_above_the_limit if rise_states(ramp_limits, rise_side([[11, 0], [10, 0]])) == [["height", "fail"]]

test_unknown_side_heights_ramp_with_a_lip_whole_result if {
	rises(ramp_limits, [rise_side([[980, 12000], [20, 0]])]) == [{
		"part": "ramp", "state": "open", "at": ["/top"], "measured": {"length": 1000}, "limit": ramp_limits.ramp, "comparator": "<=",
		"values": {"side": {"word": "outer"}, "measured": {"length": 1000}, "limit": {"length": 1000}},
	}]
}

test_fail_side_heights_higher_than_a_ramp_may_be if rise_states(ramp_limits, rise_side([[1001, 12000]])) == [["height", "fail"]]

test_unknown_side_heights_run_not_known_whole_result if {
	rises(ramp_limits, [rise_side([[30, -1], [20, 0]])]) == [{
		"part": "ramp", "state": "missing", "at": ["/top"], "needs": [{"fact": "profile", "at": 0}],
		"values": {"side": {"word": "outer"}},
	}]
}

test_fail_side_heights_upright_beside_a_run_not_known if rise_states(ramp_limits, rise_side([[30, -1], [21, 0]])) == [["height", "fail"]]

test_unknown_side_heights_half_known_may_be_a_ramp_whole_result if {
	rises(ramp_limits, [half_known([[1000, 12000]], 1000)]) == [{
		"part": "height", "state": "missing", "at": ["/threshold/segments/1"], "values": {"side": {"word": "outer"}},
		"needs": [{"fact": "profile", "at": "/threshold/segments/1"}],
	}]
}

test_unknown_side_heights_half_known_waits_for_the_floor if {
	some check in rises(ramp_limits, [object.union(half_known([[30, 400]], 30), {"waits": "floor_finish"})])
	check.needs == [{"fact": "floor_finish", "at": "/threshold/segments/1"}]
}

test_fail_side_heights_half_known_too_high_for_a_ramp if rise_states(ramp_limits, half_known([[1001, 12000]], 1001)) == [["height", "fail"]]

test_fail_side_heights_half_known_upright if rise_states(ramp_limits, half_known([[21, 0]], 21)) == [["height", "fail"]]

test_unknown_side_heights_half_known_with_a_lip if rise_states(ramp_limits, half_known([[10, 100], [20, 0]], 30)) == [["height", "missing"]]

test_pass_side_heights_low_with_a_run_not_known if rise_states(ramp_limits, rise_side([[15, -1]])) == [["height", "pass"]]

test_fail_side_heights_higher_than_a_ramp_may_be_with_a_run_not_known if rise_states(ramp_limits, rise_side([[1001, -1]])) == [["height", "fail"]]
