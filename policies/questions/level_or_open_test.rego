package sillwright.questions_test

import data.sillwright.questions

# TEK17 § 12-13(3)c: thresholds are "trinnfrie", without a number. Nanometres.
step_free(outer, inner) := questions.answer("level-or-open", {}, {"profile": {"at": ["/threshold"], "value": [
	{"side": "outer", "at": ["/out"], "height": outer, "needs": []},
	{"side": "inner", "at": ["/in"], "height": inner, "needs": []},
]}})

step_free_check(side, at, height, state) := {
	"part": "rise", "state": state, "at": [at], "measured": {"length": height}, "values": {"side": {"word": side}, "measured": {"length": height}},
}

step_free_side(side) := questions.answer("level-or-open", {}, {"profile": {"at": ["/threshold"], "value": [side]}})

test_pass_level_or_open_at_zero if {
	step_free(0, 0) == [step_free_check("outer", "/out", 0, "pass"), step_free_check("inner", "/in", 0, "pass")]
}

test_unknown_level_or_open_one_nanometre_up if {
	step_free(1, 0) == [step_free_check("outer", "/out", 1, "open"), step_free_check("inner", "/in", 0, "pass")]
	step_free(0, 1) == [step_free_check("outer", "/out", 0, "pass"), step_free_check("inner", "/in", 1, "open")]
}

test_unknown_level_or_open_missing_profile if {
	questions.answer("level-or-open", {}, {}) == [{"part": "rise", "state": "missing", "at": [], "needs": [{"fact": "profile"}]}]
}

test_unknown_level_or_open_a_rise_that_nobody_read if {
	unread := {"side": "outer", "at": ["/out"], "least": 0, "needs": ["/s"]}
	step_free_side(unread) == [{"part": "rise", "state": "missing", "at": ["/s"], "values": {"side": {"word": "outer"}}, "needs": [{"fact": "profile", "at": "/s"}]}]
	[check] := step_free_side(object.union(unread, {"waits": "floor_finish"}))
	check.needs == [{"fact": "floor_finish", "at": "/s"}]
	[bare] := step_free_side({key: value | some key, value in unread; key != "least"})
	bare.state == "missing"
}

test_unknown_level_or_open_raised_already_by_what_was_read if {
	step_free_side({"side": "outer", "at": ["/out"], "least": 1, "needs": ["/s"]}) == [step_free_check("outer", "/out", 1, "open")]
}

test_fail_level_or_open_without_sides_gives_no_answer if {
	not questions.answer("level-or-open", {}, {"profile": {"at": [], "value": []}})
}

# Text is above every number in Rego's order: unguarded, "abc" would be raised.
test_unknown_level_or_open_what_is_no_number_is_not_known if {
	every side in [{"height": "abc"}, {"least": "abc"}, {"height": null}, {"least": null}] {
		[check] := step_free_side(object.union({"side": "outer", "at": [], "needs": ["/s"]}, side))
		check.state == "missing"
	}
}

test_fail_level_or_open_a_side_without_its_name_gives_no_answer if {
	sides := [{"side": "outer", "at": [], "height": 0, "needs": []}, {"at": [], "height": 0, "needs": []}]
	not questions.answer("level-or-open", {}, {"profile": {"at": [], "value": sides}})
}
