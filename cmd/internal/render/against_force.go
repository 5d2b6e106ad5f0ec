package render

import (
	"math"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/explain"
	"sillwright/engine"
	"sillwright/engine/wear"
	"sillwright/policies"
	"sillwright/schema/quantity"
)

// pulls tells what hands have to overcome, and what is left to latch.
func pulls(c *explain.Comparison) versusPart {
	unit, per := forceUnit(c.Result.System)
	out := versusPart{title: "Force", rest: " at the latch edge with the bottom seal, " + unit}
	if slices.Contains([]string{"sliding", "folding"}, c.Result.Door.Leaf.Operation.Value) {
		out.rest = " along the track with the bottom seal, " + unit
	}
	for _, row := range stretched(c.A.Openings, c.B.Openings) {
		of := func(x *engine.Opening) string { return opened(x, row, per) }
		out.add(versus{"to open at " + strings.TrimPrefix(angles(row.over), "at "), of(row.a), of(row.b), ""})
	}
	drag := func(o assess.Option) string {
		switch {
		case o.Drag == nil:
			return "not known"
		case o.Drag.High == 0:
			return "none"
		}
		return inline(*o.Drag, per)
	}
	if c.A.Drag != nil || c.B.Drag != nil {
		out.add(versus{"drag of the seals, most", drag(c.A), drag(c.B), ""})
	}
	latch := func(o assess.Option) string {
		if o.Latching == nil {
			return "not known"
		}
		return strings.TrimPrefix(strings.TrimSuffix(leftToLatch(*o.Latching, unit, per), "."), "to latch ")
	}
	if c.A.Latching != nil || c.B.Latching != nil {
		out.add(versus{"latching", latch(c.A), latch(c.B), ""})
	}
	return out
}

// stretch is a range of angles with the openings of both options that hold there.
type stretch struct {
	over engine.Opening
	a, b *engine.Opening
}

// stretched cuts the angles of two options at the ends of all their ranges, and joins what nothing parts. Forces at one angle, or
// at angles that nobody noted, stand by themselves.
func stretched(a, b []engine.Opening) []stretch {
	var out []stretch
	var cuts []quantity.Angle
	for _, x := range slices.Concat(a, b) {
		if spans(x) {
			cuts = append(cuts, x.From.Value, x.To.Value)
		}
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	for i := range max(len(cuts)-1, 0) {
		over := engine.Opening{}
		over.From.Value, over.From.Known, over.To.Value, over.To.Known = cuts[i], true, cuts[i+1], true
		s := stretch{over, covering(a, cuts[i], cuts[i+1]), covering(b, cuts[i], cuts[i+1])}
		switch last := len(out) - 1; {
		case s.a == nil && s.b == nil:
		case last >= 0 && out[last].a == s.a && out[last].b == s.b:
			out[last].over.To = s.over.To
		default:
			out = append(out, s)
		}
	}
	same := func(x engine.Opening) func(engine.Opening) bool {
		return func(y engine.Opening) bool { return y.From == x.From && y.To == x.To }
	}
	for i := range a {
		if !spans(a[i]) {
			s := stretch{a[i], &a[i], nil}
			if k := slices.IndexFunc(b, same(a[i])); k >= 0 {
				s.b = &b[k]
			}
			out = append(out, s)
		}
	}
	for i := range b {
		if !spans(b[i]) && !slices.ContainsFunc(a, same(b[i])) {
			out = append(out, stretch{b[i], nil, &b[i]})
		}
	}
	return out
}

// spans is true of a force over a range of angles that is known.
func spans(x engine.Opening) bool {
	return x.From.Known && x.To.Known && x.From.Value < x.To.Value
}

func covering(list []engine.Opening, from, to quantity.Angle) *engine.Opening {
	i := slices.IndexFunc(list, func(x engine.Opening) bool { return spans(x) && x.From.Value <= from && to <= x.To.Value })
	if i < 0 {
		return nil
	}
	return &list[i]
}

// opened is the force that opens a door at some angles, and what of it the seals add.
func opened(x *engine.Opening, row stretch, per float64) string {
	if x == nil {
		return "not known"
	}
	text := strings.Join(strings.Fields(banded3(*x, per)), " ")
	seals := strings.Join(strings.Fields(sealed(*x, per)), " ")
	switch {
	case x.Measured:
		text += ", measured with the seals"
	case x.Drag != nil && x.Drag.High == 0:
	case x.Drag != nil:
		text += ", of it the seals " + seals
	}
	if x.From.Value != row.over.From.Value || x.To.Value != row.over.To.Value {
		text += "; the most from " + angles(*x)
	}
	return text
}

// lasts tells what both were tested for, and what is left after the life that is asked.
func lasts(c *explain.Comparison) versusPart {
	out := versusPart{title: "Life"}
	perDay := c.Result.Door.Duty.CyclesPerDay
	tested := func(o assess.Option) string {
		switch {
		case o.Life == nil:
			return "not known"
		case perDay.Known && perDay.Value > 0:
			return openings(o.Life.Likely) + " openings, " + policies.Significant(wear.Years(o.Life.Likely, perDay.Value), math.Floor) + " years"
		}
		return openings(o.Life.Likely) + " openings"
	}
	if c.A.Life != nil || c.B.Life != nil {
		out.add(versus{"tested for", tested(c.A), tested(c.B), ""})
	}
	a, b := c.A.Worn(), c.B.Worn()
	if a == nil && b == nil {
		return out
	}
	u := unitOf(c.Result)
	height := func(w *engine.Worn) string {
		if w == nil {
			return "-"
		}
		return lost(w, c.Result.System)
	}
	end := func(o assess.Option) string {
		if o.Worn() == nil {
			return "-"
		}
		return then(o, u)
	}
	out.rest = " of " + years(c.Result.Door.Duty.Life.Value)
	out.add(versus{"height lost, " + string(c.Result.System), height(a), height(b), ""})
	out.add(versus{"leaks, " + u.name, end(c.A), end(c.B), ""})
	return out
}

// fits tells what is to be done on site, and how far it may be off.
func fits(c *explain.Comparison) versusPart {
	out := versusPart{title: "On site"}
	spare := func(o assess.Option) string {
		switch {
		case o.NothingToSet:
			return "nothing to set"
		case o.InRange != nil && !*o.InRange:
			return "none, outside the range that the seal is made for"
		case o.Tolerance == nil:
			return "not known"
		}
		return o.Tolerance.In(c.Result.System)
	}
	if spare(c.A) != "not known" || spare(c.B) != "not known" {
		out.add(versus{"to spare either way", spare(c.A), spare(c.B), ""})
	}
	hangs := func(o assess.Option) string {
		var all []string
		for _, x := range o.Contact {
			if x.Hangs > 0 {
				all = append(all, "hangs "+x.Hangs.In(c.Result.System)+" below leaf "+clean(x.Leaf)+" at the widest gap")
			}
		}
		return strings.Join(all, "; ")
	}
	out.add(versus{"carrier", hangs(c.A), hangs(c.B), ""})
	do := func(o assess.Option) string {
		return strings.Join(slices.Concat(onSite(c.Result, o), short(o, c.Result.System)), " ")
	}
	out.add(versus{"to do", do(c.A), do(c.B), ""})
	return out
}
