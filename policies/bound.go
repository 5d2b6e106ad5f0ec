package policies

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"sync"

	"sillwright/schema"
	"sillwright/schema/quantity"
)

//go:embed quantities.yaml
var quantitiesSource []byte

// Quantity is what rules of several rulebooks bound.
type Quantity struct {
	ID       string `json:"-"`
	Title    string `json:"title"`
	Kind     string `json:"kind"`      // length, area or force, in whole nm, nm2 or fN
	LessWith string `json:"less_with"` // the quantity of which one more is one less of this
}

var quantities = sync.OnceValue(func() map[string]Quantity {
	var out map[string]Quantity
	docs, problems := schema.Read("quantities.yaml", quantitiesSource)
	if len(problems) > 0 {
		panic(problems[0].Error()) // the file is ours; a test reads it
	}
	if err := into(docs[0].Root, &out); err != nil {
		panic(fmt.Sprintf("quantities.yaml: %v", err))
	}
	for id, q := range out {
		q.ID = id
		out[id] = q
	}
	return out
})

// Words writes a value of the quantity, in its exact unit, for a person.
func (q Quantity) Words(n int64, system quantity.System) string {
	return value{q.Kind: json.Number(strconv.FormatInt(n, 10))}.words(system)
}

// Measure writes a value of the quantity for a machine.
func (q Quantity) Measure(n int64, comparator string) *Measure {
	m := value{q.Kind: json.Number(strconv.FormatInt(n, 10))}.measure()
	m.Comparator = comparator
	return m
}

// Bounds says which quantity a limit of a rule bounds.
type Bounds struct {
	Quantity string `json:"quantity"`
	AtMost   string `json:"at_most"`  // in place of the limit's own value, where that is of something else
	AtLeast  string `json:"at_least"` // likewise
	Side     string `json:"side"`     // of the door, where the rule looks at one side only: outer, inner
	Relief   string `json:"relief"`   // how the text lets the door off this limit; {lack} and {excess} are filled
}

// Bound is what a rule lets a quantity of one door be.
type Bound struct {
	Quantity       Quantity
	Side           string // of the door, outer or inner; "": not of a side
	AtLeast        bool
	Limit          int64
	Measured       *int64 // nil: not known, or of something else
	Met            bool
	Unasked        *int64 // the limit where no authority agrees to a wider one; nil: nobody has to
	Open           bool   // neither met nor broken: something is not known, or an authority decides
	Allowed        string // the limit in words
	Rule, Rulebook string
	Cite, Clause   string
	Provenance     string
	Relief         string
}

// boundsOf gives what a rule that applies lets the quantities be that it bounds: of several checks of a limit the one with
// the least to spare, on each side of the door where it judges both.
func (r *Rule) boundsOf(o outcome, system quantity.System) []Bound {
	var out []Bound
	if o.Outcome == NotApplicable || r.Level == Caution {
		return nil
	}
	for _, name := range slices.Sorted(maps.Keys(r.Bounds)) {
		given := r.Bounds[name]
		worst := map[string]Bound{} // by side
		for _, c := range o.Checks {
			if c.Part != name || c.State == "missing" || (o.Outcome == Unknown && (c.State == "pass" || c.State == "fail")) {
				continue // nothing is known to compare, or it may not apply at all
			}
			b, ok := r.bound(given, c, o, system)
			if other, seen := worst[b.Side]; ok && (!seen || b.spare() < other.spare()) {
				worst[b.Side] = b
			}
		}
		for _, side := range slices.Sorted(maps.Keys(worst)) {
			out = append(out, worst[side])
		}
	}
	return out
}

func (r *Rule) bound(given Bounds, c check, o outcome, system quantity.System) (Bound, bool) {
	q := quantities()[given.Quantity]
	b := Bound{
		Quantity: q, Rule: r.ID, Rulebook: r.Rulebook.ID, Cite: r.Rulebook.Cite, Provenance: r.source(o.By), Clause: r.clause(c.Part, o.By),
		Met: c.State == "pass", Open: c.State != "pass" && c.State != "fail", Side: given.Side, AtLeast: c.Limit.AtLeast != "", Relief: fill(given.Relief, c.Values, system), Allowed: r.allowed(c, system),
	}
	if slices.ContainsFunc(r.Exceptions, func(e Exception) bool { return e.ID == o.By && e.Open }) {
		_, n, _ := number(r.Limits[c.Part].AtMost + r.Limits[c.Part].AtLeast)
		b.Unasked = &n
	}
	if side, ok := c.Values["side"]["word"].(string); ok {
		b.Side = side
	}
	if b.Met && strings.Contains(given.Relief, "{") {
		b.Relief = "" // nothing is lacking
	}
	if text := given.AtMost + given.AtLeast; text != "" {
		_, n, err := number(text)
		b.Limit, b.AtLeast, b.Allowed = n, given.AtLeast != "", q.Words(n, system)
		return b, err == nil
	}
	limit, ok := integer(c.Limit.AtMost)
	if b.AtLeast {
		limit, ok = integer(c.Limit.AtLeast)
	}
	b.Limit = limit
	if n, known := integer(c.Measured[q.Kind]); known {
		b.Measured = &n
	}
	return b, ok
}

// spare is how much there is to the limit; a limit of something else counts as just met.
func (b Bound) spare() int64 {
	switch {
	case b.Measured == nil:
		return 0
	case b.AtLeast:
		return *b.Measured - b.Limit
	}
	return b.Limit - *b.Measured
}

// Broken says whether what the door has now is known not to keep to it.
func (b Bound) Broken() bool { return !b.Met && (!b.Open || (b.Measured != nil && b.spare() < 0)) }

// Asks says whether only an authority can let a value of the quantity by.
func (b Bound) Asks(n int64) bool {
	return b.Unasked != nil && ((b.AtLeast && n < *b.Unasked) || (!b.AtLeast && n > *b.Unasked))
}

// bounding holds that what a rule bounds is a quantity of the kind of its limit.
func (f *faults) bounding(q question) {
	r := f.rule
	ids := slices.Sorted(maps.Keys(quantities()))
	for _, name := range slices.Sorted(maps.Keys(r.Bounds)) {
		at, given := place{"bounds", name}, r.Bounds[name]
		known, ok := quantities()[given.Quantity]
		if !ok {
			f.value(at.to("quantity"), fmt.Sprintf("quantity %q", given.Quantity), schema.Choices(given.Quantity, ids), "name a quantity of quantities.yaml")
			continue
		}
		if _, limited := r.Limits[name]; !limited && given.AtMost+given.AtLeast == "" {
			f.key(at, fmt.Sprintf("bounds for %q, which is no limit of the rule", name), schema.Choices(name, slices.Sorted(maps.Keys(r.Limits))), "name a limit, or say at_most or at_least here")
			continue
		}
		if !slices.Contains(slices.Sorted(maps.Keys(q.Parts)), name) {
			f.key(at, fmt.Sprintf("bounds for %q, which is no part of question %s", name, r.Question), schema.Choices(name, slices.Sorted(maps.Keys(q.Parts))), "name a part")
		}
		text := given.AtMost + given.AtLeast
		if text == "" {
			text = r.Limits[name].AtMost + r.Limits[name].AtLeast
		}
		if kind, _, err := number(text); err != nil || string(kind) != known.Kind {
			f.value(at, fmt.Sprintf("%q as a bound of %s", text, known.Title), measures[known.Kind], "bound it by such a value")
		}
		f.filled("bounds", map[string]string{name: given.Relief}, q, []string{name})
	}
}
