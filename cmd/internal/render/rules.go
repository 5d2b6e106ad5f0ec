package render

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"sillwright/policies"
	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// provenances words where the text of a rule was seen.
var provenances = map[string]string{
	"read":      "read in the publisher's own text",
	"quoted":    "quoted word for word on another's page",
	"secondary": "secondary: check the text before relying on it",
	"memory":    "from memory, not verified",
	"practice":  "common practice, no published source",
	"own":       "the spec's own wish",
}

// Rulebooks lists rulebooks and their rules.
func Rulebooks(w io.Writer, books []*policies.Rulebook) error {
	p := &page{}
	for i, b := range books {
		if i > 0 {
			p.blank()
		}
		note := ""
		if b.Always {
			note = "always runs"
		}
		p.sides("", b.ID+"  "+b.Title, note, "")
		for _, r := range b.Rules {
			p.b.WriteString("  " + left(strings.TrimPrefix(r.ID, b.ID+"/"), 24) + left(r.Level, 9) + left(r.Provenance, 11) + left(r.Title, 54) + "\n")
		}
	}
	if len(books) == 1 {
		p.readings(books[0])
	}
	return p.flush(w)
}

// readings tells how a rulebook reads its text, and what of the text no rule asks.
func (p *page) readings(b *policies.Rulebook) {
	for _, id := range slices.Sorted(maps.Keys(b.Decisions)) {
		p.blank()
		p.text("Reading: ", b.Decisions[id])
	}
	if len(b.NotJudged) > 0 {
		p.blank()
		p.text("Not judged: ", strings.Join(b.NotJudged, "; ")+".")
	}
}

// flush writes the page without blanks at line ends.
func (p *page) flush(w io.Writer) error {
	lines := strings.Split(p.b.String(), "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	_, err := io.WriteString(w, strings.Join(lines, "\n"))
	return err
}

// Rule prints one rule in full.
func Rule(w io.Writer, r *policies.Rule) error {
	p := &page{}
	b := r.Rulebook
	p.sides("", r.Title, r.ID, "")
	by := b.Publisher
	if b.Jurisdiction != "none" {
		by += ", " + b.Jurisdiction
	}
	p.text("", fmt.Sprintf("%s; %s. Level: %s. Source: %s.", b.Title, by, r.Level, provenances[r.Provenance]))
	p.blank()
	p.text("Asks:    ", r.Asks)
	p.text("Why:     ", r.Why)
	p.text("Judges:  ", "each "+r.Subject+".")
	for _, c := range r.Applies {
		p.text("Applies: ", "where "+conditionText(c)+". Otherwise: "+c.Why+".")
	}
	for _, name := range slices.Sorted(maps.Keys(r.Limits)) {
		p.text("Limit:   ", plainName(name)+" "+limitText(r.Limits[name], b)+clauseText(r, name))
	}
	if len(r.Limits) == 0 && r.Clauses["value"] != "" {
		p.text("Clause:  ", b.Cite+", "+r.Clauses["value"])
	}
	for _, e := range r.Exceptions {
		p.text("Except:  ", e.Title+clauseText(r, e.ID)+". Then:")
		for _, name := range slices.Sorted(maps.Keys(e.Limits)) {
			p.text("           ", plainName(name)+" "+limitText(e.Limits[name], b))
		}
	}
	p.measure(r)
	for _, part := range slices.Sorted(maps.Keys(r.Remedies)) {
		p.text("Do:      ", blanks.Replace(r.Remedies[part]))
	}
	var shown []string
	for _, part := range slices.Sorted(maps.Keys(r.Decisions)) {
		if id := r.Decisions[part]; !slices.Contains(shown, id) {
			shown = append(shown, id)
			p.text("Reading: ", b.Decisions[id])
		}
	}
	for _, k := range r.KnownProblems {
		p.text("Known:   ", k)
	}
	return p.flush(w)
}

// measure tells how to find out the facts that a rule reads.
func (p *page) measure(r *policies.Rule) {
	for _, name := range r.Facts() {
		if d, ok := fact.Describe(name); ok {
			p.text("Measure: ", d.Title+": "+d.Measure+".")
		}
	}
}

// blanks shows a text's {names} as blanks to be filled from a door.
var blanks = strings.NewReplacer("{", "<", "}", ">", "_", " ")

func plainName(name string) string { return strings.ReplaceAll(name, "_", " ") }

// conditionText says in words when a condition holds.
func conditionText(c policies.Condition) string {
	var out []string
	for _, t := range c.Tests() {
		d, _ := fact.Describe(t.Fact)
		switch {
		case t.Given:
			out = append(out, "there is a "+d.Title)
		case t.Over != "":
			out = append(out, "the "+d.Title+" is more than "+t.Over)
		case d.Kind == fact.Truth:
			out = append(out, d.Title+": "+map[bool]string{true: "yes", false: "no"}[t.In[0] == true])
		default:
			var words []string
			for _, v := range t.In {
				words = append(words, fmt.Sprint(v))
			}
			out = append(out, d.Title+": "+strings.Join(words, " or "))
		}
	}
	return strings.Join(out, ", or ")
}

func clauseText(r *policies.Rule, part string) string {
	if c := r.Clauses[part]; c != "" {
		return "  (" + r.Rulebook.Cite + ", " + c + ")"
	}
	return ""
}

// limitText writes a limit in both systems where the text prints both.
func limitText(l policies.Limit, b *policies.Rulebook) string {
	switch {
	case l.Part != "":
		return l.Part + " of the whole"
	case len(l.OneOf) > 0:
		return "one of " + strings.Join(l.OneOf, ", ")
	case l.Ratio != "":
		return "no steeper than " + l.Ratio
	case l.From != "":
		return "from " + l.From + " to " + l.To
	case l.AtMost != "":
		return "at most " + both(l.AtMost, b) + printedText(l)
	case l.AtLeast != "":
		return "at least " + both(l.AtLeast, b) + printedText(l)
	case l.Flag:
		return "is asked too"
	}
	return ""
}

func printedText(l policies.Limit) string {
	if l.Printed == "" {
		return ""
	}
	return ", printed as " + l.Printed
}

// both adds the other system's value to one that is written in the first.
func both(text string, b *policies.Rulebook) string {
	if len(b.Systems) < 2 {
		return text
	}
	if n, err := quantity.ParseLength(text); err == nil {
		return text + " (" + n.In(b.Systems[1]) + ")"
	}
	if f, err := quantity.ParseForce(text); err == nil {
		return text + " (" + f.In(b.Systems[1]) + ")"
	}
	return text
}
