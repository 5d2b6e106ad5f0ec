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

// conflicts finds where the rulebooks that speak of a subject pull it apart.
func conflicts(subject string, findings []policies.Finding) []Conflict {
	var all []policies.Bound
	for _, f := range findings {
		all = append(all, f.Bounds...)
	}
	var out []Conflict
	for len(all) > 0 {
		c := Conflict{Subject: subject, Quantity: axis(all[0], all)}
		rest := all[:0:0]
		for _, b := range all {
			if axis(b, all) == c.Quantity {
				c.Bounds = append(c.Bounds, b)
			} else {
				rest = append(rest, b)
			}
		}
		all = rest
		if c.settle(); c.pulls() {
			out = append(out, c)
		}
	}
	slices.SortStableFunc(out, func(a, b Conflict) int { return cmp.Compare(a.Quantity.ID, b.Quantity.ID) })
	return out
}

// axis is the quantity along which a bound is compared with others: its own, or the one of which more is less of it, where
// both are bounded and known.
func axis(b policies.Bound, all []policies.Bound) policies.Quantity {
	if b.Quantity.LessWith == "" || b.Measured == nil {
		return b.Quantity
	}
	i := slices.IndexFunc(all, func(o policies.Bound) bool { return o.Quantity.ID == b.Quantity.LessWith })
	if i < 0 || all[i].Measured == nil {
		return b.Quantity
	}
	return all[i].Quantity
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
	unmet := func(o policies.Bound) bool { return !o.Met }
	return slices.ContainsFunc(c.Bounds, several) && slices.ContainsFunc(c.Bounds, differs) && slices.ContainsFunc(c.Bounds, unmet)
}
