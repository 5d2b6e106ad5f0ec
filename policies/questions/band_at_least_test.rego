package sillwright.questions_test

import data.sillwright.questions

# Common practice, no published source: a door latches where there is force left to latch it.
spare_rule := {"fact": "latching_spare", "limits": {"value": spare_limit}}

spare_limit := {"kind": "force", "at_least": 10}

spare_facts(band) := {"latching_spare": {"value": band, "at": ["/options/0", "/door/closing_force"]}}

spare_check(band, state) := [{
	"part": "value", "state": state, "at": ["/options/0", "/door/closing_force"],
	"measured": {"force": band.likely}, "limit": spare_limit, "comparator": ">=",
	"values": {"low": {"force": band.low}, "high": {"force": band.high}, "limit": {"force": 10}, "lack": {"force": 10 - band.low}},
}]

spare(low, likely, high) := {"low": low, "likely": likely, "high": high}

test_pass_spare_low_end_at_the_limit if {
	questions.answer("band-at-least", spare_rule, spare_facts(spare(10, 11, 12))) == spare_check(spare(10, 11, 12), "pass")
}

test_unknown_spare_low_end_just_below_the_limit if {
	questions.answer("band-at-least", spare_rule, spare_facts(spare(9, 11, 12))) == spare_check(spare(9, 11, 12), "close")
}

test_unknown_spare_high_end_at_the_limit if {
	questions.answer("band-at-least", spare_rule, spare_facts(spare(-3, 4, 10))) == spare_check(spare(-3, 4, 10), "close")
}

test_fail_spare_high_end_just_below_the_limit if {
	questions.answer("band-at-least", spare_rule, spare_facts(spare(-3, 4, 9))) == spare_check(spare(-3, 4, 9), "fail")
}

# Where the drag is not known, the closing force alone may be too little.
test_unknown_spare_without_a_low_end if {
	questions.answer("band-at-least", spare_rule, spare_facts({"high": 10})) == [{
		"part": "value", "state": "missing", "at": ["/options/0", "/door/closing_force"], "needs": [{"fact": "latching_spare"}],
	}]
}

test_fail_spare_without_a_low_end if {
	questions.answer("band-at-least", spare_rule, spare_facts({"high": 9}))[0].state == "fail"
}

test_unknown_spare_missing if {
	questions.answer("band-at-least", spare_rule, {}) == [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "latching_spare"}]}]
}

# Every text is above every number in Rego's order: unguarded, a low end of "abc" would reach any limit.
test_fail_spare_text_gives_no_answer if {
	not questions.answer("band-at-least", spare_rule, spare_facts({"low": "abc", "high": 12}))
	not questions.answer("band-at-least", spare_rule, spare_facts({"low": 10, "high": "12"}))
	not questions.answer("band-at-least", spare_rule, spare_facts({"high": "12"}))
	not questions.answer("band-at-least", spare_rule, spare_facts({"low": 10, "likely": "11", "high": 12}))
	not questions.answer("band-at-least", {"fact": "latching_spare", "limits": {}}, spare_facts(spare(10, 11, 12)))
}
