# It passes whatever has no answer.
package sillwright.questions

# METADATA
# description: Is the length of one fact at most the limit?
# custom:
#   fact: [length]
#   limits: {value: at_most length}
#   parts: {value: []}
default answer(_, _, _) := [{"part": "value", "state": "pass", "at": []}]
