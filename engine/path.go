package engine

import (
	"fmt"
	"slices"

	"sillwright/engine/seal"
	"sillwright/schema/door"
)

// path counts another way for air: a hole, a bare crack or a crack with a gasket. A fit on
// an edge of its name takes the place of its own seal.
func (s *summing) path(p door.Path, o door.Option) {
	fit, ok := s.pathSeal(p, o)
	if !ok {
		return
	}
	switch {
	case p.Area.Known && p.Area.Value == 0, p.Gap.Known && p.Gap.Value == 0 && !fit.Known: // closed
	case p.Area.Known:
		r, err := seal.Hole{Area: p.Area.Value}.Leakage(s.pressure, s.air)
		s.add(p.Kind, r, err, p.Pointer)
	case !p.Length.Known:
		s.lack(p.Pointer, "the length, or the area, of the path "+p.Kind)
	case fit.Known && fit.Value != "none":
		s.sealedPath(p, fit)
	case !p.Gap.Known:
		s.lack(p.Gap.Pointer, "the gap at the "+p.Kind)
	case !s.d.Leaf.Thickness.Known:
		s.lack(s.d.Leaf.Thickness.Pointer, "the thickness of the leaf, which is the depth of a bare gap")
	default:
		s.take(fmt.Sprintf("an error of %s mm for gaps under paths", TakenReadingError.MM()))
		r, err := seal.Path{
			Length: p.Length.Value.Metres(), Gap: p.Gap.Value.Metres(), Depth: s.d.Leaf.Thickness.Value.Metres(), Bends: bends(p.Kind),
			GapError: min(TakenReadingError, p.Gap.Value).Metres(),
		}.Leakage(s.pressure, s.air)
		s.add(p.Kind, r, err, p.Pointer)
	}
}

// pathSeal is the seal of a path under an option; false if it cannot be told which it is.
func (s *summing) pathSeal(p door.Path, o door.Option) (door.Maybe[string], bool) {
	fits := fitsOf(o, p.Kind, p.Leaf)
	if len(fits) == 0 {
		if _, written := s.d.Document.Root.Lookup(p.Seal.Pointer); written && !p.Seal.Known {
			s.lack(p.Seal.Pointer, "the seal at the "+p.Kind)
			return door.Maybe[string]{}, false
		}
		return p.Seal, true
	}
	if p.Leaf == "" && len(s.d.Leaves) > 1 && slices.ContainsFunc(fits, func(f door.Fit) bool { return f.Leaf != "" }) {
		s.lack(p.Pointer+"/leaf", "which leaf the path "+p.Kind+" belongs to")
		return door.Maybe[string]{}, false
	}
	return fits[0].Seal, true
}

// sealedPath counts a length of gasket, if the gap is one that it is made to close.
func (s *summing) sealedPath(p door.Path, fit door.Maybe[string]) {
	entry, _ := s.c.Seal(fit.Value)
	g, ok := entry.Model.(seal.Gasket)
	switch {
	case !ok:
		s.lack(fit.Pointer, "the leakage of a "+entry.Kind+" at the "+p.Kind+", which is not predicted")
		return
	case entry.Length > 0 && !p.Gap.Known:
		s.lack(p.Gap.Pointer, "the gap that the gasket at the "+p.Kind+" must close")
		return
	case entry.Length > 0 && (entry.Length-p.Gap.Value < entry.Least || entry.Length-p.Gap.Value > entry.Most):
		s.lack(p.Gap.Pointer, fmt.Sprintf("a gasket that closes the gap at the %s: %s is %s mm high and made to be pressed %s to %s mm, so it closes %s to %s mm; the gap is %s mm",
			p.Kind, entry.Name, entry.Length.MM(), entry.Least.MM(), entry.Most.MM(), (entry.Length-entry.Most).MM(), (entry.Length-entry.Least).MM(), p.Gap.Value.MM()))
		return
	}
	r, err := seal.Gasketed{Length: p.Length.Value.Metres(), Gasket: g}.Leakage(s.pressure, s.air)
	s.add(p.Kind, r, err, p.Pointer)
}

// stray asks for the path of every seal that is fitted to an edge which the spec does not list.
func (s *summing) stray(o door.Option) {
	for _, f := range o.Fits {
		listed := slices.ContainsFunc(s.d.Paths, func(p door.Path) bool { return p.Kind == f.Edge })
		switch {
		case f.Edge != "bottom" && !listed:
			s.lack("/paths", "the path "+f.Edge+" with its length, for the seal that is fitted there")
		case f.Edge != "bottom" && f.Order > 1:
			s.lack(f.Pointer, "the leakage of two seals on one edge, which is not predicted")
		}
	}
}

// bends is how often a bare gap turns: once where the leaf closes against a stop.
func bends(kind string) int {
	switch kind {
	case "head", "hinge", "latch", "meeting":
		return 1
	}
	return 0
}
