package engine

import (
	"slices"
	"strings"

	"sillwright/engine/catalogue"
	"sillwright/schema/door"
	"sillwright/schema/fact"
)

// edgeSeal is what closes an edge other than the bottom: a seal by its kind, or none.
type edgeSeal struct {
	edge  string
	entry *catalogue.Seal // kind none: nothing does
	known bool
	path  door.Path // with the gap that it must close; none is listed: no pointer
	at    string
}

// What an edge may have in place of a seal of the catalogue.
var unsealed, unsaid = catalogue.Seal{Kind: "none"}, catalogue.Seal{}

// stopEdges are the edges of a leaf that close on a stop or on each other.
var stopEdges = []string{"head", "hinge", "latch", "meeting"}

// ownSeal reads what closes a path by itself. A path without a seal is open, as its leakage is counted; one of
// which nothing is said, or whose seal is written as unknown, is not known.
func ownSeal(d *door.Door, p door.Path, c *catalogue.Catalogue) edgeSeal {
	out := edgeSeal{edge: p.Kind, entry: &unsaid, path: p, at: p.Pointer}
	if p.Seal.Known {
		out.entry, out.known = c.Seal(p.Seal.Value)
		out.at = p.Seal.Pointer
		return out
	}
	if _, written := d.Document.Root.Lookup(p.Seal.Pointer); !written && (p.Gap.Known || p.Area.Known) {
		out.entry, out.known = &unsealed, true
	}
	return out
}

// shut is true of an edge through which no air passes, with or without a seal.
func (e edgeSeal) shut() bool {
	p := e.path
	return (e.known && e.entry.Kind != "none") || (p.Gap.Known && p.Gap.Value == 0) || (p.Area.Known && p.Area.Value == 0)
}

// putEdges adds what is known of the edges of a door, as they are without the options.
func putEdges(facts fact.Set, d *door.Door, c *catalogue.Catalogue) {
	var edges []edgeSeal
	for _, p := range d.Paths {
		if slices.Contains(stopEdges, p.Kind) {
			edges = append(edges, ownSeal(d, p, c))
		}
	}
	complete := edgesListed(d)
	putGaskets(facts, "edge_gasket", "edge_gaskets_pressed", edges, complete, "/paths")
	var open []string
	known := complete
	for _, e := range edges {
		closing, touching := fittedTo(d, e.path)
		switch {
		case e.shut() || (closing > 0 && closing == len(d.Options)): // every option closes it
		case e.known && touching == 0:
			open = append(open, e.at)
		default: // not known, or it hangs on the option
			known = false
		}
	}
	const formula = "every edge that closes on a stop or on another leaf is listed and has a seal, or is shut"
	switch {
	case len(open) > 0:
		facts["edges_closed"] = fact.Fact{Value: false, At: open, Formula: formula}
	case known:
		facts["edges_closed"] = fact.Fact{Value: true, At: []string{"/paths"}, Formula: formula}
	}
}

// fittedTo counts the options that close the whole of a path, and those that fit any seal there.
func fittedTo(d *door.Door, p door.Path) (closing, touching int) {
	for _, o := range d.Options {
		fits := fitsOf(o, p.Kind, p.Leaf)
		if !slices.ContainsFunc(fits, func(f door.Fit) bool { return f.Seal.Value != "none" }) {
			continue
		}
		touching++
		whole := func(f door.Fit) bool {
			return f.Seal.Value != "none" && f.Seal.Known && (f.Leaf == "" || f.Leaf == p.Leaf || len(d.Leaves) < 2)
		}
		if slices.ContainsFunc(fits, whole) {
			closing++
		}
	}
	return closing, touching
}

// edgesListed says whether the paths list every edge that such a door has on a stop: of a pair, each leaf's own.
func edgesListed(d *door.Door) bool {
	return d.Leaf.Operation.Known && !slices.ContainsFunc(d.Unlisted(), func(edge string) bool {
		kind, _, _ := strings.Cut(edge, " ")
		return slices.Contains(stopEdges, kind)
	})
}

// putGaskets adds whether there is a gasket at one of the edges, and how far each is pressed: its height less the gap.
func putGaskets(facts fact.Set, name, pressed string, edges []edgeSeal, complete bool, at string) {
	items, all := []any{}, complete
	var found []string
	for _, e := range edges {
		all = all && e.known
		if !e.known || !isGasket(e.entry) {
			continue
		}
		item := map[string]any{"at": e.at, "edge": e.edge}
		if e.entry.Most > 0 {
			item["least"], item["most"] = int64(e.entry.Least), int64(e.entry.Most)
		}
		if e.entry.Length > 0 && e.path.Gap.Known {
			item["pressed"] = int64(e.entry.Length - e.path.Gap.Value)
		}
		items, found = append(items, item), append(found, e.at)
	}
	switch {
	case len(found) > 0:
		facts[name] = fact.Fact{Value: true, At: found}
		facts[pressed] = fact.Fact{Value: items, At: found, Formula: "height of the gasket - gap of the path; the range that it is made for from the catalogue"}
	case all:
		facts[name] = fact.Fact{Value: false, At: []string{at}}
	}
}

// putFittedGaskets adds how far the gaskets are pressed that an option fits to other edges than the bottom.
func putFittedGaskets(facts fact.Set, d *door.Door, o door.Option, c *catalogue.Catalogue) {
	var edges []edgeSeal
	for _, f := range o.Fits {
		if f.Edge != "bottom" {
			edges = append(edges, fittedSeals(d, f, c)...)
		}
	}
	putGaskets(facts, "fitted_gasket", "fitted_gaskets_pressed", edges, true, o.Pointer)
}

// fittedSeals pairs a fit with each path that it closes; with none where the spec lists none.
func fittedSeals(d *door.Door, f door.Fit, c *catalogue.Catalogue) []edgeSeal {
	entry, ok := c.Seal(f.Seal.Value)
	base := edgeSeal{edge: f.Edge, entry: entry, known: ok && f.Seal.Known, at: f.Seal.Pointer}
	var out []edgeSeal
	for _, p := range d.Paths {
		if p.Kind == f.Edge && (f.Leaf == "" || p.Leaf == "" || f.Leaf == p.Leaf) {
			e := base
			e.path = p
			out = append(out, e)
		}
	}
	if len(out) == 0 {
		out = append(out, base)
	}
	return out
}

// putSides adds what seals the sides: what the option fits there, else what their paths have.
func putSides(facts fact.Set, d *door.Door, o door.Option, c *catalogue.Catalogue) {
	var sides []edgeSeal
	for _, f := range fitsOf(o, "side", "") {
		entry, ok := c.Seal(f.Seal.Value)
		sides = append(sides, edgeSeal{edge: "side", entry: entry, known: ok && f.Seal.Known, at: f.Seal.Pointer})
	}
	for _, p := range d.Paths {
		if p.Kind == "side" && len(fitsOf(o, "side", p.Leaf)) == 0 {
			sides = append(sides, ownSeal(d, p, c))
		}
	}
	var sealed, other, brushes []string
	known := len(sides) > 0
	for _, s := range sides {
		known = known && s.known
		switch {
		case !s.known || s.entry.Kind == "none":
			continue
		case isBrush(s.entry):
			brushes = append(brushes, s.at)
		default:
			other = append(other, s.at)
		}
		sealed = append(sealed, s.at)
	}
	switch {
	case len(sealed) > 0:
		facts["side_sealed"] = fact.Fact{Value: true, At: sealed}
	case known:
		facts["side_sealed"] = fact.Fact{Value: false, At: []string{sides[0].at}}
	}
	switch {
	case len(other) > 0:
		facts["side_brush"] = fact.Fact{Value: false, At: other, Formula: "every seal at the sides is a brush"}
	case known && len(brushes) > 0:
		facts["side_brush"] = fact.Fact{Value: true, At: brushes, Formula: "every seal at the sides is a brush"}
	}
}
