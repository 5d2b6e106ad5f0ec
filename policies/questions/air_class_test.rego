package sillwright.questions_test

import data.sillwright.questions

# EN 12207: 50, 27, 9 and 3 m3/(h m2), 12.5, 6.75, 2.25 and 0.75 m3/(h m), at 100 Pa.
class_rule := {"fact": "leakage_rates", "limits": {
	"pressure": {"kind": "pressure", "at": 100000000},
	"area_1": {"kind": "m3/(h m2)", "at_most": 50000000000}, "area_2": {"kind": "m3/(h m2)", "at_most": 27000000000},
	"area_3": {"kind": "m3/(h m2)", "at_most": 9000000000}, "area_4": {"kind": "m3/(h m2)", "at_most": 3000000000},
	"joint_1": {"kind": "m3/(h m)", "at_most": 12500000000000}, "joint_2": {"kind": "m3/(h m)", "at_most": 6750000000000},
	"joint_3": {"kind": "m3/(h m)", "at_most": 2250000000000}, "joint_4": {"kind": "m3/(h m)", "at_most": 750000000000},
}}

# A door of 1 m2 with a joint of some metres, which leaks some m3/h at 100 Pa.
class_facts(flow, joint, class) := {
	"leakage_rates": {"value": [{"at": 100000000, "low": flow / 3600, "likely": flow / 3600, "high": flow / 3600}], "at": []},
	"leaf_area": {"value": {"width": 1000000000, "height": 1000000000}, "at": []},
	"joint_length": {"value": joint * 1000000000, "at": []}, "air_class_target": {"value": {"class": class}, "at": []},
}

class_told(flow, joint, class) := [[check.part, check.state, check.values.reached.word, check.values.other.word] |
	some check in questions.answer("air-class", class_rule, class_facts(flow, joint, class))
]

test_pass_class_met_by_area_and_by_joint if class_told(8.9, 4, 3) == [["area", "pass", "class 3", "class 3"], ["joint", "pass", "class 3", "class 3"]]

test_fail_class_missed_by_area_and_by_joint if class_told(9.1, 4, 3) == [["area", "fail", "class 2", "class 2"], ["joint", "fail", "class 2", "class 2"]]

# 2.0 m3/(h m) and 10 m3/(h m2): class 3 by the joint, class 2 by the area.
test_unknown_class_that_the_two_measures_tell_apart if {
	class_told(10, 5, 3) == [["area", "open", "class 2", "class 3"], ["joint", "pass", "class 3", "class 2"]]
	class_told(8, 2, 3) == [["area", "pass", "class 3", "class 2"], ["joint", "open", "class 2", "class 3"]]
}

# 6 m3/h over 1 m2 is class 3; read as a rate over the joint it would be class 2.
test_pass_class_of_a_rate_over_an_area_is_not_that_over_a_joint if class_told(6, 1, 3) == [["area", "pass", "class 3", "class 2"], ["joint", "open", "class 2", "class 3"]]

test_fail_class_none_is_reached if class_told(60, 4, 1) == [["area", "fail", "no class", "no class"], ["joint", "fail", "no class", "no class"]]

# A part that misses is no failure while the other is not known.
test_unknown_class_with_a_joint_that_is_not_known if {
	facts := {name: fact | some name, fact in class_facts(9.1, 4, 3); name != "joint_length"}
	checks := questions.answer("air-class", class_rule, facts)
	[[check.part, check.state] | some check in checks] == [["area", "open"], ["joint", "missing"]]
	checks[0].values.other == {"word": "not known"}
}

test_unknown_class_that_nobody_names if {
	every facts in [{}, {"air_class_target": {"value": {}, "at": []}}] {
		questions.answer("air-class", class_rule, facts) == [
			{"part": "area", "state": "missing", "at": [], "needs": [{"fact": "air_class_target"}]},
			{"part": "joint", "state": "missing", "at": [], "needs": [{"fact": "air_class_target"}]},
		]
	}
}

test_unknown_class_of_a_joint_that_is_not_known_whichever_is_asked if {
	every class in [1, 2, 3, 4] {
		facts := {name: fact | some name, fact in class_facts(9.1, 4, class); name != "joint_length"}
		questions.answer("air-class", class_rule, facts)[1] == {"part": "joint", "state": "missing", "at": [], "needs": [{"fact": "joint_length"}]}
	}
}

# The limits of the other classes would stand for those of their neighbours.
test_fail_class_lacking_a_limit_is_silence if {
	every name in ["area_1", "area_2", "area_4", "joint_1"] {
		less := {key: limit | some key, limit in class_rule.limits; key != name}
		not questions.answer("air-class", object.union(class_rule, {"limits": null}), class_facts(8.9, 4, 3))
		not questions.answer("air-class", {"fact": "leakage_rates", "limits": less}, class_facts(8.9, 4, 3))
	}
}
