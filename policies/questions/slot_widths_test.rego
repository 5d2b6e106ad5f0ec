package sillwright.questions_test

import data.sillwright.questions

# Warunki techniczne § 294(3): gratings with gaps of 20 mm at most. Millimetres stand for lengths.
grating_limit := {"kind": "length", "at_most": 20}

gratings(list) := questions.answer("slot-widths", {"limits": {"width": grating_limit}}, slots(list))

test_pass_slot_widths_at_the_limit_along_the_path_whole_result if {
	gratings([{"at": "/g", "width": 20, "runs": "along"}]) == [{
		"part": "width", "state": "pass", "at": ["/g"], "measured": {"length": 20}, "limit": grating_limit, "comparator": "<=",
		"values": {"measured": {"length": 20}, "limit": {"length": 20}},
	}]
}

test_pass_slot_widths_none if gratings([]) == [{"part": "none", "state": "pass", "at": ["/threshold/openings"], "values": {}}]

test_fail_slot_widths_every_slot_is_judged if {
	[check.state | some check in gratings([{"at": "/g", "width": 20}, {"at": "/h", "width": 21}])] == ["pass", "fail"]
}

test_unknown_slot_widths_not_measured if gratings([{"at": "/g"}]) == [{"part": "width", "state": "missing", "at": ["/g"], "needs": [{"fact": "openings", "at": "/g"}]}]

test_unknown_slot_widths_missing_fact if {
	questions.answer("slot-widths", {"limits": {"width": grating_limit}}, {}) == [{"part": "width", "state": "missing", "at": [], "needs": [{"fact": "openings"}]}]
}

test_fail_slot_widths_rule_without_its_limit_gives_no_answer if {
	not questions.answer("slot-widths", {"limits": {}}, slots([{"at": "/g", "width": 20}]))
}
