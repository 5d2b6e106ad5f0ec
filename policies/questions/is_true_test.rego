package sillwright.questions_test

import data.sillwright.questions

attached_rule := {"fact": "carpet_attached", "limits": {}}

attached(value) := {"carpet_attached": {"value": value, "at": ["/floor/carpet/attached"]}}

attached_check(value, state) := [{"part": "value", "state": state, "at": ["/floor/carpet/attached"], "measured": {"truth": value}, "values": {}}]

test_pass_is_true_of_true if {
	questions.answer("is-true", attached_rule, attached(true)) == attached_check(true, "pass")
}

test_fail_is_true_of_false if {
	questions.answer("is-true", attached_rule, attached(false)) == attached_check(false, "fail")
}

test_unknown_is_true_missing_fact if {
	questions.answer("is-true", attached_rule, {}) == [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "carpet_attached"}]}]
}

test_fail_is_true_of_anything_else_gives_no_answer if {
	every value in ["true", "yes", "", 1, 0, null, [], {}] {
		not questions.answer("is-true", attached_rule, attached(value))
	}
}
