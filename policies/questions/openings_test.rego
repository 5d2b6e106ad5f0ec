package sillwright.questions_test

import data.sillwright.questions

# 2010 ADA Standards 302.3: no ball of more than 1/2 in (13 mm) passes, long way across the path.
slot_rule := {"limits": {"width": slot_limit}}

slot_limit := {"kind": "length", "at_most": 12700000, "printed": 13000000}

slots(list) := {"openings": {"value": list, "at": ["/threshold/openings"]}}

slot_checks(width, width_state, runs, runs_state) := [
	{
		"part": "width", "state": width_state, "at": ["/threshold/openings/0"],
		"measured": {"length": width}, "limit": slot_limit, "comparator": "<=",
		"values": {"measured": {"length": width}, "limit": {"length": 12700000}},
	},
	{"part": "direction", "state": runs_state, "at": ["/threshold/openings/0"], "measured": {"word": runs}, "values": {}},
]

one_slot(width, runs) := questions.answer("openings", slot_rule, slots([{"at": "/threshold/openings/0", "width": width, "runs": runs}]))

test_pass_openings_none if {
	questions.answer("openings", slot_rule, slots([])) == [{"part": "none", "state": "pass", "at": ["/threshold/openings"], "values": {}}]
}

test_pass_openings_at_the_limit_across if {
	one_slot(12700000, "across") == slot_checks(12700000, "pass", "across", "pass")
}

test_fail_openings_along_the_path if {
	one_slot(12700000, "along") == slot_checks(12700000, "pass", "along", "fail")
}

test_unknown_openings_one_nanometre_above_the_inch if {
	one_slot(12700001, "across") == slot_checks(12700001, "open", "across", "pass")
}

test_unknown_openings_at_the_printed_rounding if {
	one_slot(13000000, "across") == slot_checks(13000000, "open", "across", "pass")
}

test_fail_openings_one_nanometre_above_the_printed_rounding if {
	one_slot(13000001, "across") == slot_checks(13000001, "fail", "across", "pass")
}

test_fail_openings_every_slot_is_judged if {
	checks := questions.answer("openings", slot_rule, slots([
		{"at": "/a", "width": 8000000, "runs": "across"},
		{"at": "/b", "width": 20000000, "runs": "along"},
	]))
	[[check.part, check.at[0], check.state] | some check in checks] == [
		["width", "/a", "pass"], ["width", "/b", "fail"],
		["direction", "/a", "pass"], ["direction", "/b", "fail"],
	]
}

test_unknown_openings_missing_fact if {
	questions.answer("openings", slot_rule, {}) == [{"part": "width", "state": "missing", "at": [], "needs": [{"fact": "openings"}]}]
}

test_unknown_openings_slot_without_width_or_direction if {
	questions.answer("openings", slot_rule, slots([{"at": "/threshold/openings/0"}])) == [
		{"part": "width", "state": "missing", "at": ["/threshold/openings/0"], "needs": [{"fact": "openings", "at": "/threshold/openings/0"}]},
		{"part": "direction", "state": "missing", "at": ["/threshold/openings/0"], "needs": [{"fact": "openings", "at": "/threshold/openings/0"}]},
	]
}

test_unknown_openings_text_for_width_or_a_strange_direction if {
	[check.state | some check in one_slot("8", "acros")] == ["missing", "missing"]
}

test_fail_openings_of_the_wrong_shape_give_no_answer if {
	every list in ["abc", 5, true, null] {
		not questions.answer("openings", slot_rule, slots(list))
	}
	not questions.answer("openings", slot_rule, slots([{"width": 8000000, "runs": "across"}]))
}

test_fail_openings_without_a_limit_give_no_answer if {
	not questions.answer("openings", {"limits": {}}, slots([{"at": "/a", "width": 800000000, "runs": "across"}]))
}
