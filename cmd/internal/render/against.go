package render

import (
	"io"
	"slices"
	"strings"

	"sillwright/cmd/internal/explain"
)

// Columns of a comparison: the point and each of two options.
const (
	versusPoint = 24
	versusCell  = 35
)

// AgainstText writes a comparison of two options for a person: what it comes to first, then point by point.
func AgainstText(w io.Writer, c *explain.Comparison, colour bool) error {
	p := &page{colour: colour}
	name := clean(c.Result.Door.Mark)
	if title := c.Result.Door.Title; title != "" {
		name += "  " + clean(title)
	}
	p.sides("", name, "TWO OPTIONS", bold)
	file := c.Result.Door.Document.File
	if columns(file) > width/2 {
		file = baseName(file)
	}
	p.sides("", "", file, "")
	p.text("", ahead(c))
	p.blank()
	p.versus(versus{"", c.A.ID, c.B.ID, ""}, bold, bold)
	for _, part := range versusParts(c) {
		if part.title != "" {
			p.heading(strings.ToUpper(part.title)+part.rest, "")
		}
		for _, v := range part.rows {
			p.versus(v, verdictStyle[v.a], verdictStyle[v.b])
		}
		for _, text := range part.listed() {
			p.text("    ", text)
		}
	}
	if ids := differing(c); len(ids) > 0 {
		p.blank()
		p.text("Rules: ", strings.Join(ids, ", ")+". One in full: sillwright rules ID")
	}
	_, err := io.WriteString(w, p.b.String())
	return err
}

// versus writes a point with what there is to say of each option beside it, each wrapped in its column, and the difference under both.
func (p *page) versus(v versus, styleA, styleB string) {
	point, a, b := wrap(clean(v.point), versusPoint), wrap(clean(v.a), versusCell), wrap(clean(v.b), versusCell)
	at := func(lines []string, i int) string {
		if i < len(lines) {
			return lines[i]
		}
		return ""
	}
	for i := range max(len(point), len(a), len(b)) {
		cells := p.styled(styleA, left(at(a, i), versusCell)) + "  " + p.styled(styleB, at(b, i))
		p.b.WriteString(strings.TrimRight("  "+left(at(point, i), versusPoint)+" "+cells, " ") + "\n")
	}
	if v.differ != "" {
		p.text(strings.Repeat(" ", versusPoint+3), v.differ+".")
	}
}

// styled puts a style on a text but not on the blanks behind it.
func (p *page) styled(code, s string) string {
	text := strings.TrimRight(s, " ")
	if code == "" {
		return s
	}
	return p.style(code, text) + s[len(text):]
}

// differing are the ids of the rules that part two options.
func differing(c *explain.Comparison) []string {
	var ids []string
	for _, pair := range c.Rules {
		if !slices.Contains(ids, pair.Rule) {
			ids = append(ids, pair.Rule)
		}
	}
	return ids
}
