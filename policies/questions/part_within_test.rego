package sillwright.questions_test

import data.sillwright.questions

# Common practice, no published source: a blade reaches to about half of its brush, here read as 2/5 to 3/5.
reach_rule := {"fact": "embedded_blades", "limits": {"least": two_fifths, "most": three_fifths}}

two_fifths := {"kind": "part", "part": [2, 5]}

three_fifths := {"kind": "part", "part": [3, 5]}

reaches(list) := {"embedded_blades": {"value": list, "at": ["/options/0"]}}

reach_check(part, reach, state, limit, comparator) := {
	"part": part, "state": state, "at": ["/0"],
	"measured": {"part": [reach, 50000000]}, "limit": limit, "comparator": comparator,
	"values": {"part": {"length": reach}, "whole": {"length": 50000000}, "limit": {"part": limit.part}},
}

reach_checks(reach, least, most) := [
	reach_check("least", reach, least, two_fifths, ">="),
	reach_check("most", reach, most, three_fifths, "<="),
]

of_50(reach) := questions.answer("part-within", reach_rule, reaches([{"at": "/0", "part": reach, "whole": 50000000}]))

test_pass_part_within_from_one_limit_to_the_other if {
	every reach in [20000000, 25000000, 30000000] {
		of_50(reach) == reach_checks(reach, "pass", "pass")
	}
}

test_fail_part_within_one_nanometre_beside_a_limit if {
	of_50(19999999) == reach_checks(19999999, "fail", "pass")
	of_50(30000001) == reach_checks(30000001, "pass", "fail")
}

# 2/5 of 1 nm less than a whole number of them: nothing is rounded.
test_fail_part_within_where_the_limit_is_no_whole_number if {
	checks := questions.answer("part-within", reach_rule, reaches([{"at": "/0", "part": 20000000, "whole": 50000001}]))
	checks[0].state == "fail"
	checks[1].state == "pass"
}

test_unknown_part_within_missing_fact if {
	questions.answer("part-within", reach_rule, {}) == [{"part": "least", "state": "missing", "at": [], "needs": [{"fact": "embedded_blades"}]}]
}

test_unknown_part_within_an_item_that_is_not_known if {
	answered := questions.answer("part-within", reach_rule, reaches([{"at": "/0", "part": 25000000, "whole": 50000000}, {"at": "/1"}]))
	answered == array.concat(reach_checks(25000000, "pass", "pass"), [{"part": "least", "state": "missing", "at": ["/1"], "needs": [{"fact": "embedded_blades", "at": "/1"}]}])
}

test_fail_part_within_what_is_no_number_gives_no_answer if {
	every value in ["half", 1, true, null, [{"at": "/0", "part": "25", "whole": 50}], [{"at": "/0", "part": 25, "whole": null}]] {
		not questions.answer("part-within", reach_rule, reaches(value))
	}
}

test_fail_part_within_without_a_limit_gives_no_answer if {
	every limits in [{}, {"least": two_fifths}, {"most": three_fifths}, {"least": {"kind": "length", "at_least": 1}, "most": three_fifths}] {
		not questions.answer("part-within", {"fact": "embedded_blades", "limits": limits}, reaches([{"at": "/0", "part": 25, "whole": 50}]))
	}
}
