package sillwright.questions_test

import data.sillwright.questions

# Approved Document M volume 2, 2.7(e): 15 mm high, upstands above 5 mm chamfered or rounded. Millimetres stand for lengths.
lip_limits := {
	"height": {"kind": "length", "at_most": 15},
	"upstand": {"kind": "length", "at_most": 5},
	"noses": {"kind": "word", "one_of": ["bevelled", "rounded"]},
	"steep": {"kind": "ratio", "rise": 1, "run": 1},
}

lips(side) := questions.answer("upstands", {"limits": lip_limits}, level([side]))

# A side of upright faces [height, nose] and slopes [rise, run].
lipped(faces, slopes) := {
	"side": "outer", "at": ["/top"], "needs": [],
	"height": sum([f[0] | some f in faces]) + sum([s[0] | some s in slopes]),
	"upstands": [object.union({"at": ["/f"], "height": f[0]}, {"nose": n | some n in [f[1]]; n != ""}) | some f in faces],
	"rising": array.concat([{"at": "/f", "rise": f[0], "run": 0} | some f in faces], [{"at": "/s", "rise": s[0], "run": s[1]} | some s in slopes]),
}

without(all, name) := {key: value | some key, value in all; key != name}

lip_states(side) := [[check.part, check.state] | some check in lips(side)]

test_pass_lip_of_5_then_a_slope_whole_result if {
	lips(lipped([[5, "square"]], [[10, 20]])) == [
		{
			"part": "height", "state": "pass", "at": ["/top"], "measured": {"length": 15}, "limit": lip_limits.height, "comparator": "<=",
			"values": {"side": {"word": "outer"}, "measured": {"length": 15}, "limit": {"length": 15}, "excess": {"length": 0}},
		},
		{
			"part": "upstand", "state": "pass", "at": ["/f"], "measured": {"length": 5}, "limit": lip_limits.upstand, "comparator": "<=",
			"needs": [{"fact": "profile", "at": "/f"}],
			"values": {"side": {"word": "outer"}, "measured": {"length": 5}, "limit": {"length": 5}, "noses": {"words": ["bevelled", "rounded"]}},
		},
		{
			"part": "count", "state": "pass", "at": ["/f", "/s"], "needs": [],
			"values": {"side": {"word": "outer"}, "upstands": {"count": 1}, "slopes": {"count": 1}},
		},
		{
			"part": "steep", "state": "pass", "at": ["/s"], "measured": {"ratio": [10, 20]}, "limit": {"kind": "ratio", "ratio": [1, 1]}, "comparator": "<=",
			"values": {"side": {"word": "outer"}, "rise": {"length": 10}, "run": {"length": 20}, "limit": {"ratio": [1, 1]}},
		},
	]
}

test_pass_lip_above_5_with_a_nose if {
	some nose in ["bevelled", "rounded"]
	lip_states(lipped([[8, nose]], [])) == [["height", "pass"], ["upstand", "pass"], ["count", "pass"]]
}

test_fail_lip_above_5_square if lip_states(lipped([[6, "square"]], [])) == [["height", "pass"], ["upstand", "fail"], ["count", "pass"]]

test_unknown_lip_above_5_of_a_nose_that_nobody_looked_at if {
	lip_states(lipped([[6, ""]], [])) == [["height", "pass"], ["upstand", "missing"], ["count", "pass"]]
}

test_fail_lip_too_high_though_sloped if lip_states(lipped([], [[16, 40]])) == [["height", "fail"], ["count", "pass"], ["steep", "pass"]]

test_unknown_two_lips if lip_states(lipped([[5, ""], [5, ""]], [])) == [["height", "pass"], ["upstand", "pass"], ["upstand", "pass"], ["count", "open"]]

test_unknown_two_slopes if lip_states(lipped([], [[5, 10], [5, 20]]))[1] == ["count", "open"]

test_pass_lip_slope_of_45_degrees if lip_states(lipped([], [[6, 6]]))[2] == ["steep", "pass"]

test_unknown_lip_slope_steeper_than_45_degrees if lip_states(lipped([], [[6, 5]]))[2] == ["steep", "open"]

test_pass_lip_slope_steeper_but_no_higher_than_an_upstand_may_be if lip_states(lipped([], [[5, 1]]))[2] == ["steep", "pass"]

test_pass_lip_face_and_steep_slope_no_higher_together_than_an_upstand_may_be if {
	lip_states(lipped([[4, "square"]], [[1, 0.5]]))[3] == ["steep", "pass"]
}

test_unknown_lip_face_made_higher_by_a_slope_that_is_nearly_upright if {
	lip_states(lipped([[5, "square"]], [[5, 0.000001]])) == [["height", "pass"], ["upstand", "pass"], ["count", "pass"], ["steep", "open"]]
	lip_states(lipped([[4, "square"]], [[2, 1]]))[3] == ["steep", "open"]
}

test_pass_lips_where_no_steepness_is_asked if {
	asked := {"limits": without(lip_limits, "steep")}
	[check.part | some check in questions.answer("upstands", asked, level([lipped([], [[6, 5]])]))] == ["height", "count"]
}

test_unknown_lip_of_a_run_that_nobody_measured if {
	side := object.union(lipped([], [[6, null]]), {"needs": []})
	checks := lips(side)
	[[check.part, check.state] | some check in checks] == [["height", "pass"], ["count", "missing"], ["steep", "missing"]]
	checks[1].needs == [{"fact": "profile", "at": "/s"}]
	checks[2].needs == [{"fact": "profile", "at": "/s"}]
}

test_unknown_lips_without_a_profile if {
	questions.answer("upstands", {"limits": lip_limits}, {}) == [{"part": "height", "state": "missing", "at": [], "needs": [{"fact": "profile"}]}]
}

test_fail_lips_lacking_a_limit_or_a_list_is_silence if {
	every name in ["height", "upstand", "noses"] {
		not questions.answer("upstands", {"limits": without(lip_limits, name)}, level([lipped([[6, "square"]], [])]))
	}
	every name in ["upstands", "rising"] {
		not lips(without(lipped([[6, "square"]], []), name))
	}
	not lips(object.union(lipped([], []), {"upstands": [{"at": ["/f"]}]}))
}

# Approved Document M volume 1, 1.14(c): an unavoidable step into the dwelling of at most 150 mm.
stepped_limits := object.union(lip_limits, {"step": {"kind": "length", "at_most": 150}})

stepped_states(side) := [[check.part, check.state] | some check in questions.answer("upstands", {"limits": stepped_limits}, level([side]))]

test_unknown_lip_on_a_step if {
	checks := questions.answer("upstands", {"limits": stepped_limits}, level([lipped([[150, "square"]], [[15, 30]])]))
	checks[0].measured == {"length": 15}
	[[check.part, check.state] | some check in checks] == [["height", "pass"], ["count", "pass"], ["steep", "pass"], ["step", "open"]]
	checks[3] == {
		"part": "step", "state": "open", "at": ["/f"], "measured": {"length": 150}, "limit": stepped_limits.step, "comparator": "<=",
		"values": {"measured": {"length": 150}, "limit": {"length": 150}},
	}
}

test_fail_lip_on_a_step_too_high if stepped_states(lipped([[151, "square"]], []))[0] == ["height", "fail"]

test_fail_lip_too_high_on_a_step if stepped_states(lipped([[150, "square"]], [[16, 30]]))[0] == ["height", "fail"]

test_fail_step_on_the_inner_side if stepped_states(object.union(lipped([[100, "square"]], []), {"side": "inner"}))[0] == ["height", "fail"]

test_fail_lip_behind_a_slope_is_no_step if {
	side := object.union(lipped([[100, "square"]], [[5, 10]]), {"rising": [{"at": "/s", "rise": 5, "run": 10}, {"at": "/f", "rise": 100, "run": 0}]})
	stepped_states(side)[0] == ["height", "fail"]
}

test_unknown_square_lip_that_may_be_a_low_step if {
	stepped_states(lipped([[7, "square"]], [])) == [["height", "pass"], ["count", "pass"], ["step", "open"]]
}

test_unknown_lip_of_which_only_the_foot_is_measured if {
	side := object.union(lipped([[7, "square"]], []), {"height": null, "needs": ["/top"]})
	stepped_states(side) == [["height", "missing"], ["count", "pass"], ["step", "open"]]
}

test_fail_square_lip_on_a_step if stepped_states(lipped([[100, "square"], [7, "square"]], []))[1] == ["upstand", "fail"]

test_fail_square_lip_on_the_inner_side_is_no_step if {
	stepped_states(object.union(lipped([[7, "square"]], []), {"side": "inner"}))[1] == ["upstand", "fail"]
}

test_pass_lip_within_the_limits_is_no_step if stepped_states(lipped([[5, "square"]], [])) == [["height", "pass"], ["upstand", "pass"], ["count", "pass"]]

test_unknown_lip_on_a_step_that_is_known_in_part if {
	side := object.union(lipped([[100, "square"]], []), {"height": null, "least": 100, "needs": ["/2"]})
	stepped_states(side) == [["height", "missing"], ["count", "pass"], ["step", "open"]]
	lip_states(side)[0] == ["height", "fail"]
}

test_unknown_lip_low_enough_for_an_upstand_is_a_step_where_the_rest_is_too_high if {
	side := object.union(lipped([[5, "square"]], [[14, 40]]), {"height": null, "least": 19, "needs": ["/2"]})
	stepped_states(side) == [["height", "missing"], ["count", "pass"], ["steep", "pass"], ["step", "open"]]
}

test_unknown_step_with_an_edge_that_an_upstand_may_have if {
	stepped_states(lipped([[100, "bevelled"]], [])) == [["height", "pass"], ["count", "pass"], ["step", "open"]]
}

# Rego orders null below every number.
test_fail_lips_of_no_height_or_lacking_a_list_of_noses_is_silence if {
	every height in [null, "6"] {
		not lips(object.union(lipped([], []), {"upstands": [{"at": ["/f"], "height": height, "nose": "square"}]}))
	}
	every noses in [{}, {"one_of": "bevelled"}] {
		not questions.answer("upstands", {"limits": object.union(without(lip_limits, "noses"), {"noses": noses})}, level([lipped([], [[6, 12]])]))
	}
}
