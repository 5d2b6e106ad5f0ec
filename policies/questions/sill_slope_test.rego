package sillwright.questions_test

import data.sillwright.questions

# Approved Document C 5.33(b): 15 degrees, tan 15 degrees as a convergent from below.
sill_limits := {"slope": {"kind": "angle", "rise": 1525870529, "run": 5694626340, "angle": 15000000}}

sill_limit := {"incline": [1525870529, 5694626340, 15000000]}

sill(parts) := {"profile": {"value": [{"side": "outer", "needs": [], "rising": parts}, {"side": "inner", "needs": [], "rising": [{"at": "/i", "rise": 9, "run": 1}]}], "at": ["/threshold"]}}

sill_asked(facts) := questions.answer("sill-slope", {"limits": sill_limits}, facts)

sill_states(facts) := [[check.part, check.state] | some check in sill_asked(facts)]

test_pass_sill_whole_result if {
	sill_asked(sill([{"at": "/s", "rise": 10000000, "run": 37320509}])) == [{
		"part": "slope", "state": "pass", "at": ["/s"], "comparator": "<=", "measured": {"ratio": [10000000, 37320509]},
		"limit": {"kind": "angle", "incline": [1525870529, 5694626340, 15000000]},
		"values": {"rise": {"length": 10000000}, "run": {"length": 37320509}, "limit": sill_limit, "least_run": {"length": 37320509}},
	}]
}

# 10 mm x (2 + root 3) is 37.320508 075... mm.
test_fail_sill_one_nanometre_shorter if sill_states(sill([{"at": "/s", "rise": 10000000, "run": 37320508}])) == [["slope", "fail"]]

test_pass_sill_level_upright_or_behind_the_leaf if {
	none := [{"part": "none", "state": "pass", "at": ["/threshold"], "values": {}}]
	every parts in [[], [{"at": "/u", "rise": 15, "run": 0}], [{"at": "/b", "rise": 9, "run": 1, "past_leaf": true}]] {
		sill_asked(sill(parts)) == none
	}
}

test_fail_sill_of_which_one_part_is_steep if {
	sill_states(sill([{"at": "/g", "rise": 1, "run": 9}, {"at": "/s", "rise": 1, "run": 3}])) == [["slope", "pass"], ["slope", "fail"]]
}

test_unknown_sill_without_a_profile if {
	sill_asked({}) == [{"part": "slope", "state": "missing", "at": [], "needs": [{"fact": "profile"}]}]
}

test_unknown_sill_of_a_run_or_a_rise_that_nobody_measured if {
	sill_asked(sill([{"at": "/s", "rise": 5, "run": null}])) == [{"part": "slope", "state": "missing", "at": ["/s"], "needs": [{"fact": "profile", "at": "/s"}]}]
	facts := {"profile": {"value": [{"side": "outer", "needs": ["/f"], "waits": "floor_finish", "rising": []}], "at": []}}
	sill_asked(facts) == [{"part": "slope", "state": "missing", "at": ["/f"], "needs": [{"fact": "floor_finish", "at": "/f"}]}]
}

test_unknown_sill_too_steep_that_may_be_behind_the_leaf if {
	part := {"at": "/b", "rise": 9, "run": 1, "unplaced": true}
	sill_asked(sill([part])) == [{"part": "slope", "state": "missing", "at": ["/b"], "needs": [{"fact": "profile", "at": "/threshold"}]}]
	sill_states(sill([object.union(part, {"run": 90})])) == [["slope", "pass"]]
}

test_pass_sill_exempt if {
	questions.answer("sill-slope", {"limits": object.union(sill_limits, {"exempt": true})}, {}) == [{"part": "none", "state": "pass", "at": [], "values": {}}]
}

test_fail_sill_lacking_a_limit_a_side_or_a_rise_is_silence if {
	steep := sill([{"at": "/s", "rise": 9, "run": 1}])
	every limits in [{}, {"slope": {}}, {"slope": {"rise": 1}}, {"slope": {"run": 4}}] {
		not questions.answer("sill-slope", {"limits": limits}, steep)
	}
	not sill_asked({"profile": {"value": "level", "at": []}})
	not sill_asked({"profile": {"value": [], "at": []}})
	not sill_asked(sill([{"at": "/s", "run": 4}]))
}

test_fail_level_sill_lacking_a_limit_is_silence if {
	every limits in [{}, {"slope": {"rise": 1}}, {"slope": {"run": 4}}, {"slope": {"rise": "1", "run": 4}}, {"slope": {"rise": 1, "run": "4"}}] {
		not questions.answer("sill-slope", {"limits": limits}, sill([]))
	}
}
