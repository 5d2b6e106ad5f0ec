package sillwright.questions_test

import data.sillwright.questions

unless_sealed(limits, facts) := questions.answer("true-unless", {"fact": "bottom_sealed", "limits": limits}, facts)

test_pass_true_or_freed if {
	unless_sealed({}, {"bottom_sealed": {"value": true, "at": ["/options/0"]}}) == [{"part": "value", "state": "pass", "at": ["/options/0"], "measured": {"truth": true}, "values": {}}]
	unless_sealed({"exempt": true}, {}) == [{"part": "none", "state": "pass", "at": [], "values": {}}]
}

test_fail_not_true if unless_sealed({}, {"bottom_sealed": {"value": false, "at": []}})[0].state == "fail"

test_unknown_whether_true if unless_sealed({}, {}) == [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "bottom_sealed"}]}]
