package sillwright.questions_test

import data.sillwright.questions

# 2010 ADA Standards 404.2.3: 32 in, printed as 815 mm, at least. 32 in is 812 800 000 nm.
width_rule := {"fact": "clear_width", "limits": {"value": width_limit}}

width_limit := {"kind": "length", "at_least": 812800000, "printed": 815000000}

width(value) := {"clear_width": {"value": value, "at": ["/door/clear_width/face_to_stop"]}}

width_check(value, limit, state) := [{
	"part": "value", "state": state, "at": ["/door/clear_width/face_to_stop"],
	"measured": {"length": value}, "limit": limit, "comparator": ">=",
	"values": {"measured": {"length": value}, "limit": {"length": limit.at_least}, "lack": {"length": limit.at_least - value}},
}]

test_pass_at_least_at_the_limit if {
	questions.answer("at-least", width_rule, width(812800000)) == width_check(812800000, width_limit, "pass")
}

# The printed rounding is the stricter one here, and does not govern.
test_fail_at_least_one_nanometre_below_the_inch if {
	questions.answer("at-least", width_rule, width(812799999)) == width_check(812799999, width_limit, "fail")
}

# A looser rounding, 800 mm printed for 32 in, would be left open.
test_unknown_at_least_within_a_looser_printed_rounding if {
	limit := {"kind": "length", "at_least": 812800000, "printed": 800000000}
	rule := {"fact": "clear_width", "limits": {"value": limit}}
	questions.answer("at-least", rule, width(812799999)) == width_check(812799999, limit, "open")
	questions.answer("at-least", rule, width(800000000)) == width_check(800000000, limit, "open")
	questions.answer("at-least", rule, width(799999999)) == width_check(799999999, limit, "fail")
}

test_unknown_at_least_missing_fact if {
	questions.answer("at-least", width_rule, {}) == [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "clear_width"}]}]
}

# Every text is above every number in Rego's order: unguarded, "abc" would be wide enough.
test_fail_at_least_text_gives_no_answer if {
	every value in ["800", "abc", "", true, null, [], {}] {
		not questions.answer("at-least", width_rule, width(value))
	}
}

test_fail_at_least_without_a_limit_gives_no_answer if {
	not questions.answer("at-least", {"fact": "clear_width", "limits": {}}, width(900000000))
	not questions.answer("at-least", {"fact": "clear_width", "limits": {"value": {"kind": "length", "at_most": 5}}}, width(900000000))
}

test_unknown_at_least_a_width_that_may_be_less if {
	unread := {"clear_width": {"value": 812800000, "at": ["/door/clear_width/face_to_stop"], "or_less": true}}
	questions.answer("at-least", width_rule, unread) == questions.answer("at-least", width_rule, {})
	narrow := {"clear_width": {"value": 812799999, "at": ["/door/clear_width/face_to_stop"], "or_less": true}}
	questions.answer("at-least", width_rule, narrow) == width_check(812799999, width_limit, "fail")
}

# Approved Document F volume 1, 1.25: a free area of 10 mm x 760 mm. Square millimetres stand for areas.
test_fail_at_least_of_an_area if {
	rule := {"fact": "free_area", "limits": {"value": {"kind": "area", "at_least": 7600}}}
	[check] := questions.answer("at-least", rule, {"free_area": {"value": 7599, "at": ["/leaves"]}})
	check.state == "fail"
	check.values == {"measured": {"area": 7599}, "limit": {"area": 7600}, "lack": {"area": 1}}
}

test_pass_at_least_exempt_whatever_is_known if {
	every facts in [{}, width(1), {"clear_width": {"value": 1, "at": [], "or_more": true}}] {
		questions.answer("at-least", {"fact": "clear_width", "limits": {"value": width_limit, "exempt": true}}, facts) == [{"part": "none", "state": "pass", "at": [], "values": {}}]
	}
}
