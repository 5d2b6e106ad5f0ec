package engine

import (
	"cmp"
	"fmt"
	"math/big"
	"slices"

	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

// trueReadings gives the true bottom gap of a leaf at each of its readings, with their places and pointers:
//
//	gap = reading - out_of_square at/width - finish
//
// reading: as written (nm, 0 or more). out_of_square: how much lower the leaf stands at its latch edge than at its
// hinge edge, where the gap was read to a level line (nm, either sign; 0 if the spec does not have it). at: place from
// the hinge edge (nm, 0 to width). finish: thickness of the floor finish to come (nm), taken to be laid under the leaf
// as well as beside it: engineering judgement. The bottom of the leaf is taken to be straight: common practice, no
// published source.
//
// The sum is exact and rounded once, to the nearest nanometre, halves up, so that a floor and its mirror image, read
// from the other edge, have the same gaps. In place of readings it gives what is missing: the readings, a correction
// that is written and not known, or a leaf that clears the floor, where a gap would be below zero.
func trueReadings(d *door.Door, l door.Leaf) ([]door.Reading, []Missing) {
	c, missing := correctionOf(d, l)
	return c.trueReadings(l, missing)
}

func (c correction) trueReadings(l door.Leaf, missing []Missing) ([]door.Reading, []Missing) {
	if len(l.Readings) == 0 {
		missing = append(missing, Missing{l.GapPointer + "/readings", "the bottom gap of leaf " + l.ID})
	}
	if len(missing) > 0 {
		return nil, missing
	}
	out := c.readings(l.Readings)
	if low := tightest(out); low.Gap < 0 {
		return nil, []Missing{c.fouled(low, fmt.Sprintf("leaf %s at %s mm", l.ID, low.At.MM()))}
	}
	return out, nil
}

// trueSwing does the same for the gaps met while the door opens; nothing is missing where none was read. The smallest
// gap of an angle has no place, so under a leaf that is out of square it cannot be told from a level line.
func trueSwing(d *door.Door, l door.Leaf) ([]door.SwingReading, []Missing) {
	c, missing := correctionOf(d, l)
	return c.trueSwing(l, missing)
}

func (c correction) trueSwing(l door.Leaf, missing []Missing) ([]door.SwingReading, []Missing) {
	for _, at := range l.Unread {
		missing = append(missing, Missing{at, "the gap of leaf " + l.ID + " at an angle that is written and not read"})
	}
	if len(missing) > 0 || len(l.Swing) == 0 {
		return nil, missing
	}
	out, missing := c.swing(l)
	for _, s := range out {
		if low := smallest(s); low.Gap < 0 {
			missing = append(missing, c.fouled(low, fmt.Sprintf("leaf %s, open at %s deg,", l.ID, s.Angle.Deg())))
		}
	}
	if len(missing) > 0 {
		return nil, missing
	}
	return out, nil
}

// tightest is the first of the readings with the smallest gap.
func tightest(readings []door.Reading) door.Reading {
	return slices.MinFunc(readings, byGap)
}

func byGap(a, b door.Reading) int { return cmp.Compare(a.Gap, b.Gap) }

// smallest is the smallest gap met at an angle; without readings along the width its place is not known.
func smallest(s door.SwingReading) door.Reading {
	if len(s.Readings) > 0 {
		return tightest(s.Readings)
	}
	return door.Reading{Gap: s.Gap, Pointer: s.Pointer}
}

// correction is what a reading is more than the gap there.
type correction struct {
	lower, width quantity.Length // how much lower the leaf stands at the far edge, over its width
	finish       quantity.Length
	from         []string // what of the spec it rests on; none: a reading is the gap
}

// correctionOf reads what the gaps of a leaf are to be corrected by.
func correctionOf(d *door.Door, l door.Leaf) (correction, []Missing) {
	c, missing := squareOf(d, l)
	return c.under(d, missing)
}

// squareOf is the correction without a finish that is to come.
func squareOf(d *door.Door, l door.Leaf) (c correction, missing []Missing) {
	_, written := d.Document.Root.Lookup(l.OutOfSquare.Pointer)
	switch square := l.OutOfSquare; {
	case written && !square.Known:
		missing = append(missing, Missing{square.Pointer, "how far leaf " + l.ID + " is out of square, where its gap was read to a level line"})
	case square.Value != 0 && !l.Width.Known:
		missing = append(missing, Missing{l.Width.Pointer, "the width of leaf " + l.ID})
	case square.Value != 0:
		c.lower, c.width = square.Value, l.Width.Value
		c.from = append(c.from, square.Pointer)
	}
	return c, missing
}

// under adds the finish.
func (c correction) under(d *door.Door, missing []Missing) (correction, []Missing) {
	switch finish := d.Site.FinishThickness; {
	case toCome(d) && !finish.Known:
		missing = append(slices.Clip(missing), Missing{d.Site.Finish.Pointer, "the gap above the floor finish that is still to come"})
	case finish.Value != 0:
		c.finish = finish.Value
		c.from = append(slices.Clip(c.from), finish.Pointer)
	}
	return c, missing
}

func (c correction) readings(read []door.Reading) []door.Reading {
	out := slices.Clone(read)
	for i, r := range out {
		out[i].Gap = r.Gap - c.finish + c.raised(r.At)
	}
	return out
}

// swing corrects the gaps met while the door opens, and gives what cannot be corrected.
func (c correction) swing(l door.Leaf) (out []door.SwingReading, missing []Missing) {
	for _, s := range l.Swing {
		if len(s.Readings) == 0 && c.lower != 0 {
			missing = append(missing, Missing{s.Pointer, fmt.Sprintf("the gap along the width of leaf %s, which is out of square, at %s deg", l.ID, s.Angle.Deg())})
			continue
		}
		s.Readings = c.readings(s.Readings)
		s.Gap -= c.finish
		if len(s.Readings) > 0 {
			s.Gap = tightest(s.Readings).Gap
		}
		out = append(out, s)
	}
	return out, missing
}

// raised is -lower at/width, rounded to the nearest nanometre, halves up. The product of two lengths can pass 64 bits.
func (c correction) raised(at quantity.Length) quantity.Length {
	if c.lower == 0 {
		return 0
	}
	width := big.NewInt(int64(c.width))
	n := new(big.Int).Mul(big.NewInt(-2*int64(c.lower)), big.NewInt(int64(at)))
	n.Add(n, width)
	n.Div(n, width.Lsh(width, 1)) // rounds down
	return quantity.Length(n.Int64())
}

// fouled asks for a leaf that clears the floor, with the figures of the place where it stands lowest.
func (c correction) fouled(low door.Reading, where string) Missing {
	read := low.Gap + c.finish - c.raised(low.At)
	what := fmt.Sprintf("a leaf that clears the floor: %s would stand %s mm below it, for %s mm were read", where, (-low.Gap).MM(), read.MM())
	if c.lower != 0 {
		what += fmt.Sprintf(", the leaf is out of square by %s mm over its width", c.lower.MM())
	}
	if c.finish != 0 {
		what += fmt.Sprintf(", and a finish of %s mm is to come", c.finish.MM())
	}
	return Missing{low.Pointer, what}
}

// finish says what is taken of a floor finish that is to come, and of the air.
func (s *summing) finish() {
	if thick := s.d.Site.FinishThickness; toCome(s.d) && thick.Known {
		s.take(fmt.Sprintf("the floor finish of %s mm that is to come, laid as drawn: measure again when it is in", thick.Value.MM()))
	} else if toCome(s.d) {
		s.lack(s.d.Site.Finish.Pointer, "the gap above the floor finish that is still to come")
	}
	if _, written := s.d.Document.Root.Lookup(s.d.Site.Finish.Pointer); written && !s.d.Site.Finish.Known {
		s.take("the floor finish to be in place, for it is not known")
	}
	if _, written := s.d.Document.Root.Lookup("/air"); written && !s.d.Air.Temperature.Known && !s.d.Air.Altitude.Known {
		s.take("air of 20 C at sea level, for it is not known")
	}
}
