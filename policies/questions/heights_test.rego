package sillwright.questions_test

import data.sillwright.questions

test_pass_height_of_a_side_at_its_limit if {
	questions.side_height({"side": "outer", "height": 5, "at": ["/top"], "needs": []}, {"kind": "length", "at_most": 5}).state == "pass"
}

test_fail_height_of_a_side_above_its_limit if {
	questions.side_height({"side": "outer", "height": 6, "at": ["/top"], "needs": []}, {"kind": "length", "at_most": 5}).state == "fail"
}

test_unknown_height_of_a_side_waits_for_what_is_to_come if {
	side := {"side": "outer", "height": null, "at": [], "needs": ["/finish"], "waits": "floor_finish"}
	questions.side_height(side, {"at_most": 5}) == {
		"part": "height", "state": "missing", "at": ["/finish"], "values": {"side": {"word": "outer"}},
		"needs": [{"fact": "floor_finish", "at": "/finish"}],
	}
}
