package sillwright.questions_test

import data.sillwright.questions

# SIA 500 3.3.2.1: a step on one side only, of 25 mm at most. Millimetres stand for lengths.
one_sided_limit := {"kind": "length", "at_most": 25}

stepped_sides(outer, inner) := questions.answer("one-sided", {"limits": {"height": one_sided_limit}}, {"profile": {"value": [outer, inner], "at": ["/threshold"]}})

one_sided_states(outer, inner) := [[check.part, check.state] | some check in stepped_sides(outer, inner)]

step_of(side, height) := {"side": side, "at": ["/top"], "needs": [], "height": height, "least": height}

step_least(side, least) := {"side": side, "at": [], "needs": ["/threshold/segments/0"], "height": null, "least": least}

test_pass_one_sided_step_at_the_limit_whole_result if {
	stepped_sides(step_of("outer", 25), step_of("inner", 0)) == [
		{
			"part": "height", "state": "pass", "at": ["/top"], "measured": {"length": 25}, "limit": one_sided_limit, "comparator": "<=",
			"values": {"side": {"word": "outer"}, "measured": {"length": 25}, "limit": {"length": 25}, "excess": {"length": 0}},
		},
		{
			"part": "height", "state": "pass", "at": ["/top"], "measured": {"length": 0}, "limit": one_sided_limit, "comparator": "<=",
			"values": {"side": {"word": "inner"}, "measured": {"length": 0}, "limit": {"length": 25}, "excess": {"length": -25}},
		},
		{"part": "both", "state": "pass", "at": ["/threshold"], "values": {}},
	]
}

test_pass_one_sided_level if one_sided_states(step_of("outer", 0), step_of("inner", 0)) == [["height", "pass"], ["height", "pass"], ["both", "pass"]]

test_fail_one_sided_too_high if one_sided_states(step_of("outer", 0), step_of("inner", 26)) == [["height", "pass"], ["height", "fail"], ["both", "pass"]]

test_unknown_one_sided_rises_on_both_sides if {
	checks := stepped_sides(step_of("outer", 10), step_of("inner", 8))
	checks[2] == {"part": "both", "state": "open", "at": ["/threshold"], "values": {"outer": {"length": 10}, "inner": {"length": 8}}}
}

test_fail_one_sided_both_and_too_high if one_sided_states(step_of("outer", 26), step_of("inner", 8)) == [["height", "fail"], ["height", "pass"], ["both", "open"]]

test_unknown_one_sided_a_side_not_known_whole_check if {
	checks := stepped_sides(step_of("outer", 10), step_least("inner", 3))
	checks[2] == {"part": "both", "state": "missing", "at": ["/threshold"], "needs": [{"fact": "profile", "at": "/threshold/segments/0"}], "values": {}}
}

test_unknown_one_sided_waits_for_the_floor if {
	some check in stepped_sides(object.union(step_least("outer", 0), {"waits": "floor_finish"}), step_least("inner", 0))
	check.part == "both"
	[need.fact | some need in check.needs] == ["floor_finish", "profile"]
}

test_unknown_one_sided_no_profile if {
	questions.answer("one-sided", {"limits": {"height": one_sided_limit}}, {}) == [{"part": "height", "state": "missing", "at": [], "needs": [{"fact": "profile"}]}]
}

test_fail_one_sided_rule_without_its_limit_gives_no_answer if {
	not questions.answer("one-sided", {"limits": {}}, {"profile": {"value": [step_of("outer", 1)], "at": []}})
}
