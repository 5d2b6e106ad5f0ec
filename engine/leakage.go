package engine

import (
	"cmp"
	"fmt"
	"slices"

	"sillwright/engine/air"
	"sillwright/engine/catalogue"
	"sillwright/engine/gap"
	"sillwright/engine/seal"
	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

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
	readings, missing := trueReadings(s.d, l)
	for _, m := range missing {
		s.lack(m.Pointer, m.What)
	}
	l.Readings = readings
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

func readingsOf(l door.Leaf) []gap.Reading {
	out := make([]gap.Reading, len(l.Readings))
	for i, r := range l.Readings {
		out[i] = gap.Reading{At: r.At.Metres(), Gap: r.Gap.Metres()}
	}
	return out
}
