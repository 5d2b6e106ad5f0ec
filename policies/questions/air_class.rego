package sillwright.questions

import data.sillwright.compare
import data.sillwright.rates

# METADATA
# description: |
#   Does an uncertain flow meet the class that is asked, over the area and over the length of the joint? Each is told with the
#   class that the high end of its own band reaches. Both met pass, both missed fail. Where one is met and the other missed,
#   how a text combines the two is open.
# custom:
#   reads: [air_class_target, leaf_area, joint_length]
#   fact: [leakage_rates]
#   limits: {pressure: at pressure, area_1: at_most flow per area, area_2: at_most flow per area, area_3: at_most flow per area, area_4: at_most flow per area, joint_1: at_most flow per length, joint_2: at_most flow per length, joint_3: at_most flow per length, joint_4: at_most flow per length}
#   optional_limits: {frame: part}
#   parts: {area: [low, high, likely, limit, class, reached, other], joint: [low, high, likely, limit, class, reached, other]}
#   found:
#     area: "{low} to {high} ({reached} at the high end; {other} by the joint)"
#     joint: "{low} to {high} ({reached} at the high end; {other} by the area)"
answer("air-class", _, facts) := [compare.missing(part, "air_class_target") | some part in ["area", "joint"]] if not facts.air_class_target.value.class

answer("air-class", rule, facts) := combined(classed("area", "area", rule, facts), classed("joint", "length", rule, facts)) if facts.air_class_target.value.class

# The limits of each class, the loosest first.
class_limits := {"area": ["area_1", "area_2", "area_3", "area_4"], "joint": ["joint_1", "joint_2", "joint_3", "joint_4"]}

class_targets := {"area": "leaf_area", "joint": "joint_length"}

class_rates := {"area": "area", "joint": "length"}

other_measure := {"area": "joint", "joint": "area"}

# The class that the high end of a band reaches: the limits are met from the loosest on.
reached(part, rule, facts) := {"word": ["no class", "class 1", "class 2", "class 3", "class 4"][met]} if {
	each := weighed_classes(part, class_rates[part], rule, facts)
	each[0].likely
	met := count([one | some one in each; one.state == "pass"])
} else := {"word": "not known"}

classed(part, per, rule, facts) := {
	"part": part, "state": found.state, "at": found.at, "needs": found.needs,
	"measured": found.likely, "limit": limit, "comparator": "<=",
	"values": {
		"low": found.low, "likely": found.likely, "high": found.high, "limit": {limit.kind: limit.at_most},
		"class": {"count": asked}, "reached": reached(part, rule, facts), "other": reached(other_measure[part], rule, facts),
	},
} if {
	asked := facts.air_class_target.value.class
	each := weighed_classes(part, per, rule, facts)
	found := each[asked - 1]
	found.likely
	limit := rule.limits[class_limits[part][asked - 1]]
} else := {"part": part, "state": "missing", "at": [], "needs": found.needs} if {
	found := weighed_classes(part, per, rule, facts)[facts.air_class_target.value.class - 1]
	found.state == "missing"
}

# A class without a limit must not drop out unseen.
weighed_classes(part, per, rule, facts) := each if {
	ask := object.union(rule.limits, {"fact": rule.fact, "target": class_targets[part]})
	each := [rates.weighed(per, object.union(ask, {"rate": rule.limits[name]}), facts) | some name in class_limits[part]]
	count(each) == 4
}

combined(area, joint) := [area, joint] if {
	area.state == joint.state
} else := [opened(area), opened(joint)]

# A part that misses the class is no failure while the other part does not.
opened(check) := object.union(check, {"state": "open"}) if {
	check.state == "fail"
} else := check
