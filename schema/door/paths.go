package door

import (
	"slices"

	"sillwright/schema/quantity"
)

func readPaths(list cursor) []Path {
	var out []Path
	for _, c := range list.items() {
		p := Path{
			Kind: c.child("path").text(), Leaf: c.child("leaf").text(), Length: c.child("length").length(positive), Gap: c.child("gap").length(notNegative),
			GapError: c.child("gap_error").length(notNegative), Bends: c.child("bends").count(),
			Area: c.child("area").si(quantity.KindArea, notNegative), Seal: c.child("seal").word(), Pointer: c.pointer,
		}
		if c.child("area").has() && c.child("length").has() {
			c.problem("both area and length", "one of them", "give a hole its area, a crack its length and gap")
		}
		out = append(out, p)
	}
	return out
}

// edges are what lets air through around the leaf of each kind of door, the bottom left out.
var edges = map[string][]string{
	"hinged": {"head", "hinge", "latch"}, "pivot": {"head", "hinge", "latch"}, "pair": {"head", "hinge", "meeting"},
	"sliding": {"head", "side", "track"}, "folding": {"head", "side", "track"},
	"roller": {"head", "side"}, "sectional": {"head", "side", "joint"},
}

// Unlisted names the edges of such a door that none of its paths lists. Sliding and folding leaves, where there are
// several, meet each other too.
func (d *Door) Unlisted() []string {
	out := slices.Clone(edges[d.Leaf.Operation.Value])
	if slices.Contains(out, "track") && len(d.Leaves) > 1 {
		out = append(out, "meeting")
	}
	return slices.DeleteFunc(out, func(edge string) bool {
		return slices.ContainsFunc(d.Paths, func(p Path) bool { return p.Kind == edge })
	})
}
