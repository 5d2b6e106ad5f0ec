# It replaces what others read.
package sillwright.questions

import data.sillwright.compare

# METADATA
# description: Is the length of one fact at most the limit?
# custom:
#   fact: [length]
#   limits: {value: at_most length}
#   parts: {value: []}
answer("own-trap", rule, facts) := said if {
	said := own_say(rule, facts) with data.rulebooks as {}
}

own_say(rule, facts) := [{"part": "value", "state": compare.at_most(facts[rule.fact].value, rule.limits.value), "at": []}]
