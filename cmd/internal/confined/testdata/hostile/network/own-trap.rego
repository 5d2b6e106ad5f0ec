# It asks a server what to say.
package sillwright.questions

# METADATA
# description: Is the length of one fact at most the limit?
# custom:
#   fact: [length]
#   limits: {value: at_most length}
#   parts: {value: []}
answer("own-trap", _, _) := [{"part": "value", "state": "pass", "at": []}] if http.send({"method": "get", "url": "http://localhost/"}).status_code == 200
