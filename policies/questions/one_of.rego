package sillwright.questions

import data.sillwright.compare

# METADATA
# description: Is the word of one fact among those of the limit?
# custom:
#   fact: [word]
#   limits: {value: one_of}
#   parts: {value: [measured, limit]}
answer("one-of", rule, facts) := [compare.missing("value", rule.fact)] if not facts[rule.fact]

answer("one-of", rule, facts) := [{
	"part": "value", "state": among(fact.value, limit.one_of), "at": fact.at,
	"measured": {"word": fact.value}, "limit": limit,
	"values": {"measured": {"word": fact.value}, "limit": {"words": limit.one_of}},
}] if {
	fact := facts[rule.fact]
	is_string(fact.value)
	limit := rule.limits.value
}

among(word, words) := "pass" if {
	word in words
} else := "fail" if is_array(words)
