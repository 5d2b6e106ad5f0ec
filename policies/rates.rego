# METADATA
# description: |
#   The flow at a test's pressure, over an area or a length, against the rate that a text allows. Flows are m3/s with a band
#   and areas and lengths whole nanometres, so a rate is compared as flow <= limit x size, in whole numbers. Ways for air that
#   are not listed only add to a flow: it can then miss a limit, and never meet it.
package sillwright.rates

# What a rule asks: its limits, with the facts that it reads and the rate that it allows. Without the facts, what is lacking.
weighed(per, ask, facts) := {"state": "missing", "at": [], "needs": lacks} if {
	lacks := [{"fact": name} | some name in [ask.fact, ask.target]; not facts[name]]
	count(lacks) > 0
} else := {
	"state": state, "at": array.concat(facts[ask.fact].at, facts[ask.target].at), "needs": [{"fact": ask.fact, "at": "/paths"} | state == "missing"],
	"low": {"low_rate": [flow.low / scaled, unit]}, "likely": {"rate": [flow.likely / scaled, unit]}, "high": {"high_rate": [flow.high / scaled, unit]},
} if {
	some flow in facts[ask.fact].value
	flow.at == ask.pressure.at
	every figure in [flow.low, flow.likely, flow.high] {
		is_number(figure)
	}
	unit := ask.rate.kind
	whole := size(per, facts[ask.target])
	scaled := whole / (picolitre[per] * 1000000000000000)
	state := proven(ask, known(facts[ask.fact], within(flow, whole, per, ask)))
}

# How many limits x sizes of one a picolitre a second, 1e-15 m3/s, is: a rate is in nm/h over nm2, or um2/h over nm.
picolitre := {"area": 3600000000000000, "length": 3600000000}

size("area", target) := target.value.width * target.value.height if {
	target.value.width > 0
	target.value.height > 0
}

size("length", target) := target.value if {
	is_number(target.value)
	target.value > 0
}

within(flow, whole, per, ask) := "pass" if {
	amount(flow.high, per) <= ask.rate.at_most * whole
} else := "fail" if {
	part := slack(per, ask)
	amount(flow.low, per) * part[1] > (ask.rate.at_most * whole) * (part[0] + part[1])
} else := "close"

# A flow to the nearest picolitre a second, as a whole number: a flow that equals its limit meets it, at any size.
amount(flow, per) := ceil((flow * 1000000000000000) - 0.5) * picolitre[per]

# What a frame may add to the area at most, in parts of it: a flow that would then meet the limit does not miss it. It adds to no joint.
slack(per, ask) := ask.frame.part if {
	per == "area"
	ask.frame
} else := [0, 1]

known(fact, state) := "missing" if {
	fact.or_more
	state != "fail"
} else := state

# Where only a test counts, a prediction that does not miss the limit leaves it open.
proven(ask, state) := "open" if {
	ask.proof_by_test
	state in {"pass", "close"}
} else := state

asked(rule) := object.union(rule.limits, {"fact": rule.fact, "target": rule.target, "rate": rule.limits.value})
