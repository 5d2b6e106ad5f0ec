# It answers with a hundred thousand checks.
package sillwright.questions

# METADATA
# description: Is the length of one fact at most the limit?
# custom:
#   fact: [length]
#   limits: {value: at_most length}
#   parts: {value: []}
answer("own-trap", _, _) := own_17

own_check := [{"part": "value", "state": "pass", "at": []}]

own_1 := array.concat(own_check, own_check)

own_2 := array.concat(own_1, own_1)

own_3 := array.concat(own_2, own_2)

own_4 := array.concat(own_3, own_3)

own_5 := array.concat(own_4, own_4)

own_6 := array.concat(own_5, own_5)

own_7 := array.concat(own_6, own_6)

own_8 := array.concat(own_7, own_7)

own_9 := array.concat(own_8, own_8)

own_10 := array.concat(own_9, own_9)

own_11 := array.concat(own_10, own_10)

own_12 := array.concat(own_11, own_11)

own_13 := array.concat(own_12, own_12)

own_14 := array.concat(own_13, own_13)

own_15 := array.concat(own_14, own_14)

own_16 := array.concat(own_15, own_15)

own_17 := array.concat(own_16, own_16)
