package sillwright.questions_test

import data.sillwright.questions

# 2010 ADA Standards 404.2.8.1: 5 s at least from 90 degrees to 12 degrees from the latch.
shut_rule := {"limits": {"value": shut_limit, "angles": {"kind": "angle", "from": 90, "to": 12}}}

shut_limit := {"kind": "time", "at_least": 5000}

swings(readings) := {"closing_times": {"value": readings, "at": ["/door/closing_times"]}}

swing(i, from, to, time) := {"at": ["/0", "/1"][i], "from": from, "to": to, "time": time}

shut_check(reading, state) := {
	"part": "value", "state": state, "at": [reading.at], "measured": {"time": reading.time}, "limit": shut_limit, "comparator": ">=",
	"values": {"from": {"angle": reading.from}, "to": {"angle": reading.to}, "limit": {"time": 5000}},
}

shut(readings) := questions.answer("closing-time", shut_rule, swings(readings))

not_timed := [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "closing_times"}]}]

test_pass_closing_time_at_the_limit if {
	reading := swing(0, 90, 12, 5000)
	shut([reading]) == [shut_check(reading, "pass")]
}

test_fail_closing_time_below_the_limit if {
	reading := swing(0, 90, 12, 4999)
	shut([reading]) == [shut_check(reading, "fail")]
}

# A part of the way that takes long enough: the whole takes no less.
test_pass_closing_time_over_a_part_of_the_way if {
	every reading in [swing(0, 80, 12, 5000), swing(0, 90, 20, 5000), swing(0, 60, 30, 5000)] {
		shut([reading]) == [shut_check(reading, "pass")]
	}
}

# More than the way in too short a time: the way itself takes no more.
test_fail_closing_time_over_more_than_the_way if {
	every reading in [swing(0, 95, 12, 4999), swing(0, 90, 0, 4999), swing(0, 100, 5, 4999)] {
		shut([reading]) == [shut_check(reading, "fail")]
	}
}

test_unknown_closing_time_that_proves_nothing if {
	# long over more than the way, short over a part of it, or across its end
	every reading in [swing(0, 95, 0, 9000), swing(0, 91, 12, 9000), swing(0, 90, 11, 9000), swing(0, 80, 20, 100), swing(0, 95, 20, 100), swing(0, 80, 0, 100)] {
		shut([reading]) == not_timed
	}
}

# Two readings of one way, of which one is too short: the door is not set so that it always takes long enough.
test_fail_closing_time_one_short_reading_of_two if {
	long := swing(0, 90, 12, 6000)
	short := swing(1, 90, 12, 4000)
	shut([long, short]) == [shut_check(short, "fail")]
	shut([swing(0, 90, 12, 4000), swing(1, 90, 12, 6000)]) == [shut_check(swing(0, 90, 12, 4000), "fail")]
}

test_pass_closing_time_of_any_reading if {
	shut([swing(0, 80, 20, 100), swing(1, 90, 12, 5000)]) == [shut_check(swing(1, 90, 12, 5000), "pass")]
}

test_unknown_closing_time_missing if {
	questions.answer("closing-time", shut_rule, {}) == not_timed
	shut([{"at": "/0", "from": 90, "to": 12}]) == not_timed
}

test_fail_closing_time_of_the_wrong_shape_gives_no_answer if {
	every wrong in ["9000", null, true] {
		not shut([object.union(swing(0, 90, 12, 9000), {"time": wrong})])
		not shut([object.union(swing(0, 90, 12, 9000), {"from": wrong})])
		not shut([object.union(swing(0, 90, 12, 9000), {"to": wrong})])
	}
	not shut([{"at": "/0", "time": 9000}])
	not shut("abc")
}

test_fail_closing_time_without_a_limit_gives_no_answer if {
	every limits in [
		{}, {"value": shut_limit}, {"angles": shut_rule.limits.angles}, {"value": {"at_most": 5000}, "angles": shut_rule.limits.angles},
		{"value": shut_limit, "angles": {"from": 90}}, {"value": shut_limit, "angles": {"to": 12}}, {"value": shut_limit, "angles": {"from": "90", "to": 12}},
	] {
		not questions.answer("closing-time", {"limits": limits}, swings([swing(0, 90, 12, 9000)]))
		not questions.answer("closing-time", {"limits": limits}, {})
	}
}
