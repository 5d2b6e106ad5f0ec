// Package profile measures a threshold: what rises, how far and how steeply, seen from
// the floor of each side. It knows no limits.
package profile

import (
	"slices"

	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

// Side is the threshold as met from one side. Lengths are exact nanometres.
type Side struct {
	Side     string    `json:"side"`            // outer or inner
	Height   *int64    `json:"height"`          // of the highest point above this side's floor; nil if a rise is not known
	Least    int64     `json:"least"`           // what the height is at least, by the segments that are known from this side on
	At       []string  `json:"at"`              // pointers of the segments that make the height
	Rising   []Rising  `json:"rising"`          // in the order that they are met
	Upstands []Upstand `json:"upstands"`        // the upright faces among them
	Needs    []string  `json:"needs"`           // pointers of what keeps the height from being known: segments without a rise
	Waits    string    `json:"waits,omitempty"` // the fact that is waited for, if it is not the profile itself
}

// Upstand is an upright face: upright segments that stand one on the other.
type Upstand struct {
	At     []string `json:"at"`             // pointers of its segments
	Height int64    `json:"height"`         // the sum of their rises
	Nose   string   `json:"nose,omitempty"` // of the topmost: square, rounded or bevelled; empty if not known
}

// Rising is one segment that goes up in the direction of the walk.
type Rising struct {
	At         string `json:"at"`
	Rise       int64  `json:"rise"`
	Run        *int64 `json:"run"`                 // nil if not known; 0 is an upright face
	AboveFloor int64  `json:"above_floor"`         // its top above this side's floor
	Nose       string `json:"nose,omitempty"`      // square, rounded or bevelled; empty if not known
	AboveLow   int64  `json:"above_low"`           // its top above the lowest point of the dip that it climbs out of
	Parted     bool   `json:"parted,omitempty"`    // something level or falling lies between it and what rises before it, or may
	Apart      *int64 `json:"apart,omitempty"`     // how far along the path that reaches; nil too where it is not known
	PastLeaf   bool   `json:"past_leaf,omitempty"` // known to begin at the outer face of the closed leaf, or farther inside
	Unplaced   bool   `json:"unplaced,omitempty"`  // may begin there, for a run before it is not known
}

// Sides walks a threshold from outside and from inside.
//
// The height of a side is the highest point of the whole profile less the floor of that
// side. A dip begins where the profile falls from that floor or from above it, and is climbed
// from its lowest point, so neither a level part nor a small fall within it starts anew: a
// second lip in a channel belongs to the same climb. Segments beyond the highest point count
// too, for they are met by whoever walks on.
//
// An upstand is made of upright segments with nothing between them, so that a face which is
// written in two parts is one face. A segment without a known run is in none.
//
// Elevation after segment i is the sum of the rises up to i; all sums are exact. Beyond a
// segment without a known rise nothing has a known height: there AboveFloor and AboveLow are
// what a top is at least above its own lowest point, which can fail a threshold and never pass it.
func Sides(t door.Threshold) []Side {
	outer := walk("outer", t.Segments)
	outer.pastLeaf(t)
	back := slices.Clone(t.Segments)
	slices.Reverse(back)
	for i := range back {
		back[i].Rise.Value = -back[i].Rise.Value
	}
	return []Side{outer, walk("inner", back)}
}

// pastLeaf marks what rises behind the outer face of the closed leaf, or may, where the spec says where that stands. No run is
// negative, so the known ones are the least that lies before a segment.
func (s *Side) pastLeaf(t door.Threshold) {
	if !t.LeafAt.Known {
		return
	}
	var along quantity.Length
	placed := true
	for _, seg := range t.Segments {
		for i := range s.Rising {
			if s.Rising[i].At == seg.Pointer {
				s.Rising[i].PastLeaf = along >= t.LeafAt.Value
				s.Rising[i].Unplaced = !placed && !s.Rising[i].PastLeaf
			}
		}
		if seg.Run.Known {
			along += seg.Run.Value
		} else {
			placed = false
		}
	}
}

func walk(name string, segments []door.Segment) Side {
	s := Side{Side: name, At: []string{}, Rising: []Rising{}, Upstands: []Upstand{}, Needs: []string{}}
	var level, low, highest quantity.Length
	peak := -1
	upright := false // the segment before is part of the last upstand
	for i, seg := range segments {
		if !seg.Rise.Known {
			s.Needs = append(s.Needs, seg.Pointer)
			level, low, upright = 0, 0, false
			continue
		}
		known := len(s.Needs) == 0
		level += seg.Rise.Value
		switch {
		case seg.Rise.Value < 0 && (!known || level-seg.Rise.Value >= 0):
			low = level // another dip begins, or may begin
		case seg.Rise.Value < 0:
			low = min(low, level)
		case seg.Rise.Value > 0:
			r := Rising{At: seg.Pointer, Rise: int64(seg.Rise.Value), AboveFloor: int64(level), AboveLow: int64(level - low), Nose: seg.Nose.Value}
			if !known {
				r.AboveFloor = r.AboveLow
			}
			if seg.Run.Known {
				run := int64(seg.Run.Value)
				r.Run = &run
			}
			s.Rising = append(s.Rising, r)
		}
		upright = s.face(seg, upright)
		if known && level > highest {
			highest, peak = level, i
		}
	}
	s.part(segments)
	s.Least = int64(highest)
	for _, seg := range segments[:peak+1] {
		if seg.Rise.Value != 0 {
			s.At = append(s.At, seg.Pointer)
		}
	}
	if len(s.Needs) == 0 {
		h := int64(highest)
		s.Height = &h
	}
	return s
}

// part marks what stands apart from the rise before it. What lies between is level, falls, or may do either.
func (s *Side) part(segments []door.Segment) {
	var run quantity.Length
	n, parted, measured := 0, false, true
	for _, seg := range segments {
		level := seg.Rise.Known && seg.Rise.Value == 0
		switch {
		case seg.Rise.Known && seg.Rise.Value > 0:
			r := &s.Rising[n]
			r.Parted = parted && n > 0
			if along := int64(run); r.Parted && measured {
				r.Apart = &along
			}
			run, parted, measured = 0, false, true
			n++
		case level && seg.Run.Known && seg.Run.Value == 0: // nothing at all
		default:
			parted, measured = true, measured && seg.Rise.Known && seg.Run.Known
			run += seg.Run.Value
		}
	}
}

// face adds an upright segment to the side's upstands: to the last one if it goes on. It gives whether the next may go on.
func (s *Side) face(seg door.Segment, goesOn bool) bool {
	level := seg.Run.Known && seg.Run.Value == 0
	if level && seg.Rise.Value == 0 {
		return goesOn // nothing at all
	}
	if !level || seg.Rise.Value < 0 {
		return false
	}
	if !goesOn {
		s.Upstands = append(s.Upstands, Upstand{})
	}
	last := &s.Upstands[len(s.Upstands)-1]
	last.At, last.Height, last.Nose = append(last.At, seg.Pointer), last.Height+int64(seg.Rise.Value), seg.Nose.Value
	return true
}
