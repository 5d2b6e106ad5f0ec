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

// bottomSeal is a seal at the bottom edge with the leaves that it is fitted to.
type bottomSeal struct {
	door.Fit
	entry  catalogue.Seal
	known  bool // which seal it is
	leaves []door.Leaf
}

// press is a bottom seal on one leaf, with the gap where it is widest and where it is tightest.
type press struct {
	bottomSeal
	leaf             door.Leaf
	widest, tightest door.Reading
	corrected        []string // what of the spec its readings are corrected by
}

// overlap is how far the seal is pressed at a place, or an angle, with such a gap.
func (p press) overlap(gap quantity.Length) quantity.Length {
	return p.Overlap.Value + p.widest.Gap - gap
}

func (p press) at(r door.Reading) []string {
	return append([]string{p.Pointer, r.Pointer}, p.corrected...)
}

// practice derives what sealing practice asks of the bottom seals of an option. A fact that rests on a seal,
// a setting, a gap or a swing that is not known is left out.
type practice struct {
	door   *door.Door
	option door.Option
	seals  []bottomSeal
	facts  fact.Set
}

// ofKind tells seals of some kinds.
func ofKind(names ...string) func(catalogue.Seal) bool {
	return func(s catalogue.Seal) bool { return slices.Contains(names, s.Kind) }
}

var (
	isBrush    = ofKind("brush", "tufted-brush")
	isBlade    = ofKind("blade")
	isTufted   = ofKind("tufted-brush")
	isDrop     = ofKind("drop-seal")
	isGasket   = ofKind("gasket")
	isEmbedded = func(s catalogue.Seal) bool { return s.Embedded != nil }
	touches    = ofKind("brush", "tufted-brush", "blade") // stays on the floor, closed and open
)

// putPractice adds the facts of an option that the rules of sealing practice read.
func putPractice(facts fact.Set, shared *scoring, o door.Option) {
	d, c := shared.d, shared.c
	put(facts, "operation", d.Leaf.Operation, word)
	put(facts, "floor_swept", d.Floor.Swept, word)
	put(facts, "duty_use", d.Duty.Use, word)
	p := practice{door: d, option: o, facts: facts}
	for _, f := range o.Fits {
		if f.Edge == "bottom" {
			entry, ok := c.Seal(f.Seal.Value)
			leaves := slices.DeleteFunc(slices.Clone(shared.leaves), func(l door.Leaf) bool { return f.Leaf != "" && f.Leaf != l.ID })
			p.seals = append(p.seals, bottomSeal{f, entry, ok && f.Seal.Known, leaves})
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

// kinds says which kinds of seal are at the bottom edge.
func (p practice) kinds() {
	for name, is := range map[string]func(catalogue.Seal) bool{
		"bottom_brush": isBrush, "bottom_fine_brush": ofKind("brush"), "bottom_tufted_brush": isTufted, "bottom_blade": isBlade,
		"bottom_gasket": isGasket, "bottom_drop_seal": isDrop, "bottom_embedded_blade": isEmbedded,
	} {
		at, all := []string{}, true
		for _, s := range p.seals {
			all = all && s.known
			if s.known && is(s.entry) {
				at = append(at, s.Seal.Pointer)
			}
		}
		switch {
		case len(at) > 0:
			p.facts[name] = fact.Fact{Value: true, At: at}
		case all:
			p.facts[name] = fact.Fact{Value: false, At: []string{p.option.Pointer}}
		}
	}
}

// of gives the bottom seals of a kind: none while one of them might be of that kind too.
func (p practice) of(is func(catalogue.Seal) bool) []bottomSeal {
	if slices.ContainsFunc(p.seals, func(s bottomSeal) bool { return !s.known }) {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(p.seals), func(s bottomSeal) bool { return !is(s.entry) })
}

// presses pairs seals with their leaves: none while a leaf is not read at three places or more, from edge to
// edge, from which alone its widest and tightest place can be told.
func (p practice) presses(seals []bottomSeal) []press {
	var out []press
	for _, s := range seals {
		if len(s.leaves) == 0 {
			return nil
		}
		for _, l := range s.leaves {
			if !readAlong(l, l.Readings) {
				return nil
			}
			c, _ := correctionOf(p.door, l)
			out = append(out, press{s, l, slices.MaxFunc(l.Readings, byGap), tightest(l.Readings), c.from})
		}
	}
	return out
}

// edgePart is the part of a leaf's width within which a reading counts as one of its edge. Our own choice: what is
// common practice, without a published source, is to read at both edges.
const edgePart = 10

// readAlong says whether there are readings enough, from edge to edge of a leaf.
func readAlong(l door.Leaf, readings []door.Reading) bool {
	if len(readings) < fewReadings {
		return false
	}
	first, last := readings[0].At, readings[len(readings)-1].At
	return l.Width.Known && first*edgePart <= l.Width.Value && (l.Width.Value-last)*edgePart <= l.Width.Value
}

// set gives the presses of seals whose overlap is known: none while that of one is not.
func (p practice) set(seals []bottomSeal) []press {
	if slices.ContainsFunc(seals, func(s bottomSeal) bool { return !s.Overlap.Known }) {
		return nil
	}
	return p.presses(seals)
}

// touching finds the overlap of blades and brushes where the gap is widest.
func (p practice) touching() {
	bySet := func(a, b press) int { return cmp.Compare(a.Overlap.Value, b.Overlap.Value) }
	if blades := p.set(p.of(isBlade)); len(blades) > 0 {
		x := slices.MinFunc(blades, bySet)
		p.facts["blade_overlap_least"] = fact.Fact{Value: int64(x.Overlap.Value), At: x.at(x.widest), Formula: "the overlap that is set, which is that at the widest reading"}
	}
	all := p.set(p.of(isBrush))
	if len(all) == 0 {
		return
	}
	for name, x := range map[string]press{"brush_overlap_least": slices.MinFunc(all, bySet), "brush_overlap_most": slices.MaxFunc(all, bySet)} {
		p.facts[name] = fact.Fact{Value: int64(x.Overlap.Value), At: x.at(x.widest), Formula: "the overlap that is set, which is that at the widest reading"}
	}
}

// held is a length that must not be more than another.
type held struct {
	value, bound quantity.Length // bound 0: the catalogue does not say
	at           []string
	boundAt      string
}

// hold puts the pair of facts with the least to spare. Where no length is known, the smallest bound is put alone;
// where a bound is not known, the greatest length.
func (p practice) hold(name, bound, formula string, seals []bottomSeal, boundOf func(catalogue.Seal) quantity.Length, all []held) {
	if len(seals) == 0 {
		return
	}
	least := slices.MinFunc(seals, func(a, b bottomSeal) int { return cmp.Compare(boundOf(a.entry), boundOf(b.entry)) })
	known := boundOf(least.entry) > 0
	lowest, at := boundOf(least.entry), least.Seal.Pointer
	if len(all) > 0 {
		worst := slices.MaxFunc(all, func(a, b held) int {
			if !known {
				return cmp.Compare(a.value, b.value)
			}
			return cmp.Compare(a.value-a.bound, b.value-b.bound)
		})
		p.facts[name] = fact.Fact{Value: int64(worst.value), At: worst.at, Formula: formula}
		lowest, at = worst.bound, worst.boundAt
	}
	if known {
		p.facts[bound] = fact.Fact{Value: int64(lowest), At: []string{at}, Formula: "from the catalogue"}
	}
}

// allowances finds how far the seals that stay on the floor are pressed, closed and through the swing.
func (p practice) allowances() {
	seals := p.of(touches)
	allowance := func(s catalogue.Seal) quantity.Length { return s.Most }
	var closed, swinging []held
	swung := true
	for _, x := range p.set(seals) {
		closed = append(closed, held{x.overlap(x.tightest.Gap), x.entry.Most, x.at(x.tightest), x.Seal.Pointer})
		swung = swung && len(x.leaf.Swing) > 0
		for _, s := range x.leaf.Swing {
			swung = swung && (len(s.Readings) == 0 || readAlong(x.leaf, s.Readings))
			swinging = append(swinging, held{x.overlap(s.Gap), x.entry.Most, x.at(smallest(s)), x.Seal.Pointer})
		}
	}
	if !swung {
		swinging = nil
	}
	p.hold("overlap_most", "movement_allowance", "overlap at the widest reading + widest gap - tightest gap", seals, allowance, closed)
	p.hold("swing_overlap_most", "swing_allowance", "overlap at the widest reading + widest closed gap - gap at the angle", seals, allowance, swinging)
}

// drops finds how far drop seals must fall.
func (p practice) drops() {
	seals := p.of(isDrop)
	var all []held
	for _, x := range p.presses(seals) {
		all = append(all, held{x.widest.Gap, x.entry.Length, x.at(x.widest), x.Seal.Pointer})
	}
	p.variation("drop_gap_variation", seals)
	p.hold("drop_gap", "drop_fall", "the widest gap", seals, func(s catalogue.Seal) quantity.Length { return s.Length }, all)
}

// blades finds how uneven the gap is along the blades, and whether there are several one behind the other.
func (p practice) blades() {
	seals := p.of(isBlade)
	p.variation("blade_gap_variation", seals)
	p.rows("several_blades", "on every leaf with a blade, two blades or more one behind the other", seals, func(s catalogue.Seal) int {
		if b, ok := s.Model.(seal.Blade); ok {
			return b.Lips
		}
		return 0
	})
}

// tufts says whether tufted brushes are backed: one row alone leaks between its tufts.
func (p practice) tufts() {
	p.rows("tufted_backed", "on every leaf with a tufted brush, two of them or more one behind the other, or one with an embedded blade", p.of(isTufted), func(s catalogue.Seal) int {
		if s.Embedded != nil {
			return several
		}
		return 1
	})
}

// variation puts how uneven the gap is along some seals.
func (p practice) variation(name string, seals []bottomSeal) {
	all := p.presses(seals)
	if len(all) == 0 {
		return
	}
	varies := func(x press) quantity.Length { return x.widest.Gap - x.tightest.Gap }
	worst := slices.MaxFunc(all, func(a, b press) int { return cmp.Compare(varies(a), varies(b)) })
	p.facts[name] = fact.Fact{Value: int64(varies(worst)), At: append([]string{worst.widest.Pointer, worst.tightest.Pointer}, worst.corrected...), Formula: "widest gap - tightest gap"}
}

// several rows are two or more.
const several = 2

// rows puts whether there are several rows on every leaf that has one at all; where the leaves are not listed, on the door.
func (p practice) rows(name, formula string, seals []bottomSeal, rowsOf func(catalogue.Seal) int) {
	if len(seals) == 0 {
		return
	}
	sums, at, ids := map[string]int{}, map[string][]string{}, []string{}
	all := []string{}
	for _, s := range seals {
		leaves := s.leaves
		if len(leaves) == 0 {
			leaves = []door.Leaf{{}}
		}
		for _, l := range leaves {
			if sums[l.ID] == 0 {
				ids = append(ids, l.ID)
			}
			sums[l.ID] += rowsOf(s.entry)
			at[l.ID] = append(at[l.ID], s.Seal.Pointer)
		}
		all = append(all, s.Seal.Pointer)
	}
	p.facts[name] = fact.Fact{Value: true, At: all, Formula: formula}
	for _, id := range ids {
		if sums[id] < several {
			p.facts[name] = fact.Fact{Value: false, At: at[id], Formula: formula}
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
		all := p.set([]bottomSeal{s})
		if len(all) == 0 || s.entry.Length == 0 {
			return
		}
		var reach, pressed quantity.Length
		for _, x := range all {
			reach = max(reach, x.widest.Gap+max(x.Overlap.Value, 0))
			pressed = max(pressed, x.overlap(x.tightest.Gap))
		}
		names := []any{}
		for _, other := range byLength(c) {
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

// byLength lists the catalogue, the shortest first.
func byLength(c *catalogue.Catalogue) []catalogue.Seal {
	var out []catalogue.Seal
	for _, name := range c.Names() {
		s, _ := c.Seal(name)
		out = append(out, s)
	}
	slices.SortStableFunc(out, func(a, b catalogue.Seal) int { return cmp.Compare(a.Length, b.Length) })
	return out
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
