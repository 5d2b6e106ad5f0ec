package render

import (
	"fmt"
	"strings"

	"github.com/rivo/uniseg"

	"sillwright/schema"
)

// width is how many columns a text report has.
const width = 100

// page builds a text report.
type page struct {
	b      strings.Builder
	colour bool
	asked  []string // needs that have been explained
}

// Styles of a terminal (ECMA-48 SGR codes).
const (
	bold  = "1"
	red   = "1;31"
	amber = "1;33"
	green = "1;32"
)

func (p *page) style(code, s string) string {
	if !p.colour || s == "" {
		return s
	}
	return "\x1b[" + code + "m" + s + "\x1b[0m"
}

// clean makes a text from a spec fit to print: what would not show stands as U+FFFD, and so does the second half of ##[, which some
// that run a log take for the beginning of a command.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		if !schema.Prints(r) {
			return '\uFFFD'
		}
		return r
	}, strings.ReplaceAll(s, "##[", "##\uFFFD"))
}

func columns(s string) int { return uniseg.StringWidth(s) }

// cut shortens a text to so many columns.
func cut(s string, most int) string {
	if columns(s) <= most {
		return s
	}
	var b strings.Builder
	used := 0
	g := uniseg.NewGraphemes(s)
	for g.Next() {
		if used+g.Width() > most-1 {
			break
		}
		b.WriteString(g.Str())
		used += g.Width()
	}
	return b.String() + "…"
}

func (p *page) blank() { p.b.WriteString("\n") }

func (p *page) heading(left, right string) {
	p.blank()
	p.sides("", left, right, bold)
}

// sides writes a line with a text at each end; the left one is cut if both do not fit.
func (p *page) sides(indent, left, right, code string) {
	most := width / 2
	if left == "" {
		most = width - columns(indent)
	}
	left, right = clean(left), cut(clean(right), most)
	room := width - columns(indent) - columns(right)
	if right != "" {
		room--
	}
	left = cut(left, room)
	if right == "" {
		p.b.WriteString(indent + p.style(code, left) + "\n")
		return
	}
	pad := width - columns(indent) - columns(left) - columns(right)
	p.b.WriteString(indent + p.style(code, left) + strings.Repeat(" ", pad) + right + "\n")
}

// widest is how wide a mark may be with a text still beside it.
const widest = 40

// text writes a paragraph, wrapped, its first line behind mark and the others under it. A
// mark that leaves no room stands above.
func (p *page) text(mark, s string) {
	mark, s = clean(mark), clean(s)
	if columns(mark) > widest {
		p.text("    ", strings.TrimSpace(mark))
		mark = "        "
	}
	indent := strings.Repeat(" ", columns(mark))
	for i, l := range wrap(s, width-columns(mark)) {
		if i == 0 {
			p.b.WriteString(mark + l + "\n")
			continue
		}
		p.b.WriteString(indent + l + "\n")
	}
}

// wrap breaks a text between words; a word longer than a line is broken inside.
func wrap(s string, most int) []string {
	var lines []string
	line := ""
	for word := range strings.FieldsSeq(s) {
		for columns(word) > most {
			head := strings.TrimSuffix(cut(word, max(most, 3)), "…") // at least one character, however wide
			if line != "" {
				lines, line = append(lines, line), ""
			}
			lines, word = append(lines, head), word[len(head):]
		}
		switch {
		case line == "":
			line = word
		case columns(line)+1+columns(word) > most:
			lines, line = append(lines, line), word
		default:
			line += " " + word
		}
	}
	return append(lines, line)
}

// cell pads a text to a column, right-aligned.
func cell(s string, w int) string {
	return strings.Repeat(" ", max(0, w-columns(s))) + s
}

// pad is left for figures: what is too wide for its column moves the next and is not cut.
func pad(s string, w int) string {
	return s + strings.Repeat(" ", max(1, w-columns(s)))
}

// left pads a text to a column, left-aligned.
func left(s string, w int) string {
	s = cut(s, w)
	return s + strings.Repeat(" ", max(0, w-columns(s)))
}

func plural(n int, one, many string) string {
	if n == 1 {
		return fmt.Sprintf("%d %s", n, one)
	}
	return fmt.Sprintf("%d %s", n, many)
}
