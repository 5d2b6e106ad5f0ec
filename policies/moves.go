package policies

// MoveWords is what a builder can change about a door, each move by its name in the `moves` of a rule, with words that
// tell what is done: no capital, no stop at the end. The list is closed, and rulebook-1.schema.json has it in the same
// words.
var MoveWords = map[string]string{
	"set-seal":    "change how far a bottom seal is pressed",
	"change-seal": "take another seal of the catalogue in its place",
	"move-seal":   "fix the seal elsewhere on the leaf, below it or on the other face",
	"list-option": "list an option",

	"lower-threshold": "lower the threshold",
	"raise-threshold": "raise the threshold",
	"lengthen-bevel":  "make a bevel longer",
	"bevel-step":      "chamfer an upright face, or make it a bevel",
	"move-step-down":  "bring the upright part down to the floor, with the bevel above it",
	"round-nose":      "round the edge of an upright face",

	"raise-floor":   "raise the landing, the deck or the floor on one side",
	"level-landing": "change the slope or the step of the floor where people turn",
	"level-floor":   "level the floor under the leaf and where the leaf sweeps it",
	"fit-cover":     "fit a cover with narrower slots, or turn it across the path",
	"fix-surface":   "fix down the threshold, the floor or the carpet, or change its surface",
	"change-carpet": "lay a carpet with a lower pile",

	"widen-opening": "widen the opening",
	"move-fitting":  "move or change what projects into the opening",
	"smooth-face":   "level the joints of the push side near the floor, and close its cavities",
	"make-room":     "clear the walls and the floor beside and before the door",

	"ease-door":         "make the door lighter to start, open or unlatch: closer, hinges, latch, seals at the edges",
	"slow-closer":       "let the closer or the spring hinges take longer",
	"strengthen-closer": "let the door close with more force",

	"trim-leaf":   "cut the bottom of the leaf",
	"rehang-leaf": "hang the leaf higher or lower",
	"square-leaf": "hang the leaf so that its bottom follows the floor",

	"close-edge":   "fit a gasket at an open edge, or a brush at the side of a roller door",
	"press-gasket": "set the stop or the hinges so that the gasket at an edge is pressed within its range",
	"fit-grille":   "give ventilation air a free area in the leaf or beside it",
}
