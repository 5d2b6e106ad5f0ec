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
