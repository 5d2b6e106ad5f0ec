package render

import (
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema/quantity"
)

// conflicts shows where rulebooks pull apart, and the value that meets them all.
func (p *page) conflicts(r *assess.Result) {
	for i, c := range r.Conflicts {
		if i == 0 {
			p.heading("WHERE RULES PULL APART", "")
		}
		name := upper(c.Quantity.Title)
		if c.Side != "" {
			name += " from the " + c.Side + " side"
		}
		if option, ok := strings.CutPrefix(c.Subject, "option:"); ok {
			name += ", option " + clean(option)
		}
		if here, ok := c.Here(); ok {
			name += ", here " + c.Quantity.Words(here, r.System)
		}
		p.sides("    ", name, "", bold)
		for _, b := range c.Bounds {
			what := ""
			if b.Quantity.ID != c.Quantity.ID {
				what = b.Quantity.Title + " "
			}
			p.fact("      ", what+bounded(b.AtLeast)+" "+b.Allowed+asks(b)+", "+met(b), cited(b.Cite, b.Clause, b.Provenance))
		}
		for _, s := range advice(c, r.System) {
			p.text("      ", s)
		}
	}
}

// upper begins a text with a capital.
func upper(text string) string { return strings.ToUpper(text[:1]) + text[1:] }

func bounded(atLeast bool) string {
	if atLeast {
		return "at least"
	}
	return "at most"
}

// agreed stands behind what only an authority can allow.
const agreed = " if the authority agrees"

func asks(b policies.Bound) string {
	if b.Asks(b.Limit) {
		return agreed
	}
	return ""
}

func met(b policies.Bound) string {
	switch {
	case b.Met:
		return "met"
	case b.Broken():
		return "not met"
	}
	return "not settled"
}

// advice says what meets all bounds of a conflict, or that nothing does and what the texts allow instead.
func advice(c assess.Conflict, system quantity.System) []string {
	words := func(n *int64) string {
		for _, b := range c.Bounds {
			if b.Quantity.ID == c.Quantity.ID && b.Limit == *n {
				return b.Allowed // in the systems of its text
			}
		}
		return c.Quantity.Words(*n, system)
	}
	meets := " meets them all"
	if slices.ContainsFunc(c.Bounds, func(b policies.Bound) bool {
		return (c.Most != nil && b.Asks(*c.Most)) || (c.Least != nil && b.Asks(*c.Least))
	}) {
		meets += agreed
	}
	var out []string
	switch {
	case c.None:
		out = append(out, "No value meets them all: it would have to be at least "+words(c.Least)+" and at most "+words(c.Most)+".")
	case c.Least != nil && c.Most != nil && *c.Least == *c.Most:
		out = append(out, words(c.Most)+" exactly"+meets+".")
	case c.Least != nil && c.Most != nil:
		out = append(out, "From "+words(c.Least)+" to "+words(c.Most)+meets+".")
	case c.Most != nil:
		out = append(out, "Up to "+words(c.Most)+meets+".")
	case c.Least != nil:
		out = append(out, "At least "+words(c.Least)+meets+".")
	}
	for i, b := range c.Bounds {
		if !c.None || b.Relief == "" {
			continue
		}
		way := "Way out: " + b.Relief
		if rest := c.Without(i); rest.Most != nil && *rest.Most > 0 && rest.Least == nil {
			way += "; then up to " + words(rest.Most) + " meets the rest"
		}
		out = append(out, way+".")
	}
	return out
}

type conflictJSON struct {
	Subject  string            `json:"subject"`
	Quantity string            `json:"quantity"`
	Side     *string           `json:"side"`
	Bounds   []boundJSON       `json:"bounds"`
	Least    *policies.Measure `json:"least"`
	Most     *policies.Measure `json:"most"`
	Possible bool              `json:"possible"`
	Advice   []string          `json:"advice"`
}

type boundJSON struct {
	Rule     string            `json:"rule"`
	Clause   string            `json:"clause"`
	Quantity string            `json:"quantity"`
	Limit    *policies.Measure `json:"limit"`
	Met      bool              `json:"met"`
	Open     bool              `json:"open"`
}

func conflictOf(c assess.Conflict, system quantity.System) conflictJSON {
	out := conflictJSON{Subject: c.Subject, Quantity: c.Quantity.Title, Bounds: []boundJSON{}, Possible: !c.None, Advice: advice(c, system)}
	if c.Side != "" {
		out.Side = &c.Side
	}
	if c.Least != nil {
		out.Least = c.Quantity.Measure(*c.Least, ">=")
	}
	if c.Most != nil {
		out.Most = c.Quantity.Measure(*c.Most, "<=")
	}
	for _, b := range c.Bounds {
		comparator := map[bool]string{true: ">=", false: "<="}[b.AtLeast]
		out.Bounds = append(out.Bounds, boundJSON{b.Rule, b.Clause, b.Quantity.Title, b.Quantity.Measure(b.Limit, comparator), b.Met, b.Open})
	}
	return out
}
