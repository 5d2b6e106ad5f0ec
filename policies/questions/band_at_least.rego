package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Is an uncertain force at least the limit? Met when the low end of the band meets it, missed when the high end
#   misses it, too close to tell in between. Where the low end is not known, and the high end meets it, it is asked for.
# custom:
#   by_place: [low, likely, high]
#   fact: [latching_spare]
#   limits: {value: at_least force}
#   parts: {value: [low, high, limit, lack]}
#   found: {value: "{low} to {high}"}
answer("band-at-least", rule, facts) := [compare.missing("value", rule.fact)] if not facts[rule.fact]

answer("band-at-least", rule, facts) := [spare(facts[rule.fact], rule.limits.value, {"fact": rule.fact})]

spare(fact, limit, need) := {
	"part": "value", "state": state, "at": fact.at,
	"measured": {"force": object.get(band, "likely", band.high)}, "limit": limit, "comparator": ">=",
	"values": object.union(
		{"limit": {"force": limit.at_least}, "lack": {"force": limit.at_least - object.get(band, "low", band.high)}},
		band_ends(band),
	),
} if {
	band := fact.value
	is_number(band.high)
	compare.numbers(band, ["low", "likely"])
	state := reaches(band, limit)
	state != "missing"
} else := {"part": "value", "state": "missing", "at": fact.at, "needs": [need]} if {
	reaches(fact.value, limit) == "missing"
	is_number(fact.value.high)
}

reaches(band, limit) := "fail" if {
	compare.at_least(band.high, limit) == "fail"
} else := "missing" if {
	not compare.given(band, ["low"])
} else := "pass" if {
	compare.at_least(band.low, limit) == "pass"
} else := "close"
