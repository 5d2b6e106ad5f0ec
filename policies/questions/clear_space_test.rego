package sillwright.questions_test

import data.sillwright.questions

# 2010 ADA Standards Table 404.2.4.1, some rows, in inches and tenths of them.
at_least(n) := {"kind": "length", "at_least": n}

when(name, words) := {"any": [{"fact": name, "in": words}], "facts": [name], "why": "another row"}

# Pulled from the hinge side: 60 by 36, or 54 by 42.
hinge_pull := {"when": [when("use", ["pull"])], "any": [
	{"floor_depth": at_least(600), "beside_latch": at_least(360)},
	{"floor_depth": object.union(at_least(540), {"printed": 538}), "beside_latch": at_least(420)},
]}

# Pushed from the hinge side: 42 by 22 beyond the hinge; 6 more with a closer and a latch.
hinge_push := {"when": [when("use", ["push"])], "any": [{"floor_depth": at_least(420), "beside_hinge": at_least(220)}]}

hinge_push_closer := {"when": [when("use", ["push"]), when("closer", [true]), when("latch", [true])], "any": [{"floor_depth": at_least(480)}]}

space_rule := {"rows": [hinge_pull, hinge_push, hinge_push_closer]}

where := {"use": "/opens", "closer": "/closer", "latch": "/latch", "floor_depth": "/depth", "beside_latch": "/latch_side", "beside_hinge": "/hinge_side"}

here(values) := {name: {"value": value, "at": [where[name]]} | some name, value in values}

spaces(values) := questions.answer("clear-space", space_rule, here(values))

spaced(values) := [[check.part, check.state] | some check in spaces(values)]

space_check(part, value, limit, state) := {
	"part": part, "state": state, "at": [where[part]], "measured": {"length": value}, "limit": limit, "comparator": ">=",
	"values": {"measured": {"length": value}, "limit": {"length": limit.at_least}, "lack": {"length": limit.at_least - value}},
}

needed(values) := [need.fact | some check in spaces(values); check.state == "missing"; some need in check.needs]

test_pass_space_first_alternative if {
	spaces({"use": "pull", "floor_depth": 600, "beside_latch": 360}) == [space_check("floor_depth", 600, at_least(600), "pass"), space_check("beside_latch", 360, at_least(360), "pass")]
}

test_pass_space_second_alternative if {
	spaces({"use": "pull", "floor_depth": 540, "beside_latch": 420}) == [space_check("floor_depth", 540, hinge_pull.any[1].floor_depth, "pass"), space_check("beside_latch", 420, at_least(420), "pass")]
}

# The depth of one alternative does not go with the width of the other.
test_fail_space_no_alternative_is_met_whole if {
	spaced({"use": "pull", "floor_depth": 599, "beside_latch": 419}) == [["floor_depth", "fail"], ["beside_latch", "pass"]]
	spaced({"use": "pull", "floor_depth": 600, "beside_latch": 359}) == [["floor_depth", "pass"], ["beside_latch", "fail"]]
	spaced({"use": "pull", "floor_depth": 537, "beside_latch": 420}) == [["floor_depth", "fail"], ["beside_latch", "pass"]]
}

test_unknown_space_within_the_printed_rounding_of_one_alternative if {
	spaced({"use": "pull", "floor_depth": 538, "beside_latch": 420}) == [["floor_depth", "open"], ["beside_latch", "pass"]]
}

# What one alternative fails for good, the other may still meet.
test_unknown_space_measure_that_one_alternative_needs if {
	spaced({"use": "pull", "floor_depth": 560}) == [["floor_depth", "pass"], ["beside_latch", "missing"]]
	needed({"use": "pull", "floor_depth": 560}) == ["beside_latch"]
	spaces({"use": "pull", "beside_latch": 400})[0] == {"part": "floor_depth", "state": "missing", "at": [], "needs": [{"fact": "floor_depth"}]}
	needed({"use": "pull"}) == ["floor_depth", "beside_latch"]
}

test_fail_space_whatever_is_not_measured if {
	spaced({"use": "pull", "floor_depth": 500}) == [["floor_depth", "fail"], ["beside_latch", "missing"]]
}

test_pass_space_every_row_that_holds if {
	both := {"use": "push", "closer": true, "latch": true, "floor_depth": 480, "beside_hinge": 220}
	spaced(both) == [["floor_depth", "pass"], ["beside_hinge", "pass"], ["floor_depth", "pass"]]
	spaced(object.union(both, {"floor_depth": 479})) == [["floor_depth", "pass"], ["beside_hinge", "pass"], ["floor_depth", "fail"]]
	spaced(object.union(both, {"floor_depth": 479, "closer": false})) == [["floor_depth", "pass"], ["beside_hinge", "pass"]]
	spaced(object.union(both, {"floor_depth": 479, "latch": false})) == [["floor_depth", "pass"], ["beside_hinge", "pass"]]
}

test_pass_space_row_that_may_hold_and_is_met if {
	spaced({"use": "push", "floor_depth": 480, "beside_hinge": 220}) == [["floor_depth", "pass"], ["beside_hinge", "pass"], ["floor_depth", "pass"]]
	spaced({"floor_depth": 600, "beside_latch": 360, "beside_hinge": 220}) == [["floor_depth", "pass"], ["beside_latch", "pass"], ["floor_depth", "pass"], ["beside_hinge", "pass"], ["floor_depth", "pass"]]
}

test_unknown_space_row_that_may_hold_and_is_not_met if {
	spaces({"use": "push", "latch": true, "floor_depth": 479, "beside_hinge": 220})[2] == {"part": "floor_depth", "state": "missing", "at": [], "needs": [{"fact": "closer"}]}
	needed({"use": "push", "floor_depth": 479, "beside_hinge": 220}) == ["closer", "latch"]
	needed({"floor_depth": 479, "beside_hinge": 220, "latch": false}) == ["use"]
}

# A row that may hold is open there too: whether it holds is asked first.
test_unknown_space_row_that_may_hold_and_is_open if {
	needed({"floor_depth": 538, "beside_latch": 420, "beside_hinge": 220, "latch": false}) == ["use"]
}

test_fail_space_without_a_row_that_holds_gives_no_checks if {
	spaces({"use": "slide", "floor_depth": 900}) == []
}

test_fail_space_of_the_wrong_shape_gives_no_answer if {
	every wrong in ["900", null, true, [900]] {
		not spaces({"use": "pull", "floor_depth": wrong, "beside_latch": 900})
		not spaces({"floor_depth": wrong, "beside_latch": 900, "beside_hinge": 900})
	}
}

test_fail_space_without_a_limit_gives_no_answer if {
	every any in [[], [{}], [{"floor_depth": {}}], [{"floor_depth": at_least(420), "beside": at_least(1)}], [{"floor_depth": {"kind": "length", "at_most": 1}}], [hinge_push.any[0], {}]] {
		broken := {"rows": [hinge_push_closer, {"when": hinge_push.when, "any": any}]}
		every values in [{"floor_depth": 900, "beside_hinge": 900}, {"beside_hinge": 900}, {}] {
			not questions.answer("clear-space", broken, here(object.union(values, {"use": "push", "closer": true, "latch": true})))
			not questions.answer("clear-space", broken, here(values))
		}
	}
	not questions.answer("clear-space", {}, here({"use": "push"}))
}

# An alternative that is met counts, whatever the one before it still lacks.
test_pass_space_later_alternative_is_met_where_the_first_is_not_known if {
	row := {"when": [when("use", ["push"])], "any": [{"beside_hinge": at_least(220)}, {"floor_depth": at_least(420)}]}
	questions.answer("clear-space", {"rows": [row]}, here({"use": "push", "floor_depth": 420})) == [space_check("floor_depth", 420, at_least(420), "pass")]
}
