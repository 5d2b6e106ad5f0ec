package sillwright.questions

# METADATA
# description: |
#   A caution asks for judgement that no fact can settle: where it applies it stays
#   open until somebody answers for it.
# custom:
#   parts: {value: []}
answer("caution", _, _) := [{"part": "value", "state": "open", "at": [], "values": {}}]
