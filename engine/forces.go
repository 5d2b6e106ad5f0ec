package engine

import (
	"cmp"
	"slices"

	"sillwright/engine/catalogue"
	"sillwright/engine/doubt"
	"sillwright/engine/drag"
	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

// drags finds how hard every bottom seal drags, at each place and at each angle that was read, and the greatest force that they add
// at the latch edge of a leaf (of a sliding leaf: along its track); nil where one of them is not known.
//
// A drop seal lifts before the door moves, and a roller or sectional door comes down on its seal: they drag nothing. At an angle of which
// only the smallest gap is known the gap is taken to run along the width as it does closed. The forces of several seals on a
// leaf add, ends to ends: they rub on one floor. Source: package drag.
func drags(d *door.Door, o door.Option, c *catalogue.Catalogue, contacts []Contact) *doubt.Range {
	if !d.Leaf.Operation.Known || slices.ContainsFunc(d.Leaves, func(l door.Leaf) bool { return !l.Width.Known }) {
		return nil
	}
	total := map[string][]doubt.Range{} // by leaf: closed, then each angle
	for i := range contacts {
		if !dragOf(d, c, &contacts[i]) {
			return nil
		}
		forces := append([]doubt.Range{*contacts[i].Force}, angleForces(contacts[i])...)
		sum := total[contacts[i].Leaf]
		for k, f := range forces {
			if k == len(sum) {
				sum = append(sum, doubt.Range{})
			}
			sum[k] = sum[k].Plus(f)
		}
		total[contacts[i].Leaf] = sum
	}
	if !bottomsKnown(d, o, c, contacts) {
		return nil
	}
	most := doubt.Range{}
	for _, sums := range total {
		for _, f := range sums {
			if cmp.Or(cmp.Compare(f.High, most.High), cmp.Compare(f.Likely, most.Likely)) > 0 {
				most = f
			}
		}
	}
	return &most
}

func angleForces(c Contact) []doubt.Range {
	var out []doubt.Range
	for _, a := range c.Angles {
		out = append(out, *a.Force)
	}
	return out
}

// bottomsKnown says whether every bottom seal that rubs is among the contacts.
func bottomsKnown(d *door.Door, o door.Option, c *catalogue.Catalogue, contacts []Contact) bool {
	for _, f := range o.Fits {
		if f.Edge != "bottom" {
			continue
		}
		entry, ok := c.Seal(f.Seal.Value)
		if !ok {
			return false
		}
		if entry.Kind == "none" || isDrop(entry) {
			continue
		}
		for _, l := range d.Leaves {
			met := slices.ContainsFunc(contacts, func(c Contact) bool { return c.Leaf == l.ID && c.Seal == f.Seal.Value })
			if (f.Leaf == "" || f.Leaf == l.ID) && !met {
				return false
			}
		}
	}
	return true
}

// dragOf fills in the drag of one contact; false if it is not known.
func dragOf(d *door.Door, c *catalogue.Catalogue, contact *Contact) bool {
	entry, _ := c.Seal(contact.Seal)
	still := isDrop(entry) || d.Leaf.Operation.Value == "roller" || d.Leaf.Operation.Value == "sectional"
	if still {
		contact.Force = &doubt.Range{}
		for i := range contact.Angles {
			contact.Angles[i].Force = &doubt.Range{}
		}
		return true
	}
	leaf := slices.IndexFunc(d.Leaves, func(l door.Leaf) bool { return l.ID == contact.Leaf })
	if entry.Drag == nil || leaf < 0 {
		return false
	}
	l := d.Leaves[leaf]
	line := drag.Line{Width: l.Width.Value.Metres(), Error: TakenReadingError.Metres(), Slides: d.Leaf.Operation.Value == "sliding"}
	if l.ReadingError.Known {
		line.Error = l.ReadingError.Value.Metres()
	}
	ok := force(entry, line, d.Floor.UnderSeal, contact.Places, contact.Places, 0, &contact.Force)
	for i := range contact.Angles {
		a := &contact.Angles[i]
		along, more := a.Places, quantity.Length(0)
		if !a.Whole {
			along, more = contact.Places, a.Places[0].Overlap-slices.MaxFunc(contact.Places, byOverlap).Overlap
		}
		ok = force(entry, line, d.Floor.Swept, a.Places, along, more, &a.Force) && ok
	}
	return ok
}

func byOverlap(a, b Touch) int { return cmp.Compare(a.Overlap, b.Overlap) }

// force finds the drag at places, and the force of the whole line whose overlaps are those along it and some more.
func force(entry catalogue.Seal, line drag.Line, floor door.Maybe[string], places, along []Touch, more quantity.Length, out **doubt.Range) bool {
	word := "unknown"
	if floor.Known {
		word = floor.Value
	}
	friction, err := drag.Friction(word, entry.Material())
	if err != nil {
		return false
	}
	line.Friction = friction
	for i := range places {
		normal, err := entry.Drag.Normal(places[i].Overlap.Metres(), friction.Likely)
		if err != nil {
			return false
		}
		places[i].Drag = normal * friction.Likely
	}
	for _, t := range along {
		line.Places = append(line.Places, drag.Place{At: t.At.Metres(), Overlap: (t.Overlap + more).Metres()})
	}
	r, err := drag.Estimate(entry.Drag, line)
	if err != nil {
		return false
	}
	*out = &r.Range
	return true
}

// life is the fewest cycles that a bottom seal of the option was tested for; nil where one has no test.
func life(o door.Option, c *catalogue.Catalogue) *doubt.Range {
	var out *doubt.Range
	for _, f := range o.Fits {
		entry, ok := c.Seal(f.Seal.Value)
		if f.Edge != "bottom" || (ok && entry.Kind == "none") {
			continue
		}
		if !ok || entry.Life == 0 {
			return nil
		}
		if out == nil || entry.Life < out.Likely {
			cycles := doubt.Exactly(entry.Life)
			out = &cycles
		}
	}
	return out
}
