package engine

import (
	"slices"

	"sillwright/schema/door"
	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// putUnderLeaf adds how much the floor or the threshold under the closed leaf differs in height, whole nanometres:
//
//	floor_under_leaf = highest - lowest point of the profile from leaf_at to leaf_at + thickness
//
// Where a face of the leaf stands at an upright, both ends of that count; between two points the profile is straight, and its height is
// rounded down to a nanometre. Where the place or the thickness of the leaf is not known, it is at most what the whole profile differs by.
// It is left out without a profile, where a rise is not known, and where a finish to come will still change the floors.
func putUnderLeaf(facts fact.Set, d *door.Door) {
	t := d.Threshold
	if !t.Given || toCome(d) || slices.ContainsFunc(t.Segments, func(s door.Segment) bool { return !s.Rise.Known }) {
		return
	}
	from, thick := t.LeafAt, d.Leaf.Thickness
	placed := from.Known && thick.Known && !slices.ContainsFunc(t.Segments, func(s door.Segment) bool { return !s.Run.Known })
	var x, z quantity.Length
	all, under := []quantity.Length{0}, []quantity.Length{}
	look := func(at, height quantity.Length) {
		if at >= from.Value && at <= from.Value+thick.Value {
			under = append(under, height)
		}
	}
	look(0, 0)
	for _, s := range t.Segments {
		for _, face := range []quantity.Length{from.Value, from.Value + thick.Value} {
			if in := face - x; placed && in > 0 && in < s.Run.Value {
				look(face, z+s.Rise.Value*in/s.Run.Value)
			}
		}
		x, z = x+s.Run.Value, z+s.Rise.Value
		look(x, z)
		all = append(all, z)
	}
	whole := slices.Max(all) - slices.Min(all)
	out := fact.Fact{Value: int64(whole), At: []string{t.Pointer}, Formula: "highest less lowest point of the profile under the leaf"}
	switch {
	case whole == 0:
	case placed && len(under) > 0:
		out.Value, out.At = int64(slices.Max(under)-slices.Min(under)), []string{t.Pointer, from.Pointer}
	case placed: // the leaf stands beside the threshold
		out.Value = int64(0)
	default:
		out.OrLess = true
	}
	facts["floor_under_leaf"] = out
}

// putSealed adds whether seals close the bottom of every leaf of an option, each pressed as it is made to be and with evidence on that
// leaf. It is left out where that is not known: a seal that nobody sets, or without evidence, or a leaf that is not read from edge to edge.
func putSealed(facts fact.Set, d *door.Door, o door.Option, inRange *bool) {
	put := func(sealed bool) {
		facts["threshold_sealed"] = fact.Fact{Value: sealed, At: []string{o.Pointer}, Formula: "every leaf has a bottom seal in its working range, with evidence"}
	}
	for _, l := range d.Leaves {
		fits := fitsOf(o, "bottom", l.ID)
		if !slices.ContainsFunc(fits, func(f door.Fit) bool { return f.Seal.Value != "none" }) {
			put(false)
			return
		}
		if slices.ContainsFunc(fits, func(f door.Fit) bool { return !f.Seal.Known }) {
			return
		}
	}
	reaches := true
	if drop, ok := facts["bottom_drop_seal"]; ok && drop.Value == true {
		gap, read := facts["drop_gap"]
		fall, known := facts["drop_fall"]
		if !read || !known || gap.OrMore {
			return
		}
		reaches = gap.Value.(int64) <= fall.Value.(int64)
	}
	switch {
	case !reaches || (inRange != nil && !*inRange):
		put(false)
	case inRange != nil && covered(d, o) && !slices.ContainsFunc(d.Leaves, func(l door.Leaf) bool { return !readAlong(l, l.Readings) }):
		put(true)
	}
}
