package sillwright.questions_test

import data.sillwright.questions

# 2010 ADA Standards 404.2.4.4 Exception 1: slopes not steeper than 1:48.
fall_rule := {"fact": "floor_slope", "limits": {"value": {"kind": "ratio", "rise": 1, "run": 48}}}

fall(rise, run) := {"floor_slope": {"value": {"rise": rise, "run": run}, "at": ["/approach/outside/slope"]}}

fall_check(rise, run, state) := {
	"part": "value", "state": state, "at": ["/approach/outside/slope"], "measured": {"ratio": [rise, run]},
	"limit": {"kind": "ratio", "ratio": [1, 48]}, "comparator": "<=", "values": {"limit": {"ratio": [1, 48]}},
}

test_pass_slope_at_the_limit_level_and_gentler if {
	every slope in [[1, 48], [0, 1], [1, 1000000000], [2, 96]] {
		questions.answer("slope-at-most", fall_rule, fall(slope[0], slope[1])) == [fall_check(slope[0], slope[1], "pass")]
	}
}

test_fail_slope_steeper_by_the_least_that_can_be_written if {
	every slope in [[1000000, 47999999], [1, 12], [1, 0]] {
		questions.answer("slope-at-most", fall_rule, fall(slope[0], slope[1])) == [fall_check(slope[0], slope[1], "fail")]
	}
}

test_unknown_slope_missing_fact if {
	questions.answer("slope-at-most", fall_rule, {}) == [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "floor_slope"}]}]
}

test_fail_slope_of_the_wrong_shape_gives_no_answer if {
	every value in ["1:48", 0, null, {}, {"rise": 1}, {"run": 48}, {"rise": "1", "run": 48}, {"rise": 1, "run": "48"}, {"rise": null, "run": 48}] {
		not questions.answer("slope-at-most", fall_rule, {"floor_slope": {"value": value, "at": []}})
	}
}

test_fail_slope_without_a_limit_gives_no_answer if {
	every limits in [{}, {"value": {}}, {"value": {"rise": 1}}, {"value": {"run": 48}}] {
		not questions.answer("slope-at-most", {"fact": "floor_slope", "limits": limits}, fall(1, 100))
	}
}
