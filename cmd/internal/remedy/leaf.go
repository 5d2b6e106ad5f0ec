package remedy

import (
	"fmt"

	"sillwright/engine/catalogue"
	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

// How far hinges are packed or let in at most, and how much is cut off a leaf: common practice, no published source.
const (
	packing = 5 * quantity.Millimetre
	cutting = 20 * quantity.Millimetre
)

// gapSystem is the system that the gaps under the leaves are written in.
func (s *spec) gapSystem() quantity.System {
	for _, l := range s.door.Leaves {
		for _, r := range l.Readings {
			return s.system(r.Pointer + "/gap")
		}
	}
	return s.door.System()
}

func (s *spec) gapSteps(l quantity.Length) int {
	step := quantity.Length(lengths.step(s.gapSystem()))
	return int((l + step - 1) / step)
}

func (s *spec) gapSize(n int) quantity.Length {
	return quantity.Length(int64(n) * lengths.step(s.gapSystem()))
}

const carrierAgain = "Set the bottom seal again, by the new gap."

// regap proposes to make every gap larger or smaller, closed and open.
func regap(s *spec, a aim, object string, most quantity.Length, larger bool, do string) []proposal {
	return []proposal{{object: object, most: s.gapSteps(most), first: s.gapSteps(quantity.Length(a.misses())), at: func(s *spec, size int) (change, string) {
		by := s.gapSize(size)
		signed := by
		if !larger {
			signed = -by
		}
		ops, why := s.regapped(signed, true)
		if why != "" {
			return change{}, why
		}
		if len(ops) == 0 {
			return change{}, "no gap under the leaf is read"
		}
		return change{ops: ops, do: fmt.Sprintf(do, by.In(s.gapSystem())), after: []string{carrierAgain, "See that the door latches, and look at the clearance at the head."}}, ""
	}}}
}

// rehangLeaf hangs the leaf higher or lower.
func rehangLeaf(s *spec, a aim, _ *catalogue.Catalogue) ([]proposal, string) {
	up := regap(s, a, "leaf up", packing, true, "Hang the leaf %s higher, with packing at the hinges.")
	down := regap(s, a, "leaf down", packing, false, "Hang the leaf %s lower.")
	return append(up, down...), ""
}

// trimLeaf cuts the bottom of the leaf.
func trimLeaf(s *spec, a aim, _ *catalogue.Catalogue) ([]proposal, string) {
	out := regap(s, a, "leaf bottom", cutting, true, "Cut %s off the bottom of the leaf.")
	return out, ""
}

// squareLeaf turns the leaf so that its tight end comes up: no gap gets smaller by it.
func squareLeaf(s *spec, a aim, _ *catalogue.Catalogue) ([]proposal, string) {
	var out []proposal
	for i, l := range s.door.Leaves {
		if len(l.Readings) < 2 {
			continue
		}
		first, last := l.Readings[0], l.Readings[len(l.Readings)-1]
		tilt := absolute(last.Gap - first.Gap)
		if tilt == 0 || first.At == last.At {
			continue
		}
		out = append(out, proposal{object: "leaf " + l.ID, most: int(tilt / s.gapSize(1)), first: s.gapSteps(quantity.Length(a.misses())), at: func(s *spec, size int) (change, string) {
			return s.squared(s.door.Leaves[i], s.gapSize(size))
		}})
	}
	if len(out) == 0 {
		return nil, "the leaf stands square: its gap is the same at both ends"
	}
	return out, ""
}

// squared raises the tight end of a leaf.
func (s *spec) squared(l door.Leaf, by quantity.Length) (change, string) {
	first, last := l.Readings[0], l.Readings[len(l.Readings)-1]
	wide, tight, end := first, last, "latch"
	if last.Gap > first.Gap {
		wide, tight, end = last, first, "hinge"
	}
	if by > wide.Gap-tight.Gap {
		return change{}, "it would tilt the other way"
	}
	var ops []Operation
	for _, r := range l.Readings {
		share := float64(r.At-wide.At) / float64(tight.At-wide.At)
		more := quantity.Length(below(int64(float64(by)*share), int64(s.gapSize(1))))
		if more > 0 {
			ops = append(ops, s.put(r.Pointer+"/gap", s.length(r.Pointer+"/gap", r.Gap+more)))
		}
	}
	return change{
		ops:   ops,
		do:    fmt.Sprintf("Hang leaf %s square to the floor: its %s end %s higher.", l.ID, end, by.In(s.gapSystem())),
		after: []string{readAgain, "See that the door latches, and look at the clearances at the head and the jambs."},
	}, ""
}

// beforeFloor is what to find out before a floor is worked: engineering judgement.
var beforeFloor = []string{
	"Find out what lies in and under the floor before anything is cut or ground: heating pipes, cables, a damp-proof membrane, and in old floors asbestos in tiles, adhesive or screed.",
	"Ask the building's designer or owner; a licensed specialist samples what may hold asbestos. Suppress and extract the dust of stone and concrete.",
}

// levelFloor fills the places where the gap is widest, or takes the floor down where the open leaf nearly touches it.
func levelFloor(s *spec, a aim, _ *catalogue.Catalogue) ([]proposal, string) {
	var out []proposal
	for i, l := range s.door.Leaves {
		for _, w := range l.Swing {
			for _, at := range a.at() {
				if within(at, w.Pointer) {
					out = append(out, s.grinding(a, i))
					break
				}
			}
			if len(out) > 0 {
				return out, ""
			}
		}
	}
	for i, l := range s.door.Leaves {
		if varies := widest(l) - tightest(l); len(l.Readings) > 1 && varies > 0 {
			out = append(out, proposal{object: "floor under leaf " + l.ID, most: s.gapSteps(varies), first: s.gapSteps(quantity.Length(a.misses())), at: func(s *spec, size int) (change, string) {
				return s.filled(s.door.Leaves[i], s.gapSize(size))
			}})
		}
	}
	if len(out) == 0 {
		return nil, "the gap is the same all along the leaf"
	}
	return out, ""
}

func widest(l door.Leaf) quantity.Length {
	out := quantity.Length(0)
	for _, r := range l.Readings {
		out = max(out, r.Gap)
	}
	return out
}

func tightest(l door.Leaf) quantity.Length {
	out := widest(l)
	for _, r := range l.Readings {
		out = min(out, r.Gap)
	}
	return out
}

// filled raises the low places of the floor under a leaf, so that its gap is nowhere wider than so much less.
func (s *spec) filled(l door.Leaf, by quantity.Length) (change, string) {
	most := quantity.Length(below(int64(widest(l)-by), int64(s.gapSize(1))))
	if most < tightest(l) {
		return change{}, "the floor would stand higher where it is low now"
	}
	var ops []Operation
	low, high := quantity.Length(-1), quantity.Length(0)
	for _, r := range l.Readings {
		if r.Gap <= most {
			continue
		}
		ops = append(ops, s.put(r.Pointer+"/gap", s.length(r.Pointer+"/gap", most)))
		if low < 0 || r.At < low {
			low = r.At
		}
		high = max(high, r.At)
	}
	where := fmt.Sprintf("at %s from the hinge edge", low.In(s.gapSystem()))
	if low != high {
		where = fmt.Sprintf("from %s to %s from the hinge edge", low.In(s.gapSystem()), high.In(s.gapSystem()))
	}
	return change{
		ops:    ops,
		do:     fmt.Sprintf("Fill the floor under leaf %s, by up to %s %s, until the gap is nowhere more than %s; feather the edges out.", l.ID, (widest(l) - most).In(s.gapSystem()), where, most.In(s.gapSystem())),
		before: []string{"Ask for a filler that holds at this thickness on this floor and takes its traffic, and whether its edges may trip anybody."},
		after:  []string{readAgain},
	}, ""
}

// grinding takes down the floor that a leaf sweeps.
func (s *spec) grinding(a aim, leaf int) proposal {
	return proposal{object: fmt.Sprintf("floor swept by leaf %d", leaf), most: s.gapSteps(cutting), first: s.gapSteps(quantity.Length(a.misses())), at: func(s *spec, size int) (change, string) {
		l, by := s.door.Leaves[leaf], s.gapSize(size)
		least := l.Swing[0].Gap
		for _, w := range l.Swing {
			least = min(least, w.Gap)
		}
		var ops []Operation
		for _, w := range l.Swing {
			if len(w.Readings) > 0 {
				return change{}, "the gap was read along the width at an angle; say where the floor is high"
			}
			if to := least + by; w.Gap < to {
				ops = append(ops, s.put(w.Pointer+"/gap", s.length(w.Pointer+"/gap", to)))
			}
		}
		return change{
			ops:    ops,
			do:     fmt.Sprintf("Take the floor down by up to %s where leaf %s sweeps it, until it clears it by %s at every angle.", by.In(s.gapSystem()), l.ID, (least + by).In(s.gapSystem())),
			before: beforeFloor,
			after:  []string{readAgain},
		}, ""
	}}
}
