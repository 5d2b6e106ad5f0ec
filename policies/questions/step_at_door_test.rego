package sillwright.questions_test

import data.sillwright.questions

# NCC 2022 D3D16, with millimetres for lengths.
sill_25 := {"sill": {"kind": "length", "at_most": 25}}

sill_190 := {"sill_outside": {"kind": "length", "at_most": 190}}

ramp_25 := {"ramp": {"kind": "ratio", "rise": 1, "run": 8}, "ramp_rise": {"kind": "length", "at_most": 25}}

at_door(limits, outer, inner) := [[check.part, check.state] | some check in asked_at_door(limits, outer, inner)]

asked_at_door(limits, outer, inner) := questions.answer("step-at-door", {"fact": "climbs", "limits": limits}, {"climbs": {
	"value": [{"side": "outer", "needs": [], "climbs": outer}, {"side": "inner", "needs": [], "climbs": inner}],
	"at": [],
}})

lip_of(rise) := [climbing([[rise, 0, "square"]], 0)]

test_unknown_step_without_a_threshold if {
	questions.answer("step-at-door", {"fact": "climbs", "limits": {}}, {}) == [{"part": "step", "state": "missing", "at": [], "needs": [{"fact": "climbs"}]}]
}

test_pass_no_step if at_door({}, [], []) == [["none", "pass"], ["none", "pass"]]

test_fail_step_whole_result if {
	asked_at_door({}, lip_of(1), [])[0] == {
		"part": "step", "state": "fail", "at": ["/0"], "measured": {"length": 1},
		"values": {"side": {"word": "outer"}, "measured": {"length": 1}},
	}
}

test_pass_sill if at_door(sill_25, lip_of(25), lip_of(25)) == [["sill", "pass"], ["sill", "pass"]]

test_fail_sill if at_door(sill_25, lip_of(25), lip_of(26)) == [["sill", "pass"], ["sill", "fail"]]

test_pass_sill_outside_whatever_is_inside if at_door(sill_190, lip_of(190), lip_of(191)) == [["sill", "pass"], ["none", "pass"]]

test_fail_sill_outside if at_door(sill_190, lip_of(191), []) == [["sill", "fail"], ["none", "pass"]]

test_pass_ramp_at_the_door if at_door(ramp_25, [climbing([[25, 200, ""]], 0)], []) == [["slope", "pass"], ["rise", "pass"], ["none", "pass"]]

test_fail_ramp_at_the_door if {
	at_door(ramp_25, [climbing([[26, 208, ""]], 0)], []) == [["slope", "pass"], ["rise", "fail"], ["none", "pass"]]
	at_door(ramp_25, [climbing([[25, 199, ""]], 0)], []) == [["slope", "fail"], ["none", "pass"]]
	at_door(ramp_25, [climbing([[3, 0, "square"], [20, 160, ""]], 0)], []) == [["step", "fail"], ["none", "pass"]]
}

test_unknown_ramp_of_a_run_that_nobody_knows if {
	checks := asked_at_door(ramp_25, [climbing([[20, -1, ""]], 0)], [])
	checks[0] == {"part": "slope", "state": "missing", "at": ["/0"], "values": {"side": {"word": "outer"}}, "needs": [{"fact": "climbs", "at": "/0"}]}
}

test_unknown_step_of_a_rise_that_nobody_knows if {
	half_known := {"climbs": {"value": [{"side": "outer", "needs": ["/1"], "climbs": []}, {"side": "inner", "needs": ["/1"], "climbs": []}], "at": []}}
	[[check.part, check.state] | some check in questions.answer("step-at-door", {"fact": "climbs", "limits": {}}, half_known)] == [["none", "pass"], ["none", "pass"], ["step", "missing"], ["step", "missing"]]
	[[check.part, check.state] | some check in questions.answer("step-at-door", {"fact": "climbs", "limits": sill_190}, half_known)] == [["none", "pass"], ["none", "pass"], ["step", "missing"]]
}
