package sillwright.questions_test

import data.sillwright.questions

# Approved Document C 5.33(a): between 1 in 40 and 1 in 60, in a single direction away from the doorway.
landing_rule := {
	"fact": "floor_slope", "target": "falls_away",
	"limits": {"gentlest": {"kind": "ratio", "rise": 1, "run": 60}, "steepest": {"kind": "ratio", "rise": 1, "run": 40}},
}

landing(rise, run, falls) := {"floor_slope": {"value": {"rise": rise, "run": run}, "at": ["/slope"]}, "falls_away": {"value": falls, "at": ["/falls_away"]}}

landing_states(facts) := [[check.part, check.state] | some check in questions.answer("landing-fall", landing_rule, facts)]

landing_check(part, limit, comparator) := {
	"part": part, "state": "pass", "at": ["/slope"], "measured": {"ratio": [1, 50]}, "limit": {"kind": "ratio", "ratio": limit}, "comparator": comparator,
	"values": {"measured": {"ratio": [1, 50]}, "limit": {"ratio": limit}},
}

test_pass_landing_whole_result if {
	questions.answer("landing-fall", landing_rule, landing(1, 50, true)) == [
		landing_check("gentlest", [1, 60], ">="),
		landing_check("steepest", [1, 40], "<="),
		{"part": "away", "state": "pass", "at": ["/falls_away"], "values": {}},
	]
}

test_pass_landing_at_each_limit if {
	every run in [40, 60] {
		landing_states(landing(1, run, true)) == [["gentlest", "pass"], ["steepest", "pass"], ["away", "pass"]]
	}
}

test_fail_landing_too_steep_by_the_least if landing_states(landing(1000000, 39999999, true))[1] == ["steepest", "fail"]

test_fail_landing_too_level_by_the_least if landing_states(landing(1000000, 60000001, true))[0] == ["gentlest", "fail"]

test_fail_landing_level if landing_states(landing(0, 1, true))[0] == ["gentlest", "fail"]

test_fail_landing_that_falls_to_the_side if landing_states(landing(1, 50, false))[2] == ["away", "fail"]

test_unknown_landing_without_a_slope_or_a_direction if {
	landing_states({}) == [["gentlest", "missing"], ["away", "missing"]]
	questions.answer("landing-fall", landing_rule, {})[1] == {"part": "away", "state": "missing", "at": [], "needs": [{"fact": "falls_away"}]}
}

test_pass_landing_exempt if {
	questions.answer("landing-fall", object.union(landing_rule, {"limits": {"exempt": true}}), {}) == [{"part": "none", "state": "pass", "at": [], "values": {}}]
}

test_fail_landing_lacking_a_limit_or_of_a_wrong_shape_is_silence if {
	every limits in [{}, {"gentlest": {"rise": 1, "run": 60}}, {"steepest": {"rise": 1, "run": 40}}, {"gentlest": {"run": 60}, "steepest": {"run": 40}}] {
		not questions.answer("landing-fall", object.union(landing_rule, {"limits": null}), landing(1, 50, true))
		not questions.answer("landing-fall", {"fact": "floor_slope", "target": "falls_away", "limits": limits}, landing(1, 50, true))
	}
	not questions.answer("landing-fall", landing_rule, {"floor_slope": {"value": "1:50", "at": []}, "falls_away": {"value": true, "at": []}})
	not questions.answer("landing-fall", landing_rule, landing(1, 50, "yes"))
}
