package render

import (
	"fmt"
	"io"
	"strings"

	"sillwright/cmd/internal/explain"
	"sillwright/schema"
)

// AgainstMarkdown writes a comparison of two options for a comment or a page: what it comes to, then a table for each part.
func AgainstMarkdown(w io.Writer, c *explain.Comparison) error {
	var b strings.Builder
	title := ""
	if c.Result.Door.Title != "" {
		title = ", titled " + prose(c.Result.Door.Title)
	}
	fmt.Fprintf(&b, "# Door %s%s: %s against %s\n\n%s\n", code(c.Result.Door.Mark), title, code(c.A.ID), code(c.B.ID), prose(ahead(c)))
	for _, part := range versusParts(c) {
		if part.title != "" {
			fmt.Fprintf(&b, "\n## %s\n", prose(part.title+part.rest))
		}
		if len(part.rows) > 0 {
			fmt.Fprintf(&b, "\n| point | %s | %s | difference |\n| --- | --- | --- | --- |\n", code(c.A.ID), code(c.B.ID))
		}
		for _, v := range part.rows {
			fmt.Fprintf(&b, "| %s | %s | %s | %s |\n", prose(v.point), prose(v.a), prose(v.b), prose(v.differ))
		}
		for i, text := range part.listed() {
			if i == 0 {
				b.WriteString("\n")
			}
			b.WriteString("- " + prose(oneLine(text)) + "\n")
		}
	}
	for i, id := range differing(c) {
		if i == 0 {
			b.WriteString("\nRules that part them: ")
		} else {
			b.WriteString(", ")
		}
		b.WriteString(code(id))
	}
	if len(c.Rules) > 0 {
		b.WriteString(".\n")
	}
	fmt.Fprintf(&b, "\nFrom %s.\n", code(schema.Printable(fromHere(c.Result.Door.Document.File))))
	_, err := io.WriteString(w, b.String())
	return err
}

// listed are what is the same, and the notes, of a part.
func (p versusPart) listed() []string {
	var out []string
	if len(p.same) > 0 {
		out = append(out, "The same: "+strings.Join(p.same, "; ")+".")
	}
	return append(out, p.notes...)
}
