package sillwright.compare_test

import data.sillwright.compare

loose := {"at_most": 12700000, "printed": 13000000}

test_pass_at_most_up_to_the_limit if {
	every value in [-1, 0, 12699999, 12700000] {
		compare.at_most(value, loose) == "pass"
	}
}

test_unknown_at_most_between_the_limit_and_its_printed_rounding if {
	every value in [12700001, 13000000] {
		compare.at_most(value, loose) == "open"
	}
}

test_fail_at_most_above_the_printed_rounding if compare.at_most(13000001, loose) == "fail"

# 3/4 in is printed as 19 mm: the rounding is the stricter one and leaves no band.
test_fail_at_most_a_stricter_rounding_does_not_govern if {
	strict := {"at_most": 19050000, "printed": 19000000}
	compare.at_most(19050000, strict) == "pass"
	compare.at_most(19050001, strict) == "fail"
}

test_fail_at_most_without_a_rounding if {
	compare.at_most(12700000, {"at_most": 12700000}) == "pass"
	compare.at_most(12700001, {"at_most": 12700000}) == "fail"
}

test_pass_at_least_from_the_limit_up if {
	every value in [812800000, 812800001] {
		compare.at_least(value, {"at_least": 812800000, "printed": 815000000}) == "pass"
	}
}

test_fail_at_least_below_the_limit if {
	compare.at_least(812799999, {"at_least": 812800000, "printed": 815000000}) == "fail"
	compare.at_least(812799999, {"at_least": 812800000}) == "fail"
}

test_unknown_at_least_between_a_looser_rounding_and_the_limit if {
	limit := {"at_least": 812800000, "printed": 810000000}
	compare.at_least(810000000, limit) == "open"
	compare.at_least(809999999, limit) == "fail"
}

# 53 bits do not hold these products: whole numbers must stay whole.
test_pass_gentle_at_the_slope_with_long_numbers if {
	compare.gentle(90071992547409931, 180143985094819862, {"rise": 1, "run": 2})
}

test_fail_gentle_one_nanometre_too_short if {
	not compare.gentle(90071992547409931, 180143985094819861, {"rise": 1, "run": 2})
	not compare.gentle(1, 0, {"rise": 1, "run": 2})
}

test_unknown_missing_names_the_fact if {
	compare.missing("value", "carpet_pile") == {"part": "value", "state": "missing", "at": [], "needs": [{"fact": "carpet_pile"}]}
}

# A limit of another sense never passes.
test_fail_without_a_limit if {
	compare.at_most(1, {"at_least": 5}) == "fail"
	compare.at_least(9, {"at_most": 5}) == "fail"
	not compare.gentle(1, 100, {"at_most": 5})
}

# In Rego null < truths < numbers < texts: each would pass one of the comparisons.
test_fail_compare_numbers_takes_numbers_only if {
	compare.numbers({"from": 1, "by": 0, "part": "stop"}, ["from", "by", "leaves"])
	every wrong in [null, true, "1", [1], {}] {
		not compare.numbers({"from": wrong}, ["from", "by"])
	}
}

or_more(value) := {"value": value, "or_more": true}

or_less(value) := {"value": value, "or_less": true}

test_unknown_compare_what_nobody_has_read_may_still_settle if {
	[compare.at_most_of(or_more(value), loose) | some value in [0, 12700000, 13000000, 13000001]] == ["missing", "missing", "missing", "fail"]
	[compare.at_most_of(or_less(value), loose) | some value in [12700000, 12700001, 13000001]] == ["pass", "missing", "missing"]
	[compare.at_most_of({"value": value}, loose) | some value in [12700000, 12700001, 13000001]] == ["pass", "open", "fail"]
	least := {"at_least": 5, "printed": 4}
	[compare.at_least_of(or_less(value), least) | some value in [6, 5, 4, 3]] == ["missing", "missing", "missing", "fail"]
	[compare.at_least_of(or_more(value), least) | some value in [5, 4, 3]] == ["pass", "missing", "missing"]
	[compare.at_least_of({"value": value}, least) | some value in [5, 4, 3]] == ["pass", "open", "fail"]
}
