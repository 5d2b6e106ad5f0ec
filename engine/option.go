package engine

import (
	"cmp"
	"fmt"
	"slices"

	"sillwright/engine/air"
	"sillwright/engine/catalogue"
	"sillwright/engine/gap"
	"sillwright/engine/seal"
	"sillwright/schema"
	"sillwright/schema/door"
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
}

// Missing is a thing that is not known, at its place in the spec.
type Missing struct {
	Pointer string
	What    string // as in "the width of leaf A"
}

// Leakage is the air through the paths that were counted, with its band.
type Leakage struct {
	seal.Result           // m3/s
	Pressure    float64   // Pa
	Counted     []Counted // largest likely flow first
}

// Counted is the flow of one path.
type Counted struct {
	Path string
	seal.Band
}

// Contact is what a bottom seal finds along its width: overlap at each reading.
type Contact struct {
	Leaf   string
	Seal   string
	Places []Touch
	Length quantity.Length // free length of the seal; 0 if the catalogue does not say
	Least  quantity.Length // overlap that the seal is made for, from
	Most   quantity.Length // and to; 0 if the catalogue does not say
	Hangs  quantity.Length // how far its carrier must hang below the leaf, where the gap is deeper than the seal is long
}

// Touch is one reading with the overlap there.
type Touch struct{ At, Gap, Overlap quantity.Length }

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

// summing collects the paths of one option.
type summing struct {
	d        *door.Door
	c        *catalogue.Catalogue
	air      air.Air
	pressure float64
	out      *Option
	results  []seal.Result
	names    []string
}

func measureOption(d *door.Door, o door.Option, c *catalogue.Catalogue) Option {
	out := Option{ID: o.ID, Title: o.Title}
	s := &summing{d: d, c: c, pressure: UsualPressure, out: &out}
	if d.Targets.LeakagePressure.Known {
		s.pressure = d.Targets.LeakagePressure.Value
	}
	a, err := airOf(d)
	if err != nil {
		s.lack("/air", err.Error()) // Unfit tells it before
	}
	s.air = a
	if toCome(d) {
		s.lack(d.Site.Finish.Pointer, "the gap above the floor finish that is still to come")
	}
	if len(d.Leaves) == 0 {
		s.lack("/leaves", "the leaves with the gap under each")
	}
	for _, l := range d.Leaves {
		s.bottom(l, o)
	}
	for _, p := range d.Paths {
		s.path(p, o)
	}
	s.stray(o)
	if len(out.Missing) == 0 {
		out.Leakage = s.sum()
	}
	out.Contact = contacts(d, o, c)
	out.Set, out.InRange = settings(d, o, c, out.Contact)
	return out
}

// contacts finds what every bottom seal meets, whether or not its leakage can be known.
func contacts(d *door.Door, o door.Option, c *catalogue.Catalogue) []Contact {
	var out []Contact
	for _, l := range d.Leaves {
		for _, f := range fitsOf(o, "bottom", l.ID) {
			entry, ok := c.Seal(f.Seal.Value)
			if ok && entry.Kind != "none" && f.Overlap.Known && len(l.Readings) > 0 {
				out = append(out, contact(l, f, entry))
			}
		}
	}
	return out
}

// settings says whether every bottom seal is set, and whether it is within the overlap it
// is made for. A seal pressed by its whole free height has its carrier on the floor.
func settings(d *door.Door, o door.Option, c *catalogue.Catalogue, contacts []Contact) (set, inRange *bool) {
	can, within, touching := true, true, false
	for _, f := range o.Fits {
		entry, known := c.Seal(f.Seal.Value)
		touches := entry.Kind != "none" && entry.Kind != "drop-seal" // a drop seal finds the floor by itself
		if f.Edge != "bottom" || (known && !touches) {
			continue
		}
		if !known || !f.Overlap.Known {
			return nil, nil
		}
		touching = true
	}
	for _, contact := range contacts {
		for _, t := range contact.Places {
			can = can && (contact.Length == 0 || t.Overlap < contact.Length)
			within = within && (contact.Most == 0 || (t.Overlap >= contact.Least && t.Overlap <= contact.Most))
		}
	}
	if touching && (toCome(d) || len(d.Leaves) == 0 || slices.ContainsFunc(d.Leaves, func(l door.Leaf) bool { return len(l.Readings) == 0 })) {
		return nil, nil // without the gap nobody can say whether it can be set so
	}
	return &can, &within
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

func (s *summing) lack(pointer, what string) {
	m := Missing{pointer, what}
	if !slices.Contains(s.out.Missing, m) {
		s.out.Missing = append(s.out.Missing, m)
	}
}

func (s *summing) take(what string) {
	if !slices.Contains(s.out.Taken, what) {
		s.out.Taken = append(s.out.Taken, what)
	}
}

func (s *summing) add(name string, r seal.Result, err error, pointer string) {
	if err != nil {
		s.lack(pointer, name+": "+err.Error())
		return
	}
	s.results, s.names = append(s.results, r), append(s.names, name)
}

// sum adds the paths: flows at one pressure add, and so do the ends of their bands. The
// local exponent of a sum is the mean of the exponents weighted by flow, which is exact:
// d ln(sum Q)/d ln p = sum(Q n)/sum Q.
func (s *summing) sum() *Leakage {
	out := &Leakage{Pressure: s.pressure}
	var bands []seal.Band
	weighted := 0.0
	weakest := []string{seal.BasisOrifice, seal.BasisCrack, seal.BasisEstimate}
	out.Basis = seal.BasisOrifice
	for i, r := range s.results {
		bands = append(bands, r.Band)
		weighted += r.Likely * r.Exponent
		if slices.Index(weakest, r.Basis) > slices.Index(weakest, out.Basis) {
			out.Basis = r.Basis
		}
		out.Counted = append(out.Counted, Counted{s.names[i], r.Band})
	}
	out.Band = seal.Sum(bands...)
	out.Exponent = 1
	if out.Likely > 0 {
		out.Exponent = weighted / out.Likely
	}
	widest := 0.0
	for _, r := range s.results {
		if w := r.High - r.Low; w > widest {
			widest, out.Largest = w, r.Largest
		}
	}
	slices.SortStableFunc(out.Counted, func(a, b Counted) int { return cmp.Compare(b.Likely, a.Likely) })
	return out
}

// bottom counts the bottom edge of a leaf.
func (s *summing) bottom(l door.Leaf, o door.Option) {
	fits := fitsOf(o, "bottom", l.ID)
	name := "bottom of leaf " + l.ID
	if !l.Width.Known {
		s.lack(l.Width.Pointer, "the width of leaf "+l.ID)
	}
	if len(l.Readings) == 0 {
		s.lack(l.GapPointer+"/readings", "the bottom gap of leaf "+l.ID)
	}
	if len(fits) > 1 {
		s.lack(fits[1].Pointer, "the leakage of two seals on one edge, which is not predicted")
	}
	if !l.Width.Known || len(l.Readings) == 0 || len(fits) > 1 {
		return
	}
	line, err := gap.New(l.Width.Value.Metres(), readingsOf(l))
	if err != nil {
		s.lack(l.GapPointer, err.Error())
		return
	}
	edge := seal.Edge{Line: line, ReadingError: TakenReadingError.Metres(), LeafThickness: s.d.Leaf.Thickness.Value.Metres(), Model: seal.Bare{}}
	if l.ReadingError.Known {
		edge.ReadingError = l.ReadingError.Value.Metres()
	} else {
		s.take(fmt.Sprintf("a reading error of %s mm", TakenReadingError.MM()))
	}
	if len(l.Readings) < fewReadings {
		s.take(fmt.Sprintf("the gap of leaf %s between and beyond %d of its readings (take three or more, both edges among them)", l.ID, len(l.Readings)))
	}
	if len(fits) == 1 && !s.fit(&edge, fits[0], l) {
		return
	}
	if _, bare := edge.Model.(seal.Bare); bare && !s.d.Leaf.Thickness.Known {
		s.lack(s.d.Leaf.Thickness.Pointer, "the thickness of the leaf, which is the depth of a bare gap")
		return
	}
	if !s.d.Leaf.Thickness.Known {
		edge.LeafThickness = quantity.Millimetre.Metres() // only a bare gap has a depth
	}
	r, err := edge.Leakage(s.pressure, s.air)
	s.add(name, r, err, l.GapPointer)
}

// fit puts a bottom seal on an edge; false if something about it is not known.
func (s *summing) fit(edge *seal.Edge, f door.Fit, l door.Leaf) bool {
	entry, ok := s.c.Seal(f.Seal.Value)
	if !ok {
		s.lack(f.Seal.Pointer, "the seal")
		return false
	}
	texture, err := seal.TextureOf(cmp.Or(s.d.Floor.UnderSeal.Value, "unknown"))
	if err != nil {
		s.lack(s.d.Floor.UnderSeal.Pointer, err.Error())
		return false
	}
	_, bare := entry.Model.(seal.Bare)
	if !s.d.Floor.UnderSeal.Known && !bare {
		s.take("any kind of floor under the seal")
	}
	if bare {
		return true
	}
	switch {
	case entry.Model == nil:
		s.lack(f.Seal.Pointer, "the leakage of a "+entry.Kind+", which is not predicted: test it")
		return false
	case f.Auto:
		s.lack(f.Pointer+"/set", "the best setting, which is not computed yet: give an overlap")
		return false
	case !f.Overlap.Known:
		s.lack(f.Pointer+"/set", "how the seal is set: its overlap at the widest reading")
		return false
	}
	edge.Model, edge.Floor, edge.Overlap = entry.Model, texture, f.Overlap.Value.Metres()
	return true
}

func fitsOf(o door.Option, edge, leaf string) []door.Fit {
	var out []door.Fit
	for _, f := range o.Fits {
		if f.Edge == edge && (f.Leaf == "" || leaf == "" || f.Leaf == leaf) {
			out = append(out, f)
		}
	}
	return out
}

func readingsOf(l door.Leaf) []gap.Reading {
	out := make([]gap.Reading, len(l.Readings))
	for i, r := range l.Readings {
		out[i] = gap.Reading{At: r.At.Metres(), Gap: r.Gap.Metres()}
	}
	return out
}

// contact finds the overlap at each reading: that at the widest reading plus how much
// narrower the gap is here.
func contact(l door.Leaf, f door.Fit, entry catalogue.Seal) Contact {
	widest := l.Readings[0].Gap
	for _, r := range l.Readings {
		widest = max(widest, r.Gap)
	}
	out := Contact{Leaf: l.ID, Seal: f.Seal.Value, Length: entry.Length, Least: entry.Least, Most: entry.Most}
	if entry.Length > 0 {
		out.Hangs = max(0, widest+f.Overlap.Value-entry.Length)
	}
	for _, r := range l.Readings {
		out.Places = append(out.Places, Touch{r.At, r.Gap, f.Overlap.Value + widest - r.Gap})
	}
	return out
}
