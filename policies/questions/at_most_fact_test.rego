package sillwright.questions_test

import data.sillwright.questions

# Common practice, no published source: a seal is pressed by no more than its movement allowance, here 3 mm.
allowance_rule := {"fact": "overlap_most", "target": "movement_allowance", "limits": {}}

allowance(overlap, most) := {
	"overlap_most": {"value": overlap, "at": ["/options/0", "/leaves/0/gap/readings/2"]},
	"movement_allowance": {"value": most, "at": ["/options/0/seal"]},
}

allowance_check(value, state) := [{
	"part": "value", "state": state, "at": ["/options/0", "/leaves/0/gap/readings/2", "/options/0/seal"],
	"measured": {"length": value}, "limit": {"kind": "length", "at_most": 3000000}, "comparator": "<=",
	"values": {"measured": {"length": value}, "limit": {"length": 3000000}, "excess": {"length": value - 3000000}},
}]

allowance_lacks(name) := {"part": "value", "state": "missing", "at": [], "needs": [{"fact": name}]}

test_pass_at_most_fact_up_to_the_other if {
	every value in [-1, 0, 3000000] {
		questions.answer("at-most-fact", allowance_rule, allowance(value, 3000000)) == allowance_check(value, "pass")
	}
}

test_fail_at_most_fact_one_nanometre_above_the_other if {
	questions.answer("at-most-fact", allowance_rule, allowance(3000001, 3000000)) == allowance_check(3000001, "fail")
}

test_unknown_at_most_fact_missing_facts if {
	both := allowance(1, 2)
	questions.answer("at-most-fact", allowance_rule, {}) == [allowance_lacks("overlap_most"), allowance_lacks("movement_allowance")]
	questions.answer("at-most-fact", allowance_rule, {"overlap_most": both.overlap_most}) == [allowance_lacks("movement_allowance")]
	questions.answer("at-most-fact", allowance_rule, {"movement_allowance": both.movement_allowance}) == [allowance_lacks("overlap_most")]
}

test_fail_at_most_fact_text_gives_no_answer if {
	every value in ["3", "", true, null, [], {}] {
		not questions.answer("at-most-fact", allowance_rule, allowance(value, 3000000))
		not questions.answer("at-most-fact", allowance_rule, allowance(1, value))
	}
}

test_fail_at_most_fact_without_both_names_gives_no_answer if {
	not questions.answer("at-most-fact", {"fact": "overlap_most", "limits": {}}, allowance(1, 3000000))
	not questions.answer("at-most-fact", {"target": "movement_allowance", "limits": {}}, allowance(1, 3000000))
}

test_unknown_at_most_fact_a_value_that_may_be_more if {
	unread := {"overlap_most": {"or_more": true}}
	questions.answer("at-most-fact", allowance_rule, object.union(allowance(3000000, 3000000), unread)) == [allowance_lacks("overlap_most")]
	questions.answer("at-most-fact", allowance_rule, object.union(allowance(3000001, 3000000), unread)) == allowance_check(3000001, "fail")
}
