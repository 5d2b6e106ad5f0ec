package engine

import (
	"cmp"
	"math"
	"slices"

	"sillwright/engine/doubt"
	"sillwright/engine/force"
	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

// Opening is the force at the latch edge that opens a door with the seals of an option fitted, the most over a range of angles, or that
// at one: of a sliding or folding leaf along its track.
type Opening struct {
	From, To door.Maybe[quantity.Angle]

	// Low is the least that the most can be, over LowFrom to LowTo: of a stretch of a wider reading, those of the reading, for nobody
	// says where in it the door was heaviest. High is not known where the drag is not, as where the gap was not read while the door opens.
	Low, Likely, High door.Maybe[quantity.Force]
	LowFrom, LowTo    door.Maybe[quantity.Angle]

	Door     *doubt.Range // of the door alone, N; nil: measured with the seals, or known from below only
	Drag     *doubt.Range // that the seals add, N; nil: measured with them, or not known
	Wider    bool         // the force of the door was read over more angles: here it is that at most
	Measured bool         // with the seals fitted; else an estimate
	Table    bool         // the force of the door is of a table that is from memory: shown, and no rule rests on it
	At       string       // where the force of the door, or of both, stands in the spec
}

// own is the force of the door alone over a range of angles.
type own struct {
	from, to          quantity.Angle
	low, likely, high door.Maybe[quantity.Force]
	at                string
	table             bool // see Opening.Table
}

// openings adds the drag of an option's seals to the force of the door alone, angle by angle; none where that is not known.
//
//	low = F + least drag in the band of F;  likely, high = F + greatest drag in the stretch
//
// F the most in its band as it was read without the bottom seal, or by the size of the closer (force.Opening). A band is cut into
// stretches at the angles at which the gap was read, and at the ends of readings with the seals fitted, which stand for themselves; F may
// have been read where they were, so that of the rest of such a band no low end is known. Between two angles that were read the drag
// is taken to be no more than at either; the closed door is the first. Beyond the last nothing is known upwards, and no drag is counted
// downwards. Of several leaves the one that drags most, or least, counts: the spec does not say whose force was read.
//
// Range and errors: as drags. Deviations: the force was read somewhere in its band, where the drag may be less than the greatest; a
// hump between two angles is not seen; force and drag are those of a slow steady pull.
func openings(d *door.Door, o door.Option, m *Option) []Opening {
	fits, alone, swing := o.OpeningForce, ownForces(d), swingOf(d, m)
	many := len(fits.Bands) + len(fits.Unplaced) + len(d.Leaf.OpeningForce.Unplaced)
	for _, b := range alone {
		many += len(swing.cuts(b, fits.Bands))
	}
	out := make([]Opening, 0, many)
	for _, b := range fits.Bands {
		out = append(out, fitted(angleAt(b.From, b.Pointer), angleAt(b.To, b.Pointer), b.Force, b.Pointer))
	}
	for _, b := range fits.Unplaced {
		out = append(out, fitted(b.From, b.To, b.Force, b.Pointer))
	}
	for i := range out {
		out[i].LowFrom, out[i].LowTo = out[i].From, out[i].To
	}
	for _, b := range alone {
		out = stretches(out, b, fits.Bands, swing)
	}
	if !slices.ContainsFunc(fits.Bands, func(r door.ForceBand) bool { return r.From < r.To }) {
		for _, b := range d.Leaf.OpeningForce.Unplaced {
			out = append(out, somewhere(b, swing))
		}
	}
	if len(out) == 0 {
		return nil
	}
	slices.SortStableFunc(out, func(a, b Opening) int {
		return cmp.Or(cmp.Compare(a.From.Value, b.From.Value), cmp.Compare(a.To.Value, b.To.Value))
	})
	return out
}

// somewhere is a reading of the door alone at angles that nobody noted: what seals add there nobody can say, unless they rub on nothing.
func somewhere(b door.UnplacedForce, swing swingDrag) Opening {
	out := Opening{From: b.From, To: b.To, Low: b.Force, At: b.Pointer}
	if swing.rubsNowhere() && b.Force.Known {
		f := doubt.Exactly(b.Force.Value.Newtons())
		out.Likely, out.High, out.Door, out.Drag = b.Force, b.Force, &f, &doubt.Range{}
	}
	return out
}

// stretches adds those of one band, less what was read with the seals fitted; neighbours that say the same are one.
func stretches(out []Opening, b own, read []door.ForceBand, swing swingDrag) []Opening {
	first := len(out)
	cuts := swing.cuts(b, read)
	whole := true
	for i := range max(len(cuts)-1, 1) {
		from, to := cuts[i], cuts[min(i+1, len(cuts)-1)]
		whole = whole && !within(from, to, read)
	}
	for i := range max(len(cuts)-1, 1) {
		from, to := cuts[i], cuts[min(i+1, len(cuts)-1)]
		if within(from, to, read) {
			continue
		}
		next := together(b, from, to, swing)
		if !whole {
			next.Low, next.LowFrom, next.LowTo = door.Maybe[quantity.Force]{}, next.From, next.To
		}
		if last := len(out) - 1; last >= first && out[last].continues(next) {
			out[last].To, out[last].LowTo = next.To, next.LowTo
			continue
		}
		out = append(out, next)
	}
	for i, x := range out[first:] {
		out[first+i].Wider = !b.table && (x.From.Value != b.from || x.To.Value != b.to)
	}
	return out
}

func angleAt(a quantity.Angle, pointer string) door.Maybe[quantity.Angle] {
	return door.Maybe[quantity.Angle]{Value: a, Known: true, Pointer: pointer}
}

// fitted is a reading with the seals: exact.
func fitted(from, to door.Maybe[quantity.Angle], f door.Maybe[quantity.Force], at string) Opening {
	return Opening{From: from, To: to, Low: f, Likely: f, High: f, Measured: true, At: at}
}

// within says whether a reading with the seals covers a stretch of angles.
func within(from, to quantity.Angle, read []door.ForceBand) bool {
	return slices.ContainsFunc(read, func(r door.ForceBand) bool {
		return r.From <= from && to <= r.To && (r.From < r.To || from == to)
	})
}

// Stretch says whether it is part of a wider reading of the door.
func (x Opening) Stretch() bool {
	return x.LowFrom.Known && (x.LowFrom.Value != x.From.Value || x.LowTo.Value != x.To.Value)
}

// continues says whether the next stretch of a band says the same of the angles after this one.
func (x Opening) continues(next Opening) bool {
	same := (x.Drag == nil) == (next.Drag == nil) && (x.Drag == nil || *x.Drag == *next.Drag)
	return same && x.To.Value == next.From.Value && x.Low == next.Low && x.Likely == next.Likely && x.High == next.High
}

// together adds the drag over a stretch of a band to the force of the door in that band.
func together(b own, from, to quantity.Angle, swing swingDrag) Opening {
	out := Opening{From: angleAt(from, b.at), To: angleAt(to, b.at), LowFrom: angleAt(b.from, b.at), LowTo: angleAt(b.to, b.at), At: b.at, Table: b.table}
	if b.table { // it is the least at any angle
		out.LowFrom, out.LowTo = out.From, out.To
	}
	least := 0.0
	if whole, read := swing.over(b.from, b.to); read {
		least = whole.Low
	}
	if b.low.Known {
		out.Low = plusDrag(b.low, least, math.Floor)
	}
	if b.high.Known {
		out.Door = &doubt.Range{Low: b.low.Value.Newtons(), Likely: b.likely.Value.Newtons(), High: b.high.Value.Newtons()}
	}
	stretch, read := swing.over(from, to)
	if !read {
		return out
	}
	out.Drag = &stretch
	if b.high.Known {
		out.Likely, out.High = plusDrag(b.likely, stretch.Likely, math.Round), plusDrag(b.high, stretch.High, math.Ceil)
	}
	return out
}

// plusDrag adds newtons to an exact force.
func plusDrag(f door.Maybe[quantity.Force], drag float64, round func(float64) float64) door.Maybe[quantity.Force] {
	f.Value += femtonewtons(drag, round)
	return f
}

// femtonewtons rounds a force in newtons to four figures, so that the same spec gives the same bytes on every machine.
func femtonewtons(newtons float64, round func(float64) float64) quantity.Force {
	return quantity.Force(math.Round(figures(newtons, round) * float64(quantity.Newton)))
}

// ownForces are those of the door alone, as read; else by the size of its closer, as far as a table states them.
func ownForces(d *door.Door) []own {
	var out []own
	readings := d.Leaf.OpeningForce
	for _, b := range readings.Bands {
		out = append(out, own{from: b.From, to: b.To, low: b.Force, likely: b.Force, high: b.Force, at: b.Pointer})
	}
	narrowest, widest, ok := widths(d)
	size := d.Leaf.CloserSize
	if readings.Given() || !size.Known || !turns(d) || !ok {
		return out
	}
	const shut, bounded, right = quantity.Angle(force.Shut) * quantity.Degree, quantity.Angle(force.Bounded) * quantity.Degree, 90 * quantity.Degree
	for _, b := range []struct{ from, to quantity.Angle }{{0, shut}, {shut, bounded}, {bounded, right}} {
		least, err := force.Opening(size.Value, widest, b.from == 0)
		most, errMost := force.Opening(size.Value, narrowest, b.from == 0)
		if doubt.First(err, errMost) != nil {
			return nil // a leaf wider than any
		}
		x := own{from: b.from, to: b.to, at: size.Pointer, table: true, low: known(least.Low, math.Floor)}
		if b.to <= bounded {
			x.likely, x.high = known((least.Likely+most.Likely)/2, math.Round), known(most.High, math.Ceil)
		}
		out = append(out, x)
	}
	return out
}

func known(newtons float64, round func(float64) float64) door.Maybe[quantity.Force] {
	return door.Maybe[quantity.Force]{Value: femtonewtons(newtons, round), Known: true}
}

// turns says whether the leaf swings about an edge.
func turns(d *door.Door) bool {
	return slices.Contains([]string{"hinged", "pair", "pivot"}, d.Leaf.Operation.Value)
}

// widths are those of the narrowest and of the widest leaf, m; false where one is not known.
func widths(d *door.Door) (narrowest, widest float64, ok bool) {
	for i, l := range d.Leaves {
		if !l.Width.Known {
			return 0, 0, false
		}
		w := l.Width.Value.Metres()
		if i == 0 {
			narrowest = w
		}
		narrowest, widest, ok = min(narrowest, w), max(widest, w), true
	}
	return narrowest, widest, ok
}
