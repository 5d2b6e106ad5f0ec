package profile

import (
	"slices"

	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

// Way is how somebody climbs a threshold who comes from one side. Lengths are exact nanometres.
type Way struct {
	Side   string   `json:"side"`          // outer or inner
	Top    *int64   `json:"top,omitempty"` // the most of its climbs, 0 without any; nil if a rise is not known
	Climbs []Climb  `json:"climbs"`
	Needs  []string `json:"needs"`           // pointers of segments without a rise
	Waits  string   `json:"waits,omitempty"` // the fact that is waited for, if it is not the profile itself
}

// Climb is what rises with nothing level and no fall between.
type Climb struct {
	At       []string `json:"at"`
	Rise     int64    `json:"rise"`
	Run      *int64   `json:"run"` // nil if that of a piece is not known
	Top      int64    `json:"top"` // of its upper end, above the floor of its side or the lowest point of the dip that it climbs out of, whichever is more
	Pieces   []Rising `json:"pieces"`
	FromLeaf *int64   `json:"from_leaf,omitempty"` // along the path, to the nearer face of the closed leaf; 0 where it stands at it or under it
}

// Climbs gives the ways onto a threshold from both sides, in pieces of Sides. Neither a segment of no size ends a climb nor does one of
// another slope; one without a rise does, for it may be level.
//
//	from_leaf = max(0, start - inner face of the leaf, outer face of the leaf - end)
//
// along the path from its outer end, inner face = leaf_at + thickness. It is left out where the place of the climb, or of the face that is
// nearer to it, is not known.
func Climbs(t door.Threshold, thickness door.Maybe[quantity.Length]) []Way {
	out := []Way{}
	for _, s := range Sides(t) {
		segments := t.Segments
		if s.Side == "inner" {
			segments = slices.Clone(segments)
			slices.Reverse(segments)
		}
		w := Way{Side: s.Side, Climbs: climbsOf(s, segments), Needs: s.Needs}
		w.highest()
		for i := range w.Climbs {
			w.Climbs[i].FromLeaf = fromLeaf(t, thickness, w.Climbs[i])
		}
		out = append(out, w)
	}
	return out
}

// Edge gives the way up an edge, such as that of a carpet, which is met from one side alone.
func Edge(segments []door.Segment) Way {
	s := walk("outer", segments)
	w := Way{Side: s.Side, Climbs: climbsOf(s, segments), Needs: s.Needs}
	w.highest()
	return w
}

func (w *Way) highest() {
	if len(w.Needs) > 0 {
		return
	}
	w.Top = new(int64)
	for _, c := range w.Climbs {
		*w.Top = max(*w.Top, c.Top)
	}
}

func climbsOf(s Side, segments []door.Segment) []Climb {
	out, next, goesOn := []Climb{}, 0, false
	for _, seg := range segments {
		rises := next < len(s.Rising) && seg.Rise.Known && seg.Rise.Value != 0 && s.Rising[next].At == seg.Pointer
		switch {
		case rises && !goesOn:
			out = append(out, Climb{Run: new(int64)})
			fallthrough
		case rises:
			out[len(out)-1].add(s.Rising[next])
			next, goesOn = next+1, true
		case !seg.Rise.Known || seg.Rise.Value != 0 || !seg.Run.Known || seg.Run.Value != 0:
			goesOn = false
		}
	}
	return out
}

func (c *Climb) add(r Rising) {
	c.At, c.Pieces = append(c.At, r.At), append(c.Pieces, r)
	c.Rise, c.Top = c.Rise+r.Rise, max(r.AboveFloor, r.AboveLow)
	switch {
	case r.Run == nil || c.Run == nil:
		c.Run = nil
	default:
		sum := *c.Run + *r.Run
		c.Run = &sum
	}
}

func fromLeaf(t door.Threshold, thickness door.Maybe[quantity.Length], c Climb) *int64 {
	start, end, ok := span(t, c)
	outer := t.LeafAt.Value
	switch {
	case !ok || !t.LeafAt.Known:
		return nil
	case end <= outer:
		d := int64(outer - end)
		return &d
	case start <= outer:
		return new(int64)
	case !thickness.Known:
		return nil
	}
	d := int64(max(0, start-outer-thickness.Value))
	return &d
}

// span gives where a climb stands along the path; false where a run up to its inner end is not known.
func span(t door.Threshold, c Climb) (start, end quantity.Length, ok bool) {
	met := 0
	for _, seg := range t.Segments {
		if !seg.Run.Known {
			return 0, 0, false
		}
		here := slices.Contains(c.At, seg.Pointer)
		if here && met == 0 {
			start = end
		}
		end += seg.Run.Value
		if here {
			met++
		}
		if met == len(c.At) {
			return start, end, true
		}
	}
	return 0, 0, false
}
