package sillwright.questions_test

import data.sillwright.questions

# A leaf of 2 m2 with a joint of 2 m, which leaks 36 m3/h at 75 Pa.
rate_facts := {
	"leakage_rates": {"value": [{"at": 75000000, "low": 0.01, "likely": 0.01, "high": 0.01}], "at": ["/options/0"]},
	"leaf_area": {"value": {"width": 1000000000, "height": 2000000000}, "at": ["/door/height"]},
	"joint_length": {"value": 2000000000, "at": ["/door/height"]},
}

rate_rule(target, kind, most, more) := {
	"fact": "leakage_rates", "target": target,
	"limits": object.union({"value": {"kind": kind, "at_most": most}, "pressure": {"kind": "pressure", "at": 75000000}}, more),
}

rate_states(name, rule) := [check.state | some check in questions.answer(name, rule, rate_facts)]

test_pass_flow_over_an_area if rate_states("flow-per-area", rate_rule("leaf_area", "m3/(h m2)", 18000000000, {})) == ["pass"]

test_fail_flow_over_an_area if rate_states("flow-per-area", rate_rule("leaf_area", "m3/(h m2)", 17999999999, {})) == ["fail"]

test_unknown_flow_over_an_area_with_its_frame if {
	rate_states("flow-per-area", rate_rule("leaf_area", "m3/(h m2)", 17999999999, {"frame": {"kind": "part", "part": [1, 3]}})) == ["close"]
}

test_unknown_flow_over_an_area_without_its_facts if {
	questions.answer("flow-per-area", rate_rule("leaf_area", "m3/(h m2)", 1, {}), {}) == [{
		"part": "value", "state": "missing", "at": [], "needs": [{"fact": "leakage_rates"}, {"fact": "leaf_area"}],
	}]
}

test_pass_flow_over_an_area_tells_its_band if {
	questions.answer("flow-per-area", rate_rule("leaf_area", "m3/(h m2)", 18000000000, {}), rate_facts) == [{
		"part": "value", "state": "pass", "at": ["/options/0", "/door/height"], "needs": [],
		"measured": {"rate": [18000000000, "m3/(h m2)"]}, "limit": {"kind": "m3/(h m2)", "at_most": 18000000000}, "comparator": "<=",
		"values": {
			"low": {"low_rate": [18000000000, "m3/(h m2)"]}, "likely": {"rate": [18000000000, "m3/(h m2)"]},
			"high": {"high_rate": [18000000000, "m3/(h m2)"]}, "limit": {"m3/(h m2)": 18000000000},
		},
	}]
}

# IBC 2009, 711.5.2: 3.0 cfm/ft2, which is 54.864 m3/(h m2), at 24.9 Pa. 3.0 meets it and 3.01 misses it.
test_fail_flow_over_an_area_by_a_hundredth_more_than_the_limit if {
	smoke := object.union(rate_rule("leaf_area", "cfm/ft2", 54864000000, {}), {"limits": {"value": {"kind": "cfm/ft2", "at_most": 54864000000}, "pressure": {"kind": "pressure", "at": 24900000}}})
	every pair in [[3.0, "pass"], [3.01, "fail"]] {
		flow := (pair[0] * 0.00508) * 2
		facts := object.union(rate_facts, {"leakage_rates": {"value": [{"at": 24900000, "low": flow, "likely": flow, "high": flow}], "at": []}})
		[check.state | some check in questions.answer("flow-per-area", smoke, facts)] == [pair[1]]
	}
}
