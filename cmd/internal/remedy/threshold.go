package remedy

import (
	"fmt"
	"slices"

	"sillwright/engine/catalogue"
	"sillwright/schema/quantity"
)

// steps is how many of the steps of the threshold's unit a length is, rounded up.
func (s *spec) steps(l quantity.Length) int {
	step := quantity.Length(lengths.step(s.thresholdSystem()))
	return int((l + step - 1) / step)
}

func (s *spec) thresholdSystem() quantity.System {
	t := s.door.Threshold
	if s.isPlate() {
		return s.system(t.Pointer + "/plate/height")
	}
	for _, g := range t.Segments {
		if g.Rise.Value != 0 {
			return s.system(g.Pointer + "/rise")
		}
	}
	return s.door.System()
}

func (s *spec) size(n int) quantity.Length {
	return quantity.Length(int64(n) * lengths.step(s.thresholdSystem()))
}

func (s *spec) say(l quantity.Length) string { return l.In(s.thresholdSystem()) }

const readAgain = "Read the gap again along the leaf and through the swing, and set the seal by it."

// lowerThreshold takes the top down; what stands above the new top is cut to it, and the gap under the leaf grows by as much.
func lowerThreshold(s *spec, a aim, _ *catalogue.Catalogue) ([]proposal, string) {
	pieces, why := s.pieces()
	if why != "" {
		return nil, why
	}
	h := heights(pieces)
	top, floor := slices.Max(h), max(0, h[len(h)-1])
	if top <= floor {
		return nil, "it stands no higher than the floors on its sides"
	}
	p := proposal{object: "threshold", most: int((top - floor) / s.size(1)), first: s.steps(quantity.Length(a.misses()))}
	p.at = func(s *spec, size int) (change, string) {
		pieces, why := s.pieces()
		if why != "" {
			return change{}, why
		}
		h := heights(pieces)
		top := quantity.Length(below(int64(slices.Max(h)-s.size(size)), int64(s.size(1))))
		if top < max(0, h[len(h)-1]) {
			return change{}, "it would stand lower than a floor beside it"
		}
		for i := range h {
			h[i] = min(h[i], top)
		}
		lower := reheighted(pieces, h)
		by := s.leafHeight(pieces) - s.leafHeight(lower)
		gaps, why := s.regapped(by, false)
		if why != "" {
			return change{}, why
		}
		was := slices.Max(heights(pieces))
		c := change{ops: append(s.reshaped(lower, 0), gaps...), do: fmt.Sprintf("Lower the top of the threshold by %s, to %s above the floor outside.", s.say(was-top), s.say(top))}
		if by > 0 {
			c.do += fmt.Sprintf(" The gap under the leaf grows by %s: set the bottom seal lower by as much.", s.say(by))
			c.after = []string{readAgain}
		}
		if top == max(0, h[len(h)-1]) {
			c.do = fmt.Sprintf("Take the threshold down to the floor, %s lower.", s.say(was-top))
		}
		return c, ""
	}
	return []proposal{p}, ""
}

// raiseThreshold puts more under what is highest, or lays a plate on a level floor; the gap under the leaf gets smaller by as much.
func raiseThreshold(s *spec, a aim, _ *catalogue.Catalogue) ([]proposal, string) {
	pieces, why := s.pieces()
	if why != "" {
		return nil, why
	}
	p := proposal{object: "threshold", most: s.steps(150 * quantity.Millimetre), first: s.steps(quantity.Length(a.misses()))}
	if len(pieces) == 0 {
		p.at = layPlate
		return []proposal{p}, ""
	}
	p.at = func(s *spec, size int) (change, string) {
		pieces, why := s.pieces()
		if why != "" {
			return change{}, why
		}
		h := heights(pieces)
		top := slices.Max(h)
		to := quantity.Length(above(int64(top+s.size(size)-s.size(1)+1), int64(s.size(1))))
		if top == 0 {
			return change{}, "there is nothing that stands up"
		}
		for i := range h {
			if h[i] == top {
				h[i] = to
			}
		}
		if h[0] != 0 || h[len(h)-1] == to {
			return change{}, "its top is a floor beside it"
		}
		higher := reheighted(pieces, h)
		by := s.leafHeight(pieces) - s.leafHeight(higher)
		gaps, why := s.regapped(by, false)
		if why != "" {
			return change{}, why
		}
		c := change{ops: append(s.reshaped(higher, 0), gaps...), do: fmt.Sprintf("Raise the top of the threshold by %s, to %s above the floor outside.", s.say(to-top), s.say(to))}
		if by < 0 {
			c.do += fmt.Sprintf(" The gap under the leaf gets smaller by %s.", s.say(-by))
			c.after = []string{readAgain, "See that the leaf swings clear of it."}
		}
		return c, ""
	}
	return []proposal{p}, ""
}

// thinnest is the thinnest plate that is laid under a door: common practice, no published source.
const thinnest = 3 * quantity.Millimetre

// layPlate lays a plate bevelled 1:2 on a level floor, 50 mm wider than the leaf is thick on top.
func layPlate(s *spec, size int) (change, string) {
	high := s.size(size)
	if high < thinnest {
		return change{}, notEnough
	}
	gaps, why := s.regapped(-high, false)
	if why != "" {
		return change{}, why
	}
	flat := 50 * quantity.Millimetre
	if t := s.door.Leaf.Thickness; t.Known {
		flat += t.Value
	}
	system := s.door.System()
	bevel := quantity.Length(above(int64(2*high), lengths.step(system)))
	flat = quantity.Length(above(int64(flat), lengths.step(system)))
	plate := map[string]any{"height": high.In(system), "width": (flat + 2*bevel).In(system), "bevels": []string{bevel.In(system), bevel.In(system)}}
	at := s.door.Threshold.Pointer
	var ops []Operation
	if s.node(at+"/segments") != nil {
		ops = append(ops, drop(at+"/segments"))
	}
	ops = append(ops, Operation{"add", at + "/plate", raw(plate)})
	leafAt := bevel + 25*quantity.Millimetre
	ops = append(ops, s.put(at+"/firm", true), s.put(at+"/leaf_at", quantity.Length(below(int64(leafAt), lengths.step(system))).In(system)))
	return change{
		ops:   append(ops, gaps...),
		do:    fmt.Sprintf("Lay a threshold plate %s high under the leaf, %s wide, with bevels of %s on both sides, fixed down, its surface stable, firm and slip resistant. The gap under the leaf gets smaller by as much.", high.In(system), (flat + 2*bevel).In(system), bevel.In(system)),
		after: []string{readAgain, "See that the leaf swings clear of it."},
	}, ""
}

// raiseFloor brings a floor beside the threshold up: what lies below the new floor on that side is filled.
func raiseFloor(s *spec, a aim, _ *catalogue.Catalogue) ([]proposal, string) {
	pieces, why := s.pieces()
	if why != "" {
		return nil, why
	}
	h := heights(pieces)
	if len(h) == 1 {
		return nil, "the floor is level"
	}
	var out []proposal
	for _, side := range []string{"outside", "inside"} {
		end := 0
		if side == "inside" {
			end = len(h) - 1
		}
		most := slices.Max(h) - h[end]
		if most <= 0 {
			continue
		}
		out = append(out, proposal{object: "floor " + side, most: int(most / s.size(1)), first: s.steps(quantity.Length(a.misses())), at: func(s *spec, size int) (change, string) { return s.raised(side, size) }})
	}
	if len(out) == 0 {
		return nil, "both floors are as high as the threshold"
	}
	return out, ""
}

func (s *spec) raised(side string, size int) (change, string) {
	pieces, why := s.pieces()
	if why != "" {
		return change{}, why
	}
	if side == "inside" {
		turned(pieces)
	}
	h := heights(pieces)
	to := quantity.Length(size) * s.size(1)
	if to > slices.Max(h) {
		return change{}, "the floor would stand above the threshold"
	}
	for i := range h {
		if h[i] >= to {
			break
		}
		h[i] = to
	}
	h[0] = to
	for i := range h {
		h[i] -= to
	}
	filled := reheighted(pieces, h)
	if side == "inside" {
		turned(filled)
	}
	c := change{ops: s.reshaped(filled, 0), do: fmt.Sprintf("Raise the floor %s by %s along the threshold, with its landing.", side, s.say(to))}
	c.after = []string{"Measure the floor on that side again: its depth, slope and steps."}
	if side == "inside" {
		c.after = append(c.after, "See that the leaf still opens over it.")
	}
	return c, ""
}

// turned mirrors pieces, so that the inside comes first.
func turned(pieces []piece) {
	slices.Reverse(pieces)
	for i := range pieces {
		pieces[i].rise = -pieces[i].rise
	}
}
