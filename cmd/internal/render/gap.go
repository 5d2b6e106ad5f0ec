package render

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/engine"
	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

const mostPlaces = 10 // readings a line

// gap draws the bottom gap of each leaf with what every option meets there, door closed and at each angle that was read.
func (p *page) gap(r *assess.Result) {
	first := true
	for i, l := range r.Door.Leaves {
		if len(l.Readings) == 0 {
			continue
		}
		if first {
			from := "hinge to latch"
			if !swings(r) {
				from = "left to right, seen from outside"
			}
			p.heading("THE GAP, "+from+", "+string(r.System), "+ pressed, 0 just touching, - daylight")
			first = false
		}
		p.leaf(r, l, r.Leaves[i])
	}
}

// swings is true of a leaf on hinges or pivots, and of one of which nothing is said.
func swings(r *assess.Result) bool {
	op := r.Door.Leaf.Operation
	return !op.Known || slices.Contains([]string{"hinged", "pair", "pivot"}, op.Value)
}

// leaf draws the gap of one leaf: its true gap where that is known, else as read.
func (p *page) leaf(r *assess.Result, read, actual door.Leaf) {
	name, l := "gap", actual
	if len(actual.Readings) == 0 {
		name, l = "gap as read", read
	}
	l.Swing = slices.SortedStableFunc(slices.Values(l.Swing), func(a, b door.SwingReading) int { return cmp.Compare(a.Angle, b.Angle) })
	closed := gaps(l.Readings)
	p.block(r, "leaf "+l.ID+", at", name, closed, func(c engine.Contact) []engine.Touch { return c.Places }, l.ID)
	p.smallest(r, name, l)
	for _, s := range l.Swing {
		if len(s.Readings) == 0 {
			continue
		}
		at := func(c engine.Contact) []engine.Touch { return places(c, s.Angle) }
		p.block(r, "open "+s.Angle.Deg()+" deg, at", name, gaps(s.Readings), at, l.ID)
	}
	p.corrected(r, read, actual)
}

func gaps(readings []door.Reading) []engine.Touch {
	out := make([]engine.Touch, len(readings))
	for i, reading := range readings {
		out[i] = engine.Touch{At: reading.At, Gap: reading.Gap}
	}
	return out
}

// places are what a seal meets at an angle; none where it meets nothing.
func places(c engine.Contact, angle quantity.Angle) []engine.Touch {
	for _, a := range c.Angles {
		if a.Angle == angle {
			return a.Places
		}
	}
	return nil
}

// block draws the gap along the width and the overlap of each option under it.
func (p *page) block(r *assess.Result, title, name string, read []engine.Touch, of func(engine.Contact) []engine.Touch, leaf string) {
	shown := shownPlaces(read)
	p.row(title, pick(read, shown, func(t engine.Touch) string { return plainLength(t.At, r.System) }))
	p.row(name, pick(read, shown, func(t engine.Touch) string { return plainLength(t.Gap, r.System) }))
	p.overlaps(r, leaf, func(c engine.Contact) []string {
		return pick(of(c), shown, func(t engine.Touch) string { return signedLength(t.Overlap, r.System) })
	})
	if len(shown) < len(read) {
		p.text("    ", fmt.Sprintf("%d of %d readings are shown, the widest and the narrowest among them; all are counted.", len(shown), len(read)))
	}
}

// smallest draws the angles of which only the smallest gap was read, beside each other.
func (p *page) smallest(r *assess.Result, name string, l door.Leaf) {
	var alone []door.SwingReading
	for _, s := range l.Swing {
		if len(s.Readings) == 0 {
			alone = append(alone, s)
		}
	}
	for some := range slices.Chunk(alone, mostPlaces) {
		var angles, smallest []string
		for _, s := range some {
			angles = append(angles, s.Angle.Deg()+" deg")
			smallest = append(smallest, plainLength(s.Gap, r.System))
		}
		p.row("smallest, open at", angles)
		p.row(name, smallest)
		p.overlaps(r, l.ID, func(c engine.Contact) []string {
			var out []string
			for _, s := range some {
				for _, t := range places(c, s.Angle) {
					out = append(out, signedLength(t.Overlap, r.System))
				}
			}
			return out
		})
	}
}

// overlaps draws a row for each option on a leaf; where its bottom seals differ, one for each under the option's name.
func (p *page) overlaps(r *assess.Result, leaf string, of func(engine.Contact) []string) {
	for _, o := range r.Options {
		var seals []string
		var rows [][]string
		for _, c := range o.Contact {
			if met := of(c); c.Leaf == leaf && len(met) > 0 {
				seals, rows = append(seals, c.Seal), append(rows, met)
			}
		}
		if len(rows) > 0 && !slices.ContainsFunc(rows, func(row []string) bool { return !slices.Equal(row, rows[0]) }) {
			p.row(o.ID, rows[0])
			continue
		}
		for i, row := range rows {
			if i == 0 {
				p.row(o.ID, nil)
			}
			p.row("  "+seals[i], row)
		}
	}
}

// corrected says in a sentence what the readings of a leaf were corrected by, or that its true gap is not known.
func (p *page) corrected(r *assess.Result, read, actual door.Leaf) {
	if len(actual.Readings) == 0 {
		p.text("    ", "These are the readings; the true gap is not known, see below.")
		return
	}
	var by []string
	if finish := r.Door.Site.FinishThickness; finish.Value > 0 {
		by = append(by, finish.Value.In(r.System)+" for the floor finish to come")
	}
	if lower := read.OutOfSquare.Value; lower != 0 {
		edge, way := "latch edge", "lower"
		if !swings(r) {
			edge = "right end"
		}
		if lower < 0 {
			lower, way = -lower, "higher"
		}
		by = append(by, "what the leaf is out of square, "+lower.In(r.System)+" "+way+" at its "+edge)
	}
	if len(by) > 0 {
		p.text("    ", "The gaps are the readings corrected by "+list(by)+".")
	}
}

// shownPlaces picks the readings that fit beside each other: spread evenly, both ends, the
// widest and the narrowest among them.
func shownPlaces(places []engine.Touch) []int {
	if len(places) <= mostPlaces {
		out := make([]int, len(places))
		for i := range out {
			out[i] = i
		}
		return out
	}
	byGap := func(a, b engine.Touch) int { return cmp.Compare(a.Gap, b.Gap) }
	keep := []int{
		slices.IndexFunc(places, func(t engine.Touch) bool { return t.Gap == slices.MaxFunc(places, byGap).Gap }),
		slices.IndexFunc(places, func(t engine.Touch) bool { return t.Gap == slices.MinFunc(places, byGap).Gap }),
	}
	const even = mostPlaces - 2
	for i := range even {
		keep = append(keep, i*(len(places)-1)/(even-1))
	}
	slices.Sort(keep)
	return slices.Compact(keep)
}

// pick writes some of the places; none where there are none.
func pick(places []engine.Touch, shown []int, show func(engine.Touch) string) []string {
	var out []string
	for _, i := range shown {
		if i < len(places) {
			out = append(out, show(places[i]))
		}
	}
	return out
}

func (p *page) row(name string, cells []string) {
	text := "    " + left(clean(name), nameWidth)
	for _, c := range cells {
		text += cell(c, 7)
	}
	p.b.WriteString(strings.TrimRight(text, " ") + "\n")
}

func plainLength(l quantity.Length, s quantity.System) string {
	return strings.TrimPrefix(signedLength(l, s), "+")
}

func signedLength(l quantity.Length, s quantity.System) string {
	if s == quantity.Imperial {
		v := float64(l) / float64(quantity.Inch)
		if l == 0 {
			return "0"
		}
		return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%+.3f", v), "0"), ".")
	}
	decimals := 1
	if l%(quantity.Millimetre/10) != 0 && l < quantity.Metre && l > -quantity.Metre {
		decimals = 2
	}
	return l.Signed(decimals)
}
