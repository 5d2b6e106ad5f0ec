package sillwright.questions_test

import data.sillwright.questions

# Common practice, no published source: the shortest brush that bridges the gap seals best.
shorter_rule := {"fact": "shorter_brushes", "limits": {}}

shorter(list) := {"shorter_brushes": {"value": list, "at": ["/options/0"]}}

shorter_check(at, names, state) := {
	"part": "value", "state": state, "at": [at],
	"measured": {"words": names}, "values": {"names": {"words": names}},
}

test_pass_none_named_by_any_item if {
	items := [{"at": "/0", "names": []}, {"at": "/1", "names": []}]
	questions.answer("none-named", shorter_rule, shorter(items)) == [shorter_check("/0", [], "pass"), shorter_check("/1", [], "pass")]
}

test_fail_none_named_by_one_item if {
	items := [{"at": "/0", "names": []}, {"at": "/1", "names": ["brush-fine-15", "brush-fine-20"]}]
	questions.answer("none-named", shorter_rule, shorter(items)) == [
		shorter_check("/0", [], "pass"),
		shorter_check("/1", ["brush-fine-15", "brush-fine-20"], "fail"),
	]
}

test_unknown_none_named_missing_fact if {
	questions.answer("none-named", shorter_rule, {}) == [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "shorter_brushes"}]}]
}

test_fail_none_named_what_is_no_list_gives_no_answer if {
	every value in ["brush-fine-15", 1, true, null, [{"at": "/0"}], [{"at": "/0", "names": "brush-fine-15"}], [{"names": []}]] {
		not questions.answer("none-named", shorter_rule, shorter(value))
	}
}

# No items, no checks: whoever counts them refuses it.
test_fail_none_named_no_items_give_no_checks if {
	questions.answer("none-named", shorter_rule, shorter([])) == []
}
