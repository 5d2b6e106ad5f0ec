package engine

import (
	"math"

	"sillwright/schema/door"
	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// putClosing adds how long the door takes to close, to an angle and to a distance of its leading edge from its closed place.
func putClosing(facts fact.Set, d *door.Door) {
	leaf := d.Leaf
	var angles, edges []any
	for _, t := range leaf.ClosingTimes {
		timed := func(more map[string]any) map[string]any {
			more["at"], more["from"] = t.Pointer, int64(t.From)
			if t.Time.Known {
				more["time"] = int64(t.Time.Value)
			}
			return more
		}
		if t.To.Known {
			angles = append(angles, timed(map[string]any{"to": int64(t.To.Value)}))
		}
		if least, most, ok := leadingEdge(t, d.Leaves); ok {
			edges = append(edges, timed(map[string]any{"least": least, "most": most}))
		}
	}
	at := []string{leaf.ClosingTimesPointer}
	if len(angles) > 0 {
		facts["closing_times"] = fact.Fact{Value: angles, At: at}
	}
	if len(edges) > 0 {
		facts["closing_to_edge"] = fact.Fact{Value: edges, At: at, Formula: "to_edge; or of an angle, width x sin(to) at least and width x to at most"}
	}
}

// leadingEdge gives how far the leading edge is from its closed place at the end of a timing, in whole nm: where an angle was read,
//
//	least = W sin(to), most = W to (to in radians, up to a right angle)
//
// of the narrowest and the widest leaf. Square to the closed door it is W sin(to), straight 2 W sin(to/2), along the arc W to: texts do
// not say which, and all lie between.
func leadingEdge(t door.ClosingTime, leaves []door.Leaf) (least, most int64, ok bool) {
	switch {
	case t.ToEdge.Known:
		return int64(t.ToEdge.Value), int64(t.ToEdge.Value), true
	case t.To.Value == 0:
		return 0, 0, true
	case len(leaves) == 0:
		return 0, 0, false
	}
	narrow, wide := int64(math.MaxInt64), int64(0)
	for _, l := range leaves {
		if !l.Width.Known {
			return 0, 0, false
		}
		narrow, wide = min(narrow, int64(l.Width.Value)), max(wide, int64(l.Width.Value))
	}
	to := float64(t.To.Value) / float64(quantity.Degree) * math.Pi / 180
	square := math.Sin(min(to, math.Pi/2))
	return max(0, int64(math.Floor(float64(narrow)*square))-1), int64(math.Ceil(float64(wide)*to)) + 1, true // one nm for the rounding of floats
}
