package engine

import (
	"cmp"
	"math/big"
	"slices"

	"sillwright/engine/gap"
	"sillwright/schema/door"
	"sillwright/schema/fact"
)

// truth is a leaf with its true gaps, none where they are not known, and what sealing practice asks of them.
type truth struct {
	door.Leaf
	correction

	written *door.Leaf
	lacking bool       // how its gaps are to be corrected is not known
	square  correction // for the floor as it is now: a finish that is to come is not laid
	crooked bool       // that is not known

	line   gap.Line            // of its gap, closed
	noLine error               // that there is none, where its width and its gap are known
	along  bool                // read closed from edge to edge
	sweeps []door.SwingReading // gaps that are known while it opens, above the floor
	swept  bool                // they are all that there is to know: each the smallest at its angle, or read from edge to edge
	under  *big.Int            // see underLeaf; nil: not known from edge to edge
}

// truthOf wants a leaf as written.
func truthOf(d *door.Door, written *door.Leaf) *truth {
	l := *written
	out := &truth{Leaf: l, written: written}
	square, missing := squareOf(d, l)
	out.square, out.crooked = square, len(missing) > 0
	c, missing := square.under(d, missing)
	out.correction, out.lacking = c, len(missing) > 0
	out.Readings, _ = c.trueReadings(l, slices.Clip(missing))
	out.Swing, _ = c.trueSwing(l, slices.Clip(missing))
	out.along = readAlong(l, out.Readings)
	if l.Width.Known && len(out.Readings) > 0 {
		out.line, out.noLine = gap.New(l.Width.Value.Metres(), readingsOf(out.Readings))
	}
	if out.along {
		out.under = underLeaf(l, out.Readings)
	}
	if out.lacking {
		return out
	}
	known, missing := c.swing(l)
	out.swept = len(missing) == 0 && len(known) > 0 && len(l.Unread) == 0
	for _, s := range known {
		out.swept = out.swept && s.Gap >= 0 && (len(s.Readings) == 0 || readAlong(l, s.Readings))
	}
	out.sweeps = slices.DeleteFunc(known, func(s door.SwingReading) bool { return s.Gap < 0 })
	return out
}

func readingsOf(read []door.Reading) []gap.Reading {
	out := make([]gap.Reading, len(read))
	for i, r := range read {
		out[i] = gap.Reading{At: r.At.Metres(), Gap: r.Gap.Metres()}
	}
	return out
}

// spotted is a true gap with what of the spec it is corrected by.
type spotted struct {
	door.Reading
	from []string
}

func byHeight(a, b spotted) int { return cmp.Compare(a.Gap, b.Gap) }

// at points to what it rests on.
func (s spotted) at() []string { return append([]string{s.Pointer}, s.from...) }

// putClearance adds how far the leaves clear the floor where they stand lowest, closed and while they open. Below zero
// one fouls the floor, wherever else nobody has read; clear of it they are only where every leaf was read.
func putClearance(facts fact.Set, leaves []*truth) {
	var all []spotted
	known := len(leaves) > 0
	for _, l := range leaves {
		if l.lacking {
			known = false
			continue
		}
		swing, missing := l.swing(*l.written)
		known = known && len(l.written.Readings) > 0 && len(missing) == 0 && len(l.Unread) == 0
		for _, r := range l.readings(l.written.Readings) {
			all = append(all, spotted{r, l.from})
		}
		for _, s := range swing {
			all = append(all, spotted{smallest(s), l.from})
		}
	}
	if len(all) == 0 {
		return
	}
	if low := slices.MinFunc(all, byHeight); known || low.Gap < 0 {
		facts["floor_clearance"] = fact.Fact{Value: int64(low.Gap), At: low.at(), Formula: "smallest of reading - out_of_square x at / width - finish to come"}
	}
}

// putUndercut adds the smallest and the widest true gap under the closed leaves. Where a leaf is not read from edge to
// edge the smallest may be less and the widest more. Both are left out where a leaf fouls the floor.
func putUndercut(facts fact.Set, leaves []*truth) {
	all, whole := undercuts(leaves, func(l *truth) (correction, bool) { return l.correction, !l.lacking })
	if len(all) == 0 {
		return
	}
	least, most := slices.MinFunc(all, byHeight), slices.MaxFunc(all, byHeight)
	const formula = " of reading - out_of_square x at / width - finish to come"
	facts["undercut"] = fact.Fact{Value: int64(least.Gap), At: least.at(), Formula: "smallest" + formula, OrLess: !whole}
	facts["bottom_gap_most"] = fact.Fact{Value: int64(most.Gap), At: most.at(), Formula: "largest" + formula, OrMore: !whole}
}

// undercuts are the gaps under the closed leaves, and whether each is read from edge to edge; none where a leaf fouls the floor.
func undercuts(leaves []*truth, by func(*truth) (correction, bool)) (all []spotted, whole bool) {
	whole = true
	for _, l := range leaves {
		c, known := by(l)
		if !known {
			whole = false
			continue
		}
		read := c.readings(l.written.Readings)
		whole = whole && readAlong(*l.written, read)
		for _, r := range read {
			all = append(all, spotted{r, c.from})
		}
	}
	if len(all) == 0 || slices.MinFunc(all, byHeight).Gap < 0 {
		return nil, whole
	}
	return all, whole
}
