package engine

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"sillwright/engine/catalogue"
	"sillwright/engine/doubt"
	"sillwright/engine/drag"
	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

// drags finds how hard every bottom seal drags, at each place and at each angle that was read, and the greatest force that they add
// at the latch edge of a leaf (of a sliding leaf: along its track); nil where one of them is not known, with the reasons.
//
// A drop seal lifts before the door moves, and a roller or sectional door comes down on its seal: they drag nothing. At an angle of which
// only the smallest gap is known the gap is taken to run along the width as it does closed. The forces of several seals on a
// leaf add, ends to ends: they rub on one floor. Pull tests of a seal stand before its model. Source: package drag.
func drags(d *door.Door, o door.Option, c *catalogue.Catalogue, contacts []Contact) (*doubt.Range, []Missing) {
	why := unrubbed(d, o, c, contacts)
	if !d.Leaf.Operation.Known || slices.ContainsFunc(d.Leaves, func(l door.Leaf) bool { return !l.Width.Known }) {
		return nil, why
	}
	type sums struct {
		leaf string
		of   []doubt.Range // closed, then each angle
	}
	var total []sums
	for i := range contacts {
		contact := &contacts[i]
		if err := dragOf(d, c, contact); err != nil {
			why = append(why, Missing{fitOf(o, *contact), err.Error()})
			continue
		}
		at := slices.IndexFunc(total, func(s sums) bool { return s.leaf == contact.Leaf })
		if at < 0 {
			at, total = len(total), append(total, sums{contact.Leaf, make([]doubt.Range, 0, 1+len(contact.Angles))})
		}
		total[at].of = plus(total[at].of, 0, *contact.Force)
		for k, a := range contact.Angles {
			total[at].of = plus(total[at].of, 1+k, *a.Force)
		}
	}
	if len(why) > 0 {
		return nil, why
	}
	most := doubt.Range{}
	for _, s := range total {
		for _, f := range s.of {
			if cmp.Or(cmp.Compare(f.High, most.High), cmp.Compare(f.Likely, most.Likely)) > 0 {
				most = f
			}
		}
	}
	return &most, nil
}

// plus adds a force to the sum at a place of a list, or begins it there.
func plus(list []doubt.Range, at int, f doubt.Range) []doubt.Range {
	if at == len(list) {
		return append(list, doubt.Range{}.Plus(f))
	}
	list[at] = list[at].Plus(f)
	return list
}

// fitOf points to the fit that a contact is of.
func fitOf(o door.Option, c Contact) string {
	fits := fitsOf(o, "bottom", c.Leaf)
	return fits[slices.IndexFunc(fits, func(f door.Fit) bool { return f.Seal.Value == c.Seal })].Pointer
}

// unrubbed says what keeps the drag from being computed at all: how the door moves, a width, a seal, a setting or a gap.
func unrubbed(d *door.Door, o door.Option, c *catalogue.Catalogue, contacts []Contact) []Missing {
	var out []Missing
	if op := d.Leaf.Operation; !op.Known {
		out = append(out, Missing{op.Pointer, "how the door moves is not known"})
	}
	for _, l := range d.Leaves {
		if !l.Width.Known {
			out = append(out, Missing{l.Width.Pointer, "the width of leaf " + l.ID + " is not known"})
		}
	}
	for _, f := range o.Fits {
		entry, ok := c.Seal(f.Seal.Value)
		switch {
		case f.Edge != "bottom" || (ok && (entry.Kind == "none" || isDrop(entry))):
			continue
		case !ok:
			out = append(out, Missing{f.Seal.Pointer, "the seal is not known"})
			continue
		case !f.Overlap.Known:
			out = append(out, Missing{f.Pointer + "/set", entry.Name + " is not set"})
			continue
		}
		for _, l := range d.Leaves {
			met := slices.ContainsFunc(contacts, func(c Contact) bool { return c.Leaf == l.ID && c.Seal == f.Seal.Value })
			if gap := (Missing{l.GapPointer, "the gap of leaf " + l.ID + " is not known"}); (f.Leaf == "" || f.Leaf == l.ID) && !met && !slices.Contains(out, gap) {
				out = append(out, gap)
			}
		}
	}
	return out
}

// dragOf fills in the drag of one contact; an error says why it is not known.
func dragOf(d *door.Door, c *catalogue.Catalogue, contact *Contact) error {
	entry, _ := c.Seal(contact.Seal)
	if lifts(d) {
		contact.Force = &doubt.Range{}
		for i := range contact.Angles {
			contact.Angles[i].Force = &doubt.Range{}
		}
		return nil
	}
	if entry.Drag == nil && len(entry.Pulls) == 0 {
		return fmt.Errorf("the drag of %s is not predicted", entry.Name)
	}
	l := d.Leaves[slices.IndexFunc(d.Leaves, func(l door.Leaf) bool { return l.ID == contact.Leaf })]
	line := drag.Line{Width: l.Width.Value.Metres(), Error: errorOf(l.ReadingError).Metres(), Slides: d.Leaf.Operation.Value == "sliding"}
	err := lineForce(entry, line, d.Floor.UnderSeal, contact.Places, contact.Places, 0, &contact.Force)
	for i := range contact.Angles {
		a := &contact.Angles[i]
		along, more := a.Places, quantity.Length(0)
		if !a.Whole {
			along, more = contact.Places, a.Places[0].Overlap-slices.MaxFunc(contact.Places, byOverlap).Overlap
		}
		err = doubt.First(err, lineForce(entry, line, d.Floor.Swept, a.Places, along, more, &a.Force))
	}
	if jam := jams(d, *contact); jam != "" {
		return errors.New(jam)
	}
	return err
}

// lifts says whether the door comes down on its seal and goes up from it.
func lifts(d *door.Door) bool {
	return d.Leaf.Operation.Value == "roller" || d.Leaf.Operation.Value == "sectional"
}

// jams says where a seal is pressed most, if that is beyond half its free height, past which nothing is predicted; closed first.
func jams(d *door.Door, c Contact) string {
	worst, open := slices.MaxFunc(c.Places, byOverlap), -1
	for i, a := range c.Angles {
		if t := slices.MaxFunc(a.Places, byOverlap); t.Overlap > worst.Overlap {
			worst, open = t, i
		}
	}
	if c.Length == 0 || 2*worst.Overlap <= c.Length {
		return ""
	}
	where := worst.At.MM() + " mm"
	if open >= 0 {
		where = c.Angles[open].Angle.Deg() + " deg"
	}
	if len(d.Leaves) > 1 {
		where += " of leaf " + c.Leaf
	}
	return fmt.Sprintf("%s is pressed %s of %s mm at %s, it would jam", c.Seal, worst.Overlap.MM(), c.Length.MM(), where)
}

func byOverlap(a, b Touch) int { return cmp.Compare(a.Overlap, b.Overlap) }

// lineForce finds the drag at places, and the force of the whole line whose overlaps are those along it and some more.
func lineForce(entry *catalogue.Seal, line drag.Line, floor door.Maybe[string], places, along []Touch, more quantity.Length, out **doubt.Range) error {
	word := "unknown"
	if floor.Known {
		word = floor.Value
	}
	seal, friction, err := entry.DragOn(word, line.Slides)
	if err != nil {
		return err
	}
	line.Friction = friction
	line.Places = make([]drag.Place, 0, len(along))
	for _, t := range along {
		line.Places = append(line.Places, drag.Place{At: t.At.Metres(), Overlap: (t.Overlap + more).Metres()})
	}
	r, err := drag.Estimate(seal, line)
	if err != nil {
		return err
	}
	overlaps, normals := make([]float64, len(places)), make([]float64, len(places))
	for i, t := range places {
		overlaps[i] = t.Overlap.Metres()
	}
	if err := drag.Normals(seal, friction.Likely, overlaps, normals); err != nil {
		return err
	}
	for i, normal := range normals {
		places[i].Drag = scaled(r.Range, normal*friction.Likely)
	}
	*out = &r.Range
	return nil
}

// scaled is a likely drag at a place with the band of its line, in proportion. A line that likely drags nothing has no proportion to
// give, and its places none.
func scaled(line doubt.Range, likely float64) doubt.Range {
	if line.Likely <= 0 {
		return doubt.Range{}
	}
	return doubt.Between(likely*line.Low/line.Likely, likely, likely*line.High/line.Likely)
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
