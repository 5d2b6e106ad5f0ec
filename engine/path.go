package engine

import (
	"fmt"
	"slices"

	"sillwright/engine/catalogue"
	"sillwright/engine/seal"
	"sillwright/schema/door"
)

// ownPath is a path with the seal that it has by itself, counted once for all options that leave it alone.
type ownPath struct {
	flows   []seal.Flow
	counted []Counted
	missing []Missing
	taken   []string
}

// path counts another way for air: a hole, a bare crack, or a crack with one seal or several. A fit on an edge of its
// name takes the place of its own seal.
func (s *summing) path(i int, p door.Path, o door.Option) {
	if len(fitsOf(o, p.Kind, p.Leaf)) > 0 {
		s.measurePath(p, o)
		return
	}
	own, known := s.paths[i]
	if !known {
		alone := &summing{scoring: s.scoring, out: &Option{}}
		alone.measurePath(p, o)
		own = ownPath{alone.flows, alone.counted, alone.out.Missing, alone.out.Taken}
		s.paths[i] = own
	}
	s.again(own)
}

// again counts what was counted once for all options.
func (s *summing) again(own ownPath) {
	for k, c := range own.counted {
		c.flow = len(s.flows)
		s.flows, s.counted = append(s.flows, own.flows[k]), append(s.counted, c)
	}
	for _, m := range own.missing {
		s.lack(m.Pointer, m.What)
	}
	for _, t := range own.taken {
		s.take(t)
	}
}

func (s *summing) measurePath(p door.Path, o door.Option) {
	fits, ok := s.pathSeals(p, o)
	if !ok {
		return
	}
	if _, written := s.d.Document.Root.Lookup(p.Bends.Pointer); written && !p.Bends.Known && len(fits) == 0 {
		s.take(fmt.Sprintf("%d bends on the way through the %s, for they are not known", bends(p), p.Kind))
	}
	name := p.Kind
	if p.Leaf != "" && len(s.d.Leaves) > 1 {
		name += " of leaf " + p.Leaf
	}
	switch {
	case p.Area.Known && len(fits) > 0:
		s.lack(p.Area.Pointer, "the gap at the "+p.Kind+", in place of an area, for the seal that is fitted there")
	case p.Area.Known && p.Area.Value == 0, p.Gap.Known && p.Gap.Value == 0 && len(fits) == 0 && p.GapError.Value == 0: // closed
	case p.Area.Known:
		f, err := seal.Hole{Area: p.Area.Value}.Leakage(s.pressure, s.air)
		s.add(name, f, err, p.Pointer)
	case !p.Length.Known:
		s.lack(p.Pointer, "the length, or the area, of the path "+p.Kind)
	case !p.Gap.Known && (len(fits) == 0 || slices.ContainsFunc(fits, func(e pathSeal) bool { return e.Length > 0 })):
		what := "the gap at the " + p.Kind
		if len(fits) > 0 {
			what = "the gap that the " + fits[0].Kind + " at the " + p.Kind + " must close"
		}
		s.lack(p.Gap.Pointer, what)
	case len(fits) == 0 && !s.d.Leaf.Thickness.Known:
		s.lack(s.d.Leaf.Thickness.Pointer, "the thickness of the leaf, which is the depth of a bare gap")
	default:
		s.crack(name, p, fits)
	}
}

// crack counts a length of gap with what closes it.
func (s *summing) crack(name string, p door.Path, fits []pathSeal) {
	slit := seal.Slit{
		Length: p.Length.Value.Metres(), Gap: p.Gap.Value.Metres(), Depth: s.d.Leaf.Thickness.Value.Metres(), Bends: bends(p),
		GapError: min(TakenReadingError, p.Gap.Value).Metres(),
	}
	slit.Alone = !p.Gap.Known || !s.d.Leaf.Thickness.Known
	if p.GapError.Known {
		slit.GapError = p.GapError.Value.Metres()
	} else if p.Gap.Known {
		s.take(fmt.Sprintf("an error of %s mm for gaps under paths", TakenReadingError.MM()))
	}
	if !s.d.Leaf.Thickness.Known {
		slit.Depth = thinLeaf
	}
	if len(fits) > seal.MostSeals {
		s.lack(fits[seal.MostSeals].pointer, fmt.Sprintf("a prediction of more than %d seals on one edge", seal.MostSeals))
		return
	}
	for _, e := range fits {
		fitted, ok := s.fitPath(e, p)
		if !ok {
			return
		}
		slit.Seals = append(slit.Seals, fitted)
	}
	f, err := slit.Leakage(s.pressure, s.air)
	s.add(name, f, err, p.Pointer)
}

// pathSeal is a seal at a path, with where the spec names it.
type pathSeal struct {
	*catalogue.Seal
	pointer string
}

// pathSeals are the seals of a path under an option, in order; false if it cannot be told which they are.
func (s *summing) pathSeals(p door.Path, o door.Option) ([]pathSeal, bool) {
	fits := inOrder(fitsOf(o, p.Kind, p.Leaf))
	if len(fits) == 0 {
		if _, written := s.d.Document.Root.Lookup(p.Seal.Pointer); written && !p.Seal.Known {
			s.lack(p.Seal.Pointer, "the seal at the "+p.Kind)
			return nil, false
		}
		return s.entries(p.Seal), true
	}
	if p.Leaf == "" && len(s.d.Leaves) > 1 && slices.ContainsFunc(fits, func(f door.Fit) bool { return f.Leaf != "" }) {
		s.lack(p.Pointer+"/leaf", "which leaf the path "+p.Kind+" belongs to")
		return nil, false
	}
	var out []pathSeal
	for _, f := range fits {
		if !f.Seal.Known {
			s.lack(f.Seal.Pointer, "the seal at the "+p.Kind)
			return nil, false
		}
		out = append(out, s.entries(f.Seal)...)
	}
	return out, true
}

// entries is a seal of the catalogue, or none.
func (s *summing) entries(m door.Maybe[string]) []pathSeal {
	entry, ok := s.c.Seal(m.Value)
	if !m.Known || !ok || entry.Kind == "none" {
		return nil
	}
	return []pathSeal{{entry, m.Pointer}}
}

// fitPath is a seal on a smooth face, pressed by what it is higher than the gap.
func (s *summing) fitPath(e pathSeal, p door.Path) (seal.Fitted, bool) {
	pressed := e.Length - p.Gap.Value
	switch {
	case isDrop(e.Seal):
		s.lack(e.pointer, "the leakage of a drop seal at the "+p.Kind+", which is not predicted: it is made for the bottom")
		return seal.Fitted{}, false
	case e.Model == nil:
		s.lack(e.pointer, "the leakage of "+e.Name+", of which the catalogue does not say enough: test it, or write like: and the name of a seal that is predicted")
		return seal.Fitted{}, false
	case e.Length == 0: // taken as pressed as it is made to be
		pressed = (e.Least + e.Most) / 2
	case isGasket(e.Seal) && e.Most > 0 && pressed > e.Most:
		s.lack(p.Gap.Pointer, fmt.Sprintf("a gasket that closes the gap at the %s: %s is %s mm high and made to be pressed %s to %s mm, so it closes %s to %s mm; the gap is %s mm",
			p.Kind, e.Name, e.Length.MM(), e.Least.MM(), e.Most.MM(), (e.Length-e.Most).MM(), (e.Length-e.Least).MM(), p.Gap.Value.MM()))
		return seal.Fitted{}, false
	}
	if what := s.untestedAt(e.Seal, pressed, errorOf(p.GapError)); what != "" {
		s.lack(e.pointer, what+", as it has at the "+p.Kind)
		return seal.Fitted{}, false
	}
	if m, ok := e.Model.(seal.Measured); ok && !m.On(seal.Texture{}) {
		s.lack(e.pointer, "a test of "+e.Name+" on a smooth face, which it closes on at the "+p.Kind)
		return seal.Fitted{}, false
	}
	s.carried(e.Seal)
	return seal.Fitted{Name: e.Name, Model: e.Model, Overlap: pressed.Metres(), Tests: e.Tests}, true
}

// stray asks for the path of every seal that is fitted to an edge which the spec does not list.
func (s *summing) stray(o door.Option) {
	for _, f := range o.Fits {
		listed := slices.ContainsFunc(s.d.Paths, func(p door.Path) bool {
			return p.Kind == f.Edge && (p.Leaf == "" || f.Leaf == "" || p.Leaf == f.Leaf)
		})
		if f.Edge != "bottom" && !listed {
			s.lack("/paths", "the path "+f.Edge+" with its length, for the seal that is fitted there")
		}
	}
}

// bends is how often a bare gap turns: as the spec says, else once where the leaf closes against a stop.
func bends(p door.Path) int {
	if p.Bends.Known {
		return p.Bends.Value
	}
	if slices.Contains(stopEdges, p.Kind) {
		return 1
	}
	return 0
}
