package render

import (
	"cmp"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/engine/doubt"
	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

const dragLeafWidth = 12

// drags tells how hard the bottom seals of each option drag: closed, and where they drag most while the door opens; or why that is
// not known.
func (p *page) drags(r *assess.Result) {
	unit, per := forceUnit(r.System)
	where := "at the latch edge"
	switch r.Door.Leaf.Operation.Value {
	case "roller", "sectional":
		return // the door comes straight down on its seal
	case "sliding":
		where = "along the track"
	}
	first := true
	for _, o := range r.Options {
		if !hasBottom(o) {
			continue
		}
		if first {
			opens := ""
			if swings(r) {
				opens = "most while it opens"
			}
			p.heading("DRAG OF THE BOTTOM SEALS "+where+", "+unit+", likely and its band", "")
			p.columns("option", "leaf", "closed", opens)
			first = false
		}
		if o.Drag == nil {
			p.undragged(o)
			continue
		}
		if o.Drag.High == 0 {
			p.columns(o.ID, "", "none: nothing rubs on the floor while it moves", "")
			continue
		}
		for i, leaf := range sums(o) {
			name := o.ID
			if i > 0 {
				name = ""
			}
			p.columns(name, clean(leaf[0].leaf), banded(leaf[0].Range, per), most(leaf[1:], per, swings(r)))
		}
	}
}

// undragged says why the drag of an option is not known.
func (p *page) undragged(o assess.Option) {
	var why []string
	for _, m := range o.Undragged {
		why = append(why, m.What)
	}
	p.text("    "+left(clean(o.ID), nameWidth-1)+" "+strings.Repeat(" ", dragLeafWidth), "not known: "+strings.Join(why, "; "))
}

// columns writes a line of the table of drag.
func (p *page) columns(option, leaf, closed, opens string) {
	if leaf == "" && opens == "" {
		p.b.WriteString("    " + left(clean(option), nameWidth-1) + " " + strings.Repeat(" ", dragLeafWidth) + closed + "\n")
		return
	}
	text := "    " + left(clean(option), nameWidth-1) + " " + left(leaf, dragLeafWidth-1) + " " + pad(closed, leakWidth) + opens
	p.b.WriteString(strings.TrimRight(text, " ") + "\n")
}

// most writes the greatest force at the angles that were read.
func most(open []moment, per float64, swings bool) string {
	switch {
	case !swings:
		return ""
	case len(open) == 0:
		return "not read"
	}
	m := slices.MaxFunc(open, func(a, b moment) int { return cmp.Or(cmp.Compare(a.High, b.High), cmp.Compare(a.Likely, b.Likely)) })
	return banded(m.Range, per) + " at " + m.angle.Deg() + " deg"
}

func hasBottom(o assess.Option) bool {
	return slices.ContainsFunc(o.Spec.Fits, func(f door.Fit) bool { return f.Edge == "bottom" && f.Seal.Value != "none" })
}

// moment is the force that the bottom seals of a leaf add, closed or at an angle.
type moment struct {
	doubt.Range
	leaf  string
	angle quantity.Angle
}

// sums adds the forces of the seals on each leaf: closed first, then the angles as they were read. A drop seal has none.
func sums(o assess.Option) [][]moment {
	var out [][]moment
	for _, c := range o.Contact {
		if c.Force == nil {
			continue
		}
		i := slices.IndexFunc(out, func(leaf []moment) bool { return leaf[0].leaf == c.Leaf })
		if i < 0 {
			i = len(out)
			out = append(out, []moment{{leaf: c.Leaf}})
		}
		out[i] = plus(out[i], 0, *c.Force, 0)
		for k, a := range c.Angles {
			if a.Force != nil {
				out[i] = plus(out[i], k+1, *a.Force, a.Angle)
			}
		}
	}
	return out
}

// plus adds a force to the moment k of a leaf, ends to ends: the seals rub on one floor.
func plus(leaf []moment, k int, r doubt.Range, angle quantity.Angle) []moment {
	if k == len(leaf) {
		leaf = append(leaf, moment{leaf: leaf[0].leaf, angle: angle})
	}
	leaf[k].Range = leaf[k].Plus(r)
	return leaf
}

// forceUnit is what forces are shown in, and how many of it are one newton.
func forceUnit(s quantity.System) (string, float64) {
	if s == quantity.Imperial {
		return "lbf", 1 / newtonsPerPound
	}
	return "N", 1
}
