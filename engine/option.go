package engine

import (
	"fmt"
	"slices"
	"sync"

	"sillwright/engine/air"
	"sillwright/engine/catalogue"
	"sillwright/engine/doubt"
	"sillwright/engine/seal"
	"sillwright/schema"
	"sillwright/schema/door"
	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

const (
	// UsualPressure is the pressure that leakage is given at when the spec has no target:
	// the reference pressure of fan tests of buildings (ISO 9972).
	UsualPressure = 50.0
	// TakenReadingError is taken for a gap reading whose error is not given: a steel rule
	// or wedge held under a door. Common practice, no published source.
	TakenReadingError = quantity.Millimetre / 2
	// fewReadings is how many gap readings a leaf needs at least to show a fall or a hump.
	fewReadings = 3
)

// Option is a set of seals with what the engine found.
type Option struct {
	ID      string
	Title   string
	Contact []Contact // of every bottom seal that is set, on every leaf with readings
	Leakage *Leakage  // nil: not known, see Missing
	Missing []Missing // what keeps the leakage from being known
	Taken   []string  // what was taken because the spec does not say
	Set     *bool     // every bottom seal is set, and can be set so; nil: not said
	InRange *bool     // every bottom seal is within the overlap it is made for; nil: not known

	Drag      *doubt.Range     // greatest force at the latch edge that the bottom seals add, N; nil: not known, see Undragged
	Undragged []Missing        // why the drag is not known, each a clause, as in "brush-fine-15 is not set"
	Openings  []Opening        // force that opens the door with the seals fitted, by angle; none: not known
	Pressure  *Pressure        // of the air on the closed leaf; nil: not known, see Unpressed
	Unpressed []Missing        // why the force of a pressure that is given is not known, each a clause
	Latching  *Latching        // what is left of the force that closes the leaf; nil: that is not known
	Life      *doubt.Range     // cycles that the seals were tested for, of the one with the fewest; nil: not known
	Tolerance *quantity.Length // how far a setting may be off either way with every bottom seal in its range; nil: not known

	House *House // what it means to the whole house; nil: the spec does not ask, or the leakage is not known

	worn func() *Worn // what is left after the life that is asked: see Option.Worn

	NothingToSet bool // every bottom seal finds the floor by itself, or there is none

	Falls  []Fall  // of the drop seals that are to be adjusted, on every leaf with readings
	Offers []Offer // the settings to choose from, smallest overlap first, where the program is to find one
}

// Worn is what is left after the life that is asked; nil: no life is asked, or no seal is at the bottom. It is found when it is asked
// for first, which several goroutines may do.
func (o Option) Worn() *Worn {
	if o.worn == nil {
		return nil
	}
	return o.worn()
}

// Missing is a thing that is not known, at its place in the spec.
type Missing struct {
	Pointer string
	What    string // as in "the width of leaf A"
}

// Unfit gives a problem for every seal that the catalogue does not hold, and for air and
// pressures that no law here reaches.
func Unfit(d *door.Door, c *catalogue.Catalogue) []schema.Problem {
	var out []schema.Problem
	report := func(pointer, found, allowed, do string) {
		out = append(out, d.Document.Problem(pointer, found, allowed, do))
	}
	look := func(s door.Maybe[string]) {
		if _, ok := c.Seal(s.Value); !ok && s.Known {
			report(s.Pointer, fmt.Sprintf("seal %q", s.Value), schema.Choices(s.Value, c.Names()), "name a seal of the catalogue, or add your own with --seals FILE")
		}
	}
	if _, err := airOf(d); err != nil {
		report("/air", err.Error(), "air as it is at a door", "check temperature and altitude")
	}
	if p := d.Targets.LeakagePressure; p.Known && (p.Value < seal.MinDrop || p.Value > seal.MaxDrop) {
		report(p.Pointer, fmt.Sprintf("%g Pa", p.Value), fmt.Sprintf("%g to %g Pa", seal.MinDrop, seal.MaxDrop), "give the pressure of the test, often 50 Pa")
	}
	for _, o := range d.Options {
		for _, f := range o.Fits {
			look(f.Seal)
		}
	}
	for _, p := range d.Paths {
		look(p.Seal)
	}
	for i, e := range d.Evidence {
		look(door.Maybe[string]{Value: e.Seal, Known: true, Pointer: schema.Pointer("evidence", i, "seal")})
	}
	slices.SortStableFunc(out, schema.ComparePlaces)
	return out
}

// scoring is what the options of a door share.
type scoring struct {
	d        *door.Door
	c        *catalogue.Catalogue
	leaves   []door.Leaf // with their true gaps
	truths   []*truth    // of the same leaves
	air      air.Air
	noAir    error
	pressure float64
	paths    map[int]ownPath      // by their place in the spec, as far as they were asked for
	others   map[float64]*scoring // the same at other pressures, as far as they were asked for
	facts    fact.Set             // that all options have, once one was asked for
	taken    ownPath              // of finish and air
}

func newScoring(d *door.Door, c *catalogue.Catalogue) *scoring {
	s := &scoring{d: d, c: c, pressure: UsualPressure, paths: map[int]ownPath{}, others: map[float64]*scoring{}}
	for i := range d.Leaves {
		t := truthOf(d, &d.Leaves[i])
		s.truths, s.leaves = append(s.truths, t), append(s.leaves, t.Leaf)
	}
	if d.Targets.LeakagePressure.Known {
		s.pressure = d.Targets.LeakagePressure.Value
	}
	s.air, s.noAir = airOf(d)
	taken := &summing{scoring: s, out: &Option{}}
	taken.finish()
	s.taken = ownPath{missing: taken.out.Missing, taken: taken.out.Taken}
	return s
}

// option is all that there is to know of an option.
func (shared *scoring) option(o door.Option) Option {
	return shared.whole(o, shared.set(o))
}

// whole adds to an option as it is set what no rule reads.
func (shared *scoring) whole(o door.Option, out Option) Option {
	out.House = shared.house(o, &out)
	if _, asked := Asked(shared.d); asked {
		leakage, missing := out.Leakage, out.Missing
		out.worn = sync.OnceValue(func() *Worn { return shared.worn(o, leakage, missing) })
	}
	return out
}

// set is an option as it is set, before any wear.
func (shared *scoring) set(o door.Option) Option {
	d, c := shared.d, shared.c
	s := shared.leak(o)
	out := s.out
	if len(out.Missing) == 0 {
		out.Leakage = s.sum()
	}
	out.Contact = contacts(s.leaves, o, c)
	out.Set, out.InRange = settings(s.leaves, o, c, out.Contact)
	out.Tolerance = tolerance(out.InRange, out.Contact)
	out.NothingToSet = nothingToSet(o, c)
	out.Drag, out.Undragged = drags(d, o, c, out.Contact)
	out.Openings = openings(d, o, out)
	out.Pressure, out.Unpressed = pressed(d)
	out.Latching = latching(d, o, c, out)
	out.Life = life(o, c)
	out.Falls = falls(s.leaves, o, c)
	return *out
}

// leak counts every way for air under an option.
func (shared *scoring) leak(o door.Option) *summing {
	s := &summing{scoring: shared, out: &Option{ID: o.ID, Title: o.Title}}
	s.room()
	if s.noAir != nil {
		s.lack("/air", s.noAir.Error()) // Unfit tells it before
	}
	s.again(s.taken)
	if len(s.d.Leaves) == 0 {
		s.lack("/leaves", "the leaves with the gap under each")
	}
	for _, l := range s.truths {
		s.bottom(l, o)
	}
	for i, p := range s.d.Paths {
		s.path(i, p, o)
	}
	s.stray(o)
	return s
}

// errorOf is the error of a reading, as given or as it is taken.
func errorOf(given door.Maybe[quantity.Length]) quantity.Length {
	if given.Known {
		return given.Value
	}
	return TakenReadingError
}

func airOf(d *door.Door) (air.Air, error) {
	if !d.Air.Temperature.Known && !d.Air.Altitude.Known {
		return air.Standard(), nil
	}
	temperature, pressure := 20.0, 101325.0
	if d.Air.Temperature.Known {
		temperature = d.Air.Temperature.Value
	}
	if d.Air.Altitude.Known {
		p, err := air.Pressure(d.Air.Altitude.Value.Metres())
		if err != nil {
			return air.Air{}, err
		}
		pressure = p
	}
	return air.At(temperature, pressure)
}

// fitsOf are the fits at an edge of a leaf, to be read only.
func fitsOf(o door.Option, edge, leaf string) []door.Fit {
	there := func(f *door.Fit) bool { return f.Edge == edge && (f.Leaf == "" || leaf == "" || f.Leaf == leaf) }
	first, past, many := 0, 0, 0
	for i := range o.Fits {
		if there(&o.Fits[i]) {
			if many == 0 {
				first = i
			}
			past, many = i+1, many+1
		}
	}
	if many == past-first { // side by side, as nearly always
		return o.Fits[first:past:past]
	}
	out := make([]door.Fit, 0, many)
	for i := range o.Fits {
		if there(&o.Fits[i]) {
			out = append(out, o.Fits[i])
		}
	}
	return out
}
