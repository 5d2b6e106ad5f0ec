package remedy

import (
	"fmt"
	"strings"

	"sillwright/engine/catalogue"
	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

// easeDoor makes the door easier to open. What one angle loses, readings with the bottom seal at the same angle lose too; how
// hard the door draws itself shut is then not known any more.
func easeDoor(s *spec, a aim, _ *catalogue.Catalogue) ([]proposal, string) {
	for _, at := range a.at() {
		for _, one := range []struct {
			force door.Maybe[quantity.Force]
			does  string
		}{
			{s.door.Leaf.UnlatchingForce, "Ease the latch, or what presses the leaf against it, until {to} releases it; it takes {from}."},
			{s.door.Leaf.StartingForce, "Ease the seals and the closer until {to} sets the door in motion; it takes {from}."},
		} {
			if one.force.Known && at == one.force.Pointer {
				return s.setting(a, field{scale: forces, does: one.does, after: "See that the door still closes and latches."}, at)
			}
		}
		if bands := s.bandsAt(at); len(bands) > 0 {
			return s.easing(a, bands), ""
		}
	}
	return nil, "no reading of the opening force is over the limit by itself"
}

// bandsAt are the readings of the door at the angles of the reading that a pointer names.
func (s *spec) bandsAt(pointer string) []door.ForceBand {
	all := s.door.Leaf.OpeningForce.Bands
	for _, b := range all {
		if within(pointer, b.Pointer) {
			return []door.ForceBand{b}
		}
	}
	for _, o := range s.door.Options {
		for _, b := range o.OpeningForce.Bands {
			if !within(pointer, b.Pointer) {
				continue
			}
			out := []door.ForceBand{b}
			for _, own := range all {
				if own.From < b.To && b.From < own.To || own.From == b.From {
					out = append(out, own)
				}
			}
			return out
		}
	}
	return nil
}

func (s *spec) easing(a aim, bands []door.ForceBand) []proposal {
	step := forces.step(s.system(bands[0].Pointer + "/force"))
	most := int(int64(bands[0].Force.Value) / step)
	return []proposal{{object: "opening force at " + bands[0].From.Deg(), most: most, first: int((a.misses() + step - 1) / step), at: func(s *spec, size int) (change, string) {
		by := quantity.Force(int64(size) * step)
		var ops []Operation
		do := ""
		for i, b := range s.likewise(bands) {
			if !b.Force.Known {
				continue
			}
			to := quantity.Force(above(int64(b.Force.Value), step)) - by
			if to < 0 {
				return change{}, "the door would open by itself"
			}
			at := b.Pointer + "/force"
			text := to.In(s.system(at))
			ops = append(ops, s.put(at, text))
			if i == 0 {
				do = fmt.Sprintf("%s until the door opens with %s from %s to %s deg; it takes %s.", s.whatHolds(), text, b.From.Deg(), b.To.Deg(), b.Force.Value.In(s.system(at)))
			}
		}
		c := change{ops: ops, do: do, after: []string{"Read the opening force again with the bottom seal fitted, and see that the door still closes and latches."}}
		if f := s.door.Leaf.ClosingForce; f.Known {
			c.ops = append(c.ops, drop(f.Pointer))
			c.after = append(c.after, "Hold the door back near the latch with a spring gauge and read closing_force again: the old reading no longer holds.")
		}
		return c, ""
	}}}
}

// likewise are readings and those of every option over the same angles.
func (s *spec) likewise(bands []door.ForceBand) []door.ForceBand {
	out := []door.ForceBand{}
	add := func(b door.ForceBand) {
		for _, o := range out {
			if o.Pointer == b.Pointer {
				return
			}
		}
		out = append(out, b)
	}
	all := append([]door.ForceBand(nil), s.door.Leaf.OpeningForce.Bands...)
	for _, o := range s.door.Options {
		all = append(all, o.OpeningForce.Bands...)
	}
	for _, b := range bands {
		for _, now := range all {
			if now.Pointer == b.Pointer {
				add(now)
			}
		}
	}
	for _, b := range bands {
		for _, now := range all {
			if strings.HasPrefix(now.Pointer, "/options/") && now.From < b.To && b.From < now.To {
				add(now)
			}
		}
	}
	return out
}

// whatHolds says what may be eased on this door.
func (s *spec) whatHolds() string {
	var parts []string
	if s.door.Leaf.Closer.Value {
		parts = append(parts, "the closer")
	}
	if s.door.Leaf.SpringHinges.Value {
		parts = append(parts, "the spring hinges")
	}
	parts = append(parts, "the hinges and edge gaskets")
	if op := s.door.Leaf.Operation.Value; op == "sliding" || op == "folding" {
		parts = []string{"the track, the rollers and the edge seals"}
	}
	return "Ease " + strings.Join(parts, ", ")
}

// strengthenCloser lets the door draw itself shut harder; it takes as much more to open.
func strengthenCloser(s *spec, a aim, _ *catalogue.Catalogue) ([]proposal, string) {
	f := s.door.Leaf.ClosingForce
	if !f.Known {
		return nil, "with what force the door draws itself shut is not known"
	}
	if !s.door.Leaf.Closer.Value && !s.door.Leaf.SpringHinges.Value {
		return nil, "the door has neither a closer nor spring hinges"
	}
	step := forces.step(s.system(f.Pointer))
	return []proposal{{object: "closing force", most: 1000, first: int((a.misses() + step - 1) / step), at: func(s *spec, size int) (change, string) {
		f := s.door.Leaf.ClosingForce
		by := quantity.Force(int64(size) * step)
		to := quantity.Force(below(int64(f.Value), step)) + by
		ops := []Operation{s.put(f.Pointer, to.In(s.system(f.Pointer)))}
		for _, list := range append([][]door.ForceBand{s.door.Leaf.OpeningForce.Bands}, bandsOfOptions(s.door)...) {
			for _, b := range list {
				if b.Force.Known {
					at := b.Pointer + "/force"
					ops = append(ops, s.put(at, (b.Force.Value+to-f.Value).In(s.system(at))))
				}
			}
		}
		return change{
			ops:   ops,
			do:    fmt.Sprintf("Set the closer stronger, until the door draws itself shut with %s at the latch edge in place of %s. It is taken to need as much more to open, at every angle.", to.In(s.system(f.Pointer)), f.Value.In(s.system(f.Pointer))),
			after: []string{"Read the opening force again with the bottom seal fitted, and time the door as it closes."},
		}, ""
	}}}, ""
}

func bandsOfOptions(d *door.Door) [][]door.ForceBand {
	var out [][]door.ForceBand
	for _, o := range d.Options {
		out = append(out, o.OpeningForce.Bands)
	}
	return out
}
