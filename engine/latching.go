package engine

import (
	"math"
	"slices"

	"sillwright/engine/catalogue"
	"sillwright/engine/doubt"
	"sillwright/engine/force"
	"sillwright/schema/door"
	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// Pressure is what the pressure on the closed leaf does at the latch edge, N, at the least and at the most that the spec says; of
// several leaves on the widest. It holds the leaf shut, or pushes it open and keeps it from latching.
type Pressure struct {
	Least, Most          quantity.Pressure // outside less inside
	HeldShut, PushedOpen float64
}

// Latching is what is left of the force that closes the leaf over its last degrees, at the latch edge.
type Latching struct {
	Low, Likely, High door.Maybe[quantity.Force] // Low and Likely are not known where the drag is not; below 0 it does not latch
	Measured          bool                       // the closing force was; else by the size of the closer
	Pressed           bool                       // the pressure that pushes the leaf open is counted
	From              []string
}

// pressed finds the force of the pressure on a leaf; nil where none is given, or where it, the size of a leaf, or the way it opens is not
// known, with the reasons. A leaf that slides or folds it presses on guides and tracks, and what that takes is not predicted.
func pressed(d *door.Door) (*Pressure, []Missing) {
	p := d.Site.Pressure
	if !p.Given {
		return nil, nil
	}
	if why := unpressed(d); len(why) > 0 {
		return nil, why
	}
	_, widest, _ := widths(d)
	out := &Pressure{Least: p.From.Value, Most: p.To.Value}
	for _, dp := range []quantity.Pressure{p.From.Value, p.To.Value} {
		f, err := force.Pressure(float64(dp)/float64(quantity.Pascal), widest, d.Leaf.Height.Value.Metres(), widest)
		if err != nil { // a leaf larger than any
			return nil, []Missing{{d.Leaf.Height.Pointer, err.Error()}}
		}
		if d.Leaf.Opens.Value == "out" {
			f = -f // what presses from outside holds it shut
		}
		out.PushedOpen, out.HeldShut = max(out.PushedOpen, f), max(out.HeldShut, -f)
	}
	return out, nil
}

// unpressed says what keeps the force of a pressure from being computed.
func unpressed(d *door.Door) []Missing {
	op, p := d.Leaf.Operation, d.Site.Pressure
	if op.Known && !turns(d) {
		return []Missing{{op.Pointer, "it presses a leaf that does not swing on its guides, and what that takes to move or to close is not predicted; feel it in wind"}}
	}
	var out []Missing
	need := func(known bool, pointer, what string) {
		if !known {
			out = append(out, Missing{pointer, what + " is not known"})
		}
	}
	need(op.Known, op.Pointer, "how the door moves")
	need(p.From.Known, p.From.Pointer, "the least pressure")
	need(p.To.Known, p.To.Pointer, "the greatest pressure")
	need(d.Leaf.Height.Known, d.Leaf.Height.Pointer, "the height of the leaf")
	need(d.Leaf.Opens.Known, d.Leaf.Opens.Pointer, "which way the leaf opens")
	need(len(d.Leaves) > 0, "/leaves", "the width of the leaf")
	for _, l := range d.Leaves {
		need(l.Width.Known, l.Width.Pointer, "the width of leaf "+l.ID)
	}
	return out
}

// latching finds what the seals and the pressure leave of the force that closes the leaf; nil where that is not known.
//
//	spare = closing force - drag of the closed seals - greatest force of the pressure that pushes the leaf open
//
// The closing force is that of the spec, or by the size of the closer (force.Closing). Low and high end have each what is worst and best
// for latching, and both the pressure at its greatest. Where the spec gives no pressure none is counted; where it gives one whose force
// is not known, or where the frame must press the plunger of a drop seal, low is not known.
//
// Deviations: the drag is that of a seal whose tips trail; where the leaf turns back they stand against it until they flip over, which
// takes more for a few millimetres. By the size of a closer, what hinges, gaskets and latch take is not counted; a closing force that
// was read holds what acts before the latch. A leaf in motion may latch on less.
func latching(d *door.Door, o door.Option, c *catalogue.Catalogue, m *Option) *Latching {
	closing, out := closingForce(d)
	if out == nil {
		return nil
	}
	push, pushed := 0.0, true
	if p := d.Site.Pressure; p.Given {
		out.From = append(out.From, p.Pointer)
		if pushed = m.Pressure != nil; pushed {
			push, out.Pressed = m.Pressure.PushedOpen, true
		}
	}
	plunger := slices.ContainsFunc(o.Fits, func(f door.Fit) bool {
		entry, ok := c.Seal(f.Seal.Value)
		return f.Edge == "bottom" && ok && isDrop(entry)
	})
	shut, rubs := swingOf(d, m).over(0, 0)
	out.High = known(closing.High-shut.Low-push, math.Ceil)
	if rubs && pushed && !plunger {
		out.Low = known(closing.Low-shut.High-push, math.Floor)
		out.Likely = known(closing.Likely-shut.Likely-push, math.Round)
	}
	return out
}

// closingForce is the force over the last degrees, N, and what it rests on.
func closingForce(d *door.Door) (doubt.Range, *Latching) {
	if f := d.Leaf.ClosingForce; f.Known {
		return doubt.Exactly(f.Value.Newtons()), &Latching{Measured: true, From: []string{f.Pointer}}
	}
	narrowest, widest, ok := widths(d)
	size := d.Leaf.CloserSize
	if !size.Known || !ok || !turns(d) {
		return doubt.Range{}, nil
	}
	least, err := force.Closing(size.Value, widest)
	most, errMost := force.Closing(size.Value, narrowest)
	if doubt.First(err, errMost) != nil {
		return doubt.Range{}, nil // a leaf wider than any
	}
	return doubt.Between(least.Low, (least.Likely+most.Likely)/2, most.High), &Latching{From: []string{size.Pointer}}
}

// putOpenings adds the forces of an option.
func putOpenings(facts fact.Set, d *door.Door, o door.Option, m Option) {
	list := []any{}
	for _, x := range m.Openings {
		if x.Table {
			continue // what is from memory decides nothing
		}
		item := map[string]any{"at": x.At}
		putKnown(item, "from", x.From)
		putKnown(item, "to", x.To)
		if x.Stretch() {
			item["low_from"], item["low_to"] = int64(x.LowFrom.Value), int64(x.LowTo.Value)
		}
		putForces(item, x.Low, x.Likely, x.High)
		list = append(list, onTrack(d, item))
	}
	if len(list) > 0 {
		facts["opening_force_sealed"] = fact.Fact{Value: list, At: []string{o.Pointer}, Formula: "force of the door alone and the greatest drag of the seals, or as read with the seals fitted"}
	}
	if l := m.Latching; l != nil && l.Measured {
		item := map[string]any{}
		putForces(item, l.Low, l.Likely, l.High)
		facts["latching_spare"] = fact.Fact{Value: item, At: append([]string{o.Pointer}, l.From...), Formula: "closing force less the drag of the closed seals and the greatest pressure that pushes the leaf open"}
	}
}

func putForces(item map[string]any, low, likely, high door.Maybe[quantity.Force]) {
	putKnown(item, "low", low)
	putKnown(item, "likely", likely)
	putKnown(item, "high", high)
}

func putKnown[T ~int64](item map[string]any, name string, m door.Maybe[T]) {
	if m.Known {
		item[name] = int64(m.Value)
	}
}
