package sillwright.questions_test

import data.sillwright.questions

# DB SUA, SUA 1, 2.1 c): no sphere of 1.5 cm. Millimetres stand for lengths.
sphere_limit := {"kind": "length", "at_most": 15}

sphere_states(list) := [[check.part, check.state] | some check in questions.answer("openings-any-way", {"limits": {"width": sphere_limit}}, slots(list))]

test_pass_openings_any_way_none if sphere_states([]) == [["none", "pass"]]

test_pass_openings_any_way_along_the_path_whole_result if {
	questions.answer("openings-any-way", {"limits": {"width": sphere_limit}}, slots([{"at": "/a", "width": 15, "runs": "along"}])) == [{
		"part": "width", "state": "pass", "at": ["/a"], "measured": {"length": 15}, "limit": sphere_limit, "comparator": "<=",
		"values": {"measured": {"length": 15}, "limit": {"length": 15}},
	}]
}

test_fail_openings_any_way_one_too_wide if sphere_states([{"at": "/a", "width": 8}, {"at": "/b", "width": 16}]) == [["width", "pass"], ["width", "fail"]]

test_unknown_openings_any_way_not_measured if {
	questions.answer("openings-any-way", {"limits": {"width": sphere_limit}}, slots([{"at": "/a", "runs": "across"}])) == [{"part": "width", "state": "missing", "at": ["/a"], "needs": [{"fact": "openings", "at": "/a"}]}]
	questions.answer("openings-any-way", {"limits": {"width": sphere_limit}}, {}) == [{"part": "width", "state": "missing", "at": [], "needs": [{"fact": "openings"}]}]
}

test_fail_openings_any_way_lacking_the_limit_is_silence if not questions.answer("openings-any-way", {"limits": {}}, slots([{"at": "/a", "width": 8}]))
