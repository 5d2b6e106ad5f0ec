package sillwright.questions_test

import data.sillwright.questions

# 2010 ADA Standards 404.2.3, in hundredths of a millimetre: 32 in, nothing below 34 in, 4 in up to
# 80 in (2030 mm), closers and stops from 78 in (1980 mm) on; in alterations the latch stop 5/8 in.
part_limits := {
	"width": {"kind": "length", "at_least": 81280}, "low": {"kind": "length", "at_least": 86360}, "reach": {"kind": "length", "at_most": 10160},
	"top": {"kind": "length", "at_least": 203200, "printed": 203000}, "fittings": {"kind": "length", "at_least": 198120, "printed": 198000},
}

altered_limits := object.union(part_limits, {"latch_stop": {"kind": "length", "at_least": 79692}})

parts(list) := {"projections": {"value": list, "at": ["/door/projections"]}}

part(kind, from, leaves, by) := {"at": "/0", "part": kind, "from": from, "leaves": leaves, "by": by}

stands(limits, list) := questions.answer("projections", {"limits": limits}, parts(list))

stood(item) := [stood_as(check) | some check in stands(part_limits, [item])][0]

stood_altered(item) := [stood_as(check) | some check in stands(altered_limits, [item])][0]

stood_as(check) := [check.part, check.state]

left_out(item, names) := {name: value | some name, value in item; not name in names}

test_pass_projections_none if {
	stands(part_limits, []) == [{"part": "none", "state": "pass", "at": ["/door/projections"], "values": {}}]
}

test_pass_projections_low_beside_the_required_width if {
	stands(part_limits, [part("other", 0, 81280, 20000)]) == [{
		"part": "low", "state": "pass", "at": ["/0"], "measured": {"length": 81280}, "limit": part_limits.width, "comparator": ">=",
		"values": {"from": {"length": 0}, "low": {"length": 86360}, "lack": {"length": 0}},
	}]
}

test_fail_projections_low_into_the_required_width if {
	stands(part_limits, [part("seal", 86359, 81279, 1)]) == [{
		"part": "low", "state": "fail", "at": ["/0"], "measured": {"length": 81279}, "limit": part_limits.width, "comparator": ">=",
		"values": {"from": {"length": 86359}, "low": {"length": 86360}, "lack": {"length": 1}},
	}]
	stood(part("latch-stop", 0, 81279, 1)) == ["low", "fail"]
}

# 2018 IBC 1010.1.1.1: 4 inches (102 mm).
test_unknown_projections_high_within_the_printed_reach if {
	limits := object.union(part_limits, {"reach": {"kind": "length", "at_most": 10160, "printed": 10200}})
	[stood_as(check) | some check in stands(limits, [part("hardware", 86360, 71080, 10200)])] == [["reach", "open"]]
	[stood_as(check) | some check in stands(limits, [part("hardware", 86360, 71079, 10201)])] == [["reach", "fail"]]
}

# 2018 IBC 1010.1.1 Exception 9: 31.75 inches (806 mm).
test_unknown_projections_low_beside_the_printed_width if {
	limits := object.union(part_limits, {"width": {"kind": "length", "at_least": 80645, "printed": 80600}})
	[stood_as(check) | some check in stands(limits, [part("seal", 0, 80600, 20000)])] == [["low", "open"]]
	[stood_as(check) | some check in stands(limits, [part("seal", 0, 80599, 20000)])] == [["low", "fail"]]
}

test_pass_projections_high_within_the_reach if {
	stands(part_limits, [part("hardware", 86360, 71120, 10160)]) == [{
		"part": "reach", "state": "pass", "at": ["/0"], "measured": {"length": 10160}, "limit": part_limits.reach, "comparator": "<=",
		"values": {"from": {"length": 86360}, "limit": {"length": 10160}, "excess": {"length": 0}},
	}]
}

test_fail_projections_high_beyond_the_reach if {
	stands(part_limits, [part("hardware", 86360, 71119, 10161)]) == [{
		"part": "reach", "state": "fail", "at": ["/0"], "measured": {"length": 10161}, "limit": part_limits.reach, "comparator": "<=",
		"values": {"from": {"length": 86360}, "limit": {"length": 10160}, "excess": {"length": 1}},
	}]
}

# 2022 California Building Code 11B-404.2.3 prints 4 in (102 mm).
test_unknown_projections_between_the_reach_and_its_printed_rounding if {
	rounded := object.union(part_limits, {"reach": {"kind": "length", "at_most": 10160, "printed": 10200}})
	[stood_as(check) | some check in stands(rounded, [part("hardware", 86360, 71080, 10200)])] == [["reach", "open"]]
	[stood_as(check) | some check in stands(rounded, [part("hardware", 86360, 71079, 10201)])] == [["reach", "fail"]]
}

test_unknown_projections_far_into_more_than_the_required_width if {
	stood(part("hardware", 100000, 81280, 10161)) == ["reach", "open"]
	stood(part("hardware", 100000, 81279, 10161)) == ["reach", "fail"]
}

test_pass_projections_above_the_top if {
	stood(part("other", 203200, 10000, 70000)) == ["none", "pass"]
	stood({"at": "/0", "from": 203200}) == ["none", "pass"]
}

test_unknown_projections_between_the_top_and_its_printed_rounding if {
	stands(part_limits, [part("other", 203199, 60000, 20000)]) == [{
		"part": "top", "state": "open", "at": ["/0"], "measured": {"length": 203199}, "limit": part_limits.top, "comparator": ">=",
		"values": {"from": {"length": 203199}, "limit": {"length": 203200}, "lack": {"length": 1}},
	}]
	stood(part("other", 203000, 60000, 20000)) == ["top", "open"]
	stood(part("other", 202999, 60000, 20000)) == ["reach", "fail"]
}

test_pass_projections_closers_and_stops_from_their_own_height_on if {
	every kind in ["closer", "stop", "latch-stop"] {
		stood(part(kind, 198120, 60000, 20000)) == ["fittings", "pass"]
		stood(part(kind, 198119, 60000, 20000)) == ["fittings", "open"]
		stood(part(kind, 198000, 60000, 20000)) == ["fittings", "open"]
		stood(part(kind, 197999, 60000, 20000)) == ["reach", "fail"]
		stood(part(kind, 203200, 60000, 20000)) == ["none", "pass"]
	}
	every kind in ["hardware", "seal", "other"] {
		stood(part(kind, 198120, 60000, 20000)) == ["reach", "fail"]
	}
}

test_pass_projections_latch_stop_of_an_alteration if {
	stood_altered(part("latch-stop", 0, 79692, 1588)) == ["low", "pass"]
	stood_altered(part("latch-stop", 0, 79691, 1589)) == ["low", "fail"]
	stood_altered(part("stop", 0, 81279, 1)) == ["low", "fail"]
	stood_altered(part("seal", 0, 81279, 1)) == ["low", "fail"]
	stands(altered_limits, [part("seal", 0, 81279, 1)])[0].limit == part_limits.width
}

asks(limits, item) := stands(limits, [item])[0].needs

test_unknown_projections_part_that_may_be_exempt if {
	nameless := left_out(part("x", 0, 80000, 1), ["part"])
	asks(altered_limits, nameless) == [{"fact": "projections", "at": "/0"}]

	# Where no exception speaks of it, and below what it allows, the kind of part is no matter.
	stood(nameless) == ["low", "fail"]
	stood_altered(object.union(nameless, {"leaves": 79691})) == ["low", "fail"]
	every from in [198000, 198120, 203199] {
		asks(part_limits, object.union(nameless, {"from": from, "by": 20000})) == [{"fact": "projections", "at": "/0"}]
	}
	stood(object.union(nameless, {"from": 197999, "by": 20000})) == ["reach", "fail"]
	stood(object.union(nameless, {"from": 197999, "by": 10160})) == ["reach", "pass"]
}

test_unknown_projections_not_measured if {
	whole := part("hardware", 100000, 70000, 20000)
	asks(part_limits, left_out(whole, ["from"])) == [{"fact": "projections", "at": "/0"}]
	asks(part_limits, left_out(whole, ["leaves", "by"])) == [{"fact": "projections", "at": "/0"}]
	asks(part_limits, left_out(part("hardware", 0, 1, 1), ["leaves", "by"])) == [{"fact": "projections", "at": "/0"}]
	asks(part_limits, {"at": "/0"}) == [{"fact": "projections", "at": "/0"}]

	# The part is measured; the clear width that it stands into is not.
	asks(part_limits, left_out(whole, ["by"])) == [{"fact": "clear_width"}]
}

test_pass_projections_small_at_whatever_height if {
	stands(part_limits, [left_out(part("hardware", 0, 81280, 10160), ["from"])]) == [{
		"part": "reach", "state": "pass", "at": ["/0"], "measured": {"length": 10160}, "limit": part_limits.reach, "comparator": "<=", "values": {},
	}]
}

test_fail_projections_low_needs_no_clear_width if {
	stood(left_out(part("seal", 0, 81279, 1), ["by"])) == ["low", "fail"]
	stood(left_out(part("seal", 0, 81280, 1), ["by"])) == ["low", "pass"]
}

test_fail_projections_every_part_is_judged if {
	[stood_as(check) | some check in stands(part_limits, [part("seal", 0, 80000, 1), part("stop", 200000, 1, 80000), {"at": "/2"}])] == [["low", "fail"], ["fittings", "pass"], ["low", "missing"]]
}

test_unknown_projections_missing_fact if {
	questions.answer("projections", {"limits": part_limits}, {}) == [{"part": "low", "state": "missing", "at": [], "needs": [{"fact": "projections"}]}]
}

test_fail_projections_of_the_wrong_shape_give_no_answer if {
	every name in ["from", "leaves", "by"] {
		every wrong in ["99999999", null, true] {
			not stands(part_limits, [object.union(part("hardware", 0, 1, 90000), {name: wrong})])
		}
	}
	every list in ["abc", 5, null, true] {
		not stands(part_limits, list)
	}
	not stands(part_limits, [{"part": "stop", "from": 300000, "leaves": 0}])
}

test_fail_projections_without_a_limit_give_no_answer if {
	every name in ["width", "low", "reach", "top", "fittings"] {
		limits := left_out(part_limits, [name])
		not stands(limits, [part("hardware", 300000, 90000, 0)])
		not stands(limits, [])
		not questions.answer("projections", {"limits": limits}, {})
		not stands(object.union(part_limits, {name: null}), [])
	}
}
