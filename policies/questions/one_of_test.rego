package sillwright.questions_test

import data.sillwright.questions

# Common practice, no published source: a tufted brush only under heavy or severe duty.
duty_rule := {"fact": "duty_use", "limits": {"value": duty_limit}}

duty_limit := {"kind": "word", "one_of": ["heavy", "severe"]}

duty(value) := {"duty_use": {"value": value, "at": ["/duty/use"]}}

duty_check(value, state) := [{
	"part": "value", "state": state, "at": ["/duty/use"], "measured": {"word": value}, "limit": duty_limit,
	"values": {"measured": {"word": value}, "limit": {"words": ["heavy", "severe"]}},
}]

test_pass_one_of_any_of_them if {
	every value in ["heavy", "severe"] {
		questions.answer("one-of", duty_rule, duty(value)) == duty_check(value, "pass")
	}
}

test_fail_one_of_another_word if {
	every value in ["medium", "light", "Heavy", ""] {
		questions.answer("one-of", duty_rule, duty(value)) == duty_check(value, "fail")
	}
}

test_unknown_one_of_missing_fact if {
	questions.answer("one-of", duty_rule, {}) == [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "duty_use"}]}]
}

test_fail_one_of_what_is_no_word_gives_no_answer if {
	every value in [1, true, null, [], ["heavy"], {}] {
		not questions.answer("one-of", duty_rule, duty(value))
	}
}

test_fail_one_of_without_words_gives_no_answer if {
	not questions.answer("one-of", {"fact": "duty_use", "limits": {}}, duty("heavy"))
	not questions.answer("one-of", {"fact": "duty_use", "limits": {"value": {"kind": "length", "at_most": 1}}}, duty("heavy"))
}
