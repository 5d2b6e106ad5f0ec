package engine

import (
	"cmp"
	"slices"

	"sillwright/engine/catalogue"
	"sillwright/engine/doubt"
	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

// Contact is what a bottom seal finds along its width: overlap at each reading, door closed and while it opens.
type Contact struct {
	Leaf   string
	Seal   string
	Kind   string          // of the seal, in the catalogue's words
	Places []Touch         // door closed
	Angles []AngleContact  // while the door opens, as far as it was read, smallest angle first
	Length quantity.Length // free length of the seal; 0 if the catalogue does not say
	Least  quantity.Length // overlap that the seal is made for, from
	Most   quantity.Length // and to; 0 if the catalogue does not say
	Hangs  quantity.Length // how far its carrier must hang below the leaf, where the gap is deeper than the seal is long
	Force  *doubt.Range    // drag at the latch edge of the closed door, N; nil: not known
}

// Touch is one reading with the true gap and the overlap there.
type Touch struct {
	At, Gap, Overlap quantity.Length
	Drag             doubt.Range // N/m, with the band of the whole line in proportion; where the force of the contact is known
}

// Widest is the place where the gap of the closed door is widest: where a seal is set.
func (c Contact) Widest() Touch {
	return slices.MaxFunc(c.Places, func(a, b Touch) int { return cmp.Compare(a.Gap, b.Gap) })
}

// Fall is how far a drop seal that is to be adjusted must come down.
type Fall struct {
	Leaf, Seal string
	Widest     Touch           // its Overlap is 0: it just comes down to the floor there
	Most       quantity.Length // that it can fall; 0 if the catalogue does not say
}

// AngleContact is what a bottom seal finds at one angle of the open door.
type AngleContact struct {
	Angle  quantity.Angle
	Places []Touch
	Whole  bool         // read along the width; if not, Places is the smallest gap alone, whose At is not known
	Force  *doubt.Range // drag at the latch edge at this angle, N; nil: not known
}

// contacts finds what every bottom seal that is set meets, whether or not its leakage can be known. A drop seal finds the floor by itself.
func contacts(leaves []door.Leaf, o door.Option, c *catalogue.Catalogue) []Contact {
	var out []Contact
	for _, l := range leaves {
		for _, f := range fitsOf(o, "bottom", l.ID) {
			entry, ok := c.Seal(f.Seal.Value)
			if ok && entry.Kind != "none" && !isDrop(entry) && f.Overlap.Known && len(l.Readings) > 0 {
				out = append(out, contact(l, f, entry))
			}
		}
	}
	return out
}

// settings says whether every bottom seal is set, and whether it is within the overlap it
// is made for. A seal pressed by its whole free height has its carrier on the floor.
func settings(leaves []door.Leaf, o door.Option, c *catalogue.Catalogue, contacts []Contact) (set, inRange *bool) {
	can, within, touching := true, true, false
	for _, f := range o.Fits {
		entry, known := c.Seal(f.Seal.Value)
		touches := entry.Kind != "none" && !isDrop(entry) // a drop seal finds the floor by itself
		if f.Edge != "bottom" || (known && !touches) {
			continue
		}
		if !known || !f.Overlap.Known {
			return nil, nil
		}
		touching = true
	}
	for _, contact := range contacts {
		for _, t := range contact.Places {
			can = can && (contact.Length == 0 || t.Overlap < contact.Length)
			within = within && (contact.Most == 0 || (t.Overlap >= contact.Least && t.Overlap <= contact.Most))
		}
	}
	if touching && (len(leaves) == 0 || slices.ContainsFunc(leaves, func(l door.Leaf) bool { return len(l.Readings) == 0 })) {
		return nil, nil // without the gap nobody can say whether it can be set so
	}
	return &can, &within
}

// tolerance is how far the setting may be off either way with every bottom seal in its range at every reading:
//
//	the least over all seals of (overlap where the gap is widest - least) and (most - overlap where it is tightest)
//
// least, most: overlap that the seal is made for (nm, from the catalogue). 0 is a setting that may not be off at all.
// It is nil where a seal is out of its range, where a range or a setting is not known, and where there is nothing to
// set: a bare gap, and a drop seal, which finds the floor by itself. The error of the readings is not in it.
func tolerance(inRange *bool, contacts []Contact) *quantity.Length {
	if inRange == nil || !*inRange {
		return nil
	}
	var spare []quantity.Length
	for _, contact := range contacts {
		if contact.Most == 0 {
			return nil
		}
		for _, t := range contact.Places {
			spare = append(spare, t.Overlap-contact.Least, contact.Most-t.Overlap)
		}
	}
	if len(spare) == 0 {
		return nil
	}
	least := slices.Min(spare)
	return &least
}

// nothingToSet says whether there is no bottom seal that could be set wrong: every one finds the floor by itself, or there is none.
func nothingToSet(o door.Option, c *catalogue.Catalogue) bool {
	return !slices.ContainsFunc(o.Fits, func(f door.Fit) bool {
		entry, known := c.Seal(f.Seal.Value)
		return f.Edge == "bottom" && (!known || (entry.Kind != "none" && !isDrop(entry)))
	})
}

// contact finds the overlap at each reading of a leaf with its true gaps: that at the widest reading, door closed,
// plus how much narrower the gap is here.
func contact(l door.Leaf, f door.Fit, entry *catalogue.Seal) Contact {
	widest := slices.MaxFunc(l.Readings, byGap).Gap
	out := Contact{Leaf: l.ID, Seal: f.Seal.Value, Kind: entry.Kind, Length: entry.Length, Least: entry.Least, Most: entry.Most}
	if entry.Length > 0 {
		out.Hangs = max(0, widest+f.Overlap.Value-entry.Length)
	}
	touch := func(readings []door.Reading) []Touch {
		places := make([]Touch, len(readings))
		for i, r := range readings {
			places[i] = Touch{At: r.At, Gap: r.Gap, Overlap: f.Overlap.Value + widest - r.Gap}
		}
		return places
	}
	out.Places = touch(l.Readings)
	for _, s := range l.Swing {
		at := AngleContact{Angle: s.Angle, Places: touch(s.Readings), Whole: len(s.Readings) > 0}
		if !at.Whole {
			at.Places = touch([]door.Reading{smallest(s)})
		}
		out.Angles = append(out.Angles, at)
	}
	slices.SortStableFunc(out.Angles, func(a, b AngleContact) int { return cmp.Compare(a.Angle, b.Angle) })
	return out
}
