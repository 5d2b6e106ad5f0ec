package engine

import (
	"slices"

	"sillwright/engine/seal"
	"sillwright/schema/door"
)

// path counts another way for air: a hole, a bare crack or a crack with a gasket. A fit on
// an edge of its name takes the place of its own seal.
func (s *summing) path(p door.Path, o door.Option) {
	name := p.Kind
	sealName := p.Seal
	if fits := fitsOf(o, p.Kind, ""); len(fits) > 0 {
		sealName = fits[0].Seal
	}
	if p.Area.Known {
		if p.Area.Value == 0 {
			return
		}
		r, err := seal.Hole{Area: p.Area.Value}.Leakage(s.pressure, s.air)
		s.add(name, r, err, p.Pointer)
		return
	}
	if !p.Length.Known {
		s.lack(p.Pointer, "the length, or the area, of the path "+p.Kind)
		return
	}
	entry, ok := s.c.Seal(sealName.Value)
	if sealName.Known && ok && entry.Kind == "gasket" {
		g, _ := entry.Model.(seal.Gasket)
		r, err := seal.Gasketed{Length: p.Length.Value.Metres(), Gasket: g}.Leakage(s.pressure, s.air)
		s.add(name, r, err, p.Pointer)
		return
	}
	if sealName.Known && entry.Kind != "none" {
		s.lack(sealName.Pointer, "the leakage of a "+entry.Kind+" at the "+p.Kind+", which is not predicted")
		return
	}
	if !p.Gap.Known {
		s.lack(p.Gap.Pointer, "the gap at the "+p.Kind)
		return
	}
	if p.Gap.Value == 0 {
		return
	}
	if !s.d.Leaf.Thickness.Known {
		s.lack(s.d.Leaf.Thickness.Pointer, "the thickness of the leaf, which is the depth of a bare gap")
		return
	}
	r, err := seal.Path{Length: p.Length.Value.Metres(), Gap: p.Gap.Value.Metres(), Depth: s.d.Leaf.Thickness.Value.Metres(), Bends: bends(p.Kind)}.Leakage(s.pressure, s.air)
	s.add(name, r, err, p.Pointer)
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
