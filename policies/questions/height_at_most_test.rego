package sillwright.questions_test

import data.sillwright.questions

# BR18 § 51(2) no. 3: 2,5 cm. Tenths of a millimetre stand for lengths.
step_limits := {"height": {"kind": "length", "at_most": 250}}

rises(outer, inner, limits) := questions.answer("height-at-most", {"limits": limits}, {"profile": {"at": ["/threshold"], "value": [
	{"side": "outer", "at": ["/out"], "height": outer, "needs": []},
	{"side": "inner", "at": ["/in"], "height": inner, "needs": []},
]}})

rise_check(side, at, height, limit, state) := {
	"part": "height", "state": state, "at": [at], "measured": {"length": height}, "limit": {"kind": "length", "at_most": limit}, "comparator": "<=",
	"values": {"side": {"word": side}, "measured": {"length": height}, "limit": {"length": limit}, "excess": {"length": height - limit}},
}

test_pass_height_at_most_both_sides_at_the_limit if {
	rises(250, 250, step_limits) == [rise_check("outer", "/out", 250, 250, "pass"), rise_check("inner", "/in", 250, 250, "pass")]
}

test_fail_height_at_most_either_side if {
	rises(251, 0, step_limits) == [rise_check("outer", "/out", 251, 250, "fail"), rise_check("inner", "/in", 0, 250, "pass")]
	rises(0, 251, step_limits) == [rise_check("outer", "/out", 0, 250, "pass"), rise_check("inner", "/in", 251, 250, "fail")]
}

# Finland, 241/2017 section 4(3): outside a dwelling's own outdoor space the floor may lie lower.
test_pass_height_at_most_the_outer_side_left_out if {
	rises(400, 250, object.union(step_limits, {"outer_free": true})) == [rise_check("inner", "/in", 250, 250, "pass")]
}

test_fail_height_at_most_the_inner_side_still_counts if {
	rises(0, 251, object.union(step_limits, {"outer_free": true})) == [rise_check("inner", "/in", 251, 250, "fail")]
}

test_unknown_height_at_most_missing_profile if {
	questions.answer("height-at-most", {"limits": step_limits}, {}) == [{"part": "height", "state": "missing", "at": [], "needs": [{"fact": "profile"}]}]
}

test_unknown_height_at_most_a_rise_that_nobody_read if {
	sides := [{"side": "outer", "at": ["/out"], "least": 10, "needs": ["/s"]}]
	[check] := questions.answer("height-at-most", {"limits": step_limits}, {"profile": {"at": ["/threshold"], "value": sides}})
	check.state == "missing"
	check.needs == [{"fact": "profile", "at": "/s"}]
}

test_fail_height_at_most_without_a_limit_or_a_side_gives_no_answer if {
	not rises(250, 250, {})
	not questions.answer("height-at-most", {"limits": step_limits}, {"profile": {"at": [], "value": []}})
}

test_fail_height_at_most_a_side_without_its_heights_gives_no_answer if {
	sides := [{"side": "outer", "at": [], "height": 0, "needs": []}, {"side": "inner", "at": []}]
	not questions.answer("height-at-most", {"limits": step_limits}, {"profile": {"at": [], "value": sides}})
}
