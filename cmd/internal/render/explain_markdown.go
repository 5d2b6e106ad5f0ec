package render

import (
	"fmt"
	"io"
	"strings"

	"sillwright/cmd/internal/explain"
	"sillwright/cmd/internal/remedy"
	"sillwright/schema"
)

// ExplanationMarkdown writes an explanation as GitHub-flavoured Markdown, for a comment or a file.
func ExplanationMarkdown(w io.Writer, e *explain.Explanation, a *remedy.Answer) error {
	r := e.Result
	var b strings.Builder
	title := ""
	if r.Door.Title != "" {
		title = ", titled " + prose(r.Door.Title)
	}
	fmt.Fprintf(&b, "# Door %s%s: %s\n\n%s %s.\n", code(r.Door.Mark), title, verdictWord(r), orderLine(r), code(fromHere(r.Door.Document.File)))
	for _, line := range scopeLines(e) {
		b.WriteString("\n" + prose(line) + "\n")
	}
	n := 0
	for _, g := range e.Groups {
		words, note := groupTitle(e, g.Kind)
		if note != "" {
			note = " (" + note + ")"
		}
		fmt.Fprintf(&b, "\n## %s%s\n", sentence(words), prose(note))
		for _, s := range g.Sections {
			n++
			sectionMarkdown(&b, n, e, g.Kind, s)
		}
	}
	remediesMarkdown(&b, a)
	for i, need := range e.Needs {
		if i == 0 {
			b.WriteString("\n## To find out\n\n")
		}
		fmt.Fprintf(&b, "%d. %s\n   - Settles: %s\n", i+1, prose(needText(need)), settlesText(need, code))
	}
	for i, c := range r.Cautions {
		if i == 0 {
			b.WriteString("\n## Cautions\n\nLocal codes and licensed practice come first.\n\n")
		}
		fmt.Fprintf(&b, "- %s: %s\n", code(cautionName(r, c)), prose(caution(r, c).message))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// sentence writes a heading of the text report as one of Markdown.
func sentence(title string) string { return upper(strings.ToLower(title)) }

func sectionMarkdown(b *strings.Builder, n int, e *explain.Explanation, k explain.Kind, s explain.Section) {
	fmt.Fprintf(b, "\n### %d. %s, %s\n\n", n, prose(s.Rule.Title), code(s.Rule.ID))
	item := func(name, text string) { fmt.Fprintf(b, "- %s: %s\n", name, prose(oneLine(text))) }
	item("Asks", s.Rule.Asks)
	item("Why", s.Rule.Why)
	item("Source", sourceOf(s))
	for _, f := range sharing(s.Findings) {
		for _, line := range foundLines(k, f) {
			item("Found", line)
		}
		var at []string
		for _, place := range bitesAt(e, f) {
			at = append(at, code(place))
		}
		if len(at) > 0 {
			b.WriteString("- Where: " + strings.Join(at, ", ") + "\n")
		}
	}
	for _, text := range decisionsOf(s) {
		item("Reading", text)
	}
	for _, known := range s.Rule.KnownProblems {
		item("Known", known)
	}
	for _, text := range factLines(s, mostSource) {
		item("Fact", text)
	}
	drawingMarkdown(b, e, s)
}

// foundLines words a finding as the text report does, a line each.
func foundLines(k explain.Kind, f shared) []string {
	before := f.who() + outcomeBefore(k, f.Finding)
	var out []string
	for _, pt := range f.Told {
		if pt.Reason != "not-known" {
			out = append(out, pointText(f.Finding.Finding, withMargin(before, pt)))
		}
	}
	for _, need := range f.Needs {
		out = append(out, before+"Not known: "+needWords(need.Title, need.Text, need.Pointer)+".")
	}
	if f.Answered != "" {
		out = append(out, "Settled by an answer in the spec, which rests on: "+f.Answered)
	}
	if f.Accepted != nil {
		out = append(out, acceptance(f.Accepted))
	}
	if f.NotAccepted != "" {
		out = append(out, f.NotAccepted+".")
	}
	return out
}

// bitesAt gives file, line and column of every place where a finding bites.
func bitesAt(e *explain.Explanation, f shared) []string {
	var spans []schema.Span
	for _, pt := range f.Told {
		spans = addPlaces(e.Result, spans, pt.Places)
	}
	var out []string
	for _, s := range spans {
		out = append(out, entry{file: e.Result.Door.Document.File, places: []schema.Span{s}}.at())
	}
	return out
}

// drawingMarkdown puts a drawing into a block of its own. It is plain ASCII of ours: nothing of a spec is in it.
func drawingMarkdown(b *strings.Builder, e *explain.Explanation, s explain.Section) {
	d, marked := drawingOf(e.Result, s)
	if len(d.lines) > 0 {
		b.WriteString("\n```text\n" + strings.Join(d.lines, "\n") + "\n```\n")
	}
	for _, text := range append(marked, d.caption) {
		if text != "" {
			b.WriteString("\n" + prose(text) + "\n")
		}
	}
}

func remediesMarkdown(b *strings.Builder, a *remedy.Answer) {
	if a == nil {
		return
	}
	b.WriteString("\n## What would make it comply\n\n")
	for i, m := range a.Remedies {
		for k, s := range m.Steps {
			mark := fmt.Sprintf("%d. ", i+1)
			if k > 0 {
				mark = "   - Then: "
			}
			b.WriteString(mark + prose(s.Do) + "\n")
		}
		before, after := around(m)
		for _, text := range before {
			b.WriteString("   - Before: " + prose(text) + "\n")
		}
		for _, text := range after {
			b.WriteString("   - After: " + prose(text) + "\n")
		}
		b.WriteString("   - " + prose(proof(m)) + "\n")
	}
	if len(a.Remedies) == 0 {
		b.WriteString(prose(nothingFound(a)) + "\n\n")
	}
	for _, t := range tried(a) {
		b.WriteString("- " + prose(t.what) + "\n")
		for _, why := range t.why {
			b.WriteString("  - " + prose(why) + "\n")
		}
	}
	if len(a.Relaxations) > 0 {
		b.WriteString("\n" + prose(wouldDo) + "\n\n")
	}
	for _, x := range a.Relaxations {
		b.WriteString("- " + prose(relaxed(x)) + "\n")
	}
	if gives(a) {
		b.WriteString("\n" + prose(onlyAuthority) + "\n")
	}
	if a.Cut {
		b.WriteString("\n" + prose(searchCut) + "\n")
	}
}
