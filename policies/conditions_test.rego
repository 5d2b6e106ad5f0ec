package sillwright.conditions_test

import data.sillwright.conditions

facts(values) := {name: {"value": value, "at": []} | some name, value in values}

truth(test, values) := conditions.truth({"any": [test], "facts": [test.fact], "why": "not so"}, facts(values))

one_of(list) := {"any": list, "facts": [test.fact | some test in list], "why": "not so"}

fire := {"fact": "fire_rated", "in": [true]}

smoke := {"fact": "smoke_control", "in": [true]}

test_pass_conditions_word_or_truth_in_a_list if {
	hung := {"fact": "operation", "in": ["hinged", "pair"]}
	truth(hung, {"operation": "pair"}) == "true"
	truth(hung, {"operation": "sliding"}) == "false"
	truth(fire, {"fire_rated": true}) == "true"

	# A fact that is false is known.
	truth(fire, {"fire_rated": false}) == "false"
	truth({"fact": "fire_rated", "in": [false]}, {"fire_rated": false}) == "true"
}

test_unknown_conditions_fact_that_is_not_known if {
	every test in [fire, {"fact": "depth", "over": 5}, {"fact": "depth", "at_most": 5}, {"fact": "depth", "at_least": 5}] {
		truth(test, {}) == "unknown"
	}
}

test_pass_conditions_given_asks_only_whether if {
	truth({"fact": "taper", "given": true}, {"taper": 0}) == "true"
	truth({"fact": "taper", "given": true}, {"taper": false}) == "true"
	truth({"fact": "taper", "given": true}, {}) == "false"
}

# 2010 ADA Standards 404.2.3: more than 24 in (609.6 mm), printed as 610 mm.
test_unknown_conditions_over_and_its_printed_rounding if {
	deep := {"fact": "depth", "over": 6096, "printed": 6100}
	truth(deep, {"depth": 6096}) == "false"
	truth(deep, {"depth": 6097}) == "unknown"
	truth(deep, {"depth": 6100}) == "unknown"
	truth(deep, {"depth": 6101}) == "true"
	truth({"fact": "depth", "over": 6096}, {"depth": 6097}) == "true"
	truth({"fact": "depth", "over": 6096}, {"depth": 6096}) == "false"
}

# 2010 ADA Standards 404.2.4.3: within 18 in (457.2 mm), printed as 455 mm, which takes in less.
test_unknown_conditions_at_most_and_its_printed_rounding if {
	beside := {"fact": "beside", "at_most": 4572, "printed": 4550}
	truth(beside, {"beside": 4550}) == "true"
	truth(beside, {"beside": 4551}) == "unknown"
	truth(beside, {"beside": 4572}) == "unknown"
	truth(beside, {"beside": 4573}) == "false"

	# The other way round: the printed figure takes in more.
	wider := {"fact": "beside", "at_most": 127, "printed": 130}
	[truth(wider, {"beside": value}) | some value in [127, 128, 130, 131]] == ["true", "unknown", "unknown", "false"]
	truth({"fact": "beside", "at_most": 4572}, {"beside": 4572}) == "true"
	truth({"fact": "beside", "at_most": 4572}, {"beside": 4573}) == "false"
}

test_unknown_conditions_at_least_and_its_printed_rounding if {
	lower := {"fact": "height", "at_least": 19812, "printed": 19800}
	[truth(lower, {"height": value}) | some value in [19799, 19800, 19811, 19812]] == ["false", "unknown", "unknown", "true"]
	higher := {"fact": "height", "at_least": 8636, "printed": 8650}
	[truth(higher, {"height": value}) | some value in [8635, 8636, 8649, 8650]] == ["false", "unknown", "unknown", "true"]
	[truth({"fact": "height", "at_least": 60}, {"height": value}) | some value in [59, 60]] == ["false", "true"]
}

test_unknown_conditions_hold_is_a_three_valued_and if {
	a := one_of([fire])
	b := one_of([smoke])
	conditions.hold([], {}) == "true"
	conditions.hold([a, b], facts({"fire_rated": true, "smoke_control": true})) == "true"
	conditions.hold([a, b], facts({"fire_rated": true})) == "unknown"
	conditions.hold([a, b], facts({"smoke_control": false})) == "false"
	conditions.hold([a, b], {}) == "unknown"
}

test_unknown_conditions_choice_is_a_three_valued_or if {
	either := one_of([fire, smoke])
	conditions.truth(either, facts({"fire_rated": true})) == "true"
	conditions.truth(either, facts({"fire_rated": false})) == "unknown"
	conditions.truth(either, facts({"fire_rated": false, "smoke_control": false})) == "false"
}

test_unknown_conditions_ask_for_what_would_settle_them if {
	either := one_of([fire, smoke])
	conditions.unclear([either], {}) == [{"fact": "fire_rated"}, {"fact": "smoke_control"}]
	conditions.unclear([either], facts({"fire_rated": false})) == [{"fact": "smoke_control"}]
	conditions.unclear([either], facts({"fire_rated": true})) == []

	# Known, and still open by the text's own rounding: a finer measurement may settle it.
	deep := one_of([{"fact": "depth", "over": 6096, "printed": 6100}])
	conditions.unclear([deep], facts({"depth": 6098})) == [{"fact": "depth"}]
}

# What nobody has read may still carry a value over a bound, or back under it; what it cannot undo stands.
test_unknown_conditions_of_a_value_that_may_be_more_or_less if {
	truths := {[key, bound, value]: conditions.single({"fact": "depth", bound: 5}, {"depth": {"value": value, "at": [], key: true}}) |
		some key in ["or_more", "or_less"]
		some bound in ["over", "at_most", "at_least"]
		some value in [4, 5, 6]
	}
	[truths[["or_more", "over", value]] | some value in [4, 5, 6]] == ["unknown", "unknown", "true"]
	[truths[["or_more", "at_most", value]] | some value in [4, 5, 6]] == ["unknown", "unknown", "false"]
	[truths[["or_more", "at_least", value]] | some value in [4, 5, 6]] == ["unknown", "true", "true"]
	[truths[["or_less", "over", value]] | some value in [4, 5, 6]] == ["false", "false", "unknown"]
	[truths[["or_less", "at_most", value]] | some value in [4, 5, 6]] == ["true", "true", "unknown"]
	[truths[["or_less", "at_least", value]] | some value in [4, 5, 6]] == ["false", "unknown", "unknown"]
}
