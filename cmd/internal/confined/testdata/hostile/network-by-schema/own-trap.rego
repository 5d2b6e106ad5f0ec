# Its METADATA has a schema fetched from a server.
package sillwright.questions

# METADATA
# schemas:
# - input: {$ref: "http://localhost/schema.json"}
# custom:
#   fact: [length]
#   limits: {value: at_most length}
#   parts: {value: []}
answer("own-trap", _, _) := [{"part": "value", "state": "pass", "at": []}]
