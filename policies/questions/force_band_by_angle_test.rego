package sillwright.questions_test

import data.sillwright.questions

# 2010 ADA Standards 404.2.9: 5 lbf at most, here with the bottom seal. 5 lbf is 22 241 108 076 302 500 fN, by definition of the pound.
sealed_facts(bands) := {"opening_force_sealed": {"value": bands, "at": ["/options/0"]}}

stretch(from, to, low, high) := {"at": "/0", "from": from * 1000000, "to": to * 1000000, "low": low, "likely": low, "high": high}

stretch_check(band, state, most) := {
	"part": "value", "state": state, "at": ["/0"],
	"measured": {"force": band.low}, "limit": pull_limit, "comparator": "<=",
	"values": object.union({name: {"force": band[name]} | some name in ["low", "high"]; band[name]}, {
		"limit": {"force": 22241108076302500}, "excess": {"force": most - 22241108076302500},
		"from": {"angle": band.from}, "to": {"angle": band.to},
	}),
}

# What is lacking is asked for at the option, wherever the force of the door stands.
unmeasured := {
	"part": "value", "state": "missing", "at": ["/0"], "needs": [{"fact": "opening_force_sealed", "at": "/options/0"}],
	"values": {"from": {"angle": 0}, "to": {"angle": 90000000}},
}

unmeasured_within := object.union(unmeasured, {"needs": [{"fact": "opening_force_sealed", "at": "/options/0", "from": {"angle": 0}, "to": {"angle": 90000000}}]})

sealed_answer(bands) := questions.answer("force-band-by-angle", pull_rule, sealed_facts(bands))

sealed_states(limits, bands) := [check.state | some check in questions.answer("force-band-by-angle", {"limits": limits}, sealed_facts(bands))]

test_pass_sealed_high_end_at_the_limit if {
	band := stretch(0, 90, 20000000000000000, 22241108076302500)
	sealed_answer([band]) == [stretch_check(band, "pass", 22241108076302500)]
}

test_unknown_sealed_high_end_one_femtonewton_above if {
	band := stretch(0, 90, 22241108076302500, 22241108076302501)
	sealed_answer([band]) == [stretch_check(band, "close", 22241108076302501)]
}

test_fail_sealed_low_end_one_femtonewton_above if {
	band := stretch(0, 90, 22241108076302501, 22241108076302502)
	sealed_answer([band]) == [stretch_check(band, "fail", 22241108076302502)]
}

# Where nobody knows how much it may be, only the low end decides.
test_unknown_sealed_without_a_high_end if {
	sealed_answer([{"at": "/0", "from": 0, "to": 90000000, "low": 22241108076302500}]) == [unmeasured]
}

test_fail_sealed_without_a_high_end if {
	band := {"at": "/0", "from": 0, "to": 90000000, "low": 22241108076302501}
	sealed_answer([band]) == [stretch_check(band, "fail", 22241108076302501)]
}

test_unknown_sealed_without_a_figure if {
	sealed_answer([{"at": "/0", "from": 0, "to": 90000000}]) == [unmeasured]
}

test_unknown_sealed_gap_between if {
	first := stretch(0, 30, 1, 1)
	second := stretch(31, 90, 1, 1)
	sealed_answer([first, second]) == [stretch_check(first, "pass", 1), stretch_check(second, "pass", 1), {
		"part": "angles", "state": "missing", "at": ["/options/0"],
		"needs": [{"fact": "opening_force_sealed", "from": {"angle": 30000000}}], "values": {"from": {"angle": 30000000}},
	}]
}

test_pass_sealed_beyond_the_range_does_not_count if {
	sealed_answer([stretch(0, 90, 1, 1), stretch(90, 120, 90000000000000000, 90000000000000000)]) == [stretch_check(stretch(0, 90, 1, 1), "pass", 1)]
}

test_unknown_sealed_missing_fact if {
	questions.answer("force-band-by-angle", pull_rule, {}) == [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "opening_force_sealed"}]}]
}

test_pass_sealed_exempt if {
	questions.answer("force-band-by-angle", {"limits": {"exempt": true}}, {}) == [{"part": "none", "state": "pass", "at": [], "values": {}}]
}

# A text may print a looser rounding beside its bound: what lies between is left open where the value itself is known.
test_unknown_sealed_between_the_bound_and_its_rounding if {
	limits := {"value": {"kind": "force", "at_most": 100, "printed": 110}}
	sealed_states(limits, [stretch(0, 90, 105, 105)]) == ["open"]
	sealed_states(limits, [stretch(0, 90, 100, 105)]) == ["close"]
	sealed_states(limits, [stretch(0, 90, 111, 111)]) == ["fail"]
}

# 2018 IBC 1010.1.3: 30 lbf set the door in motion, 15 lbf swing it open.
test_unknown_sealed_may_be_the_force_that_starts_the_door if {
	limits := {"value": {"kind": "force", "at_most": 15}, "start": {"kind": "force", "at_most": 30}}
	sealed_states(limits, [stretch(0, 90, 30, 40)]) == ["open"]
	sealed_states(limits, [stretch(0, 90, 31, 40)]) == ["fail"]
	sealed_states(limits, [stretch(1, 90, 30, 40)]) == ["fail"]
	sealed_states(limits, [{"at": "/0", "from": 0, "to": 90000000, "low": 30}]) == ["missing"]
}

# A force at an angle that is not known counts unless it is within the limit wherever it was read.
test_unknown_sealed_at_an_angle_that_is_not_known if {
	whole := stretch(0, 90, 1, 1)
	loose := {"at": "/1", "from": 0, "low": 1, "likely": 1}
	want := {"part": "value", "state": "missing", "at": ["/1"], "needs": [{"fact": "opening_force_sealed", "at": "/options/0"}]}
	sealed_answer([whole, loose]) == [stretch_check(whole, "pass", 1), want]
	sealed_answer([whole, object.union(loose, {"high": 22241108076302500})]) == [stretch_check(whole, "pass", 1)]
	sealed_answer([whole, object.union(loose, {"high": 22241108076302501})]) == [stretch_check(whole, "pass", 1), want]
	sealed_answer([whole, {"at": "/1", "from": 90000001, "low": 1}]) == [stretch_check(whole, "pass", 1)]
}

# Where a rule has no angles, a force that has none is not judged all the same.
test_unknown_sealed_at_no_angle_by_a_rule_without_angles if {
	sealed_states({"value": pull_limit}, [stretch(0, 10, 1, 1), {"at": "/1", "low": 1}]) == ["pass", "missing"]
}

# Every text is above every number in Rego's order: unguarded, a low end of "1" would fail any limit.
test_fail_sealed_text_gives_no_answer if {
	not sealed_answer([{"at": "/0", "from": 0, "to": "abc", "low": 1}])
	not sealed_answer([{"at": "/0", "from": 0, "to": 90000000, "low": "1"}])
	not sealed_answer([{"at": "/0", "from": 0, "to": 90000000, "low": 1, "high": "1"}])
	not questions.answer("force-band-by-angle", {"limits": {"angles": {"from": 0, "to": 90000000}}}, sealed_facts([stretch(0, 90, 1, 1)]))
}

# A door read over more than the range may be heaviest beyond it, with its seals too: above the limit it is asked for within the range.
test_unknown_sealed_low_end_of_a_wider_reading if {
	wide := {"at": "/0", "from": 0, "to": 90000000, "low_from": 0, "low_to": 90000001, "low": 22241108076302501, "likely": 22241108076302501, "high": 22241108076302502}
	sealed_answer([wide]) == [unmeasured_within]
	sealed_states(pull_rule.limits, [object.union(wide, {"low": 22241108076302500})]) == ["missing"]
	sealed_states(pull_rule.limits, [object.union(wide, {"low": 22241108076302500, "low_to": 90000000})]) == ["close"]
	sealed_states(pull_rule.limits, [object.union(wide, {"high": 22241108076302500})]) == ["pass"]
	sealed_states(pull_rule.limits, [object.union(wide, {"low_to": 90000000})]) == ["fail"]
	sealed_states(pull_rule.limits, [object.union(wide, {"low_from": -1, "low_to": 90000000})]) == ["missing"]
}

# Of a part of what was read, another part of which was read with the seals, no low end is known.
test_unknown_sealed_without_a_low_end if {
	band := {"at": "/0", "from": 0, "to": 90000000, "likely": 22241108076302501, "high": 22241108076302501}
	sealed_answer([band]) == [unmeasured_within]
	sealed_states(pull_rule.limits, [object.union(band, {"high": 22241108076302500})]) == ["pass"]
}

test_unknown_sealed_reading_that_reaches_a_microdegree_beyond_the_range if {
	sealed_states(pull_rule.limits, [{"at": "/0", "from": 0, "to": 90000001, "low": 22241108076302501, "high": 22241108076302501}]) == ["missing"]
	sealed_states(pull_rule.limits, [{"at": "/0", "from": 0, "to": 90000001, "low": 22241108076302500, "high": 22241108076302500}]) == ["pass"]
}

test_fail_sealed_along_a_track_of_more_angles if {
	sealed_states(pull_rule.limits, [{"at": "/0", "from": 0, "to": 90000001, "low": 22241108076302501, "high": 22241108076302501, "track": true}]) == ["fail"]
}

# A stretch of a reading fails for the whole of it, and says so.
test_fail_sealed_names_the_angles_of_the_low_end if {
	band := object.union(stretch(45, 90, 22241108076302501, 22241108076302502), {"low_from": 0, "low_to": 90000000})
	values := [check.values | some check in sealed_answer([band]); check.state == "fail"]
	[[v.from.angle, v.to.angle] | some v in values] == [[0, 90000000]]
}

# The force that starts the door may be that of any stretch of a reading from closed on.
test_unknown_sealed_stretch_of_a_reading_from_closed_may_be_the_start if {
	limits := {"value": {"kind": "force", "at_most": 15}, "start": {"kind": "force", "at_most": 30}}
	sealed_states(limits, [object.union(stretch(45, 90, 30, 40), {"low_from": 0, "low_to": 90000000})]) == ["open"]
	sealed_states(limits, [object.union(stretch(45, 90, 30, 40), {"low_from": 45000000, "low_to": 90000000})]) == ["fail"]
}
