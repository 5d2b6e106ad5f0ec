package door

import (
	"cmp"
	"fmt"
	"slices"

	"sillwright/schema/quantity"
)

// mostError is far beyond the error of any reading of a gap.
const mostError = 100 * quantity.Millimetre

func readLeaves(list cursor) []Leaf {
	var out []Leaf
	for _, c := range list.items() {
		gap := c.child("gap")
		l := Leaf{
			ID: c.child("id").text(), Width: c.child("width").length(positive), OutOfSquare: c.child("out_of_square").length(anySign),
			Bends: gap.child("bends").count(), ReadingError: gap.child("reading_error").length(notNegative), Pointer: c.at.pointer, GapPointer: gap.at.pointer,
		}
		if slices.ContainsFunc(out, func(o Leaf) bool { return o.ID == l.ID }) {
			c.child("id").problem(fmt.Sprintf("%q a second time", l.ID), "an id of its own for each leaf", "rename one of them")
		}
		l.Readings = readReadings(gap.child("readings"), l.Width)
		if e := l.ReadingError; e.Known && e.Value > mostError {
			gap.child("reading_error").problem(e.Value.MM()+" mm", "0 mm to "+mostError.MM()+" mm", "give the error of one reading, either way")
		}
		for _, s := range gap.child("swing").items() {
			if reading, ok := readSwing(s, l.Width); ok {
				l.Swing = append(l.Swing, reading)
			} else {
				l.Unread = append(l.Unread, s.at.pointer)
			}
		}
		out = append(out, l)
	}
	return out
}

// readReadings reads gaps along a leaf, in the order of their places.
func readReadings(list cursor, width Maybe[quantity.Length]) []Reading {
	items := list.items()
	var out []Reading
	for _, r := range items {
		at, g := r.child("at").length(notNegative), r.child("gap").length(notNegative)
		if !at.Known || !g.Known {
			continue // not taken yet
		}
		switch {
		case width.Known && at.Value > width.Value:
			r.child("at").problem(at.Value.MM()+" mm, beyond the leaf", "0 mm to the width of the leaf, "+width.Value.MM()+" mm", "measure from the hinge edge")
		case len(out) > 0 && at.Value <= out[len(out)-1].At:
			r.child("at").problem(at.Value.MM()+" mm after "+out[len(out)-1].At.MM()+" mm", "readings in order from the hinge edge, each place once", "sort them by their place")
		default:
			if out == nil {
				out = make([]Reading, 0, len(items))
			}
			out = append(out, Reading{at.Value, g.Value, r.at.pointer})
		}
	}
	return out
}

// readSwing reads the gap at an angle; false where it was not taken yet.
func readSwing(c cursor, width Maybe[quantity.Length]) (SwingReading, bool) {
	smallest, along := c.child("gap"), c.child("readings")
	angle, gap := c.child("angle").angle(), smallest.length(notNegative)
	out := SwingReading{Angle: angle.Value, Gap: gap.Value, Readings: readReadings(along, width), Pointer: c.at.pointer}
	switch {
	case smallest.has() && along.has():
		along.problem("both gap and readings", "one of them", "keep readings: they say where the gap is small")
	case smallest.node == nil && along.node == nil:
		c.problem("an angle without a gap", "gap: 27 mm, or readings: [...]", "give the smallest gap met at that angle, or the gap along the width; write gap: unknown if nobody has read it")
	}
	if len(out.Readings) > 0 {
		out.Gap = slices.MinFunc(out.Readings, func(a, b Reading) int { return cmp.Compare(a.Gap, b.Gap) }).Gap
	}
	return out, angle.Known && (gap.Known || len(out.Readings) > 0)
}
