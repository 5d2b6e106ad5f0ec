package sillwright_test

import data.sillwright

asked_singly(questions, answers) := outcomes if {
	outcomes := sillwright.singly with data.rulebooks as {"trial": {"rules": [rule, with_exception]}} with input as {"answers": answers, "singly": questions}
}

one_question(place, values) := {"rulebook": {"id": "trial"}, "place": place, "facts": facts(values)}

test_fail_singly_as_of_a_subject if {
	[said] := asked_singly([one_question(0, {"carpet_pile": 13})], {})
	[whole] := judged(rule, {"carpet_pile": 13}, {})
	object.union(said, {"subject": "door"}) == object.union(whole, {"single": 0})
	said.single == 0
}

test_pass_singly_each_question if {
	said := asked_singly([one_question(1, {"carpet_pile": 13, "work": "existing"}), one_question(0, {"carpet_pile": 10})], {})
	[[one.single, one.outcome, one.by] | some one in said] == [[0, "pass", "existing"], [1, "pass", "rule"]]
}

test_pass_singly_with_an_answer if {
	[said] := asked_singly([one_question(0, {"carpet_pile": 11})], {"trial/pile": {"value": true, "evidence": "the authority agrees"}})
	said.outcome == "pass"
	said.answered == "the authority agrees"
}

test_pass_singly_in_a_variant if {
	asked := [{"rulebook": {"id": "trial", "variant": "M4(2)"}, "place": 0, "facts": facts({"carpet_pile": 9})}]
	[said] := sillwright.singly with data.rulebooks as {"trial": {"rules": [object.union(rule, {"variants": ["M4(2)"]})]}} with input as {"answers": {}, "singly": asked}
	said.outcome == "pass"
}
