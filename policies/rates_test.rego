package sillwright.rates_test

import data.sillwright.rates

# A door of 2 by 1 m: 2 m2. At 36 m3/h it leaks 18 m3/(h m2), which is 18e9 nm/h.
asked := {"fact": "leakage_rates", "target": "leaf_area", "pressure": {"at": 75000000}, "rate": {"kind": "m3/(h m2)", "at_most": 18000000000}}

leaking(low, high, more) := {
	"leakage_rates": object.union({"value": [{"at": 50000000, "low": 9, "likely": 9, "high": 9}, {"at": 75000000, "low": low, "likely": low, "high": high}], "at": ["/options/0"]}, more),
	"leaf_area": {"value": {"width": 1000000000, "height": 2000000000}, "at": ["/door/height"]},
}

state(low, high, more, ask) := rates.weighed("area", object.union(asked, ask), leaking(low, high, more)).state

test_pass_rate_at_the_limit if {
	rates.weighed("area", asked, leaking(0.01, 0.01, {})) == {
		"state": "pass", "at": ["/options/0", "/door/height"], "needs": [], "low": {"low_rate": [18000000000, "m3/(h m2)"]},
		"likely": {"rate": [18000000000, "m3/(h m2)"]}, "high": {"high_rate": [18000000000, "m3/(h m2)"]},
	}
}

test_unknown_rate_that_the_band_reaches_over if state(0.01, 0.010001, {}, {}) == "close"

test_fail_rate_above_the_limit if state(0.010001, 0.02, {}, {}) == "fail"

# 1/3 more area would meet the limit up to 48 m3/h.
test_unknown_rate_that_the_frame_may_bring_down if {
	framed := {"frame": {"kind": "part", "part": [1, 3]}}
	state(0.010001, 0.02, {}, framed) == "close"
	state(0.0133333, 0.02, {}, framed) == "close"
	state(0.0133334, 0.02, {}, framed) == "fail"
}

# 27 m3/(h m2) over a leaf of 0.3 by 1.8 m is 0.00405 m3/s, which is no binary fraction; a picolitre a second more is over it.
test_pass_rate_at_a_limit_that_is_no_binary_fraction if {
	every pair in [[0.00405, "pass"], [0.0040500000000004, "pass"], [0.004050000000001, "fail"]] {
		facts := object.union(leaking(pair[0], pair[0], {}), {"leaf_area": {"value": {"width": 300000000, "height": 1800000000}, "at": []}})
		rates.weighed("area", object.union(asked, {"rate": {"kind": "m3/(h m2)", "at_most": 27000000000}}), facts).state == pair[1]
	}
}

# 1 m3/s over 2 m2 is 1800 m/h: a picolitre a second in 1e15 of them decides.
test_fail_rate_by_a_picolitre if {
	every pair in [[1, "pass"], [1.000000000000001, "fail"]] {
		state(pair[0], pair[0], {}, {"rate": {"kind": "m3/(h m2)", "at_most": 1800000000000}}) == pair[1]
	}
}

test_fail_rate_over_the_least_size if {
	facts := object.union(leaking(1, 1, {}), {"leaf_area": {"value": {"width": 1, "height": 1}, "at": []}, "joint_length": {"value": 1, "at": []}})
	rates.weighed("area", asked, facts).state == "fail"
	rates.weighed("length", object.union(asked, {"target": "joint_length"}), facts).state == "fail"
}

# A frame adds to an area, and to no joint: 48 m3/h and a picolitre a second more over 2 m2 and along 2 m, of which 36 m3/h are the limit.
test_fail_rate_over_a_length_whatever_the_frame if {
	framed := object.union(asked, {"frame": {"kind": "part", "part": [1, 3]}})
	joint := object.union(framed, {"target": "joint_length", "rate": {"kind": "m3/(h m)", "at_most": 18000000000000}})
	every row in [[0.010000000000001, "close", "fail"], [0.013333333333333, "close", "fail"], [0.013333333333334, "fail", "fail"]] {
		facts := object.union(leaking(row[0], row[0], {}), {"joint_length": {"value": 2000000000, "at": []}})
		[rates.weighed("area", framed, facts).state, rates.weighed("length", joint, facts).state] == [row[1], row[2]]
	}
}

test_unknown_rate_of_a_door_whose_ways_for_air_are_not_all_listed if {
	check := rates.weighed("area", asked, leaking(0.001, 0.001, {"or_more": true}))
	[check.state, check.needs] == ["missing", [{"fact": "leakage_rates", "at": "/paths"}]]
	state(0.01, 0.02, {"or_more": true}, {}) == "missing"
	state(0.010001, 0.02, {"or_more": true}, {}) == "fail"
}

test_unknown_rate_where_only_a_test_counts if {
	tested := {"proof_by_test": true}
	state(0.001, 0.001, {}, tested) == "open"
	state(0.01, 0.02, {}, tested) == "open"
	state(0.010001, 0.02, {}, tested) == "fail"
	state(0.001, 0.001, {"or_more": true}, tested) == "missing"
}

# A joint of 2 m that leaks 36 m3/h: 18 m3/(h m), which is 18e12 um2/h.
test_pass_rate_over_a_length if {
	joint := object.union(leaking(0.01, 0.01, {}), {"joint_length": {"value": 2000000000, "at": []}})
	ask := object.union(asked, {"target": "joint_length"})
	rates.weighed("length", object.union(ask, {"rate": {"kind": "m3/(h m)", "at_most": 18000000000000}}), joint).state == "pass"
	rates.weighed("length", object.union(ask, {"rate": {"kind": "m3/(h m)", "at_most": 17999999999999}}), joint).state == "fail"
}

test_unknown_rate_of_what_is_not_known if {
	rates.weighed("area", asked, {}) == {"state": "missing", "at": [], "needs": [{"fact": "leakage_rates"}, {"fact": "leaf_area"}]}
	rates.weighed("area", asked, {"leakage_rates": {"value": [], "at": []}}).needs == [{"fact": "leaf_area"}]
}

# A text, a size of nothing and a pressure at which nothing is predicted answer nothing.
test_fail_rate_without_an_answer if {
	not rates.weighed("area", asked, leaking("0.001", 0.001, {}))
	not rates.weighed("area", asked, leaking(0.001, null, {}))
	not rates.weighed("area", object.union(asked, {"pressure": {"at": 1}}), leaking(0.001, 0.001, {}))
	every size in [{"width": 0, "height": 1}, {"width": 1, "height": 0}] {
		not rates.weighed("area", asked, object.union(leaking(0.001, 0.001, {}), {"leaf_area": {"value": size, "at": []}}))
	}
	every size in [0, "1"] {
		not rates.weighed("length", asked, object.union(leaking(0.001, 0.001, {}), {"leaf_area": {"value": size, "at": []}}))
	}
}
