package remedy

import (
	"fmt"
	"slices"

	"sillwright/engine/catalogue"
	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

// edgeOf is the path that a pointer of a finding means: itself, or the one of the edge that a fit of an option is at.
func (s *spec) edgeOf(pointer string) (door.Path, bool) {
	for _, p := range s.door.Paths {
		if within(pointer, p.Pointer) {
			return p, true
		}
	}
	for _, o := range s.door.Options {
		for _, f := range o.Fits {
			if f.Edge == "bottom" || !within(pointer, f.Pointer) {
				continue
			}
			for _, p := range s.door.Paths {
				if p.Kind == f.Edge && (f.Leaf == "" || p.Leaf == f.Leaf) {
					return p, true
				}
			}
		}
	}
	return door.Path{}, false
}

func edgeWords(p door.Path) string {
	if p.Leaf != "" {
		return p.Kind + " of leaf " + p.Leaf
	}
	return p.Kind
}

// edge is a place for a seal other than the bottom: of a path or, where an option closes it, of that option's fit.
type edge struct {
	pointer, words string
	seal           door.Maybe[string]
}

// closeEdge fits a seal at an edge: where a finding names some at these, else at every one in turn that is open.
func closeEdge(s *spec, a aim, c *catalogue.Catalogue) ([]proposal, string) {
	var named, open []edge
	for _, p := range s.door.Paths {
		e := edge{p.Pointer, edgeWords(p), p.Seal}
		sealable := p.Kind == "head" || p.Kind == "hinge" || p.Kind == "latch" || p.Kind == "meeting" || p.Kind == "side"
		if sealable && (!p.Seal.Known || p.Seal.Value == "none") {
			open = append(open, e)
		}
		if a.names(p.Pointer) {
			named = append(named, e)
		}
	}
	for _, o := range s.door.Options {
		for _, f := range o.Fits {
			if f.Edge != "bottom" && a.names(f.Pointer) {
				named = append(named, edge{f.Pointer, fmt.Sprintf("%s, in option %s", f.Edge, o.ID), f.Seal})
			}
		}
	}
	if len(named) > 0 {
		open = named
	}
	var out []proposal
	for _, e := range open {
		for _, name := range c.Names() {
			entry, _ := c.Seal(name)
			if entry.Kind != "gasket" && entry.Kind != "brush" || e.seal.Known && e.seal.Value == name {
				continue
			}
			out = append(out, proposal{object: e.pointer + " " + name, at: func(s *spec, _ int) (change, string) {
				return change{
					ops:   []Operation{s.put(e.pointer+"/seal", name)},
					do:    fmt.Sprintf("Fit %s along the whole edge: %s.", name, e.words),
					after: []string{"See that it is pressed when the door is latched, and that the door still closes and latches."},
				}, ""
			}})
		}
	}
	if len(out) == 0 {
		return nil, "no other edge of the spec is open"
	}
	return out, ""
}

// names says whether a finding names something at or below a pointer.
func (a aim) names(pointer string) bool {
	return slices.ContainsFunc(a.at(), func(at string) bool { return within(at, pointer) })
}

// pressGasket moves the stop, or the leaf in its frame, so that a gasket is pressed more or less: the one that a finding names, else
// every one in turn that is not pressed within its range.
func pressGasket(s *spec, a aim, c *catalogue.Catalogue) ([]proposal, string) {
	var edges []door.Path
	for _, at := range a.at() {
		if p, ok := s.edgeOf(at); ok {
			edges = []door.Path{p}
		}
	}
	if len(edges) == 0 {
		edges = slices.DeleteFunc(slices.Clone(s.door.Paths), func(p door.Path) bool {
			entry, ok := c.Seal(p.Seal.Value)
			pressed := entry.Length - p.Gap.Value
			return !ok || entry.Kind != "gasket" || !p.Gap.Known || pressed >= entry.Least && pressed <= entry.Most
		})
		if len(edges) == 0 {
			return nil, "every gasket of which the gap is known is pressed within its range"
		}
	}
	var out []proposal
	for _, p := range edges {
		if !p.Gap.Known {
			return nil, "the gap at that edge is not known"
		}
		system := s.system(p.Gap.Pointer)
		step := lengths.step(system)
		way := func(more bool) proposal {
			word, object := "closer to", "closer"
			if more {
				word, object = "farther from", "farther"
			}
			return proposal{object: p.Pointer + " " + object, most: int(int64(10*quantity.Millimetre) / step), first: int((a.misses() + step - 1) / step), at: func(s *spec, size int) (change, string) {
				to := quantity.Length(below(int64(p.Gap.Value), step) + int64(size)*step)
				if !more {
					to = quantity.Length(above(int64(p.Gap.Value), step) - int64(size)*step)
				}
				if to < 0 {
					return change{}, "the stop would stand in the leaf"
				}
				return change{
					ops:   []Operation{s.put(p.Gap.Pointer, to.In(system))},
					do:    fmt.Sprintf("Set the stop at the %s edge %s the leaf, or the hinges and the keep: a gap of %s in place of %s.", edgeWords(p), word, to.In(system), p.Gap.Value.In(system)),
					after: []string{"See that the door closes and latches, and read the opening force again."},
				}, ""
			}}
		}
		out = append(out, way(a.point.Reason == "tight"), way(a.point.Reason != "tight"))
	}
	return out, ""
}
