package sillwright.questions_test

import data.sillwright.questions

# 2010 ADA Standards 404.2.9: 5 lbf at most. 5 lbf is 22 241 108 076 302 500 fN, by definition of the pound.
pull_rule := {"limits": {"value": pull_limit, "angles": {"kind": "angle", "from": 0, "to": 90000000}}}

pull_limit := {"kind": "force", "at_most": 22241108076302500}

pulls(bands) := {"opening_force": {"value": bands, "at": ["/door/opening_force"]}}

pull(i, from, to, force) := {"at": ["/0", "/1", "/2"][i], "from": from * 1000000, "to": to * 1000000, "force": force}

pull_check(band, state) := {
	"part": "value", "state": state, "at": [band.at],
	"measured": {"force": band.force}, "limit": pull_limit, "comparator": "<=",
	"values": {
		"measured": {"force": band.force}, "limit": {"force": 22241108076302500}, "excess": {"force": band.force - 22241108076302500},
		"from": {"angle": band.from}, "to": {"angle": band.to},
	},
}

unread_check(angle) := {
	"part": "angles", "state": "missing", "at": ["/door/opening_force"],
	"needs": [{"fact": "opening_force", "from": {"angle": angle}}], "values": {"from": {"angle": angle}},
}

test_pass_force_at_the_limit_over_the_whole_range if {
	band := pull(0, 0, 90, 22241108076302500)
	questions.answer("force-by-angle", pull_rule, pulls([band])) == [pull_check(band, "pass")]
}

# A reading that ends where the range has not begun leaves nothing to ask for.
test_pass_force_reading_before_the_range_asks_for_nothing if {
	limits := {"value": pull_limit, "angles": {"kind": "angle", "from": 30000000, "to": 60000000}}
	band := pull(1, 30, 60, 1)
	questions.answer("force-by-angle", {"limits": limits}, pulls([pull(0, 0, 10, 1), band])) == [pull_check(band, "pass")]
}

test_fail_force_one_femtonewton_above if {
	band := pull(0, 0, 90, 22241108076302501)
	questions.answer("force-by-angle", pull_rule, pulls([band])) == [pull_check(band, "fail")]
}

test_fail_force_in_one_band_of_several if {
	first := pull(0, 0, 30, 31000000000000000)
	second := pull(1, 30, 90, 14000000000000000)
	questions.answer("force-by-angle", pull_rule, pulls([first, second])) == [pull_check(first, "fail"), pull_check(second, "pass")]
}

test_pass_force_beyond_the_range_does_not_count if {
	first := pull(0, 0, 90, 14000000000000000)
	second := pull(1, 90, 120, 90000000000000000)
	questions.answer("force-by-angle", pull_rule, pulls([first, second])) == [pull_check(first, "pass")]
}

# "The most" over more than the range is a bound of the most within it: within the limit it is so everywhere, above it perhaps elsewhere.
test_unknown_force_band_that_reaches_a_microdegree_beyond_the_range if {
	wide(pull(0, 0, 120, 22241108076302501), "missing")
	wide({"at": "/0", "from": 0, "to": 90000001, "force": 22241108076302501}, "missing")
	wide({"at": "/0", "from": 0, "to": 90000001, "force": 22241108076302500}, "pass")
	wide(pull(0, 0, 90, 22241108076302501), "fail")
}

# Along a track 0 to 90 degrees, or more, is the whole way.
test_fail_force_along_a_track_of_more_angles if wide(object.union(pull(0, 0, 120, 22241108076302501), {"track": true}), "fail")

wide(reading, state) if [check.state | some check in questions.answer("force-by-angle", pull_rule, pulls([reading]))] == [state]

test_unknown_force_band_that_begins_before_the_range if {
	rule := {"limits": {"value": pull_limit, "angles": {"kind": "angle", "from": 30000000, "to": 60000000}}}
	before := {"at": "/0", "from": 29999999, "to": 60000000, "force": 22241108076302501}
	questions.answer("force-by-angle", rule, pulls([before])) == [{
		"part": "value", "state": "missing", "at": ["/0"],
		"needs": [{"fact": "opening_force", "at": "/0", "from": {"angle": 30000000}, "to": {"angle": 60000000}}],
		"values": {"from": {"angle": 29999999}, "to": {"angle": 60000000}},
	}]
	[check.state | some check in questions.answer("force-by-angle", rule, pulls([object.union(before, {"from": 30000000})]))] == ["fail"]
}

# What lies between a bound and its looser rounding is no more certain of the range.
test_unknown_force_band_beyond_the_range_between_bound_and_rounding if {
	limits := {"value": {"kind": "force", "at_most": 100, "printed": 110}, "angles": {"kind": "angle", "from": 0, "to": 90000000}}
	states := [check.state | some check in questions.answer("force-by-angle", {"limits": limits}, pulls([pull(0, 0, 120, 105)]))]
	states == ["missing"]
}

test_pass_force_band_that_ends_where_the_range_begins_does_not_count if {
	rule := {"limits": {"value": pull_limit, "angles": {"kind": "angle", "from": 10000000, "to": 90000000}}}
	second := pull(1, 10, 90, 1)
	questions.answer("force-by-angle", rule, pulls([pull(0, 0, 10, 90000000000000000), second])) == [pull_check(second, "pass")]
}

test_unknown_force_gap_at_the_start_between_and_at_the_end if {
	first := pull(0, 10, 30, 14000000000000000)
	second := pull(1, 40, 80, 14000000000000000)
	questions.answer("force-by-angle", pull_rule, pulls([first, second])) == [
		pull_check(first, "pass"), pull_check(second, "pass"),
		unread_check(0), unread_check(30000000), unread_check(80000000),
	]
}

test_unknown_force_gap_of_one_microdegree if {
	first := {"at": "/0", "from": 0, "to": 89999999, "force": 1}
	questions.answer("force-by-angle", pull_rule, pulls([first])) == [pull_check(first, "pass"), unread_check(89999999)]
}

test_unknown_force_missing_fact if {
	questions.answer("force-by-angle", pull_rule, {}) == [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "opening_force"}]}]
}

test_unknown_force_no_readings if {
	questions.answer("force-by-angle", pull_rule, pulls([])) == [unread_check(0)]
}

test_unknown_force_band_without_a_figure_or_with_a_text if {
	want := [{
		"part": "value", "state": "missing", "at": ["/0"], "needs": [{"fact": "opening_force", "at": "/0"}],
		"values": {"from": {"angle": 0}, "to": {"angle": 90000000}},
	}]
	questions.answer("force-by-angle", pull_rule, pulls([{"at": "/0", "from": 0, "to": 90000000}])) == want
	questions.answer("force-by-angle", pull_rule, pulls([{"at": "/0", "from": 0, "to": 90000000, "force": "5"}])) == want
}

# Every text is above every number in Rego's order: unguarded, "abc" would reach beyond 90 degrees.
test_fail_force_text_for_an_angle_gives_no_answer if {
	not questions.answer("force-by-angle", pull_rule, pulls([{"at": "/0", "from": 0, "to": "abc", "force": 1}]))
	not questions.answer("force-by-angle", pull_rule, pulls([{"at": "/0", "from": "0", "to": 90000000, "force": 1}]))
}

test_fail_force_without_its_limit_gives_no_answer if {
	not questions.answer("force-by-angle", {"limits": {"angles": {"from": 0, "to": 90000000}}}, pulls([pull(0, 0, 90, 1)]))
}

# Without limits on the angles every reading counts and none is missed.
test_pass_force_whatever_the_angle if {
	[check.state | some check in questions.answer("force-by-angle", {"limits": {"value": pull_limit}}, pulls([pull(0, 0, 10, 1), pull(1, 170, 180, 1)]))] == ["pass", "pass"]
}

# No checks are no answer either.
test_fail_force_without_a_reading_gives_no_checks if {
	questions.answer("force-by-angle", {"limits": {"value": pull_limit}}, pulls([])) == []
}

# AD M volume 2, 2.13(a): 22.5 N from 30 to 60 degrees, so a reading at 30 degrees counts for it.
test_fail_force_read_at_an_angle_where_the_range_begins_or_ends if {
	rule := {"limits": {"value": {"kind": "force", "at_most": 10}, "angles": {"kind": "angle", "from": 30000000, "to": 60000000}}}
	every angle in [30, 60] {
		[check.state | some check in questions.answer("force-by-angle", rule, pulls([pull(0, 30, 60, 10), pull(1, angle, angle, 11)]))] == ["pass", "fail"]
	}
}

test_pass_force_read_at_an_angle_outside_the_range if {
	rule := {"limits": {"value": {"kind": "force", "at_most": 10}, "angles": {"kind": "angle", "from": 30000000, "to": 60000000}}}
	every angle in [29, 61] {
		[check.state | some check in questions.answer("force-by-angle", rule, pulls([pull(0, 30, 60, 10), pull(1, angle, angle, 11)]))] == ["pass"]
	}
}

test_unknown_force_read_at_one_angle_covers_nothing if {
	questions.answer("force-by-angle", pull_rule, pulls([pull(0, 0, 0, 1)]))[1].part == "angles"
}

# IBC 1010.1.3: 30 lbf to set in motion, 15 lbf to open fully.
start_limits := {"value": {"kind": "force", "at_most": 15}, "start": {"kind": "force", "at_most": 30}, "angles": {"kind": "angle", "from": 0, "to": 90000000}}

start_states(bands) := [check.state | some check in questions.answer("force-by-angle", {"limits": start_limits}, pulls(bands))]

test_unknown_force_of_a_reading_that_begins_closed_may_be_the_start if {
	start_states([pull(0, 0, 10, 30), pull(1, 10, 90, 15)]) == ["open", "pass"]
}

test_fail_force_of_a_reading_that_begins_closed_and_no_start_allows if {
	start_states([pull(0, 0, 10, 31), pull(1, 10, 90, 15)]) == ["fail", "pass"]
}

test_fail_force_beyond_the_start if start_states([pull(0, 0, 10, 15), pull(1, 10, 90, 16)]) == ["pass", "fail"]

test_pass_force_exempt_whatever_is_known if {
	questions.answer("force-by-angle", {"limits": {"value": {"kind": "force", "at_most": 1}, "exempt": true}}, {}) == [{"part": "none", "state": "pass", "at": [], "values": {}}]
}

# A reading at an angle that nobody wrote down: asked for where it is above the limit or has no figure, else it does not matter.
test_unknown_force_at_an_angle_that_is_not_known if {
	whole := pull(0, 0, 90, 1)
	every loose in [{"at": "/1", "force": 22241108076302501}, {"at": "/1", "from": 0, "force": 22241108076302501}, {"at": "/1", "to": 0}, {"at": "/1", "from": 90000000}] {
		questions.answer("force-by-angle", pull_rule, pulls([whole, loose])) == [
			pull_check(whole, "pass"),
			{"part": "value", "state": "missing", "at": ["/1"], "needs": [{"fact": "opening_force", "at": "/1"}]},
		]
	}
}

test_pass_force_within_the_limit_at_an_angle_that_is_not_known if {
	whole := pull(0, 0, 90, 1)
	questions.answer("force-by-angle", pull_rule, pulls([whole, {"at": "/1", "force": 22241108076302500}])) == [pull_check(whole, "pass")]
}

test_pass_force_at_an_angle_that_is_not_known_and_outside_the_range if {
	rule := {"limits": {"value": {"kind": "force", "at_most": 10}, "angles": {"kind": "angle", "from": 30000000, "to": 60000000}}}
	every loose in [{"at": "/1", "from": 60000001, "force": 11}, {"at": "/1", "to": 29999999, "force": 11}] {
		[check.state | some check in questions.answer("force-by-angle", rule, pulls([pull(0, 30, 60, 10), loose]))] == ["pass"]
	}
	every loose in [{"at": "/1", "from": 60000000, "force": 11}, {"at": "/1", "to": 30000000, "force": 11}] {
		[check.state | some check in questions.answer("force-by-angle", rule, pulls([pull(0, 30, 60, 10), loose]))] == ["pass", "missing"]
	}
}

test_fail_force_with_a_text_at_an_angle_that_is_not_known_gives_no_answer if {
	not questions.answer("force-by-angle", pull_rule, pulls([pull(0, 0, 90, 1), {"at": "/1", "from": "abc", "force": 1}]))
}

# Without limits on the angles a reading at an angle that is not known must not drop out: `not f(x.y)` is undefined where x has no y.
test_unknown_force_at_no_angle_by_a_rule_without_angles if {
	[check.state | some check in questions.answer("force-by-angle", {"limits": {"value": pull_limit}}, pulls([pull(0, 0, 10, 1), {"at": "/1", "force": 22241108076302501}]))] == ["pass", "missing"]
}
