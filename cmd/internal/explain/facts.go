package explain

import (
	"slices"
	"strings"

	"sillwright/policies"
	"sillwright/schema"
	"sillwright/schema/door"
	"sillwright/schema/fact"
)

// Fact is a fact that a rule reads of a subject, with where it came from.
type Fact struct {
	Name, Title string
	Known       bool
	Raw         fact.Fact
	Words       string   // the value, in the spec's units
	From        []Source // where the spec gives it, or what it was worked out of; of one that is not known, where the spec would
	Formula     string   // how it was worked out; empty: it stands in the spec
	Seals       []Seal   // of the catalogue, where it rests on what that says of a seal
}

// Source is a place of the spec.
type Source struct {
	Pointer string
	Field   string      // as a person would say it
	Span    schema.Span // of the nearest thing that is written
	Text    string      // the value as written, cut where it is long; empty: nothing is written there
}

// Seal is a datum of the catalogue.
type Seal struct {
	Name, Title string
	From        string // where the datum came from; empty: of the seal as such
}

// mostText is how much is told of what the spec writes in one place.
const mostText = 240

// facts gives the facts that a rule reads of a subject.
func (b basis) facts(r *policies.Rule, subject string) []Fact {
	i := slices.IndexFunc(b.subjects, func(s fact.Subject) bool { return s.ID == subject })
	if i < 0 {
		return nil
	}
	s := b.subjects[i]
	var out []Fact
	for _, name := range r.Reads() {
		d, ok := fact.Describe(name)
		if !ok || !d.Of(s.Kind) {
			continue // the variant, or a fact of other subjects
		}
		f := Fact{Name: name, Title: d.Title}
		f.Raw, f.Known = s.Facts[name]
		if !f.Known {
			f.From = []Source{b.source(strings.ReplaceAll(d.Pointer, "{side}", strings.TrimPrefix(s.ID, "side:")))}
			out = append(out, f)
			continue
		}
		f.Words, f.Formula = words(d, f.Raw, b.r.System), f.Raw.Formula
		for _, at := range f.Raw.At {
			f.From = append(f.From, b.source(at))
		}
		f.Seals = b.seals(name, OptionOf(s.ID), f.Raw.At)
		out = append(out, f)
	}
	return out
}

func (b basis) source(pointer string) Source {
	root := b.r.Door.Document.Root
	out := Source{Pointer: pointer, Field: schema.Field(pointer), Span: root.SpanOf(pointer)}
	if n, ok := root.Lookup(pointer); ok {
		w := writer{most: mostText}
		w.node(n)
		out.Text = w.b.String()
	}
	return out
}

// writer writes a value of a spec on one line, as it stands there, and stops where it has written enough.
type writer struct {
	b    strings.Builder
	most int
}

func (w *writer) full() bool { return w.b.Len() > w.most }

func (w *writer) node(n *schema.Node) {
	switch {
	case n.Kind == schema.Object:
		w.list("{", "}", len(n.Members), func(i int) {
			w.b.WriteString(n.Members[i].Key + ": ")
			w.node(n.Members[i].Value)
		})
	case n.Kind == schema.Array:
		w.list("[", "]", len(n.Items), func(i int) { w.node(n.Items[i]) })
	case n.Kind == schema.Null:
		w.b.WriteString("null")
	default:
		text := []rune(n.Text)
		if len(text) > w.most {
			text = append(text[:w.most], '…')
		}
		w.b.WriteString(string(text))
	}
}

func (w *writer) list(opens, closes string, n int, item func(int)) {
	w.b.WriteString(opens)
	for i := range n {
		if i > 0 {
			w.b.WriteString(", ")
		}
		if w.full() {
			w.b.WriteString("…")
			break
		}
		item(i)
	}
	w.b.WriteString(closes)
}

// data names, of facts that rest on the catalogue, what of a seal they rest on; "": on all that it says of the way that air takes, or of
// how the seal drags.
var data = map[string]string{
	"in_range": "working", "movement_allowance": "working", "swing_allowance": "working", "edge_gaskets_pressed": "working", "fitted_gaskets_pressed": "working",
	"drop_fall": "length", "shorter_brushes": "length", "embedded_blades": "embedded_blade", "cycles_tested": "life",
	"leakage": "", "leakage_50": "", "leakage_rates": "", "edge_rates": "", "opening_force_sealed": "", "latching_spare": "",
}

// seals gives what the catalogue says of the seals that a fact rests on: those at which it points, or else the bottom seals of its option.
func (b basis) seals(name, option string, at []string) []Seal {
	datum, rests := data[name]
	var names []string
	add := func(seal string) {
		if seal != "" && !slices.Contains(names, seal) {
			names = append(names, seal)
		}
	}
	for _, pointer := range at {
		if n, ok := b.r.Door.Document.Root.Lookup(pointer); ok && n.Kind == schema.String && strings.HasSuffix(pointer, "/seal") {
			add(n.Text)
		}
	}
	if i := slices.IndexFunc(b.r.Door.Options, func(o door.Option) bool { return o.ID == option }); i >= 0 && rests && len(names) == 0 {
		for _, fit := range b.r.Door.Options[i].Fits {
			add(fit.Seal.Value)
		}
	}
	var out []Seal
	for _, name := range names {
		if s, ok := b.a.Catalogue.Seal(name); ok {
			out = append(out, Seal{s.Name, s.Title, s.From[datum]})
		}
	}
	return out
}
