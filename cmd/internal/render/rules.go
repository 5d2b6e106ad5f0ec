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
		if text := textOf(b); text != "" {
			p.text("  ", "Text "+text+".")
		}
		if b.Superseded != "" {
			p.text("  ", "Superseded "+b.Superseded+".")
		}
		for _, r := range b.Rules {
			p.b.WriteString("  " + left(strings.TrimPrefix(r.ID, b.ID+"/"), 24) + left(r.Level, 9) + left(r.Provenance, 11) + left(r.Title, 54) + "\n")
		}
	}
	if len(books) == 1 {
		p.readings(books[0])
	}
	p.counts(books)
	return p.flush(w)
}

// counts closes the list with how many rules there are of each level and provenance.
func (p *page) counts(books []*policies.Rulebook) {
	row := func(cells []string) {
		line := left(cells[0], 16)
		for _, c := range cells[1:] {
			line += cell(c, 10)
		}
		p.b.WriteString(line + "\n")
	}
	levels, sources := []string{policies.Must, policies.Should, policies.Caution}, slices.Sorted(maps.Keys(provenances))
	sources = slices.DeleteFunc(sources, func(s string) bool {
		return tally(books, func(r *policies.Rule) string { return r.Provenance })[s] == 0
	})
	columns := slices.Concat(levels, sources, []string{"rules"})
	p.blank()
	row(append([]string{"rulebook"}, columns...))
	total := func(name string, books []*policies.Rulebook) {
		byLevel := tally(books, func(r *policies.Rule) string { return r.Level })
		bySource := tally(books, func(r *policies.Rule) string { return r.Provenance })
		cells, sum := []string{name}, 0
		for _, l := range levels {
			cells, sum = append(cells, fmt.Sprint(byLevel[l])), sum+byLevel[l]
		}
		for _, s := range sources {
			cells = append(cells, fmt.Sprint(bySource[s]))
		}
		row(append(cells, fmt.Sprint(sum)))
	}
	for _, b := range books {
		total(b.ID, []*policies.Rulebook{b})
	}
	if len(books) > 1 {
		total(fmt.Sprintf("%d rulebooks", len(books)), books)
	}
	p.blank()
	for _, s := range sources {
		p.text(left(s, 12), provenances[s])
	}
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

// Rule prints one rule in full, with examples from its cases.
func Rule(w io.Writer, r *policies.Rule, cases []policies.Case) error {
	p := &page{}
	b := r.Rulebook
	p.sides("", r.Title, r.ID, "")
	by := b.Publisher
	if b.Jurisdiction != "none" {
		by += ", " + b.Jurisdiction
	}
	p.text("", fmt.Sprintf("%s; %s. Level: %s. Source: %s.", b.Title, by, r.Level, seen(r, r.Provenance)))
	if text := textOf(b); text != "" {
		p.text("", "Text "+text+".")
	}
	if b.Superseded != "" {
		p.text("", "Superseded "+b.Superseded+". Ask which edition binds the door.")
	}
	p.blank()
	p.text("Asks:    ", r.Asks)
	p.text("Why:     ", r.Why)
	if len(r.Variants) > 0 {
		p.text("Variant: ", strings.Join(r.Variants, ", ")+" of "+r.Rulebook.ID+".")
	}
	p.text("Judges:  ", "each "+r.Subject+".")
	for _, c := range r.Applies {
		p.text("Applies: ", conditionText(c)+". Otherwise: "+c.Why+".")
	}
	for _, name := range slices.Sorted(maps.Keys(r.Limits)) {
		p.text("Limit:   ", plainName(name)+" "+limitText(r.Limits[name], r.Prints())+clauseText(r, name))
	}
	if len(r.Limits) == 0 && r.Clauses["value"] != "" {
		p.text("Clause:  ", b.Cite+", "+r.Clauses["value"])
	}
	p.rows(r)
	for _, e := range r.Exceptions {
		var when []string
		for _, c := range e.When {
			when = append(when, conditionText(c))
		}
		p.text("Except:  ", e.Title+clauseText(r, e.ID)+". Condition: "+strings.Join(when, "; and ")+". Then:")
		for _, name := range slices.Sorted(maps.Keys(e.Limits)) {
			p.text("           ", plainName(name)+" "+limitText(e.Limits[name], r.Prints()))
		}
		if e.Open {
			p.text("           ", "and the authority says whether it holds")
		}
		if e.Provenance != "" {
			p.text("           ", "Source: "+seen(r, e.Provenance)+".")
		}
	}
	p.measure(r)
	p.whatMoves(r)
	var shown []string
	for _, part := range slices.Sorted(maps.Keys(r.Decisions)) {
		if id := r.Decisions[part]; !slices.Contains(shown, id) {
			shown = append(shown, id)
			p.text("Reading: ", b.Decisions[id])
		}
	}
	if r.OnEvidence {
		p.text("Or:      ", "an answer in the spec that rests on evidence, site.answers: {"+r.ID+": {value: true, evidence: ...}}, stands for what was not measured.")
	}
	if r.Level == policies.Caution {
		p.text("Says:    ", r.Messages["value"])
		p.text("Ask:     ", r.Ask.Whom+": "+r.Ask.What)
	}
	for _, k := range r.KnownProblems {
		p.text("Known:   ", k)
	}
	p.examples(r, cases)
	return p.flush(w)
}

// whatMoves tells what to do where the rule is not met, what a builder can change so that it is, least work first, and
// what no such change settles.
func (p *page) whatMoves(r *policies.Rule) {
	var done []string
	for _, part := range slices.Sorted(maps.Keys(r.Remedies)) {
		if do := r.Remedies[part]; !slices.Contains(done, do) {
			done = append(done, do)
			p.text("Do:      ", blanks.Replace(do))
		}
	}
	for _, name := range r.Moves {
		p.text("Move:    ", policies.MoveWords[name]+" ("+name+").")
	}
	switch {
	case r.Immovable != "" && len(r.Moves) > 0:
		p.text("But:     ", r.Immovable)
	case r.Immovable != "":
		p.text("No move: ", r.Immovable)
	}
}

// rows prints a table of limits, one row a line.
func (p *page) rows(r *policies.Rule) {
	for i, row := range r.Rows {
		if i == 0 {
			p.text("Table:   ", "every row that holds must be met ("+r.Rulebook.Cite+", "+r.Clauses[slices.Sorted(maps.Keys(row.Any[0]))[0]]+")")
		}
		var when, any []string
		for _, c := range row.When {
			var tests []string
			for _, t := range c.Tests() {
				tests = append(tests, plainName(t.Fact)+" "+testText(t))
			}
			when = append(when, strings.Join(tests, " or "))
		}
		for _, limits := range row.Any {
			var all []string
			for _, name := range slices.Sorted(maps.Keys(limits)) {
				all = append(all, plainName(name)+" "+limitText(limits[name], r.Prints()))
			}
			any = append(any, strings.Join(all, ", "))
		}
		p.text("           ", strings.Join(when, ", ")+": "+strings.Join(any, "; or "))
	}
}

func valueWord(v any) string {
	if yes, ok := v.(bool); ok {
		return map[bool]string{true: "yes", false: "no"}[yes]
	}
	return fmt.Sprint(v)
}

// examples shows a door that passes and one that does not, from the rule's own cases.
func (p *page) examples(r *policies.Rule, cases []policies.Case) {
	for _, outcome := range []string{policies.Pass, policies.Fail, policies.Unknown} {
		if outcome == policies.Unknown && r.Level != policies.Caution {
			continue
		}
		i := slices.IndexFunc(cases, func(c policies.Case) bool { return c.Rule == r.ID && c.Outcome == outcome })
		if i < 0 {
			continue
		}
		p.text("Example: ", cases[i].Name+" ("+cases[i].Source+")")
		differs, _ := cases[i].Differs.(map[string]any)
		for _, key := range slices.Sorted(maps.Keys(differs)) {
			p.text("           ", key+": "+flow(differs[key]))
		}
	}
}

// flow writes a value as a spec has it, in one line of YAML.
func flow(v any) string {
	switch v := v.(type) {
	case map[string]any:
		var out []string
		for _, k := range slices.Sorted(maps.Keys(v)) {
			if v[k] != nil {
				out = append(out, k+": "+flow(v[k]))
			}
		}
		return "{" + strings.Join(out, ", ") + "}"
	case []any:
		var out []string
		for _, item := range v {
			out = append(out, flow(item))
		}
		return "[" + strings.Join(out, ", ") + "]"
	case string:
		if strings.ContainsAny(v, `:,{}[]#"`) {
			return fmt.Sprintf("%q", v)
		}
		return v
	default:
		return fmt.Sprint(v)
	}
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
		title := plainName(t.Fact)
		if d, ok := fact.Describe(t.Fact); ok {
			title = d.Title
		}
		out = append(out, title+": "+testText(t))
	}
	return strings.Join(out, ", or ")
}

// testText says in words what a test asks of its fact.
func testText(t policies.Test) string {
	switch {
	case t.Given:
		return "given"
	case t.Over != "":
		return "more than " + t.Over
	case t.AtMost != "":
		return "at most " + t.AtMost
	case t.AtLeast != "":
		return "at least " + t.AtLeast
	}
	var out []string
	for _, v := range t.In {
		out = append(out, valueWord(v))
	}
	return strings.Join(out, " or ")
}

func clauseText(r *policies.Rule, part string) string {
	if c := r.Clauses[part]; c != "" {
		return "  (" + r.Rulebook.Cite + ", " + c + ")"
	}
	return ""
}

// limitText writes a limit in both systems where the text prints both.
func limitText(l policies.Limit, systems []quantity.System) string {
	switch {
	case l.Part != "":
		return l.Part + " of the whole"
	case len(l.OneOf) > 0:
		return "one of " + strings.Join(l.OneOf, ", ")
	case l.Ratio != "":
		return "no steeper than " + l.Ratio
	case l.LeastRatio != "":
		return "no gentler than " + l.LeastRatio
	case l.Angle != "":
		return "no steeper than " + l.Angle
	case l.From != "":
		return "from " + l.From + " to " + l.To
	case l.AtMost != "":
		return "at most " + both(l.AtMost, systems) + printedText(l)
	case l.AtLeast != "":
		return "at least " + both(l.AtLeast, systems) + printedText(l)
	case l.At != "":
		return "at " + l.At
	case l.Flag:
		return "holds"
	}
	return ""
}

func printedText(l policies.Limit) string {
	if l.Printed == "" {
		return ""
	}
	return ", printed as " + l.Printed
}

// both adds the other system's value to one that is written in either.
func both(text string, systems []quantity.System) string {
	if len(systems) < 2 {
		return text
	}
	var words func(quantity.System) string
	if n, err := quantity.ParseLength(text); err == nil {
		words = n.In
	} else if f, err := quantity.ParseForce(text); err == nil {
		words = f.In
	} else {
		return text
	}
	other := words(systems[1])
	if other == text { // a rule whose text prints the other system first
		other = words(systems[0])
	}
	return text + " (" + other + ")"
}
