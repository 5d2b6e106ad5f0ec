# It defines what built-in questions call.
package sillwright.questions

import data.sillwright.compare

# METADATA
# description: Is the length of one fact at most the limit?
# custom:
#   fact: [length]
#   limits: {value: at_most length}
#   parts: {value: []}
answer("own-trap", rule, facts) := [{"part": "value", "state": compare.at_most(facts[rule.fact].value, rule.limits.value), "at": []}] if {
	is_number(facts[rule.fact].value)
}

answer("own-trap", rule, facts) := [compare.missing("value", rule.fact)] if not facts[rule.fact]

side_height(side, limit) := {"part": "height", "state": "pass", "at": []}
