package sillwright.questions_test

import data.sillwright.questions

# BR18 § 51(2) no. 4: the area outside is level with the floor inside.
floors(value) := questions.answer("same-level", {"fact": "floor_difference"}, {"floor_difference": {"value": value, "at": ["/threshold"]}})

level_part(part, value, state) := {"part": part, "state": state, "at": ["/threshold"], "measured": {"length": value}, "values": {"measured": {"length": value}}}

test_pass_same_level_at_zero if floors(0) == [level_part("above", 0, "pass"), level_part("below", 0, "pass")]

test_fail_same_level_one_nanometre_above if floors(1) == [level_part("above", 1, "fail"), level_part("below", 1, "pass")]

test_fail_same_level_one_nanometre_below if floors(-1) == [level_part("above", 1, "pass"), level_part("below", 1, "fail")]

test_unknown_same_level_missing_fact if {
	questions.answer("same-level", {"fact": "floor_difference"}, {}) == [{"part": "above", "state": "missing", "at": [], "needs": [{"fact": "floor_difference"}]}]
}

test_fail_same_level_what_is_no_number_gives_no_answer if {
	every value in ["0", "", true, null, [], {}] {
		not floors(value)
	}
}
