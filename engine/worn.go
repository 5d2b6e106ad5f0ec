package engine

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"sillwright/engine/catalogue"
	"sillwright/engine/doubt"
	"sillwright/engine/drag"
	"sillwright/engine/seal"
	"sillwright/engine/wear"
	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

// Worn is what is left of the bottom seals of an option after the life that is asked. An estimate, as its parts: see package wear.
type Worn struct {
	Losses     []Loss       // of every seal that is set and loses height, leaf by leaf
	Leakage    *seal.Result // at the end of the life, at the pressure of the leakage at handover, m3/s; nil: not known, see Missing
	Calibrated bool         // a life test or a wear rate of their own stands behind every seal in Losses
	Missing    []Missing    // what keeps it from being known
	Taken      []string
}

// Loss is the height that a seal loses, at the place where it is likely to lose most.
type Loss struct {
	Leaf, Seal string
	At         quantity.Length // from the hinge edge; of a sliding leaf from one end
	Height     doubt.Range     // m, with what the error of the readings does to it
	New        float64         // widest daylight at handover, m
	Daylight   doubt.Range     // m, at the place where it is likely to be widest in the end, by the gap as read; nothing: it stays on the floor
	DaylightAt quantity.Length
	Leaves     *doubt.Range // years after which it leaves the floor where it first does, infinite beyond the life; nil: it does not, or had daylight when new
}

// Asked is how many cycles a door is asked for over its life; false where the spec does not say.
func Asked(d *door.Door) (cycles float64, ok bool) {
	if !d.Duty.CyclesPerDay.Known || !d.Duty.Life.Known {
		return 0, false
	}
	cycles = wear.Asked(d.Duty.CyclesPerDay.Value, d.Duty.Life.Value)
	return cycles, cycles > 0
}

// worn finds what the life that is asked takes off the bottom seals of an option, and what it leaks then.
//
//	lost at x: wear.Seal.Loss with rest overlap(x) and the way 2 x angle through the overlaps at each angle that was read, pi x in all
//	where it opens to 90 degrees; a sliding leaf rubs 2 W; a roller or sectional door rubs nothing, a gasket neither
//	leakage: every edge with the seals worn (seal.Fitted.Wear), their losses one more doubt each, summed as at handover (seal.Total)
//
// The angles are straight between those that were read, and held from the last up to 90 degrees; where none was read the floor is
// taken to run on as under the closed leaf. Nothing is lost where a drop seal falls: it follows the floor. Not counted: seals of the
// other edges and mechanisms. The reading error widens the height that is lost; the leakage it moves as at handover, over seals worn
// by the gap as read. nil where the spec asks for no cycles, or no seal is at the bottom.
func (shared *scoring) worn(o door.Option, new *Leakage, missing []Missing) *Worn {
	cycles, ok := Asked(shared.d)
	if !ok || !hasBottom(o, shared.c) {
		return nil
	}
	w := &wearing{scoring: shared, option: o, cycles: cycles, out: &Worn{Calibrated: true}, worn: map[string][]wornSeal{}}
	for _, l := range shared.truths {
		w.leaf(l)
	}
	w.out.Calibrated = w.out.Calibrated && len(w.out.Losses) > 0
	if new == nil {
		w.out.Missing = append(w.out.Missing, missing...)
	}
	if len(w.out.Missing) == 0 {
		w.leakage(new)
	}
	return w.out
}

func hasBottom(o door.Option, c *catalogue.Catalogue) bool {
	return slices.ContainsFunc(o.Fits, func(f door.Fit) bool {
		entry, ok := c.Seal(f.Seal.Value)
		return f.Edge == "bottom" && ok && entry.Kind != "none"
	})
}

// wearing is one option at work.
type wearing struct {
	*scoring
	option door.Option
	cycles float64
	out    *Worn
	worn   map[string][]wornSeal // by the pointer of the leaf's gap: its seals as the air meets them
}

// wornSeal is the height that a seal loses along its leaf; nothing where it follows the floor.
type wornSeal struct {
	name   string
	at     []float64 // m
	losses []doubt.Range
}

func (w *wearing) lack(pointer, what string) {
	if m := (Missing{pointer, what}); !slices.Contains(w.out.Missing, m) {
		w.out.Missing = append(w.out.Missing, m)
	}
}

func (w *wearing) take(what string) {
	if !slices.Contains(w.out.Taken, what) {
		w.out.Taken = append(w.out.Taken, what)
	}
}

// leaf wears every seal at the bottom of a leaf.
func (w *wearing) leaf(l *truth) {
	for _, f := range inOrder(fitsOf(w.option, "bottom", l.ID)) {
		entry, ok := w.c.Seal(f.Seal.Value)
		if ok && entry.Kind == "none" {
			continue
		}
		if ok && isDrop(entry) {
			w.take(entry.Name + " to fall and to close as it did when new")
			w.worn[l.GapPointer] = append(w.worn[l.GapPointer], wornSeal{name: entry.Name})
			continue
		}
		if !ok || !f.Overlap.Known || !l.Width.Known || len(l.Readings) == 0 {
			w.lack(f.Pointer, "the seal, its setting, the width of leaf "+l.ID+" and the gap under it")
			continue
		}
		s, err := w.seal(l, f, entry)
		if err != nil {
			w.lack(f.Seal.Pointer, err.Error())
			continue
		}
		w.worn[l.GapPointer] = append(w.worn[l.GapPointer], s)
	}
}

// seal wears one of them.
func (w *wearing) seal(l *truth, f door.Fit, entry *catalogue.Seal) (wornSeal, error) {
	if l.noLine != nil {
		return wornSeal{}, l.noLine
	}
	c := contact(l.Leaf, f, entry)
	places, err := w.places(l, c)
	if err != nil {
		return wornSeal{}, err
	}
	most := 0.0
	for _, p := range places {
		most = max(most, p.Rest)
		for _, s := range p.Sweep {
			most = max(most, s.Overlap)
		}
	}
	floor := cmp.Or(w.d.Floor.Swept.Value, w.d.Floor.UnderSeal.Value, "unknown")
	friction, err := drag.Friction(floor, entry.Material())
	if err != nil {
		return wornSeal{}, err
	}
	wears, calibrated, err := entry.Wearing(floor, friction.Likely, most, len(places[0].Sweep) == 0)
	if err != nil {
		return wornSeal{}, err
	}
	w.out.Calibrated = w.out.Calibrated && calibrated
	course, err := wears.Over(w.cycles)
	if err != nil {
		return wornSeal{}, err
	}
	out := wornSeal{name: entry.Name}
	for _, p := range places {
		b, err := course.Loss(p.Place)
		if err != nil {
			return wornSeal{}, err
		}
		out.at, out.losses = append(out.at, p.at), append(out.losses, b.Range)
	}
	loss, err := w.lost(course, places, out.losses, errorOf(l.ReadingError).Metres())
	if err != nil {
		return wornSeal{}, err
	}
	loss.Leaf, loss.Seal = l.ID, entry.Name
	w.out.Losses = append(w.out.Losses, loss)
	return out, nil
}

// lost is what a seal loses where it is likely to lose most, of its losses by place with the gap as read.
func (w *wearing) lost(course *wear.Course, places []spot, losses []doubt.Range, off float64) (Loss, error) {
	most := slices.MaxFunc(losses, func(a, b doubt.Range) int { return cmp.Compare(a.Likely, b.Likely) }).Likely
	out := Loss{Daylight: doubt.Exactly(math.Inf(-1))}
	var resting []wear.Place
	var of []doubt.Range
	for i, p := range places {
		lost := losses[i]
		if lost.Likely == most { // an error of the overlaps leaves what is likely as it is
			p.Error = off
			unsure, err := course.Loss(p.Place)
			if err != nil {
				return Loss{}, err
			}
			p.Error = 0
			out.high(p, unsure.Range)
		}
		out.daylight(p, lost)
		if p.Rest > 0 && lost.High > p.Rest+seen {
			resting, of = append(resting, p.Place), append(of, lost)
		}
	}
	if at, cycles := course.First(resting, of); at >= 0 {
		perDay := w.d.Duty.CyclesPerDay.Value
		years := doubt.Between(wear.Years(cycles.Low, perDay), wear.Years(cycles.Likely, perDay), wear.Years(cycles.High, perDay))
		out.Leaves = &years
	}
	return out.settled(), nil
}

// seen is daylight that anybody could see, m: a seal that has worn until it just touches is still on the floor.
const seen = 1e-5

// high counts in what is lost at a place, with the error of its overlaps.
func (l *Loss) high(p spot, lost doubt.Range) {
	if worse(lost, l.Height) {
		l.Height, l.At = lost, quantity.OfMetres(p.at)
	}
}

// daylight counts in what light a place has, when new and in the end.
func (l *Loss) daylight(p spot, lost doubt.Range) {
	l.New = max(l.New, -p.Rest)
	if light := doubt.Between(lost.Low-p.Rest, lost.Likely-p.Rest, lost.High-p.Rest); worse(light, l.Daylight) {
		l.Daylight, l.DaylightAt = light, quantity.OfMetres(p.at)
	}
}

func worse(a, b doubt.Range) bool {
	return cmp.Or(cmp.Compare(a.Likely, b.Likely), cmp.Compare(a.High, b.High)) > 0
}

// settled is the loss with daylight where there is some.
func (l Loss) settled() Loss {
	l.Daylight = doubt.Between(max(l.Daylight.Low, 0), max(l.Daylight.Likely, 0), max(l.Daylight.High, 0))
	if l.Daylight.High == 0 {
		l.DaylightAt = 0
	}
	return l
}

// leakage wears the edges under the paths at handover.
func (w *wearing) leakage(new *Leakage) {
	flows := slices.Clone(new.flows)
	for _, counted := range new.Counted {
		i := slices.IndexFunc(new.bottoms, func(b bottomEdge) bool { return b.flow == counted.flow })
		if i < 0 {
			continue
		}
		f, err := w.edge(new, new.bottoms[i].Edge, w.worn[counted.Pointer])
		if err != nil {
			w.lack(counted.Pointer, err.Error())
			return
		}
		flows[counted.flow] = f
	}
	total := seal.Total(flows...)
	w.out.Leakage = &total
}

// edge is the flow of an edge with its seals worn, each seal's loss one more doubt.
func (w *wearing) edge(new *Leakage, edge seal.Edge, worn []wornSeal) (seal.Flow, error) {
	fresh := edge.Seals
	with := func(moved int, end func(doubt.Range) float64) (seal.Edge, error) {
		out := edge
		out.Seals = slices.Clone(fresh)
		for i, s := range worn {
			losses := make([]float64, len(s.losses))
			for k, l := range s.losses {
				losses[k] = l.Likely
				if i == moved {
					losses[k] = end(l)
				}
				if at := fresh[i].Overlap + edge.Line.Widest() - edge.Line.At(s.at[k]); untested(fresh[i], at-losses[k]) {
					return out, fmt.Errorf("a test of %s at an overlap of %.2g mm, as it has when it is worn", s.name, 1000*(at-losses[k]))
				}
			}
			if len(losses) == 0 {
				continue
			}
			fitted, err := fresh[i].Wear(edge.Line, s.at, losses)
			if err != nil {
				return out, err
			}
			out.Seals[i] = fitted
		}
		return out, nil
	}
	likely, err := with(-1, nil)
	if err != nil {
		return seal.Flow{}, err
	}
	f, err := likely.Leakage(new.Pressure, new.air)
	if err != nil {
		return seal.Flow{}, err
	}
	for i, s := range worn {
		if len(s.losses) == 0 {
			continue
		}
		effect := doubt.Effect{Doubt: doubtWear, Of: s.name}
		for _, end := range []struct {
			of  func(doubt.Range) float64
			out *float64
		}{{func(r doubt.Range) float64 { return r.Low }, &effect.Low}, {func(r doubt.Range) float64 { return r.High }, &effect.High}} {
			e, err := with(i, end.of)
			if err != nil {
				return seal.Flow{}, err
			}
			if *end.out, err = e.Likely(new.Pressure, new.air); err != nil {
				return seal.Flow{}, err
			}
		}
		f.Effects = append(f.Effects, effect)
	}
	return f, nil
}

var doubtWear = doubt.Own("wear and set", "measure how much height the seal has lost after a year, or give what it lost in a life test on such a floor (worn) in a catalogue of your own")
