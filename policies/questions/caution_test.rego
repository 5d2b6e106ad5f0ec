package sillwright.questions_test

import data.sillwright.questions

test_unknown_caution_whatever_the_facts if {
	every facts in [{}, {"fire_rated": {"value": true, "at": []}}] {
		questions.answer("caution", {"limits": {}}, facts) == [{"part": "value", "state": "open", "at": [], "values": {}}]
	}
}
