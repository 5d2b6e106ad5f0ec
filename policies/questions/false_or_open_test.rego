package sillwright.questions_test

import data.sillwright.questions

# TEK17 § 12-13(3)c: thresholds are "trinnfrie", without a number.
step_free(value) := questions.answer("false-or-open", {"fact": "raised"}, {"raised": {"value": value, "at": ["/threshold"]}})

test_pass_false_or_open_of_a_level_floor if {
	step_free(false) == [{"part": "value", "state": "pass", "at": ["/threshold"], "measured": {"truth": false}, "values": {}}]
}

test_unknown_false_or_open_of_a_raised_threshold if {
	step_free(true) == [{"part": "value", "state": "open", "at": ["/threshold"], "measured": {"truth": true}, "values": {}}]
}

test_unknown_false_or_open_missing_fact if {
	questions.answer("false-or-open", {"fact": "raised"}, {}) == [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "raised"}]}]
}

test_fail_false_or_open_what_is_no_truth_gives_no_answer if {
	every value in ["false", 0, null, [], {}] {
		not step_free(value)
	}
}
