package door

import "slices"

// Unlisted names the edges of such a door that none of its paths lists.
func (d *Door) Unlisted() []string {
	edges := map[string][]string{
		"hinged": {"head", "hinge", "latch"}, "pivot": {"head", "hinge", "latch"}, "pair": {"head", "hinge", "meeting"},
		"sliding": {"head", "side", "track"}, "folding": {"head", "side", "track"}, "roller": {"head", "side"}, "sectional": {"head", "side"},
	}[d.Leaf.Operation.Value]
	return slices.DeleteFunc(slices.Clone(edges), func(edge string) bool {
		return slices.ContainsFunc(d.Paths, func(p Path) bool { return p.Kind == edge })
	})
}
