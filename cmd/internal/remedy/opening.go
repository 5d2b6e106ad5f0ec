package remedy

import (
	"fmt"
	"strings"

	"sillwright/engine/catalogue"
	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

// widenOpening makes the clear width larger: what is beside it stays as it is.
func widenOpening(s *spec, a aim, _ *catalogue.Catalogue) ([]proposal, string) {
	for _, at := range a.at() {
		switch {
		case strings.HasSuffix(at, "/power_off"):
			return s.setting(a, field{scale: lengths, does: "Let the leaves open wider by hand, without power: a clear width of {to} in place of {from}.", more: true}, at)
		case strings.HasSuffix(at, "/clear_width/frame"):
			return s.setting(a, field{scale: lengths, does: "Fit a wider frame, with a wider leaf: {to} between its faces in place of {from}.", more: true}, at)
		case strings.HasSuffix(at, "/break_out"):
			return s.setting(a, field{scale: lengths, does: "Have the leaves break out wider: a clear width of {to} in place of {from}.", more: true}, at)
		}
	}
	width := s.door.Leaf.FaceToStop
	if !width.Known {
		return nil, "the clear width is not known"
	}
	step := lengths.step(s.system(width.Pointer))
	return []proposal{{object: "opening", most: int(int64(quantity.Metre) / step), first: int((a.misses() + step - 1) / step), at: func(s *spec, size int) (change, string) {
		width := s.door.Leaf.FaceToStop
		system := s.system(width.Pointer)
		to := quantity.Length(below(int64(width.Value), step) + int64(size)*step)
		by := to - width.Value
		ops := []Operation{s.put(width.Pointer, to.In(system))}
		if least := s.door.Leaf.LeastWidth; least.Known {
			ops = append(ops, s.put(least.Pointer, s.length(least.Pointer, least.Value+by)))
		}
		if frame := s.door.Leaf.FrameWidth; frame.Known {
			ops = append(ops, s.put(frame.Pointer, s.length(frame.Pointer, frame.Value+by)))
		}
		for _, p := range s.door.Leaf.Projections {
			if p.Leaves.Known {
				ops = append(ops, s.put(p.Leaves.Pointer, s.length(p.Leaves.Pointer, p.Leaves.Value+by)))
			}
		}
		return change{
			ops:    ops,
			do:     fmt.Sprintf("Gain %s of clear width, to %s from the face of the open door to the stop: swing-clear hinges, a thinner stop, or a wider frame with a wider leaf.", by.In(system), to.In(system)),
			before: []string{"A wider frame is another door: give its leaf, gaps and edges again."},
			after:  []string{"Measure the clear width again, with the door open 90 degrees."},
		}, ""
	}}}, ""
}

// moveFitting makes what stands into the opening stand out less, or fixes it higher.
func moveFitting(s *spec, a aim, _ *catalogue.Catalogue) ([]proposal, string) {
	for _, at := range a.at() {
		for i, p := range s.door.Leaf.Projections {
			if !within(at, p.Pointer) {
				continue
			}
			var out []proposal
			what := strings.ReplaceAll(p.Part.Value, "-", " ")
			if what == "" || what == "other" {
				what = "part"
			}
			if p.Leaves.Known {
				out = append(out, s.flatter(a, i, what)...)
			}
			if p.From.Known {
				out = append(out, s.lifted(a, i, what)...)
			}
			return out, ""
		}
	}
	return nil, ""
}

func (s *spec) flatter(a aim, i int, what string) []proposal {
	at := s.door.Leaf.Projections[i].Leaves.Pointer
	out, _ := s.setting(a, field{scale: lengths, does: "Take a flatter " + what + ", or move it, so that it leaves {to} of the opening in place of {from}.", more: true}, at)
	for j := range out {
		plainly := out[j].at
		out[j].object = "flatter " + at
		out[j].at = func(s *spec, size int) (change, string) {
			c, why := plainly(s, size)
			if why == "" {
				c.ops = append(c.ops, s.leastAlong(i, c.ops[0])...)
			}
			return c, why
		}
	}
	return out
}

// leastAlong keeps the least clear width to what the projections leave, once one of them leaves more.
func (s *spec) leastAlong(i int, op Operation) []Operation {
	least := s.door.Leaf.LeastWidth
	if !least.Known || !s.door.Leaf.FaceToStop.Known {
		return nil
	}
	left := s.door.Leaf.FaceToStop.Value
	for j, p := range s.door.Leaf.Projections {
		l := p.Leaves.Value
		if j == i {
			l, _ = quantity.ParseLength(strings.Trim(string(op.Value), `"`))
		}
		left = min(left, l)
	}
	if left <= least.Value {
		return nil
	}
	return []Operation{s.put(least.Pointer, s.length(least.Pointer, left))}
}

func (s *spec) lifted(a aim, i int, what string) []proposal {
	at := s.door.Leaf.Projections[i].From.Pointer
	out, _ := s.setting(a, field{scale: lengths, does: "Fix the " + what + " higher: {to} above the floor in place of {from}.", more: true}, at)
	for j := range out {
		out[j].object, out[j].first = "higher "+at, 0
	}
	return out
}

// smoothFace makes the push face smooth near the floor.
func smoothFace(s *spec, a aim, _ *catalogue.Catalogue) ([]proposal, string) {
	for _, at := range a.at() {
		if at == "/door/push_side/cavities_capped" {
			return []proposal{{object: at, at: func(s *spec, _ int) (change, string) {
				return change{ops: []Operation{s.put(at, true)}, do: "Cap the cavities behind added kick plates on the push side."}, ""
			}}}, ""
		}
		for i, j := range s.door.Leaf.PushSide.Joints {
			if !within(at, j.Pointer) || !j.Step.Known {
				continue
			}
			return s.setting(a, field{scale: lengths, does: fmt.Sprintf("Let joint %d on the push side in, or ease it with a strip, until it stands off by {to} at most; it stands off {from}.", i+1)}, j.Step.Pointer)
		}
	}
	return nil, ""
}

// fitCover puts another cover over a slot, or turns it.
func fitCover(s *spec, a aim, _ *catalogue.Catalogue) ([]proposal, string) {
	for _, at := range a.at() {
		for _, o := range s.door.Threshold.Openings {
			if !within(at, o.Pointer) {
				continue
			}
			if a.point.Reason == "direction" {
				return []proposal{{object: o.Pointer + "/runs", at: func(s *spec, _ int) (change, string) {
					return change{ops: []Operation{s.put(o.Pointer+"/runs", "across")}, do: "Turn the cover so that its slots run across the path.", after: []string{"See that the channel below still drains."}}, ""
				}}}, ""
			}
			return s.setting(a, field{scale: lengths, does: "Choose a cover with slots of at most {to}; they are {from} wide.", after: "See that the channel below still drains."}, o.Width.Pointer)
		}
	}
	return nil, ""
}

// levelLanding changes the slope or the steps of the floor on which people turn.
func levelLanding(s *spec, a aim, _ *catalogue.Catalogue) ([]proposal, string) {
	for _, at := range a.at() {
		side, ok := s.sideAt(at)
		if !ok {
			continue
		}
		words := strings.ToUpper(side.Side[:1]) + side.Side[1:]
		switch {
		case strings.HasSuffix(at, "/step"):
			return s.setting(a, field{scale: lengths, does: words + ", take the steps out of the floor at the door, down to {to}; the largest is {from}."}, at)
		case strings.HasSuffix(at, "/falls_away"):
			return []proposal{{object: at, at: func(s *spec, _ int) (change, string) {
				return change{ops: []Operation{s.put(at, true)}, do: words + ", lay the floor so that it falls away from the door, in a single direction."}, ""
			}}}, ""
		case strings.HasSuffix(at, "/slope"):
			text, ok := slopeText(a.point.Limit.Exact)
			if !ok {
				return nil, "the limit is no slope of whole numbers"
			}
			return []proposal{{object: at, at: func(s *spec, _ int) (change, string) {
				return change{
					ops: []Operation{s.put(at, text)}, do: fmt.Sprintf("%s, lay the floor at the door to a slope of %s.", words, text),
					before: []string{"Ask where rain goes: at an outer door drain it by a channel, and keep the fall away from the door."},
				}, ""
			}}}, ""
		}
	}
	if f := s.door.Approach[0].FallsAway; f.Known && !f.Value {
		return []proposal{{object: f.Pointer, at: func(s *spec, _ int) (change, string) {
			return change{ops: []Operation{s.put(f.Pointer, true)}, do: "Outside, lay the floor so that it falls away from the door to the open air, in a single direction."}, ""
		}}}, ""
	}
	return nil, ""
}

// slopeText writes "1/48" as specs have it.
func slopeText(exact string) (string, bool) {
	rise, run, ok := strings.Cut(exact, "/")
	return rise + ":" + run, ok && !strings.ContainsAny(rise+run, " .")
}

func (s *spec) sideAt(pointer string) (door.Approach, bool) {
	for _, a := range s.door.Approach {
		if a.Pointer != "" && within(pointer, a.Pointer) {
			return a, true
		}
	}
	return door.Approach{}, false
}
