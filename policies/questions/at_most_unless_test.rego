package sillwright.questions_test

import data.sillwright.questions

# BS 8214:2016, 12.3: a threshold gap of at most 3 mm at any point, otherwise sealed.
unless_rule := {"fact": "bottom_gap_most", "target": "threshold_sealed", "limits": {"value": {"kind": "length", "at_most": 3}}}

unless_state(facts) := [check.state | some check in questions.answer("at-most-unless", unless_rule, facts)][0]

unless_needs(facts) := [need.fact | some check in questions.answer("at-most-unless", unless_rule, facts); some need in check.needs]

test_pass_unless_the_gap_meets_the_limit if {
	questions.answer("at-most-unless", unless_rule, {"bottom_gap_most": {"value": 3, "at": ["/leaves"]}}) == [{
		"part": "value", "state": "pass", "at": ["/leaves"],
		"measured": {"length": 3}, "limit": {"kind": "length", "at_most": 3}, "comparator": "<=",
		"values": {"measured": {"length": 3}, "limit": {"length": 3}, "excess": {"length": 0}},
	}]
}

test_pass_unless_it_is_sealed if {
	unless_state({"bottom_gap_most": {"value": 4, "at": []}, "threshold_sealed": {"value": true, "at": []}}) == "pass"
	unless_state({"threshold_sealed": {"value": true, "at": []}}) == "pass"
}

test_fail_unless_wider_and_not_sealed if {
	unless_state({"bottom_gap_most": {"value": 4, "at": []}, "threshold_sealed": {"value": false, "at": []}}) == "fail"
	unless_state({"bottom_gap_most": {"value": 4, "at": [], "or_more": true}, "threshold_sealed": {"value": false, "at": []}}) == "fail"
}

test_unknown_unless_nobody_says_whether_it_is_sealed if {
	unless_needs({"bottom_gap_most": {"value": 4, "at": []}}) == ["threshold_sealed"]
}

test_unknown_unless_the_gap_is_not_read if {
	unless_needs({}) == ["bottom_gap_most"]
	unless_needs({"bottom_gap_most": {"value": 3, "at": [], "or_more": true}, "threshold_sealed": {"value": false, "at": []}}) == ["bottom_gap_most"]
	unless_needs({"bottom_gap_most": {"value": 3, "at": [], "or_more": true}}) == ["bottom_gap_most"]
}

# Every text is above every number in Rego's order.
test_fail_unless_text_gives_no_answer if {
	not questions.answer("at-most-unless", unless_rule, {"bottom_gap_most": {"value": "3", "at": []}, "threshold_sealed": {"value": false, "at": []}})
}

test_pass_unless_it_is_sealed_whole_result if {
	questions.answer("at-most-unless", unless_rule, {"threshold_sealed": {"value": true, "at": ["/sealed"]}}) == [{
		"part": "value", "state": "pass", "at": ["/sealed"], "measured": {"truth": true}, "comparator": "==", "values": {},
	}]
}

# Rego orders null below every number.
test_fail_unless_text_or_null_that_is_partly_read_gives_no_answer if {
	every gap in [{"value": null, "or_more": true}, {"value": "3", "or_less": true}] {
		not questions.answer("at-most-unless", unless_rule, {"bottom_gap_most": object.union(gap, {"at": []}), "threshold_sealed": {"value": false, "at": []}})
	}
}
