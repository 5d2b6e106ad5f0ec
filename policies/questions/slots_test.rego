package sillwright.questions_test

import data.sillwright.questions

test_pass_slot_width_at_the_limit if questions.slot_width({"at": "/g", "width": 20}, grating_limit).state == "pass"

test_fail_slot_width_above_the_limit if questions.slot_width({"at": "/g", "width": 21}, grating_limit).state == "fail"

test_unknown_slot_width_not_known if {
	questions.slot_width({"at": "/g", "width": null}, grating_limit) == {"part": "width", "state": "missing", "at": ["/g"], "needs": [{"fact": "openings", "at": "/g"}]}
}
