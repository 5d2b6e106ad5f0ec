package assess

import (
	"cmp"
	"slices"

	"sillwright/policies"
)

// Conflict is where rulebooks pull a quantity of a subject apart: not all of them are met, and they bound it differently.
type Conflict struct {
	Subject     string
	Quantity    policies.Quantity
	Side        string           // of the door, where the two differ
	Bounds      []policies.Bound // in the order of the rules
	Least, Most *int64           // what meets all of them, in the quantity's exact unit; nil: no bound on that side
	None        bool             // no value meets all of them
}

// Here is the value that the subject has now, where it is known: the worst, if there are several. That is the greatest, or the
// smallest where nothing bounds it from above.
func (c Conflict) Here() (int64, bool) {
	var out *int64
	own := func(b policies.Bound) bool { return b.Quantity.ID == c.Quantity.ID }
	above := slices.ContainsFunc(c.Bounds, func(b policies.Bound) bool { return own(b) && !b.AtLeast })
	for _, b := range c.Bounds {
		if b.Measured != nil && own(b) && (out == nil || (above && *b.Measured > *out) || (!above && *b.Measured < *out)) {
			out = b.Measured
		}
	}
	if out == nil {
		return 0, false
	}
	return *out, true
}

// conflicts finds where the rulebooks that speak of a subject pull it apart, or away from what they ask of its door.
func conflicts(subject string, findings, door []policies.Finding) []Conflict {
	all := boundsOf(findings)
	own := map[string]bool{} // rules that speak of the subject
	for _, b := range all {
		own[b.Rule] = true
	}
	mine := slices.Clone(all)
	for _, b := range boundsOf(door) {
		again := func(o policies.Bound) bool { return o.Rulebook == b.Rulebook && o.Quantity == b.Quantity }
		if !slices.ContainsFunc(mine, again) { // asked of the option itself, it stands for the door
			all = append(all, b)
		}
	}
	var found []Conflict
	for _, b := range all {
		for _, on := range axes(b, all) {
			same := func(c Conflict) bool { return c.Quantity == on.Quantity && c.Side == on.Side }
			i := slices.IndexFunc(found, same)
			if i < 0 {
				i = len(found)
				found = append(found, Conflict{Subject: subject, Quantity: on.Quantity, Side: on.Side})
			}
			found[i].Bounds = append(found[i].Bounds, b)
		}
	}
	var out []Conflict
	for _, c := range found {
		speaks := func(b policies.Bound) bool { return own[b.Rule] }
		if c.settle(); !c.pulls() || !slices.ContainsFunc(c.Bounds, speaks) {
			continue
		}
		if i := slices.IndexFunc(out, c.mirrors); i >= 0 {
			out[i].Side = "" // the other side says the same
			continue
		}
		out = append(out, c)
	}
	slices.SortStableFunc(out, func(a, b Conflict) int { return cmp.Compare(a.Quantity.ID, b.Quantity.ID) })
	return out
}

func boundsOf(findings []policies.Finding) []policies.Bound {
	var out []policies.Bound
	for _, f := range findings {
		out = append(out, f.Bounds...)
	}
	return out
}

// axes are the bounds along whose quantity and side a bound is compared with others: itself, or those of which more is less of
// it, where both are known.
func axes(b policies.Bound, all []policies.Bound) []policies.Bound {
	var out []policies.Bound
	for _, o := range all {
		twice := func(p policies.Bound) bool { return p.Side == o.Side }
		if b.Measured != nil && o.Measured != nil && o.Quantity.ID == b.Quantity.LessWith && !slices.ContainsFunc(out, twice) {
			out = append(out, o)
		}
	}
	if len(out) == 0 {
		return []policies.Bound{b}
	}
	return out
}

// mirrors is true of the same conflict on the other side of the door.
func (c Conflict) mirrors(o Conflict) bool {
	mine, _ := c.Here()
	its, _ := o.Here()
	return c.Quantity == o.Quantity && mine == its && slices.EqualFunc(c.Bounds, o.Bounds, func(a, b policies.Bound) bool {
		return a.Rule == b.Rule && a.Limit == b.Limit && a.AtLeast == b.AtLeast && a.Met == b.Met && a.Clause == b.Clause
	})
}

// Without is the conflict with one of its bounds taken away.
func (c Conflict) Without(i int) Conflict {
	c.Bounds = slices.Delete(slices.Clone(c.Bounds), i, i+1)
	c.Least, c.Most = nil, nil
	c.settle()
	return c
}

// settle finds what meets all bounds: the greatest of the least values and the smallest of the greatest.
func (c *Conflict) settle() {
	here, _ := c.Here()
	for _, b := range c.Bounds {
		limit, least := b.Limit, b.AtLeast
		if b.Quantity.ID != c.Quantity.ID { // one more of the quantity is one less of this
			limit, least = here+*b.Measured-b.Limit, !b.AtLeast
		}
		switch {
		case least && (c.Least == nil || limit > *c.Least):
			c.Least = &limit
		case !least && (c.Most == nil || limit < *c.Most):
			c.Most = &limit
		}
	}
	c.None = c.Least != nil && c.Most != nil && *c.Least > *c.Most
}

// pulls says whether rules of several rulebooks bound the quantity differently, and not all are met.
func (c *Conflict) pulls() bool {
	first := c.Bounds[0]
	several := func(o policies.Bound) bool { return o.Rulebook != first.Rulebook }
	differs := func(o policies.Bound) bool {
		return o.Limit != first.Limit || o.AtLeast != first.AtLeast || o.Quantity.ID != first.Quantity.ID
	}
	return slices.ContainsFunc(c.Bounds, several) && slices.ContainsFunc(c.Bounds, differs) && slices.ContainsFunc(c.Bounds, policies.Bound.Broken)
}
