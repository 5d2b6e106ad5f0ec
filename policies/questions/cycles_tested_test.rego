package sillwright.questions_test

import data.sillwright.questions

# The spec's own terms: 40 openings a day over 10 years of 365.25 days are 146 100.
cycles_rule := {"fact": "cycles_tested", "target": "cycles_asked", "limits": {}}

cycles(tested) := {
	"cycles_tested": {"value": {"cycles": tested, "years": "10 years"}, "at": ["/options/0/seal"]},
	"cycles_asked": {"value": {"cycles": 146100, "class": "class 6 of EN 12400 or better"}, "at": ["/duty/cycles_per_day", "/duty/life"]},
}

cycles_check(tested, state) := [{
	"part": "value", "state": state, "at": ["/options/0/seal", "/duty/cycles_per_day", "/duty/life"],
	"measured": {"count": tested}, "limit": {"kind": "count", "at_least": 146100}, "comparator": ">=",
	"values": {
		"measured": {"count": tested}, "limit": {"count": 146100},
		"class": {"word": "class 6 of EN 12400 or better"}, "years": {"word": "10 years"},
	},
}]

cycles_lack(name) := {"part": "value", "state": "missing", "at": [], "needs": [{"fact": name}]}

test_pass_cycles_tested_as_many_as_asked if {
	every tested in [146100, 200000] {
		questions.answer("cycles-tested", cycles_rule, cycles(tested)) == cycles_check(tested, "pass")
	}
}

test_fail_cycles_tested_one_fewer if {
	every tested in [146099, 0] {
		questions.answer("cycles-tested", cycles_rule, cycles(tested)) == cycles_check(tested, "fail")
	}
}

test_unknown_cycles_tested_missing_facts if {
	both := cycles(1)
	questions.answer("cycles-tested", cycles_rule, {}) == [cycles_lack("cycles_tested"), cycles_lack("cycles_asked")]
	questions.answer("cycles-tested", cycles_rule, {"cycles_tested": both.cycles_tested}) == [cycles_lack("cycles_asked")]
	questions.answer("cycles-tested", cycles_rule, {"cycles_asked": both.cycles_asked}) == [cycles_lack("cycles_tested")]
	unsaid := object.union(both, {"cycles_asked": {"value": {"cycles": null}}})
	questions.answer("cycles-tested", cycles_rule, unsaid) == [cycles_lack("cycles_asked")]
	empty := {"cycles_tested": both.cycles_tested, "cycles_asked": {"value": {}, "at": []}}
	questions.answer("cycles-tested", cycles_rule, empty) == [cycles_lack("cycles_asked")]
}

test_fail_cycles_tested_text_gives_no_answer if {
	every value in ["146100", "", true, [], {}] {
		not questions.answer("cycles-tested", cycles_rule, cycles(value))
	}
}
