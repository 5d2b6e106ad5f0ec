# It tries a million million sums.
package sillwright.questions

# METADATA
# description: Is the length of one fact at most the limit?
# custom:
#   fact: [length]
#   limits: {value: at_most length}
#   parts: {value: []}
answer("own-trap", _, _) := [{"part": "value", "state": "pass", "at": []}] if {
	some x0 in own_ten
	some x1 in own_ten
	some x2 in own_ten
	some x3 in own_ten
	some x4 in own_ten
	some x5 in own_ten
	some x6 in own_ten
	some x7 in own_ten
	some x8 in own_ten
	some x9 in own_ten
	some x10 in own_ten
	some x11 in own_ten
	x0 + x1 + x2 + x3 + x4 + x5 + x6 + x7 + x8 + x9 + x10 + x11 == 0
}

own_ten := [1, 2, 3, 4, 5, 6, 7, 8, 9, 10]
