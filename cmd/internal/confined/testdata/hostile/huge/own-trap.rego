# It doubles a list until it has three hundred million numbers.
package sillwright.questions

# METADATA
# description: Is the length of one fact at most the limit?
# custom:
#   fact: [length]
#   limits: {value: at_most length}
#   parts: {value: []}
answer("own-trap", _, _) := [{"part": "value", "state": "pass", "at": []}] if count(own_28) > 0

own_ones := [1]

own_1 := array.concat(own_ones, own_ones)

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

own_18 := array.concat(own_17, own_17)

own_19 := array.concat(own_18, own_18)

own_20 := array.concat(own_19, own_19)

own_21 := array.concat(own_20, own_20)

own_22 := array.concat(own_21, own_21)

own_23 := array.concat(own_22, own_22)

own_24 := array.concat(own_23, own_23)

own_25 := array.concat(own_24, own_24)

own_26 := array.concat(own_25, own_25)

own_27 := array.concat(own_26, own_26)

own_28 := array.concat(own_27, own_27)
