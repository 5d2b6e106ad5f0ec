package sillwright.questions_test

import data.sillwright.questions

# NFPA 80-2007, 4.8.4: at most 3/4 in, 19 050 000 nm; the text does not say from which side it is measured.
gap_rule := {"fact": "bottom_gap_most", "target": "floor_under_leaf", "limits": {"value": {"kind": "length", "at_most": 19}}}

gap_facts(gap, differs) := {"bottom_gap_most": object.union({"at": ["/leaves"]}, gap), "floor_under_leaf": object.union({"at": ["/threshold"]}, differs)}

gap_states(gap, differs) := [check.state | some check in questions.answer("gap-at-most", gap_rule, gap_facts(gap, differs))]

gap_needs(facts) := [need.fact | some check in questions.answer("gap-at-most", gap_rule, facts); some need in check.needs]

test_pass_gap_at_the_limit_over_a_level_floor if {
	questions.answer("gap-at-most", gap_rule, gap_facts({"value": 19}, {"value": 0})) == [{
		"part": "value", "state": "pass", "at": ["/leaves", "/threshold"],
		"measured": {"length": 19}, "limit": {"kind": "length", "at_most": 19}, "comparator": "<=", "needs": [],
		"values": {"measured": {"length": 19}, "limit": {"length": 19}, "excess": {"length": 0}, "least": {"length": 19}, "most": {"length": 19}},
	}]
}

test_fail_gap_above_the_limit_over_a_level_floor if gap_states({"value": 20}, {"value": 0}) == ["fail"]

# 16 mm over a saddle on one side, 22 mm to the carpet on the other.
test_unknown_gap_that_the_two_sides_judge_differently if {
	gap_states({"value": 16}, {"value": 6}) == ["open"]
	gap_states({"value": 22}, {"value": 6}) == ["open"]
}

test_pass_gap_that_meets_the_limit_on_either_side if gap_states({"value": 13}, {"value": 6}) == ["pass"]

test_fail_gap_that_misses_the_limit_on_either_side if gap_states({"value": 26}, {"value": 6}) == ["fail"]

test_unknown_gap_that_is_partly_read if {
	gap_needs(gap_facts({"value": 19, "or_more": true}, {"value": 0})) == ["bottom_gap_most"]
	gap_needs(gap_facts({"value": 16}, {"value": 6, "or_less": true})) == ["floor_under_leaf"]
	gap_states({"value": 20, "or_more": true}, {"value": 0}) == ["fail"]
	gap_states({"value": 13}, {"value": 6, "or_less": true}) == ["pass"]
}

test_unknown_gap_or_floor_that_is_not_known if {
	gap_needs({}) == ["bottom_gap_most", "floor_under_leaf"]
	gap_needs({"bottom_gap_most": {"value": 9, "at": []}}) == ["floor_under_leaf"]
}

test_fail_gap_text_gives_no_answer if {
	not questions.answer("gap-at-most", gap_rule, gap_facts({"value": "9"}, {"value": 0}))
	not questions.answer("gap-at-most", gap_rule, gap_facts({"value": 9}, {"value": "0"}))
}

test_pass_gap_asks_for_nothing_where_what_was_not_read_is_no_matter if {
	gap_needs(gap_facts({"value": 20, "or_more": true}, {"value": 0})) == []
	gap_needs(gap_facts({"value": 13}, {"value": 6, "or_less": true})) == []
}
