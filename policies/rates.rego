# METADATA
# description: |
#   The flow at a test's pressure, over an area or a length, against the rate that a text allows. Flows are m3/s with a band
#   and areas and lengths whole nanometres, so a rate is compared as flow <= limit x size. Ways for air that are not listed
#   only add to a flow: it can then miss a limit, and never meet it.
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
	scaled := size(per, facts[ask.target])
	state := proven(ask, known(facts[ask.fact], within(flow, scaled, ask)))
}

# How many m3/s one nanometre, or square micrometre, an hour is over the whole size.
size("area", target) := (target.value.width * target.value.height) / 3.6e30 if {
	target.value.width > 0
	target.value.height > 0
}

size("length", target) := target.value / 3.6e24 if {
	is_number(target.value)
	target.value > 0
}

within(flow, scaled, ask) := "pass" if {
	flow.high <= ask.rate.at_most * scaled
} else := "fail" if {
	flow.low > (ask.rate.at_most * scaled) * slack(ask)
} else := "close"

# What a frame may add to the area at most, in parts of it: a flow that would then meet the limit does not miss it.
slack(ask) := (ask.frame.part[0] + ask.frame.part[1]) / ask.frame.part[1] if {
	ask.frame
} else := 1

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
