package engine

import (
	"cmp"
	"fmt"
	"slices"

	"sillwright/engine/air"
	"sillwright/engine/catalogue"
	"sillwright/engine/doubt"
	"sillwright/engine/seal"
	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

// Leakage is the air through the paths that were counted, with its band.
type Leakage struct {
	seal.Result           // m3/s
	Pressure    float64   // Pa
	Counted     []Counted // largest likely flow first

	air     air.Air
	flows   []seal.Flow
	bottoms []bottomEdge // those with a seal that is set
}

// Higher is the leakage with every bottom seal that is set hung higher by some length: what daylight there costs, or what less
// squash saves. false where no bottom seal is set, and where one of which only tests are known was not tested so high.
func (l *Leakage) Higher(by quantity.Length) (seal.Result, bool) {
	flows := slices.Clone(l.flows)
	for _, b := range l.bottoms {
		edge := b.Edge
		if slices.ContainsFunc(edge.Seals, func(f seal.Fitted) bool { return untested(f, f.Overlap-by.Metres()) }) {
			return seal.Result{}, false
		}
		f, err := edge.Higher(by.Metres()).Leakage(l.Pressure, l.air)
		if err != nil {
			return seal.Result{}, false
		}
		flows[b.flow] = f
	}
	return seal.Total(flows...), len(l.bottoms) > 0
}

// untested says whether only tests are known of a seal, and none so high.
func untested(f seal.Fitted, overlap float64) bool {
	m, ok := f.Model.(seal.Measured)
	if !ok {
		return false
	}
	least, _ := m.Reaches()
	return overlap < least
}

// Counted is the flow of one path. The band of a sum is narrower than the sum of bands: not all errors go the same way.
type Counted struct {
	Path, Pointer string
	doubt.Range
	Feet  doubt.Range // part of it that closing the feet of the bottom seals would save, m3/s
	Basis string

	flow int // its place among the flows
}

// Together is what some of the counted paths let pass, with one band: see seal.Total.
func (l *Leakage) Together(some ...Counted) seal.Result {
	flows := make([]seal.Flow, len(some))
	for i, c := range some {
		flows[i] = l.flows[c.flow]
	}
	return seal.Total(flows...)
}

// summing collects the paths of one option.
type summing struct {
	*scoring
	out     *Option
	flows   []seal.Flow
	counted []Counted
	bottoms []bottomEdge
}

// bottomEdge is the edge at the bottom of a leaf that one of the flows passes.
type bottomEdge struct {
	seal.Edge
	flow int
}

// room makes room for every flow that there may be.
func (s *summing) room() {
	many := len(s.d.Leaves) + len(s.d.Paths)
	s.flows, s.counted = make([]seal.Flow, 0, many), make([]Counted, 0, many)
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

func (s *summing) add(name string, f seal.Flow, err error, pointer string) {
	if err != nil {
		s.lack(pointer, name+": "+err.Error())
		return
	}
	s.counted = append(s.counted, Counted{name, pointer, f.Band(), f.Feet, f.Basis, len(s.flows)})
	s.flows = append(s.flows, f)
}

// sum adds the paths: see seal.Total.
func (s *summing) sum() *Leakage {
	out := &Leakage{Result: seal.Total(s.flows...), Pressure: s.pressure, Counted: s.counted, air: s.air, flows: s.flows, bottoms: s.bottoms}
	slices.SortStableFunc(out.Counted, func(a, b Counted) int { return cmp.Compare(b.Likely, a.Likely) })
	return out
}

// bottom counts the bottom edge of a leaf with its true gaps.
func (s *summing) bottom(l *truth, o door.Option) {
	if !l.Width.Known {
		s.lack(l.Width.Pointer, "the width of leaf "+l.ID)
	}
	if len(l.Readings) == 0 {
		s.noReadings(l)
	}
	if !l.Width.Known || len(l.Readings) == 0 {
		return
	}
	if l.noLine != nil {
		s.lack(l.GapPointer, l.noLine.Error())
		return
	}
	edge := seal.Edge{
		Line: l.line, ReadingError: errorOf(l.ReadingError).Metres(), LeafThickness: s.d.Leaf.Thickness.Value.Metres(), Bends: l.Bends.Value,
	}
	if !l.ReadingError.Known {
		s.take(fmt.Sprintf("a reading error of %s mm", TakenReadingError.MM()))
	}
	if !l.along {
		s.take(fmt.Sprintf("the gap of leaf %s between and beyond %d of its readings (take three or more, both edges among them)", l.ID, len(l.Readings)))
	}
	known, set := s.bottomSeals(&edge, l, o)
	switch {
	case !known:
		return
	case len(edge.Seals) == 0 && !s.d.Leaf.Thickness.Known:
		s.lack(s.d.Leaf.Thickness.Pointer, "the thickness of the leaf, which is the depth of a bare gap")
		return
	case !s.d.Leaf.Thickness.Known:
		edge.LeafThickness, edge.Alone = thinLeaf, true
	}
	f, err := edge.Leakage(s.pressure, s.air)
	s.add("bottom of leaf "+l.ID, f, err, l.GapPointer)
	if set && err == nil {
		s.bottoms = append(s.bottoms, bottomEdge{edge, len(s.flows) - 1})
	}
}

// thinLeaf stands for the thickness of a leaf that is not known, m: behind a seal the gap under it then does not count, so nothing
// is read from it.
const thinLeaf = 0.001

// noReadings says what keeps the true gap of a leaf from being known.
func (s *summing) noReadings(l *truth) {
	written := s.d.Leaves[slices.IndexFunc(s.d.Leaves, func(w door.Leaf) bool { return w.ID == l.ID })]
	_, missing := trueReadings(s.d, written)
	for _, m := range missing {
		s.lack(m.Pointer, m.What)
	}
}

// bottomSeals puts the seals of an option on the bottom edge of a leaf, in their order: known is false if something about one is not
// known, set is true if the overlap of one can be set.
func (s *summing) bottomSeals(edge *seal.Edge, l *truth, o door.Option) (known, set bool) {
	known = true
	fits := inOrder(fitsOf(o, "bottom", l.ID))
	if len(fits) > seal.MostSeals {
		s.lack(fits[seal.MostSeals].Pointer, fmt.Sprintf("a prediction of more than %d seals on one edge", seal.MostSeals))
		return false, false
	}
	for _, f := range fits {
		entry, ok := s.c.Seal(f.Seal.Value)
		if !ok {
			s.lack(f.Seal.Pointer, "the seal")
			known = false
			continue
		}
		if entry.Kind == "none" {
			continue
		}
		fitted, ok := s.fit(f, entry, l)
		known = known && ok
		set = set || !isDrop(entry)
		edge.Seals = append(edge.Seals, fitted)
	}
	return known, set
}

// inOrder sorts the seals of an edge as the air meets them.
func inOrder(fits []door.Fit) []door.Fit {
	byOrder := func(a, b door.Fit) int { return cmp.Compare(a.Order, b.Order) }
	if slices.IsSortedFunc(fits, byOrder) {
		return fits
	}
	fits = slices.Clone(fits)
	slices.SortStableFunc(fits, byOrder)
	return fits
}

// fit is a bottom seal as it is fitted; false if something about it is not known.
func (s *summing) fit(f door.Fit, entry *catalogue.Seal, l *truth) (seal.Fitted, bool) {
	texture, err := seal.TextureOf(cmp.Or(s.d.Floor.UnderSeal.Value, "unknown"))
	if err != nil {
		s.lack(s.d.Floor.UnderSeal.Pointer, err.Error())
		return seal.Fitted{}, false
	}
	if !s.d.Floor.UnderSeal.Known {
		s.take("any kind of floor under the seal")
	}
	switch {
	case entry.Model == nil:
		s.lack(f.Seal.Pointer, "the leakage of "+entry.Name+", of which the catalogue does not say enough: test it, or write like: and the name of a seal that is predicted")
		return seal.Fitted{}, false
	case isDrop(entry): // finds the floor by itself
		if !s.falls(f, entry, l) {
			return seal.Fitted{}, false
		}
	case !f.Overlap.Known && f.Auto:
		s.lack(f.Pointer+"/set", "the best setting, for which the gap under every leaf and the range that the seal is made for must be known")
		return seal.Fitted{}, false
	case !f.Overlap.Known:
		s.lack(f.Pointer+"/set", "how the seal is set: its overlap at the widest reading")
		return seal.Fitted{}, false
	case !s.tested(f, entry, l, texture):
		return seal.Fitted{}, false
	}
	s.carried(entry)
	out := seal.Fitted{Name: entry.Name, Model: entry.Model, Floor: texture, Overlap: f.Overlap.Value.Metres(), Tests: entry.Tests}
	foot, ok := s.foot(entry, l)
	out.Foot = foot
	return out, ok
}

// carried says where the tests of a seal were made at pressures far from the one that leakage is given at: more than twice, or less
// than half.
func (s *summing) carried(entry *catalogue.Seal) {
	tests := entry.Tests
	if m, ok := entry.Model.(seal.Measured); ok {
		tests = m.Tests
	}
	for _, t := range tests {
		if t.Drops[1] > 0 && (s.pressure > 2*t.Drops[1] || s.pressure < t.Drops[0]/2) {
			s.take(fmt.Sprintf("the tests of %s at %.4g to %.4g Pa, carried to %.4g Pa", entry.Name, t.Drops[0], t.Drops[1], s.pressure))
		}
	}
}

// falls says whether a drop seal of which only tests are known reaches the floor everywhere: what it leaks where it does not is not
// in its tests.
func (s *summing) falls(f door.Fit, entry *catalogue.Seal, l *truth) bool {
	_, measured := entry.Model.(seal.Measured)
	if widest := slices.MaxFunc(l.Readings, byGap); measured && widest.Gap > entry.Length {
		s.lack(f.Seal.Pointer, fmt.Sprintf("what %s leaks where it does not reach the floor: it falls %s mm, the gap of leaf %s is %s mm at %s mm", entry.Name, entry.Length.MM(), l.ID, widest.Gap.MM(), widest.At.MM()))
		return false
	}
	return true
}

// tested says whether a seal of which only tests are known was tested on such a floor, over all the overlaps that it may have on a
// leaf: down to those that an error of the readings may hide.
func (s *summing) tested(f door.Fit, entry *catalogue.Seal, l *truth, floor seal.Texture) bool {
	m, ok := entry.Model.(seal.Measured)
	if !ok {
		return true
	}
	if !m.On(floor) {
		s.lack(f.Seal.Pointer, fmt.Sprintf("a test of %s on the floor under it: %s", entry.Name, floor.Name))
		return false
	}
	for _, t := range contact(l.Leaf, f, entry).Places {
		if what := s.untestedAt(entry, t.Overlap, errorOf(l.ReadingError)); what != "" {
			s.lack(f.Seal.Pointer, fmt.Sprintf("%s, as it has on leaf %s at %s mm", what, l.ID, t.At.MM()))
			return false
		}
	}
	return true
}

// untestedAt asks for a test at an overlap that may be off by some length either way, of a seal of which only tests are known; it is
// empty where they reach. More squash than was tested is held, within the error.
func (s *summing) untestedAt(entry *catalogue.Seal, overlap, off quantity.Length) string {
	m, ok := entry.Model.(seal.Measured)
	if !ok {
		return ""
	}
	least, most := m.Reaches()
	switch {
	case overlap.Metres() > most:
		return fmt.Sprintf("a test of %s at an overlap of %s mm, for it was tested from %.4g to %.4g mm", entry.Name, overlap.MM(), 1000*least, 1000*most)
	case (overlap - off).Metres() < least:
		return fmt.Sprintf("a test of %s at an overlap of %s mm, %s less an error of %s, for it was tested from %.4g to %.4g mm", entry.Name, (overlap - off).MM(), overlap.MM(), off.MM(), 1000*least, 1000*most)
	}
	return ""
}

// foot is the clearance at the feet of a bottom seal that are not counted as corners; false where it cannot be told which are.
//
// A foot is a hole of the clearance times the gap at its end, and two of them add. Where one corner of a leaf is listed, and nobody
// says which, the foot at the end with the larger gap is left: the clearance is scaled by the larger gap over both.
func (s *summing) foot(entry *catalogue.Seal, l *truth) (doubt.Range, bool) {
	if entry.Foot == (doubt.Range{}) {
		return doubt.Range{}, true
	}
	corners := 0
	for _, p := range s.d.Paths {
		switch {
		case p.Kind != "corner":
		case p.Leaf == "" && len(s.d.Leaves) > 1:
			s.lack(p.Pointer+"/leaf", "which leaf the corner belongs to, whose bottom seal has its foot there")
			return doubt.Range{}, false
		case p.Leaf == "" || p.Leaf == l.ID:
			corners++
		}
	}
	hinge, latch := l.line.At(0), l.line.At(l.line.Width())
	switch {
	case corners == 0:
		return entry.Foot, true
	case corners > 1 || hinge+latch <= 0:
		s.take("the feet of leaf " + l.ID + " to be what its corners are listed as")
		return doubt.Range{}, true
	}
	s.take("the one corner that is listed of leaf " + l.ID + " to be where its gap is smaller (list both, area: 0 cm2 for one that is closed)")
	left := max(hinge, latch) / (hinge + latch)
	return doubt.Between(left*entry.Foot.Low, left*entry.Foot.Likely, left*entry.Foot.High), true
}
