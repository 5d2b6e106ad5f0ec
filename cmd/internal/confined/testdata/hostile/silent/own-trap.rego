# It says nothing where it does not pass.
package sillwright.questions

# METADATA
# description: Is the length of one fact at most the limit?
# custom:
#   fact: [length]
#   limits: {value: at_most length}
#   parts: {value: []}
answer("own-trap", rule, facts) := [{"part": "value", "state": "pass", "at": []}] if {
	facts[rule.fact].value <= rule.limits.value.at_most
}
