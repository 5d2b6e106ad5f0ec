package sillwright.questions_test

import data.sillwright.questions

# A target is met when the high end of the band meets it, missed when the low end misses it.
flow_rule := {"fact": "leakage", "target": "leakage_target", "limits": {}}

flow_facts(low, likely, high, target) := {
	"leakage": {"value": {"low": low, "likely": likely, "high": high}, "at": ["/options/0"]},
	"leakage_target": {"value": {"flow": target, "at": 50}, "at": ["/spec/leakage/flow"]},
}

flow_check(low, likely, high, target, state) := [{
	"part": "value", "state": state, "at": ["/options/0", "/spec/leakage/flow"],
	"measured": {"flow": likely}, "limit": {"kind": "target_flow", "at_most": target}, "comparator": "<=",
	"values": {"low": {"low_flow": low}, "high": {"high_flow": high}, "likely": {"flow": likely}, "limit": {"target_flow": target}},
}]

test_pass_band_high_end_at_the_target if {
	questions.answer("band-at-most", flow_rule, flow_facts(0.001, 0.002, 0.004, 0.004)) == flow_check(0.001, 0.002, 0.004, 0.004, "pass")
}

test_unknown_band_high_end_just_above_the_target if {
	questions.answer("band-at-most", flow_rule, flow_facts(0.001, 0.002, 0.004001, 0.004)) == flow_check(0.001, 0.002, 0.004001, 0.004, "close")
}

test_unknown_band_low_end_at_the_target if {
	questions.answer("band-at-most", flow_rule, flow_facts(0.004, 0.006, 0.008, 0.004)) == flow_check(0.004, 0.006, 0.008, 0.004, "close")
}

test_fail_band_low_end_just_above_the_target if {
	questions.answer("band-at-most", flow_rule, flow_facts(0.004001, 0.006, 0.008, 0.004)) == flow_check(0.004001, 0.006, 0.008, 0.004, "fail")
}

test_fail_band_any_flow_against_a_target_of_zero if {
	questions.answer("band-at-most", flow_rule, flow_facts(0.001, 0.002, 0.004, 0)) == flow_check(0.001, 0.002, 0.004, 0, "fail")
}

test_unknown_band_missing_leakage if {
	facts := {"leakage_target": {"value": {"flow": 0.004}, "at": []}}
	questions.answer("band-at-most", flow_rule, facts) == [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "leakage"}]}]
}

test_unknown_band_missing_target if {
	facts := {"leakage": {"value": {"low": 0, "likely": 0, "high": 0}, "at": []}}
	questions.answer("band-at-most", flow_rule, facts) == [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "leakage_target"}]}]
}

test_unknown_band_both_missing if {
	questions.answer("band-at-most", flow_rule, {}) == [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "leakage"}]}]
}

test_unknown_band_half_a_target if {
	half := {"leakage": {"value": {"low": 0, "likely": 0, "high": 0}, "at": []}, "leakage_target": {"value": {"flow": 0.004}, "at": []}}
	questions.answer("band-at-most", flow_rule, half) == [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "leakage_target"}]}]
}

# Every text is above every number in Rego's order: unguarded, a target of "abc" would always be met.
test_fail_band_text_gives_no_answer if {
	questions.answer("band-at-most", flow_rule, flow_facts(0.001, 0.002, 0.004, "abc"))[0].state == "missing"
	not questions.answer("band-at-most", flow_rule, flow_facts(0.001, 0.002, "0.004", 0.004))
	not questions.answer("band-at-most", flow_rule, flow_facts("0.001", 0.002, 0.004, 0.004))
	not questions.answer("band-at-most", flow_rule, flow_facts(0.001, null, 0.004, 0.004))
}

# Whatever the share of a house is, more than all that the house may lose is more than it.
share_rule := {"fact": "leakage_50", "target": "house_target", "limits": {}}

share_facts(low, target) := {
	"leakage_50": {"value": {"low": low, "likely": 0.006, "high": 0.008}, "at": ["/options/0"]},
	"house_target": {"value": target, "at": ["/targets/house"]},
}

test_fail_band_more_than_the_whole if {
	answers := questions.answer("band-at-most", share_rule, share_facts(0.004001, {"whole": 0.004, "at": 50}))
	[answer.state | some answer in answers] == ["fail"]
	answers[0].limit == {"kind": "target_flow", "at_most": 0.004}
}

lacks_target := [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "house_target"}]}]

test_unknown_band_all_of_the_whole_and_no_share if {
	questions.answer("band-at-most", share_rule, share_facts(0.004, {"whole": 0.004, "at": 50})) == lacks_target
}

test_unknown_band_a_whole_that_is_text if {
	questions.answer("band-at-most", share_rule, share_facts(0.004001, {"whole": "0.004", "at": 50})) == lacks_target
}

test_unknown_band_a_whole_at_no_pressure if {
	questions.answer("band-at-most", share_rule, share_facts(0.004001, {"whole": 0.004})) == lacks_target
}

test_unknown_band_more_than_the_whole_as_text if {
	questions.answer("band-at-most", share_rule, share_facts("a lot", {"whole": 0.004, "at": 50})) == lacks_target
}

test_pass_band_the_share_stands_before_the_whole if {
	target := {"flow": 0.008, "whole": 0.001, "at": 50}
	[answer.state | some answer in questions.answer("band-at-most", share_rule, share_facts(0.004, target))] == ["pass"]
}

# What is not listed may add to a flow: it can only be too much.
more(low, high, target) := {
	"leakage_50": {"value": {"low": low, "likely": low, "high": high}, "at": ["/options/0"], "or_more": true},
	"house_target": {"value": {"flow": target, "at": 50}, "at": ["/targets/house"]},
}

test_unknown_band_of_flows_that_may_be_more if {
	lacks := [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "leakage_50"}]}]
	every high in [0.003, 0.004, 0.005] {
		questions.answer("band-at-most", share_rule, more(0.002, high, 0.004)) == lacks
	}
}

test_fail_band_of_flows_that_may_be_more if {
	[answer.state | some answer in questions.answer("band-at-most", share_rule, more(0.004001, 0.005, 0.004))] == ["fail"]
}
