# It says another thing each time.
package sillwright.questions

# METADATA
# description: Is the length of one fact at most the limit?
# custom:
#   fact: [length]
#   limits: {value: at_most length}
#   parts: {value: []}
answer("own-trap", _, _) := [{"part": "value", "state": "pass", "at": []}] if rand.intn("x", 2) == 0
