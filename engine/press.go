package engine

import (
	"cmp"
	"slices"

	"sillwright/engine/catalogue"
	"sillwright/schema/door"
	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// bottomSeal is a seal at the bottom edge with the leaves that it is fitted to.
type bottomSeal struct {
	door.Fit
	entry  *catalogue.Seal
	known  bool // which seal it is
	leaves []*truth
}

// press is a bottom seal on one leaf, with the gap where it is widest and where it is tightest as far as it was read. A wider place
// elsewhere would only press it more where it was read, since it is set by the widest.
type press struct {
	*bottomSeal
	leaf             *truth
	read             bool // somewhere: if not, widest and tightest say nothing
	widest, tightest door.Reading
}

// overlap is how far the seal is pressed at a place, or an angle, with such a gap.
func (p press) overlap(gap quantity.Length) quantity.Length {
	return p.Overlap.Value + p.widest.Gap - gap
}

// at points to the seal and to a reading; to the seal alone where nothing was read, for then the setting alone proves it.
func (p press) at(r door.Reading) []string {
	if !p.read {
		return []string{p.Pointer}
	}
	return append([]string{p.Pointer, r.Pointer}, p.leaf.from...)
}

// among gives the bottom seals that are of a kind, and whether there can be no others: one that is not named might be.
func (p practice) among(is func(*catalogue.Seal) bool) (seals []*bottomSeal, all bool) {
	all = true
	for _, s := range p.seals {
		all = all && s.known
		if s.known && is(s.entry) {
			seals = append(seals, s)
		}
	}
	return seals, all
}

// of gives the bottom seals of a kind: none while one of them might be of that kind too.
func (p practice) of(is func(*catalogue.Seal) bool) []*bottomSeal {
	seals, all := p.among(is)
	if !all {
		return nil
	}
	return seals
}

// presses pairs seals with their leaves, and says whether that is the whole of it: every leaf is listed and read at three places or
// more, from edge to edge, from which alone its widest and tightest place can be told.
func (p practice) presses(seals []*bottomSeal) (out []press, whole bool) {
	whole = true
	for _, s := range seals {
		whole = whole && len(s.leaves) > 0
		for _, l := range s.leaves {
			whole = whole && l.along
			x := press{bottomSeal: s, leaf: l, read: len(l.Readings) > 0}
			if x.read {
				x.widest, x.tightest = slices.MaxFunc(l.Readings, byGap), tightest(l.Readings)
			}
			out = append(out, x)
		}
	}
	return out, whole
}

// set is presses of the seals whose overlap is known.
func (p practice) set(seals []*bottomSeal) ([]press, bool) {
	known := seals
	if slices.ContainsFunc(seals, func(s *bottomSeal) bool { return !s.Overlap.Known }) {
		known = slices.DeleteFunc(slices.Clone(seals), func(s *bottomSeal) bool { return !s.Overlap.Known })
	}
	out, whole := p.presses(known)
	return out, whole && len(known) == len(seals)
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

// held is a length that must not be more than another.
type held struct {
	value, bound quantity.Length // bound 0: the catalogue does not say
	at           []string
	boundAt      string
}

// holding is a pair of facts, a length and its bound, with all that is known of it.
type holding struct {
	name, bound, formula string
	seals                []*bottomSeal
	boundOf              func(*catalogue.Seal) quantity.Length
	found                []held
	named, whole         bool // every seal is named; every length is found
}

// hold puts the pair of facts with the least to spare. A length beyond its bound stands whatever else is not known. Else, where one
// is not known, the smallest bound is put alone; where a bound is not known, the greatest length.
func (p practice) hold(h holding) {
	spare := func(a, b held) int { return cmp.Compare(a.value-a.bound, b.value-b.bound) }
	put := func(x held) {
		p.facts[h.name] = fact.Fact{Value: int64(x.value), At: x.at, Formula: h.formula}
		if x.bound > 0 {
			p.facts[h.bound] = fact.Fact{Value: int64(x.bound), At: []string{x.boundAt}, Formula: "from the catalogue"}
		}
	}
	beyond := slices.DeleteFunc(slices.Clone(h.found), func(x held) bool { return x.bound == 0 || x.value <= x.bound })
	switch {
	case len(beyond) > 0:
		put(slices.MaxFunc(beyond, spare))
		return
	case len(h.seals) == 0 || !h.named:
		return
	}
	least := slices.MinFunc(h.seals, func(a, b *bottomSeal) int { return cmp.Compare(h.boundOf(a.entry), h.boundOf(b.entry)) })
	known := h.boundOf(least.entry) > 0
	switch {
	case !h.whole || len(h.found) == 0:
		if known {
			p.facts[h.bound] = fact.Fact{Value: int64(h.boundOf(least.entry)), At: []string{least.Seal.Pointer}, Formula: "from the catalogue"}
		}
	case known:
		put(slices.MaxFunc(h.found, spare))
	default:
		x := slices.MaxFunc(h.found, func(a, b held) int { return cmp.Compare(a.value, b.value) })
		x.bound = 0
		put(x)
	}
}
