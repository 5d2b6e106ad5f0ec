package sillwright.questions_test

import data.sillwright.questions

# British Columbia Building Code 2024, 3.8.3.6.(10): at least 3 s from 70 degrees to 75 mm from closed, at the leading edge.
edge_limits := {
	"value": {"kind": "time", "at_least": 3000},
	"start": {"kind": "angle", "at": 70},
	"edge": {"kind": "length", "at": 75},
}

edge_timed(i, from, least, most, time) := {"at": ["/0", "/1"][i], "from": from, "least": least, "most": most, "time": time}

edge_check(reading, state) := {
	"part": "value", "state": state, "at": [reading.at], "measured": {"time": reading.time}, "limit": edge_limits.value, "comparator": ">=",
	"values": {"from": {"angle": 70}, "edge": {"length": 75}, "limit": {"time": 3000}},
}

edge_answer(readings) := questions.answer("closing-time-to-edge", {"limits": edge_limits}, {"closing_to_edge": {"value": readings, "at": ["/door/closing_times"]}})

edge_not_timed := [{"part": "value", "state": "missing", "at": [], "needs": [{"fact": "closing_to_edge"}]}]

test_pass_edge_time_at_the_limit if {
	reading := edge_timed(0, 70, 75, 75, 3000)
	edge_answer([reading]) == [edge_check(reading, "pass")]
}

test_fail_edge_time_below_the_limit if {
	reading := edge_timed(0, 70, 75, 75, 2999)
	edge_answer([reading]) == [edge_check(reading, "fail")]
}

test_pass_edge_time_over_a_part_of_the_way if {
	every reading in [edge_timed(0, 69, 75, 75, 3000), edge_timed(0, 70, 76, 80, 3000), edge_timed(0, 70, 75, 80, 3000)] {
		edge_answer([reading]) == [edge_check(reading, "pass")]
	}
}

test_fail_edge_time_over_more_than_the_way if {
	every reading in [edge_timed(0, 71, 75, 75, 2999), edge_timed(0, 70, 0, 0, 2999), edge_timed(0, 90, 70, 75, 2999)] {
		edge_answer([reading]) == [edge_check(reading, "fail")]
	}
}

test_unknown_edge_time_that_proves_nothing if {
	# over more than the way and long, over a part of it and short, or to a place that is not known so well
	every reading in [edge_timed(0, 71, 75, 75, 9000), edge_timed(0, 70, 74, 74, 9000), edge_timed(0, 69, 75, 75, 100), edge_timed(0, 70, 76, 76, 100), edge_timed(0, 70, 74, 76, 9000), edge_timed(0, 70, 74, 76, 100)] {
		edge_answer([reading]) == edge_not_timed
	}
}

test_fail_edge_time_one_short_of_two if edge_answer([edge_timed(0, 70, 75, 75, 4000), edge_timed(1, 70, 75, 75, 2000)]) == [edge_check(edge_timed(1, 70, 75, 75, 2000), "fail")]

test_pass_edge_time_of_any if edge_answer([edge_timed(0, 60, 90, 90, 10), edge_timed(1, 70, 75, 75, 3000)]) == [edge_check(edge_timed(1, 70, 75, 75, 3000), "pass")]

test_unknown_edge_time_missing if {
	questions.answer("closing-time-to-edge", {"limits": edge_limits}, {}) == edge_not_timed
	edge_answer([{"at": "/0", "from": 70, "least": 75, "most": 75}]) == edge_not_timed
}

test_fail_edge_time_of_the_wrong_shape_gives_no_answer if {
	every key in ["from", "least", "most", "time"] {
		every wrong in ["9000", null, true] {
			not edge_answer([object.union(edge_timed(0, 70, 75, 75, 9000), {key: wrong})])
		}
	}
	every key in ["from", "least", "most"] {
		not edge_answer([without(edge_timed(0, 70, 75, 75, 9000), key)])
	}
	not edge_answer("abc")
}

test_fail_edge_time_without_a_limit_gives_no_answer if {
	every name in ["value", "start", "edge"] {
		not questions.answer("closing-time-to-edge", {"limits": without(edge_limits, name)}, {})
	}
	every name, wrong in {"start": {"at": "70"}, "edge": {"at": "75"}, "value": {"at_least": "3000"}} {
		not questions.answer("closing-time-to-edge", {"limits": object.union(without(edge_limits, name), {name: wrong})}, {})
	}
}
