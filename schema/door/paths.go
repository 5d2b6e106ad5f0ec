package door

import (
	"slices"

	"sillwright/schema/quantity"
)

func readPaths(list cursor) []Path {
	items := list.items()
	out := slices.Grow([]Path(nil), len(items))
	for _, c := range items {
		p := Path{
			Kind: c.child("path").text(), Leaf: c.child("leaf").text(), Length: c.child("length").length(positive), Gap: c.child("gap").length(notNegative),
			GapError: c.child("gap_error").length(notNegative), Bends: c.child("bends").count(),
			Area: c.child("area").si(quantity.KindArea, notNegative), Seal: c.child("seal").word(), Pointer: c.at.pointer,
		}
		if c.child("area").has() && c.child("length").has() {
			c.problem("both area and length", "one of them", "give a hole its area, a crack its length and gap")
		}
		for _, other := range []string{"gap", "gap_error", "bends", "seal"} {
			if c.child("area").has() && c.child(other).has() && c.child(other).text() != "none" {
				c.child(other).problem("both area and "+other, "one of them", "give a hole its area alone, a crack its length and gap")
			}
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

// AllListed says whether every edge that such a door has is listed.
func (d *Door) AllListed() bool { return d.Leaf.Operation.Known && len(d.Unlisted()) == 0 }

// Unlisted names the edges of such a door that none of its paths lists. Sliding and folding leaves, where there are
// several, meet each other too. Each leaf has a head and a hinge side of its own.
func (d *Door) Unlisted() []string {
	out := slices.Clone(edges[d.Leaf.Operation.Value])
	if slices.Contains(out, "track") && len(d.Leaves) > 1 {
		out = append(out, "meeting")
	}
	var missing []string
	for _, edge := range out {
		of := func(leaf string) bool { // leaf: none for the whole door
			return slices.ContainsFunc(d.Paths, func(p Path) bool { return p.Kind == edge && (leaf == "" || p.Leaf == "" || p.Leaf == leaf) })
		}
		if !of("") {
			missing = append(missing, edge)
			continue
		}
		for _, l := range d.Leaves {
			if (edge == "head" || edge == "hinge") && !of(l.ID) { // each leaf has its own
				missing = append(missing, edge+" of leaf "+l.ID)
			}
		}
	}
	return missing
}
