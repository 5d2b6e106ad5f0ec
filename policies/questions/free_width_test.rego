package sillwright.questions_test

import data.sillwright.questions

# TEK17 § 12-13(2)a: "fri bredde på minimum 0,86 m". Millimetres stand for lengths.
free_limit := {"kind": "length", "at_least": 860}

free_rule := {"fact": "clear_width_least", "target": "clear_width", "limits": {"value": free_limit}}

free_at := {"clear_width_least": "/least", "clear_width": "/stop"}

free_facts(values) := {name: {"value": value, "at": [free_at[name]]} | some name, value in values}

free_width(values) := questions.answer("free-width", free_rule, free_facts(values))

free_check(part, name, value, state) := [{
	"part": part, "state": state, "at": [free_at[name]],
	"measured": {"length": value}, "limit": free_limit, "comparator": ">=",
	"values": {"measured": {"length": value}, "limit": {"length": 860}, "lack": {"length": 860 - value}},
}]

test_pass_free_width_past_what_projects if {
	free_width({"clear_width_least": 860, "clear_width": 900}) == free_check("value", "clear_width_least", 860, "pass")
	free_width({"clear_width_least": 860}) == free_check("value", "clear_width_least", 860, "pass")
}

test_fail_free_width_from_the_face_to_the_stop if {
	free_width({"clear_width_least": 800, "clear_width": 859}) == free_check("value", "clear_width", 859, "fail")
	free_width({"clear_width": 859}) == free_check("value", "clear_width", 859, "fail")
}

test_unknown_free_width_only_past_the_handle_too_little if {
	free_width({"clear_width_least": 859, "clear_width": 860}) == free_check("projects", "clear_width_least", 859, "open")
}

test_unknown_free_width_missing_either if {
	free_width({"clear_width": 860}) == [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "clear_width_least"}]}]
	free_width({"clear_width_least": 859}) == [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "clear_width"}]}]
	free_width({}) == [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "clear_width_least"}]}]
}

test_unknown_free_width_that_may_be_less if {
	facts := {"clear_width": {"value": 900, "at": []}, "clear_width_least": {"value": 860, "at": [], "or_less": true}}
	questions.answer("free-width", free_rule, facts) == [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "clear_width_least"}]}]
}

test_fail_free_width_text_or_no_limit_gives_no_answer if {
	every value in ["900", true, null, [], {}] {
		not free_width({"clear_width_least": value})
		not free_width({"clear_width_least": 900, "clear_width": value})
	}
	not questions.answer("free-width", {"fact": "clear_width_least", "target": "clear_width"}, free_facts({"clear_width_least": 900}))
	not questions.answer("free-width", {"fact": "clear_width_least", "target": "clear_width", "limits": {}}, {})
	not questions.answer("free-width", {"fact": "clear_width_least", "target": "clear_width", "limits": {"value": {"kind": "length", "at_most": 5}}}, free_facts({"clear_width_least": 900, "clear_width": 900}))
}
