package engine

import (
	"slices"

	"sillwright/engine/doubt"
	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

// swingDrag is the drag of an option's seals while the door opens, leaf by leaf.
type swingDrag struct {
	known  bool          // for each leaf, as far as it was read
	leaves [][]angleDrag // in order of the angles, closed first; a leaf on which nothing rubs has none
}

type angleDrag struct {
	angle quantity.Angle
	doubt.Range
}

// swingOf gathers the drag of the seals on each leaf.
func swingOf(d *door.Door, m *Option) swingDrag {
	if m.Drag == nil {
		return swingDrag{}
	}
	out := swingDrag{known: true}
	for _, l := range d.Leaves {
		var sums []angleDrag
		for _, c := range m.Contact {
			if c.Leaf != l.ID || lifts(d) { // it drags nothing, wherever it was read
				continue
			}
			one := []angleDrag{{0, *c.Force}}
			for _, a := range c.Angles {
				one = append(one, angleDrag{a.Angle, *a.Force})
			}
			for k, x := range one { // every seal of a leaf was read at the same angles
				if k == len(sums) {
					sums = append(sums, angleDrag{angle: x.angle})
				}
				sums[k].Range = sums[k].Plus(x.Range)
			}
		}
		out.leaves = append(out.leaves, sums)
	}
	return out
}

// rubsNowhere is true of no seal at all, and of those that lift before the leaf moves.
func (s swingDrag) rubsNowhere() bool {
	return s.known && !slices.ContainsFunc(s.leaves, func(leaf []angleDrag) bool { return len(leaf) > 0 })
}

// cuts are the ends of a band, and the angles between them at which a gap was read, or a reading with the seals ends.
func (s swingDrag) cuts(b own, read []door.ForceBand) []quantity.Angle {
	out := []quantity.Angle{b.from, b.to}
	add := func(a quantity.Angle) {
		if b.from < a && a < b.to {
			out = append(out, a)
		}
	}
	for _, leaf := range s.leaves {
		for _, x := range leaf {
			add(x.angle)
		}
	}
	for _, r := range read {
		add(r.From)
		add(r.To)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// over is the drag from one angle to another: the least low end, the greatest likely and high ones, of the angles that were read there
// and of their neighbours; false where the gap was not read so far.
func (s swingDrag) over(from, to quantity.Angle) (doubt.Range, bool) {
	out := doubt.Range{}
	for i, leaf := range s.leaves {
		r, ok := over(leaf, from, to)
		if !ok {
			return doubt.Range{}, false
		}
		if i == 0 {
			out = r
		}
		out = spanning(out, r)
	}
	return out, s.known
}

func over(leaf []angleDrag, from, to quantity.Angle) (doubt.Range, bool) {
	if len(leaf) == 0 {
		return doubt.Range{}, true
	}
	first := 0
	for i, x := range leaf {
		if x.angle <= from {
			first = i
		}
	}
	last := slices.IndexFunc(leaf, func(x angleDrag) bool { return x.angle >= to })
	if last < 0 {
		return doubt.Range{}, false
	}
	out := leaf[first].Range
	for _, x := range leaf[first : last+1] {
		out = spanning(out, x.Range)
	}
	return out, true
}

func spanning(a, b doubt.Range) doubt.Range {
	return doubt.Range{Low: min(a.Low, b.Low), Likely: max(a.Likely, b.Likely), High: max(a.High, b.High)}
}
