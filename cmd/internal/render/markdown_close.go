package render

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"sillwright/cmd/internal/assess"
)

// Headings of the parts, with the head of their table if they are one.
var markdownHeads = [markdownParts]string{
	notJudged:   "## Could not be judged\n\n",
	givenTwice:  "## Marks given twice\n\n",
	noticed:     "## Noticed\n\n",
	refused:     "## Cannot be ordered\n\n| door | where | verdict | in the way | cautions |\n| --- | --- | --- | --- | --- |\n",
	details:     "## What is in the way\n",
	acceptances: "## Accepted\n\n",
	orderable:   "## Can be ordered\n\n| door | where | with | noted | cautions |\n| --- | --- | --- | --- | --- |\n",
}

// counted counts what is written.
type counted struct {
	w    io.Writer
	size *int64
}

func (c counted) Write(p []byte) (int, error) {
	n, err := c.w.Write(p)
	*c.size += int64(n)
	return n, err
}

func (m *markdown) Close(end End) error {
	defer m.Drop()
	w := bufio.NewWriter(counted{m.w, &m.size})
	head := "# sillwright lint\n\n"
	if end.Interrupted {
		head += cutShort + "\n\n"
	}
	if _, err := io.WriteString(w, head+end.Summary.markdownCounts()); err != nil {
		return err
	}
	for i := range m.parts {
		part := &m.parts[i]
		if part.Size() == 0 {
			continue
		}
		if _, err := io.WriteString(w, "\n"+markdownHeads[i]); err != nil {
			return err
		}
		if err := part.CopyTo(w); err != nil {
			return err
		}
	}
	if _, err := io.WriteString(w, end.Summary.markdownEnd()); err != nil {
		return err
	}
	return w.Flush()
}

// markdownCounts are the counts of the summary as a table.
func (s *Summary) markdownCounts() string {
	var b strings.Builder
	fmt.Fprintf(&b, "| doors | %d |\n| --- | --- |\n", s.doors)
	row := func(name string, n int) { fmt.Fprintf(&b, "| %s | %d |\n", name, n) }
	row("can be ordered", s.canOrder)
	if s.accepted > 0 {
		row("of these by accepted deviations", s.accepted)
	}
	row("cannot be ordered", s.doors-s.canOrder)
	row("complies", s.verdicts[assess.Complies])
	row("of these held, for no option does", s.held)
	row("fails", s.verdicts[assess.Fails])
	row("unproven", s.verdicts[assess.Unproven])
	row("could not be judged", s.Broken+s.Missing)
	row("skipped, for they are no door specs", s.Skipped)
	if s.Unchanged > 0 {
		row("files not asked about, for unchanged", s.Unchanged)
	}
	if s.Repeated > 0 {
		row("with a mark that another has", s.Repeated)
	}
	if s.project != nil {
		fmt.Fprintf(&b, "| project file, as of %s | %s |\n", s.project.Day, code(s.project.File))
	}
	return b.String()
}

// markdownEnd is the house, and the cautions once in full.
func (s *Summary) markdownEnd() string {
	var b, house strings.Builder
	s.house.text(&house)
	for i, line := range strings.Split(strings.TrimSpace(house.String()), "\n") {
		switch {
		case line == "":
		case i == 0:
			first, rest, _ := strings.Cut(line, ",")
			b.WriteString("\n## " + strings.ToUpper(first[:1]) + first[1:] + "\n\nThe sums are" + prose(rest) + "\n\n")
		default:
			b.WriteString("- " + prose(strings.TrimSpace(line)) + "\n")
		}
	}
	_, cautions := s.sorted()
	for i, c := range cautions {
		if i == 0 {
			b.WriteString("\n## Cautions\n\nLocal codes and licensed practice come first.\n\n")
		}
		fmt.Fprintf(&b, "- %s, %s: %s\n", code(c.name), c.doorsText(), prose(c.Text))
	}
	return b.String()
}
