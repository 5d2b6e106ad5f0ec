package engine

import (
	"cmp"
	"slices"

	"sillwright/engine/doubt"
)

// Criterion is one thing that options are ranked by.
type Criterion string

// The criteria, by the words that a user orders them with.
const (
	ByLeakage   Criterion = "leakage"   // less is better
	ByForce     Criterion = "force"     // drag at the latch edge; less is better
	ByLife      Criterion = "life"      // cycles tested; more is better
	ByTolerance Criterion = "tolerance" // how far a setting may be off; more is better
)

// UsualOrder is the order that holds unless the user gives another: the air first, for that is what the seal is for,
// then whether hands can open the door, how long it lasts, and how easily it is set. Engineering judgement, not measured.
func UsualOrder() []Criterion { return []Criterion{ByLeakage, ByForce, ByLife, ByTolerance} }

// MoreIsBetter tells which end of a figure is the good one.
func (c Criterion) MoreIsBetter() bool { return c == ByLife || c == ByTolerance }

// Of gives the figure of an option: m3/s, N, cycles, or m, where a tolerance is exact and so low, likely and high at
// once. False: not known.
func (c Criterion) Of(o Option) (doubt.Range, bool) {
	var r *doubt.Range
	switch {
	case c == ByLeakage && o.Leakage != nil:
		return o.Leakage.Range, true
	case c == ByTolerance && o.Tolerance != nil:
		v := o.Tolerance.Metres()
		return doubt.Between(v, v, v), true
	case c == ByForce:
		r = o.Drag
	case c == ByLife:
		r = o.Life
	}
	if r == nil {
		return doubt.Range{}, false
	}
	return *r, true
}

// Ranked is a complying option in its place.
type Ranked struct {
	Option Option
	Place
}

// Place is where an option stands among those that comply, and why. Ids stand in rank order.
type Place struct {
	Rank        int      // 1 is best: one more than how many stand ahead; 0: not ranked
	Near        []string // where leakage counts: the ranked options whose leakage band overlaps its own
	Tied        []string // the options of the same rank: nothing that counts parts them
	DominatedBy []string // options no worse on anything that counts, and better beyond doubt on some of it
	Reason      Reason
}

// Reason is what parts an option from its neighbour: the rank right ahead of it, or of a first one that which comes
// next. It is empty for an only option and for those that share the first place.
type Reason struct {
	By    Criterion // the first criterion that parts the two
	Other string    // the neighbour; of several one that differs beyond doubt
	// Third is empty if the two differ beyond doubt, or if it is the neighbour's figure that is not known. Otherwise it
	// is better than this option beyond doubt and not so than Other; or, where this option's figure is not known, one
	// of the last, with which it stands.
	Third string
}

// Rank orders options by the criteria in turn; no order means the usual one.
//
// An option is better than another beyond doubt if its whole band lies on the better side of the other's; else the two
// are level. Level is no equality: a may be level with b and b with c, and a still better than c. So the options are
// parted in tiers. By the first criterion an option stands behind as many as are better than it beyond doubt; those that
// stand equal are a tier, within which the next criterion counts in the same way; who stands equal to the end is tied.
// Being better beyond doubt is transitive, so it always puts one ahead, and two that stand equal are always level. Two
// that are level can still be parted, but only by a third that is better than the one beyond doubt and not so than the
// other; Reason names it.
//
// What is not known puts no option ahead: in its tier it stands with the last. Where leakage counts and is not known, or
// nothing that counts is known, there is no rank, and the option comes last.
//
// An option dominates another if it is better beyond doubt on one criterion, and on every other all of its band (low,
// likely and high) is no worse; both must be known on all. It then always stands ahead.
//
// Within a rank options stand by the worse end of their bands, then the likely figure, criterion by criterion, then by id.
func Rank(options []Option, order []Criterion) []Ranked {
	if len(order) == 0 {
		order = UsualOrder()
	}
	f := field{order: order}
	var unranked []Ranked
	for _, o := range options {
		if e := enter(o, order); e.rankable(order) {
			f.in = append(f.in, e)
		} else {
			unranked = append(unranked, Ranked{Option: o, Place: Place{Near: []string{}, Tied: []string{}, DominatedBy: []string{}}})
		}
	}
	for k := range order {
		f.part(k)
	}
	slices.SortStableFunc(f.in, compareEntrants)
	var out []Ranked
	for i := range f.in {
		out = append(out, Ranked{Option: f.in[i].Option, Place: f.place(i)})
	}
	slices.SortStableFunc(unranked, func(a, b Ranked) int { return cmp.Compare(a.Option.ID, b.Option.ID) })
	return append(out, unranked...)
}

// entrant is an option with its figures in the order that counts, turned so that less is better.
type entrant struct {
	Option
	figures []doubt.Range
	known   []bool
	stands  []int // by criterion, behind how many of its tier
}

// field is all that are ranked.
type field struct {
	order []Criterion
	in    []entrant
}

func enter(o Option, order []Criterion) entrant {
	e := entrant{Option: o, stands: make([]int, len(order))}
	for _, c := range order {
		r, known := c.Of(o)
		if c.MoreIsBetter() {
			r = doubt.Between(-r.High, -r.Likely, -r.Low)
		}
		e.figures, e.known = append(e.figures, r), append(e.known, known)
	}
	return e
}

func (e entrant) rankable(order []Criterion) bool {
	leakage := slices.Index(order, ByLeakage)
	return slices.Contains(e.known, true) && (leakage < 0 || e.known[leakage])
}

// beats is true beyond doubt.
func (e entrant) beats(k int, other entrant) bool {
	return e.known[k] && other.known[k] && e.figures[k].High < other.figures[k].Low
}

func (e entrant) noWorse(k int, other entrant) bool {
	a, b := e.figures[k], other.figures[k]
	return e.known[k] && other.known[k] && a.Low <= b.Low && a.Likely <= b.Likely && a.High <= b.High
}

func (e entrant) sameTier(k int, other entrant) bool {
	return slices.Equal(e.stands[:k], other.stands[:k])
}

// part finds how the options of every tier stand by a criterion.
func (f *field) part(k int) {
	for i := range f.in {
		e := &f.in[i]
		for _, other := range f.in {
			if e.sameTier(k, other) && other.beats(k, *e) {
				e.stands[k]++
			}
		}
	}
	for i := range f.in {
		e := &f.in[i]
		for _, other := range f.in {
			if !e.known[k] && other.known[k] && e.sameTier(k, other) {
				e.stands[k] = max(e.stands[k], other.stands[k])
			}
		}
	}
}

func compareEntrants(a, b entrant) int {
	order := slices.Compare(a.stands, b.stands)
	for k := range a.figures {
		unknown := func(e entrant) int {
			if e.known[k] {
				return 0
			}
			return 1
		}
		x, y := a.figures[k], b.figures[k]
		order = cmp.Or(order, cmp.Compare(unknown(a), unknown(b)), cmp.Compare(x.High, y.High), cmp.Compare(x.Likely, y.Likely))
	}
	return cmp.Or(order, cmp.Compare(a.ID, b.ID))
}

// place says where the option at an index of the sorted field stands.
func (f field) place(i int) Place {
	e := f.in[i]
	out := Place{Near: []string{}, Tied: []string{}, DominatedBy: []string{}}
	leakage := slices.Index(f.order, ByLeakage)
	for j, other := range f.in {
		if slices.Equal(other.stands, e.stands) && out.Rank == 0 {
			out.Rank = j + 1
		}
		if j == i {
			continue
		}
		if slices.Equal(other.stands, e.stands) {
			out.Tied = append(out.Tied, other.ID)
		}
		if leakage >= 0 && !e.beats(leakage, other) && !other.beats(leakage, e) {
			out.Near = append(out.Near, other.ID)
		}
		if other.dominates(e) {
			out.DominatedBy = append(out.DominatedBy, other.ID)
		}
	}
	switch {
	case out.Rank > 1:
		out.Reason = f.behind(e, f.group(out.Rank-2))
	case len(out.Tied) == 0 && len(f.in) > 1:
		out.Reason = f.ahead(e, f.group(i+1))
	}
	return out
}

func (e entrant) dominates(other entrant) bool {
	better := false
	for k := range e.figures {
		if !e.noWorse(k, other) {
			return false
		}
		better = better || e.beats(k, other)
	}
	return better
}

// group is all that stand as the one at an index does.
func (f field) group(i int) []entrant {
	return slices.DeleteFunc(slices.Clone(f.in), func(e entrant) bool { return !slices.Equal(e.stands, f.in[i].stands) })
}

// parts is the first criterion by which two stand apart.
func parts(a, b entrant) int {
	k := 0
	for a.stands[k] == b.stands[k] {
		k++
	}
	return k
}

// ahead says why an only first stands before the next ones. Nobody of its tier is better, so by transitivity it is
// better beyond doubt than all whose figure is known.
func (f field) ahead(e entrant, next []entrant) Reason {
	k := parts(e, next[0])
	other := max(0, slices.IndexFunc(next, func(n entrant) bool { return e.beats(k, n) }))
	return Reason{By: f.order[k], Other: next[other].ID}
}

// behind says why an option stands after those right before it.
func (f field) behind(e entrant, before []entrant) Reason {
	k := parts(e, before[0])
	if i := slices.IndexFunc(before, func(b entrant) bool { return b.beats(k, e) }); i >= 0 {
		return Reason{By: f.order[k], Other: before[i].ID}
	}
	other := before[0]
	third := slices.IndexFunc(f.in, func(t entrant) bool {
		if !t.sameTier(k, e) || t.beats(k, other) {
			return false
		}
		return t.beats(k, e) || (!e.known[k] && t.known[k] && t.stands[k] == e.stands[k])
	})
	return Reason{By: f.order[k], Other: other.ID, Third: f.in[third].ID}
}
