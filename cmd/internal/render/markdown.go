package render

import (
	"fmt"
	"io"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/spool"
	"sillwright/schema"
)

// markdown writes GitHub-flavoured Markdown for the summary of a run or a comment: the counts, what could not be judged, marks
// given twice, the doors that cannot be ordered and why, what was accepted, the doors that can, the house, and each caution once in full. Each part waits
// by itself, for the counts stand before all.
type markdown struct {
	w     io.Writer
	o     Options
	parts [markdownParts]spool.Spool
	size  int64
}

const (
	notJudged = iota
	givenTwice
	noticed
	refused
	details
	acceptances
	orderable
	markdownParts
)

// mostSummary is how large the summary of a step may be: a larger one is not shown ("upload aborted, supports content up to a size
// of 1024k", as the runner of GitHub Actions says).
const mostSummary = 1024 * 1024

func newMarkdown(w io.Writer, o Options) (Report, error) {
	return &markdown{w: w, o: o}, nil
}

// Warnings are told beside the report once it is closed.
func (m *markdown) Warnings() []string {
	if m.size <= mostSummary {
		return nil
	}
	return []string{fmt.Sprintf("the report has %d bytes, and GitHub shows no summary of a step above %d; lint fewer doors at once, or keep the report as a file", m.size, mostSummary)}
}

func (m *markdown) put(part int, format string, args ...any) error {
	_, err := fmt.Fprintf(&m.parts[part], format, args...)
	return err
}

func (m *markdown) Door(r *assess.Result) error {
	rules, line := ruleList(unaccepted(r), m.o.Only)
	place := code(fmt.Sprintf("%s:%d", fromHere(r.Door.Document.File), line))
	var notes []string
	for _, rule := range rules {
		notes = append(notes, prose(rule))
	}
	told := entries(r, m.o)
	for _, text := range letGo(r, told) {
		notes = append(notes, prose(text))
	}
	cautions := prose(strings.TrimPrefix(cautionNames(r), " ! "))
	if err := m.accepted(told); err != nil {
		return err
	}
	if r.CanOrder {
		with := ""
		if len(r.Options) > 0 {
			with = optionsLeft(r)
		}
		return m.put(orderable, "| %s | %s | %s | %s | %s |\n", code(r.Door.Mark), place, with, strings.Join(notes, "; "), cautions)
	}
	if len(notes) == 0 {
		notes = []string{prose(strings.TrimSuffix(orderLine(r), "."))}
	}
	if r.Held() {
		notes = append([]string{"no option complies"}, notes...)
	}
	verdict := verdictWord(r)
	if err := m.put(refused, "| %s | %s | %s | %s | %s |\n", code(r.Door.Mark), place, verdict, strings.Join(notes, "; "), cautions); err != nil {
		return err
	}
	return m.detail(r, told, verdict)
}

func verdictWord(r *assess.Result) string {
	if r.Held() {
		return "HELD"
	}
	return strings.ToUpper(r.Verdict)
}

// detail lists what is in the way of a door.
func (m *markdown) detail(r *assess.Result, told []entry, verdict string) error {
	title := ""
	if r.Door.Title != "" {
		title = ", titled " + prose(r.Door.Title)
	}
	if err := m.put(details, "\n### Door %s%s: %s\n\n%s\n\n", code(r.Door.Mark), title, verdict, orderLine(r)); err != nil {
		return err
	}
	for _, e := range told {
		if e.accepted == nil && e.kind != isCaution {
			if err := m.item(details, e.word()+": "+prose(e.title), e); err != nil {
				return err
			}
		}
	}
	return nil
}

// accepted lists what was accepted of a door.
func (m *markdown) accepted(told []entry) error {
	for _, e := range told {
		if e.accepted != nil {
			if err := m.item(acceptances, "Door "+code(e.mark)+", "+e.word()+": "+prose(e.title), e); err != nil {
				return err
			}
		}
	}
	return nil
}

// item is an entry as an item of a list, its lines as a list below it.
func (m *markdown) item(part int, head string, e entry) error {
	var b strings.Builder
	fmt.Fprintf(&b, "- %s, %s, %s at %s\n", head, code(e.rule), prose(e.subject), code(e.at()))
	for _, line := range e.lines() {
		b.WriteString("  - " + prose(strings.TrimSpace(line)) + "\n")
	}
	return m.put(part, "%s", b.String())
}

func (m *markdown) Problem(p schema.Problem) error {
	return m.put(notJudged, "- Problem: %s\n", prose(p.Error()))
}

func (m *markdown) Repeated(p schema.Problem) error {
	return m.put(givenTwice, "- Mark: %s\n", prose(p.Error()))
}

func (m *markdown) Notice(p schema.Problem) error {
	return m.put(noticed, "- Notice: %s\n", prose(p.Error()))
}

func (m *markdown) Drop() {
	for i := range m.parts {
		m.parts[i].Drop()
	}
}
