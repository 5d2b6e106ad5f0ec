package sillwright.questions_test

import data.sillwright.questions

# Arrêté du 22 janvier 2026, art. 3, 3°: 2 cm with a rounded edge or a chamfer; 4 cm where it slopes by 33 % at most over its whole
# height; 2.50 m from lip to lip; planes of 12 % at most. Millimetres stand for lengths.
ressaut := {
	"height": {"kind": "length", "at_most": 20}, "noses": {"kind": "word", "one_of": ["rounded", "bevelled"]}, "steep": {"kind": "ratio", "rise": 1, "run": 1},
	"sloped": {"kind": "length", "at_most": 40}, "slope": {"kind": "ratio", "rise": 33, "run": 100}, "whole": true,
	"apart": {"kind": "length", "at_least": 2500}, "ramp": {"kind": "ratio", "rise": 12, "run": 100},
}

# Parts [rise, run, what they add].
lip_side(parts) := {"side": "outer", "at": ["/top"], "needs": [], "height": sum([p[0] | some p in parts]), "rising": lip_rising(parts)}

lip_rising(parts) := [object.union({"at": ["/0", "/1", "/2"][i], "rise": p[0], "run": p[1]}, p[2]) | some i, p in parts]

lip_answer(limits, sides) := questions.answer("lips", {"limits": limits}, level(sides))

ressauts(parts) := [[check.part, check.state] | some check in lip_answer(ressaut, [lip_side(parts)])]

rounded_nose := {"nose": "rounded"}

square_nose := {"nose": "square"}

test_pass_lip_of_20_rounded_whole_result if {
	lip_answer(ressaut, [lip_side([[20, 0, rounded_nose]])]) == [
		{
			"part": "sloped", "state": "pass", "at": ["/0"], "measured": {"length": 20}, "limit": ressaut.sloped, "comparator": "<=", "needs": [],
			"values": {"side": {"word": "outer"}, "measured": {"length": 20}, "limit": {"length": 40}, "excess": {"length": -20}},
		},
		{
			"part": "edge", "state": "pass", "at": ["/0"], "measured": {"length": 20}, "needs": [{"fact": "profile", "at": "/0"}],
			"values": {"side": {"word": "outer"}, "measured": {"length": 20}, "noses": {"words": ["rounded", "bevelled"]}},
		},
	]
}

test_fail_lip_of_20_square if ressauts([[20, 0, square_nose]]) == [["sloped", "pass"], ["edge", "fail"]]

test_unknown_lip_of_20_of_an_edge_that_nobody_looked_at if ressauts([[20, 0, {}]])[1] == ["edge", "missing"]

test_pass_lip_of_20_chamfered_above_an_upright_face if ressauts([[10, 0, {}], [10, 10, {}]]) == [["sloped", "pass"], ["edge", "pass"]]

test_unknown_lip_of_20_that_leans_steeper_than_45_degrees if {
	every run in [1, 19] {
		ressauts([[20, run, square_nose]])[1] == ["edge", "open"]
	}
}

test_pass_lip_of_20_that_leans_with_a_rounded_edge if ressauts([[20, 19, rounded_nose]])[1] == ["edge", "pass"]

test_unknown_lip_of_20_of_a_run_that_nobody_measured if ressauts([[20, null, square_nose]])[1] == ["edge", "missing"]

test_pass_lip_of_30_at_33_per_cent_whole_result if {
	lip_answer(ressaut, [lip_side([[33, 100, {}]])])[1] == {
		"part": "slope", "state": "pass", "at": ["/0"], "comparator": "<=", "needs": [],
		"measured": {"ratio": [33, 100]}, "limit": {"kind": "ratio", "ratio": [33, 100]},
		"values": {
			"side": {"word": "outer"}, "rise": {"length": 33}, "run": {"length": 100}, "measured": {"ratio": [33, 100]},
			"limit": {"ratio": [33, 100]}, "least_run": {"length": 100},
		},
	}
}

test_fail_lip_of_30_with_an_upright_foot if ressauts([[15, 0, {}], [15, 60, {}]]) == [["sloped", "pass"], ["slope", "fail"], ["slope", "pass"]]

test_fail_lip_of_40_at_one_in_three if ressauts([[40, 120, {}]])[1] == ["slope", "fail"]

test_unknown_lip_of_30_of_a_run_that_nobody_measured if ressauts([[30, null, {}]])[1] == ["slope", "missing"]

chamfered_30(parts) := [[check.part, check.state] | some check in lip_answer(without(ressaut, "whole"), [object.union(lip_side(parts), {"needs": []})])]

test_unknown_lip_of_30_that_has_a_chamfer if chamfered_30([[15, 0, {}], [15, 60, {}]]) == [["sloped", "pass"], ["slope", "open"], ["slope", "pass"]]

test_fail_lip_of_30_without_a_chamfer if chamfered_30([[15, 0, {}], [15, 15, {}]]) == [["sloped", "pass"], ["slope", "fail"], ["slope", "fail"]]

test_unknown_lip_of_30_that_may_have_a_chamfer if chamfered_30([[15, 0, {}], [15, null, {}]]) == [["sloped", "pass"], ["slope", "missing"], ["slope", "missing"]]

test_fail_lip_of_41_steeper_than_a_plane if ressauts([[41, 200, {}]]) == [["sloped", "fail"]]

test_unknown_lip_of_41_that_may_be_a_plane if {
	ressauts([[60, 500, {}]]) == [["sloped", "open"]]
	ressauts([[60, null, {}]]) == [["sloped", "missing"]]
}

test_fail_lip_of_41_where_no_plane_is_told_of if {
	[check.state | some check in lip_answer(without(ressaut, "ramp"), [lip_side([[60, 500, {}]])])] == ["fail"]
}

test_fail_two_lips_300_apart_whole_result if {
	lip_answer(ressaut, [lip_side([[15, 0, rounded_nose], [15, 0, {"nose": "rounded", "parted": true, "apart": 300}]])])[4] == {
		"part": "apart", "state": "fail", "at": ["/1"], "measured": {"length": 300}, "limit": ressaut.apart, "comparator": ">=",
		"values": {"side": {"word": "outer"}, "measured": {"length": 300}, "limit": {"length": 2500}, "lack": {"length": 2200}},
	}
}

test_pass_two_lips_2500_apart if {
	ressauts([[15, 0, rounded_nose], [15, 0, {"nose": "rounded", "parted": true, "apart": 2500}]]) == [["sloped", "pass"], ["sloped", "pass"], ["edge", "pass"], ["edge", "pass"], ["apart", "pass"]]
}

test_unknown_two_lips_that_nobody_knows_how_far_apart if {
	lip_answer(ressaut, [lip_side([[15, 0, rounded_nose], [15, 0, {"nose": "rounded", "parted": true}]])])[4] == {
		"part": "apart", "state": "missing", "at": ["/1"], "needs": [{"fact": "profile", "at": "/1"}], "values": {"side": {"word": "outer"}},
	}
}

test_pass_two_lips_where_no_distance_is_asked if {
	count(lip_answer(without(ressaut, "apart"), [lip_side([[15, 0, rounded_nose], [15, 0, {"nose": "rounded", "parted": true}]])])) == 4
}

test_pass_no_lip if {
	lip_answer(ressaut, [lip_side([])]) == [{"part": "none", "state": "pass", "at": ["/threshold"], "values": {}}]
}

test_unknown_lip_of_a_side_that_is_known_in_part if {
	side := object.union(lip_side([[20, 0, square_nose]]), {"height": null, "needs": ["/9"]})
	checks := lip_answer(ressaut, [side])
	[[check.part, check.state] | some check in checks] == [["sloped", "pass"], ["edge", "missing"], ["sloped", "missing"]]
	checks[2].needs == [{"fact": "profile", "at": "/9"}]
	[check.state | some check in lip_answer(without(ressaut, "whole"), [object.union(side, {"rising": lip_rising([[30, 0, square_nose]])})])] == ["pass", "missing", "missing"]
}

test_unknown_lip_of_a_floor_that_is_to_come if {
	side := {"side": "outer", "at": [], "height": null, "rising": [], "needs": ["/f"], "waits": "floor_finish"}
	lip_answer(ressaut, [side]) == [{"part": "sloped", "state": "missing", "at": ["/f"], "values": {"side": {"word": "outer"}}, "needs": [{"fact": "floor_finish", "at": "/f"}]}]
}

test_pass_lip_outside_where_only_the_inner_side_counts if {
	inner := object.union(ressaut, {"inner": true})
	sides := [lip_side([[20, 0, square_nose]]), object.union(lip_side([[20, 0, rounded_nose]]), {"side": "inner"})]
	[[check.part, check.state] | some check in lip_answer(inner, sides)] == [["sloped", "pass"], ["edge", "pass"]]
}

test_unknown_lip_without_a_profile if {
	questions.answer("lips", {"limits": ressaut}, {}) == [{"part": "sloped", "state": "missing", "at": [], "needs": [{"fact": "profile"}]}]
}

test_fail_lip_lacking_a_limit_or_a_list_is_silence if {
	every name in ["height", "noses", "steep", "sloped", "slope"] {
		not lip_answer(without(ressaut, name), [lip_side([[30, 100, {}]])])
		not lip_answer(without(ressaut, name), [lip_side([[20, 0, square_nose]])])
	}
	not lip_answer(ressaut, [without(lip_side([]), "rising")])
	not lip_answer(object.union(without(ressaut, "noses"), {"noses": {"one_of": "rounded"}}), [lip_side([[30, 100, {}]])])
}
