package engine

import (
	"slices"

	"sillwright/engine/catalogue"
	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

// Contact is what a bottom seal finds along its width: overlap at each reading.
type Contact struct {
	Leaf   string
	Seal   string
	Places []Touch
	Length quantity.Length // free length of the seal; 0 if the catalogue does not say
	Least  quantity.Length // overlap that the seal is made for, from
	Most   quantity.Length // and to; 0 if the catalogue does not say
	Hangs  quantity.Length // how far its carrier must hang below the leaf, where the gap is deeper than the seal is long
}

// Touch is one reading with the overlap there.
type Touch struct{ At, Gap, Overlap quantity.Length }

// contacts finds what every bottom seal meets, whether or not its leakage can be known.
func contacts(d *door.Door, o door.Option, c *catalogue.Catalogue) []Contact {
	var out []Contact
	for _, l := range d.Leaves {
		for _, f := range fitsOf(o, "bottom", l.ID) {
			entry, ok := c.Seal(f.Seal.Value)
			if ok && entry.Kind != "none" && f.Overlap.Known && len(l.Readings) > 0 {
				out = append(out, contact(l, f, entry))
			}
		}
	}
	return out
}

// settings says whether every bottom seal is set, and whether it is within the overlap it
// is made for. A seal pressed by its whole free height has its carrier on the floor.
func settings(d *door.Door, o door.Option, c *catalogue.Catalogue, contacts []Contact) (set, inRange *bool) {
	can, within, touching := true, true, false
	for _, f := range o.Fits {
		entry, known := c.Seal(f.Seal.Value)
		touches := entry.Kind != "none" && entry.Kind != "drop-seal" // a drop seal finds the floor by itself
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
	if touching && (toCome(d) || len(d.Leaves) == 0 || slices.ContainsFunc(d.Leaves, func(l door.Leaf) bool { return len(l.Readings) == 0 })) {
		return nil, nil // without the gap nobody can say whether it can be set so
	}
	return &can, &within
}

// contact finds the overlap at each reading: that at the widest reading plus how much
// narrower the gap is here.
func contact(l door.Leaf, f door.Fit, entry catalogue.Seal) Contact {
	widest := l.Readings[0].Gap
	for _, r := range l.Readings {
		widest = max(widest, r.Gap)
	}
	out := Contact{Leaf: l.ID, Seal: f.Seal.Value, Length: entry.Length, Least: entry.Least, Most: entry.Most}
	if entry.Length > 0 {
		out.Hangs = max(0, widest+f.Overlap.Value-entry.Length)
	}
	for _, r := range l.Readings {
		out.Places = append(out.Places, Touch{r.At, r.Gap, f.Overlap.Value + widest - r.Gap})
	}
	return out
}
