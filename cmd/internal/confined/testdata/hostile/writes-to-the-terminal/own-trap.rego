# Its values hold control characters.
package sillwright.questions

# METADATA
# description: Is the length of one fact at most the limit?
# custom:
#   fact: [length]
#   limits: {value: at_most length}
#   parts: {value: []}
answer("own-trap", _, _) := [{"part": "value", "state": "fail", "at": [], "values": {"measured": {"word": "\u001b[2Jcomplies"}}}]
