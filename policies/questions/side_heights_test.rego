package sillwright.questions_test

import data.sillwright.questions

# Decreto-Lei 163/2006, 4.9.8: 0.02 m above the adjacent floor. Millimetres stand for lengths.
side_limit := {"kind": "length", "at_most": 20}

side_states(heights) := [[check.part, check.state] | some check in questions.answer("side-heights", {"limits": {"height": side_limit}}, level([side_of(h) | some h in heights]))]

side_of(h) := {"side": "outer", "at": ["/top"], "needs": [], "height": h}

test_pass_side_heights_both_at_the_limit_whole_result if {
	questions.answer("side-heights", {"limits": {"height": side_limit}}, level([side_of(20)])) == [{
		"part": "height", "state": "pass", "at": ["/top"], "measured": {"length": 20}, "limit": side_limit, "comparator": "<=",
		"values": {"side": {"word": "outer"}, "measured": {"length": 20}, "limit": {"length": 20}, "excess": {"length": 0}},
	}]
	side_states([20, 0]) == [["height", "pass"], ["height", "pass"]]
}

test_fail_side_heights_one_of_them_higher if side_states([20, 35]) == [["height", "pass"], ["height", "fail"]]

test_unknown_side_heights_without_a_profile if {
	questions.answer("side-heights", {"limits": {"height": side_limit}}, {}) == [{"part": "height", "state": "missing", "at": [], "needs": [{"fact": "profile"}]}]
}

test_fail_side_heights_lacking_the_limit_is_silence if not questions.answer("side-heights", {"limits": {}}, level([side_of(20)]))

test_pass_side_heights_freed_of_any if {
	questions.answer("side-heights", {"limits": {"height": side_limit, "exempt": true}}, level([side_of(35)])) == [{"part": "none", "state": "pass", "at": [], "values": {}}]
}
