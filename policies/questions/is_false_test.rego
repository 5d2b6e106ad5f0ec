package sillwright.questions_test

import data.sillwright.questions

# Common practice, no published source: no compression gasket on the bottom edge.
gasket_rule := {"fact": "bottom_gasket", "limits": {}}

gasket(value) := {"bottom_gasket": {"value": value, "at": ["/options/0/seal"]}}

gasket_check(value, state) := [{"part": "value", "state": state, "at": ["/options/0/seal"], "measured": {"truth": value}, "values": {}}]

test_pass_is_false_of_false if {
	questions.answer("is-false", gasket_rule, gasket(false)) == gasket_check(false, "pass")
}

test_fail_is_false_of_true if {
	questions.answer("is-false", gasket_rule, gasket(true)) == gasket_check(true, "fail")
}

test_unknown_is_false_missing_fact if {
	questions.answer("is-false", gasket_rule, {}) == [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "bottom_gasket"}]}]
}

test_fail_is_false_of_anything_else_gives_no_answer if {
	every value in ["false", "no", "", 0, 1, null, [], {}] {
		not questions.answer("is-false", gasket_rule, gasket(value))
	}
}
