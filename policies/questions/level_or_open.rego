package sillwright.questions

import data.sillwright.compare

# METADATA
# description: |
#   Is nothing of the threshold above the floor of either side? Where something is, by however little, the text names
#   nothing that decides, and the authority does.
# custom:
#   fact: [profile]
#   parts: {rise: [side, measured]}
answer("level-or-open", _, facts) := [compare.missing("rise", "profile")] if not facts.profile

answer("level-or-open", _, facts) := heights if {
	sides := facts.profile.value
	heights := [level_side(side) | some side in sides]

	# A side without a height must not drop out unseen.
	count(heights) == count(sides)
	count(heights) > 0
}

level_side(side) := {
	"part": "rise", "state": {true: "open", false: "pass"}[positive(side.height)], "at": side.at,
	"measured": {"length": side.height}, "values": {"side": {"word": side.side}, "measured": {"length": side.height}},
} if {
	is_number(side.height)
} else := {
	# Raised already by what is known.
	"part": "rise", "state": "open", "at": side.at,
	"measured": {"length": side.least}, "values": {"side": {"word": side.side}, "measured": {"length": side.least}},
} if {
	is_number(side.least)
	positive(side.least)
} else := {
	"part": "rise", "state": "missing", "at": side.needs, "values": {"side": {"word": side.side}},
	"needs": [{"fact": object.get(side, "waits", "profile"), "at": at} | some at in side.needs],
}
