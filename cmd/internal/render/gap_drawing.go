package render

import (
	"fmt"
	"slices"
	"strings"

	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

// drawGap draws the floor under a leaf as its readings have it, hinge to latch, with ^ under the readings that are marked. Only what the
// gap varies by is drawn: beside its width nothing of it would be seen.
func drawGap(readings []door.Reading, marked []int, system quantity.System, ends [2]string) drawing {
	if len(readings) < 2 {
		return drawing{caption: "Not drawn: the gap was read at one place."}
	}
	byGap := func(a, b door.Reading) int { return int(max(-1, min(1, a.Gap-b.Gap))) }
	least, most := slices.MinFunc(readings, byGap).Gap, slices.MaxFunc(readings, byGap).Gap
	first, last := readings[0].At, readings[len(readings)-1].At
	perRow := max(1, float64(most-least)/(mostHeights-1))
	c := newCanvas(-float64(most), -float64(least), perRow, drawn)
	at := func(i int) int { return int(float64(readings[i].At-first) / float64(last-first) * (drawn - 1)) }
	for i := range len(readings) - 1 {
		begin, end := at(i), at(i+1)
		from, to := -float64(readings[i].Gap), -float64(readings[i+1].Gap)
		if begin == end {
			c.stroke(begin, from, to)
		}
		for column := begin; column < end; column++ {
			part := float64(end - begin)
			c.stroke(column, from+(to-from)*float64(column-begin)/part, from+(to-from)*float64(column+1-begin)/part)
		}
	}
	c.put(drawn-1, c.row(-float64(readings[len(readings)-1].Gap)), '_')
	out := drawing{lines: append([]string{ends[0] + strings.Repeat(" ", drawn-len(ends[0])-len(ends[1])) + ends[1], strings.Repeat("=", drawn)}, c.lines()...)}
	signs := []byte(strings.Repeat(" ", drawn))
	for _, i := range marked {
		signs[at(i)] = '^'
	}
	out.lines = append(out.lines, strings.TrimRight(string(signs), " "))
	out.caption = "The leaf's bottom above the floor between the first reading and the last; the gap is " + most.In(system) + " all along."
	if most > least {
		out.caption = fmt.Sprintf("The leaf's bottom above the floor between the first reading and the last; the gap goes from %s to %s, and only what it varies by is drawn, over %d rows.",
			least.In(system), most.In(system), len(out.lines)-3)
	}
	return out
}

// readingsAt gives the leaf and its readings at which pointers point, counted from 0: readings of the closed leaf, or else those at one
// angle. None: nothing of a gap is pointed at that has a place along the leaf.
func readingsAt(leaves []door.Leaf, pointers []string) (leaf door.Leaf, along []door.Reading, marked []int, angle string) {
	for _, l := range leaves {
		rows := []struct {
			readings []door.Reading
			angle    string
		}{{l.Readings, ""}}
		for _, s := range l.Swing {
			rows = append(rows, struct {
				readings []door.Reading
				angle    string
			}{s.Readings, s.Angle.Deg() + " deg"})
		}
		for _, row := range rows {
			var own []int
			for i, reading := range row.readings {
				if slices.ContainsFunc(pointers, func(p string) bool { return p == reading.Pointer || strings.HasPrefix(p, reading.Pointer+"/") }) {
					own = append(own, i)
				}
			}
			if len(own) > 0 {
				return l, row.readings, own, row.angle
			}
		}
		if slices.Contains(pointers, l.GapPointer) && len(l.Readings) > 0 {
			return l, l.Readings, ends(l.Readings), ""
		}
	}
	return door.Leaf{}, nil, nil, ""
}

// ends are the narrowest and the widest reading.
func ends(readings []door.Reading) []int {
	narrow, wide := 0, 0
	for i, r := range readings {
		if r.Gap < readings[narrow].Gap {
			narrow = i
		}
		if r.Gap > readings[wide].Gap {
			wide = i
		}
	}
	return slices.Compact([]int{min(narrow, wide), max(narrow, wide)})
}
