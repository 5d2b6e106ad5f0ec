package engine

import (
	"cmp"
	"slices"

	"sillwright/engine/catalogue"
	"sillwright/engine/seal"
	"sillwright/schema/door"
	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// practice derives what sealing practice asks of the bottom seals of an option. A fact that rests on a seal, a setting, a gap or a
// swing that is not known is left out, unless what is known is beyond its bound already, or is put as far as it is known.
type practice struct {
	option door.Option
	seals  []*bottomSeal
	facts  fact.Set
}

// ofKind tells seals of some kinds.
func ofKind(names ...string) func(*catalogue.Seal) bool {
	return func(s *catalogue.Seal) bool { return slices.Contains(names, s.Kind) }
}

var (
	isBrush    = ofKind("brush", "tufted-brush")
	isBlade    = ofKind("blade")
	isTufted   = ofKind("tufted-brush")
	isDrop     = ofKind("drop-seal")
	isGasket   = ofKind("gasket")
	isEmbedded = func(s *catalogue.Seal) bool { return s.Embedded != nil }
	touches    = ofKind("brush", "tufted-brush", "blade") // stays on the floor, closed and open
)

// kindFacts say which kinds of seal are at the bottom edge.
var kindFacts = []struct {
	name string
	is   func(*catalogue.Seal) bool
}{
	{"bottom_brush", isBrush}, {"bottom_fine_brush", ofKind("brush")}, {"bottom_tufted_brush", isTufted}, {"bottom_blade", isBlade},
	{"bottom_gasket", isGasket}, {"bottom_drop_seal", isDrop}, {"bottom_embedded_blade", isEmbedded},
}

// putPractice adds the facts of an option that the rules of sealing practice read.
func putPractice(facts fact.Set, shared *scoring, o door.Option) {
	d, c := shared.d, shared.c
	p := practice{option: o, facts: facts}
	for _, f := range o.Fits {
		if f.Edge == "bottom" {
			entry, ok := c.Seal(f.Seal.Value)
			leaves := slices.DeleteFunc(slices.Clone(shared.truths), func(l *truth) bool { return f.Leaf != "" && f.Leaf != l.ID })
			p.seals = append(p.seals, &bottomSeal{f, entry, ok && f.Seal.Known, leaves})
		}
	}
	p.kinds()
	p.touching()
	p.allowances()
	p.drops()
	p.blades()
	p.tufts()
	p.shorter(c)
	p.embedded()
	putSides(facts, d, o, c)
	putFittedGaskets(facts, d, o, c)
}

// kinds puts kindFacts.
func (p practice) kinds() {
	none := []string{p.option.Pointer}
	for _, k := range kindFacts {
		var at []string
		all := true
		for _, s := range p.seals {
			all = all && s.known
			if s.known && k.is(s.entry) {
				at = append(at, s.Seal.Pointer)
			}
		}
		switch {
		case len(at) > 0:
			p.facts[k.name] = fact.Fact{Value: true, At: at}
		case all:
			p.facts[k.name] = fact.Fact{Value: false, At: none}
		}
	}
}

// touching finds the overlap of blades and brushes where the gap is widest.
func (p practice) touching() {
	p.setting("blade_overlap_least", "", isBlade)
	p.setting("brush_overlap_least", "brush_overlap_most", isBrush)
}

// setting puts the least and the greatest overlap that is set, which is that at the widest place, read or not. What is not set,
// or a place that nobody has read, may make the least less and the greatest more.
func (p practice) setting(least, most string, is func(*catalogue.Seal) bool) {
	seals, all := p.among(is)
	set, whole := p.set(seals)
	if len(set) == 0 {
		return
	}
	bySet := func(a, b press) int { return cmp.Compare(a.Overlap.Value, b.Overlap.Value) }
	whole = whole && all
	overlap := func(x press) fact.Fact {
		return fact.Fact{Value: int64(x.Overlap.Value), At: x.at(x.widest), Formula: "the overlap that is set, which is that at the widest reading"}
	}
	f := overlap(slices.MinFunc(set, bySet))
	f.OrLess = !whole
	p.facts[least] = f
	if most != "" {
		f = overlap(slices.MaxFunc(set, bySet))
		f.OrMore = !whole
		p.facts[most] = f
	}
}

// allowances finds how far the seals that stay on the floor are pressed, closed and through the swing.
func (p practice) allowances() {
	seals, all := p.among(touches)
	set, whole := p.set(seals)
	closed := holding{
		name: "overlap_most", bound: "movement_allowance", formula: "overlap at the widest reading + widest gap - tightest gap",
		seals: seals, boundOf: func(s *catalogue.Seal) quantity.Length { return s.Most }, named: all, whole: whole,
	}
	open := closed
	open.name, open.bound, open.formula = "swing_overlap_most", "swing_allowance", "overlap at the widest reading + widest closed gap - gap at the angle"
	for _, x := range set {
		closed.found = append(closed.found, held{x.overlap(x.tightest.Gap), x.entry.Most, x.at(x.tightest), x.Seal.Pointer})
		if !x.read {
			continue
		}
		open.whole = open.whole && x.leaf.swept
		for _, s := range x.leaf.sweeps {
			open.found = append(open.found, held{x.overlap(s.Gap), x.entry.Most, x.at(smallest(s)), x.Seal.Pointer})
		}
	}
	p.hold(closed)
	p.hold(open)
}

// drops finds how far drop seals must fall.
func (p practice) drops() {
	seals, all := p.among(isDrop)
	pressed, whole := p.presses(seals)
	h := holding{
		name: "drop_gap", bound: "drop_fall", formula: "the widest gap",
		seals: seals, boundOf: func(s *catalogue.Seal) quantity.Length { return s.Length }, named: all, whole: whole,
	}
	for _, x := range pressed {
		if x.read {
			h.found = append(h.found, held{x.widest.Gap, x.entry.Length, x.at(x.widest), x.Seal.Pointer})
		}
	}
	p.variation("drop_gap_variation", isDrop)
	p.hold(h)
}

// blades finds how uneven the gap is along the blades, and whether there are several one behind the other.
func (p practice) blades() {
	p.variation("blade_gap_variation", isBlade)
	p.rows("several_blades", "on every leaf with a blade, two blades or more one behind the other", p.of(isBlade), func(s *catalogue.Seal) int {
		if b, ok := s.Model.(seal.Blade); ok {
			return b.Lips
		}
		return 0
	})
}

// tufts says whether tufted brushes are backed: one row alone leaks between its tufts.
func (p practice) tufts() {
	p.rows("tufted_backed", "on every leaf with a tufted brush, two of them or more one behind the other, or one with an embedded blade", p.of(isTufted), func(s *catalogue.Seal) int {
		if s.Embedded != nil {
			return several
		}
		return 1
	})
}

// variation puts how uneven the gap is along some seals: at least so much, where it is not read from edge to edge.
func (p practice) variation(name string, is func(*catalogue.Seal) bool) {
	seals, named := p.among(is)
	all, whole := p.presses(seals)
	all = slices.DeleteFunc(all, func(x press) bool { return !x.read })
	if len(all) == 0 {
		return
	}
	varies := func(x press) quantity.Length { return x.widest.Gap - x.tightest.Gap }
	worst := slices.MaxFunc(all, func(a, b press) int { return cmp.Compare(varies(a), varies(b)) })
	p.facts[name] = fact.Fact{
		Value: int64(varies(worst)), At: append([]string{worst.widest.Pointer, worst.tightest.Pointer}, worst.leaf.from...),
		Formula: "widest gap - tightest gap", OrMore: !named || !whole,
	}
}

// several rows are two or more.
const several = 2

// rows puts whether there are several rows on every leaf that has one at all; where the leaves are not listed, on the door.
func (p practice) rows(name, formula string, seals []*bottomSeal, rowsOf func(*catalogue.Seal) int) {
	if len(seals) == 0 {
		return
	}
	type leafRows struct {
		id   string
		rows int
		at   []string
	}
	var leaves []leafRows
	add := func(id string, s *bottomSeal) {
		i := slices.IndexFunc(leaves, func(l leafRows) bool { return l.id == id })
		if i < 0 {
			i, leaves = len(leaves), append(leaves, leafRows{id: id})
		}
		leaves[i].rows += rowsOf(s.entry)
		leaves[i].at = append(leaves[i].at, s.Seal.Pointer)
	}
	var all []string
	for _, s := range seals {
		for _, l := range s.leaves {
			add(l.ID, s)
		}
		if len(s.leaves) == 0 {
			add("", s)
		}
		all = append(all, s.Seal.Pointer)
	}
	p.facts[name] = fact.Fact{Value: true, At: all, Formula: formula}
	for _, l := range leaves {
		if l.rows < several {
			p.facts[name] = fact.Fact{Value: false, At: l.at, Formula: formula}
			return
		}
	}
}

// shorter names, for each brush, the shorter ones of its kind that would serve: long enough to reach from the leaf
// to the floor at the widest place, and made for the overlap at the tightest. A brush that is set to leave daylight
// bridges nothing, so a shorter one must reach the floor all the same.
func (p practice) shorter(c *catalogue.Catalogue) {
	items := []any{}
	for _, s := range p.of(isBrush) {
		all, whole := p.set([]*bottomSeal{s})
		if !whole || len(all) == 0 || s.entry.Length == 0 {
			return
		}
		var reach, pressed quantity.Length
		for _, x := range all {
			reach = max(reach, x.widest.Gap+max(x.Overlap.Value, 0))
			pressed = max(pressed, x.overlap(x.tightest.Gap))
		}
		names := []any{}
		for _, other := range c.ByLength() {
			alike := other.Kind == s.entry.Kind && (other.Embedded == nil) == (s.entry.Embedded == nil)
			if alike && other.Length < s.entry.Length && other.Length >= reach && other.Length > pressed && (other.Most == 0 || other.Most >= pressed) {
				names = append(names, other.Name)
			}
		}
		items = append(items, map[string]any{"at": s.Seal.Pointer, "names": names})
	}
	if len(items) > 0 {
		p.facts["shorter_brushes"] = fact.Fact{
			Value: items, At: []string{p.option.Pointer}, Formula: "brushes of its kind, shorter, at least as long as the widest gap and the overlap there, and made for the overlap at the tightest place",
		}
	}
}

// embedded gives how far each embedded blade reaches down its brush.
func (p practice) embedded() {
	items := []any{}
	for _, s := range p.of(isEmbedded) {
		item := map[string]any{"at": s.Seal.Pointer}
		if s.entry.Length > 0 && s.entry.Embedded.Reach > 0 {
			item["part"], item["whole"] = int64(s.entry.Embedded.Reach), int64(s.entry.Length)
		}
		items = append(items, item)
	}
	if len(items) > 0 {
		p.facts["embedded_blades"] = fact.Fact{Value: items, At: []string{p.option.Pointer}, Formula: "from the catalogue: reach of the blade, length of the brush"}
	}
}
