package sillwright.questions_test

import data.sillwright.questions

test_pass_flow_over_a_length if rate_states("flow-per-length", rate_rule("joint_length", "m3/(h m)", 18000000000000, {})) == ["pass"]

test_fail_flow_over_a_length if rate_states("flow-per-length", rate_rule("joint_length", "m3/(h m)", 17999999999999, {})) == ["fail"]

test_unknown_flow_over_a_length_where_only_a_test_counts if {
	rate_states("flow-per-length", rate_rule("joint_length", "m3/(h m)", 18000000000000, {"proof_by_test": true})) == ["open"]
}

test_unknown_flow_over_a_length_without_its_facts if {
	questions.answer("flow-per-length", rate_rule("joint_length", "m3/(h m)", 1, {}), {}) == [{
		"part": "value", "state": "missing", "at": [], "needs": [{"fact": "leakage_rates"}, {"fact": "joint_length"}],
	}]
}
