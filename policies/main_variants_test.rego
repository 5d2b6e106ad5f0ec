package sillwright_test

import data.sillwright

# A rulebook with variants: the rule is of M4(2) and M4(3) only.
varied := object.union(rule, {"variants": ["M4(2)", "M4(3)"]})

asked_as(variant, values, answers) := outcomes[0] if {
	ref := object.union({"id": "trial"}, {"variant": v | some v in [variant]; v != ""})
	asked := {"rulebooks": [ref], "answers": answers, "subjects": [{"id": "door", "kind": "door", "facts": facts(values)}]}
	outcomes := sillwright.outcomes with data.rulebooks as {"trial": {"rules": [varied]}} with input as asked
}

test_pass_rule_of_the_variant_that_is_asked if asked_as("M4(2)", {"carpet_pile": 10}, {}).outcome == "pass"

test_fail_rule_of_the_variant_that_is_asked if asked_as("M4(3)", {"carpet_pile": 13}, {}).outcome == "fail"

test_pass_rule_of_another_variant_is_not_applicable if {
	asked_as("M4(1)", {"carpet_pile": 13}, {}) == {"rule": "trial/pile", "subject": "door", "outcome": "not-applicable", "by": "variant", "checks": [], "needs": []}
}

test_unknown_rule_of_a_variant_that_is_not_named if {
	one := asked_as("", {"carpet_pile": 13}, {})
	[one.outcome, one.needs] == ["unknown", [{"fact": "variant"}]]
}

test_pass_rule_that_is_met_whatever_the_variant if asked_as("", {"carpet_pile": 10}, {}).outcome == "pass"

test_unknown_no_to_a_rule_of_a_variant_that_is_not_named_settles_nothing if {
	asked_as("", {"carpet_pile": 11}, {"trial/pile": {"value": false, "evidence": "letter"}}).outcome == "unknown"
}

test_fail_no_to_a_rule_of_the_variant_that_is_asked if {
	asked_as("M4(2)", {"carpet_pile": 11}, {"trial/pile": {"value": false, "evidence": "letter"}}).outcome == "fail"
}

# The variant is a word that conditions may test.
scoped := object.union(rule, {"applies": [{"any": [{"fact": "variant", "in": ["M4(2)"]}], "facts": ["variant"], "why": "it is another variant"}]})

scoped_as(ref, values) := outcomes[0] if {
	asked := {"rulebooks": [ref], "answers": {}, "subjects": [{"id": "door", "kind": "door", "facts": facts(values)}]}
	outcomes := sillwright.outcomes with data.rulebooks as {"trial": {"rules": [scoped]}} with input as asked
}

test_fail_condition_on_the_variant_that_is_asked if scoped_as({"id": "trial", "variant": "M4(2)"}, {"carpet_pile": 13}).outcome == "fail"

test_pass_condition_on_another_variant_does_not_apply if scoped_as({"id": "trial", "variant": "M4(1)"}, {"carpet_pile": 13}).why == "it is another variant"

test_unknown_condition_on_a_variant_that_is_not_named if {
	one := scoped_as({"id": "trial"}, {"carpet_pile": 13})
	[one.outcome, one.needs] == ["unknown", [{"fact": "variant"}]]
}
