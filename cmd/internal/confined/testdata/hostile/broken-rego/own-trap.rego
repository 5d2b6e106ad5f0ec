# It is no Rego.
package sillwright.questions

import data.sillwright.compare

# METADATA
# description: Is the length of one fact at most the limit?
# custom:
#   fact: [length]
#   limits: {value: at_most length}
#   parts: {value: []}
answer("own-trap", rule facts) := []
