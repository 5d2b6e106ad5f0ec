package sillwright.questions_test

import data.sillwright.questions

# 2010 ADA Standards 302.2: pile of 1/2 in, printed as 13 mm, at most. 1/2 in is 12 700 000 nm.
pile_rule := {"fact": "carpet_pile", "limits": {"value": pile_limit}}

pile_limit := {"kind": "length", "at_most": 12700000, "printed": 13000000}

pile(value) := {"carpet_pile": {"value": value, "at": ["/floor/carpet/pile"]}}

pile_check(value, state) := [{
	"part": "value", "state": state, "at": ["/floor/carpet/pile"],
	"measured": {"length": value}, "limit": pile_limit, "comparator": "<=",
	"values": {"measured": {"length": value}, "limit": {"length": 12700000}, "excess": {"length": value - 12700000}},
}]

test_pass_at_most_at_the_limit if {
	questions.answer("at-most", pile_rule, pile(12700000)) == pile_check(12700000, "pass")
}

test_pass_at_most_zero_is_a_value if {
	questions.answer("at-most", pile_rule, pile(0)) == pile_check(0, "pass")
}

test_unknown_at_most_one_nanometre_above_the_inch if {
	questions.answer("at-most", pile_rule, pile(12700001)) == pile_check(12700001, "open")
}

test_unknown_at_most_at_the_printed_rounding if {
	questions.answer("at-most", pile_rule, pile(13000000)) == pile_check(13000000, "open")
}

test_fail_at_most_one_nanometre_above_the_printed_rounding if {
	questions.answer("at-most", pile_rule, pile(13000001)) == pile_check(13000001, "fail")
}

test_unknown_at_most_missing_fact if {
	questions.answer("at-most", pile_rule, {}) == [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "carpet_pile"}]}]
}

# A text is no answer at all, and whoever counts the answers refuses it.
test_fail_at_most_text_gives_no_answer if {
	every value in ["800", "abc", "", true, null, [], {}] {
		not questions.answer("at-most", pile_rule, pile(value))
	}
}

test_fail_at_most_without_a_limit_gives_no_answer if {
	not questions.answer("at-most", {"fact": "carpet_pile", "limits": {}}, pile(1))
	not questions.answer("at-most", {"fact": "carpet_pile", "limits": {"value": {"kind": "length", "at_least": 5}}}, pile(1))
}

test_fail_at_most_without_a_fact_to_read_gives_no_answer if {
	not questions.answer("at-most", {"limits": {"value": pile_limit}}, pile(1))
}

test_unknown_at_most_a_value_that_may_be_more if {
	unread := {"carpet_pile": {"value": 12700000, "at": ["/floor/carpet/pile"], "or_more": true}}
	questions.answer("at-most", pile_rule, unread) == questions.answer("at-most", pile_rule, {})
	thick := {"carpet_pile": {"value": 13000001, "at": ["/floor/carpet/pile"], "or_more": true}}
	questions.answer("at-most", pile_rule, thick) == pile_check(13000001, "fail")
}

test_pass_at_most_exempt_whatever_is_known if {
	every facts in [{}, {"carpet_pile": {"value": 13, "at": []}}, {"carpet_pile": {"value": 1, "at": [], "or_more": true}}] {
		questions.answer("at-most", {"fact": "carpet_pile", "limits": {"value": {"kind": "length", "at_most": 10}, "exempt": true}}, facts) == [{"part": "none", "state": "pass", "at": [], "values": {}}]
	}
}
