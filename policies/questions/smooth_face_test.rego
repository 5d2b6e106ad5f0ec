package sillwright.questions_test

import data.sillwright.questions

# 2010 ADA Standards 404.2.10: within 10 in of the floor, joints within 1/16 in (1.6 mm) of one plane.
face_rule := {"fact": "push_side_joints", "limits": {"height": {"kind": "length", "at_most": 254000000}, "step": edge_limit}}

edge_limit := {"kind": "length", "at_most": 1587500, "printed": 1600000}

exempt_rule := {"fact": "push_side_joints", "limits": object.union(face_rule.limits, {"exempt": true})}

edges(list) := {"push_side_joints": {"value": list, "at": ["/joints"]}}

edge(height, step) := {"at": "/joints/0", "height": height, "step": step}

edge_check(step, state) := {
	"part": "step", "state": state, "at": ["/joints/0"], "measured": {"length": step}, "limit": edge_limit, "comparator": "<=",
	"values": {"measured": {"length": step}, "limit": {"length": 1587500}, "excess": {"length": step - 1587500}},
}

edge_free := {"part": "none", "state": "pass", "at": ["/joints/0"], "values": {}}

edge_unread := {"part": "step", "state": "missing", "at": ["/joints/0"], "needs": [{"fact": "push_side_joints", "at": "/joints/0"}]}

faced(list) := questions.answer("smooth-face", face_rule, edges(list))

test_pass_face_of_one_plane if {
	faced([]) == [{"part": "none", "state": "pass", "at": ["/joints"], "values": {}}]
}

test_pass_face_step_at_the_limit if {
	faced([edge(0, 1587500)]) == [edge_check(1587500, "pass")]
	faced([edge(254000000, 0)]) == [edge_check(0, "pass")]
}

test_unknown_face_step_within_the_printed_rounding if {
	faced([edge(40000000, 1587501)]) == [edge_check(1587501, "open")]
	faced([edge(40000000, 1600000)]) == [edge_check(1600000, "open")]
}

test_fail_face_step_beyond_the_printed_rounding if {
	faced([edge(40000000, 1600001)]) == [edge_check(1600001, "fail")]
	faced([edge(254000000, 3000000)]) == [edge_check(3000000, "fail")]
}

test_pass_face_joint_above_the_height_is_free if {
	faced([edge(254000001, 50000000)]) == [edge_free]
	faced([{"at": "/joints/0", "height": 254000001}]) == [edge_free]
}

test_pass_face_small_step_at_whatever_height if {
	faced([{"at": "/joints/0", "step": 1587500}]) == [edge_check(1587500, "pass")]
}

test_unknown_face_joint_that_is_not_measured if {
	faced([{"at": "/joints/0", "step": 1587501}]) == [edge_unread]
	faced([{"at": "/joints/0", "height": 254000000}]) == [edge_unread]
	faced([{"at": "/joints/0"}]) == [edge_unread]
}

test_fail_face_every_joint_is_judged if {
	[check.state | some check in faced([edge(10, 1), edge(10, 9000000), edge(300000000, 9000000), {"at": "/3"}])] == ["pass", "fail", "pass", "missing"]
}

test_unknown_face_missing_fact if {
	questions.answer("smooth-face", face_rule, {}) == [{"part": "step", "state": "missing", "at": [], "needs": [{"fact": "push_side_joints"}]}]
}

test_pass_face_that_is_exempt if {
	every facts in [{}, edges([]), edges([edge(10, 9000000)])] {
		questions.answer("smooth-face", exempt_rule, facts) == [{"part": "none", "state": "pass", "at": [], "values": {}}]
	}
}

test_fail_face_of_the_wrong_shape_gives_no_answer if {
	every wrong in ["300", null, true] {
		not faced([edge(wrong, 9000000)])
		not faced([edge(10, wrong)])
	}
	every list in ["abc", 5, null, true] {
		not faced(list)
	}
	not faced([{"height": 10, "step": 1}])
}

test_fail_face_without_a_limit_gives_no_answer if {
	every limits in [{}, {"height": face_rule.limits.height}, {"step": edge_limit}, {"height": {}, "step": edge_limit}, object.union(face_rule.limits, {"step": {"at_most": "2"}})] {
		not questions.answer("smooth-face", {"fact": "push_side_joints", "limits": limits}, edges([edge(10, 1)]))
		not questions.answer("smooth-face", {"fact": "push_side_joints", "limits": limits}, edges([]))
		not questions.answer("smooth-face", {"fact": "push_side_joints", "limits": limits}, {})
	}
}

test_fail_face_exempt_only_if_said_so if {
	rule := object.union(face_rule, {"limits": object.union(face_rule.limits, {"exempt": false})})
	questions.answer("smooth-face", rule, edges([edge(10, 9000000)])) == [edge_check(9000000, "fail")]
}
