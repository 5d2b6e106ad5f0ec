package sillwright.questions_test

import data.sillwright.questions

# Common practice, no published source: a gasket is pressed within the range that it is made for, here 1 to 4 mm.
pressed_rule := {"fact": "edge_gaskets_pressed", "limits": {}}

pressing(list) := {"edge_gaskets_pressed": {"value": list, "at": ["/paths"]}}

pressing_at(value) := {"at": "/paths/0/seal", "edge": "head", "pressed": value, "least": 1000000, "most": 4000000}

pressed_checks(value, loose, tight) := [
	{
		"part": "loose", "state": loose, "at": ["/paths/0/seal"],
		"measured": {"length": value}, "limit": {"kind": "length", "at_least": 1000000}, "comparator": ">=",
		"values": {"edge": {"word": "head"}, "limit": {"length": 1000000}, "lack": {"length": 1000000 - value}},
	},
	{
		"part": "tight", "state": tight, "at": ["/paths/0/seal"],
		"measured": {"length": value}, "limit": {"kind": "length", "at_most": 4000000}, "comparator": "<=",
		"values": {"edge": {"word": "head"}, "limit": {"length": 4000000}, "excess": {"length": value - 4000000}},
	},
]

test_pass_pressed_within_from_one_limit_to_the_other if {
	every value in [1000000, 2500000, 4000000] {
		questions.answer("pressed-within", pressed_rule, pressing([pressing_at(value)])) == pressed_checks(value, "pass", "pass")
	}
}

test_fail_pressed_within_one_nanometre_beside_a_limit if {
	questions.answer("pressed-within", pressed_rule, pressing([pressing_at(999999)])) == pressed_checks(999999, "fail", "pass")
	questions.answer("pressed-within", pressed_rule, pressing([pressing_at(4000001)])) == pressed_checks(4000001, "pass", "fail")
}

test_fail_pressed_within_a_gap_wider_than_the_gasket_is_high if {
	questions.answer("pressed-within", pressed_rule, pressing([pressing_at(-1)])) == pressed_checks(-1, "fail", "pass")
}

test_unknown_pressed_within_missing_fact if {
	questions.answer("pressed-within", pressed_rule, {}) == [{"part": "loose", "state": "missing", "at": [], "needs": [{"fact": "edge_gaskets_pressed"}]}]
}

test_unknown_pressed_within_an_item_that_is_not_known if {
	every key in ["pressed", "least", "most"] {
		item := {name: value | some name, value in pressing_at(1000000); name != key}
		answered := questions.answer("pressed-within", pressed_rule, pressing([pressing_at(1000000), item]))
		answered == array.concat(pressed_checks(1000000, "pass", "pass"), [{
			"part": "loose", "state": "missing", "at": ["/paths/0/seal"],
			"needs": [{"fact": "edge_gaskets_pressed", "at": "/paths/0/seal"}],
		}])
	}
}

test_fail_pressed_within_what_is_no_number_gives_no_answer if {
	every value in ["tight", 1, true, null, [pressing_at("1")], [pressing_at(null)]] {
		not questions.answer("pressed-within", pressed_rule, pressing(value))
	}
}
