package render

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/text"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema"
)

// shown is a report as a reader of Markdown shows it.
type shown struct {
	headings []string
	tables   [][][]string // rows of cells, the head left out
	items    []string     // of lists, each without the list below it
	plain    string       // all text that is not code
}

// showMarkdown renders a report with goldmark, which keeps to CommonMark and has the extensions of GitHub, and takes what it shows
// apart. What has no place in a report must not be there: nothing in a spec may make a link, a picture or HTML.
func showMarkdown(t *testing.T, report string) shown {
	t.Helper()
	md := goldmark.New(goldmark.WithExtensions(extension.GFM), goldmark.WithRendererOptions(html.WithXHTML()))
	allowed := []string{"Document", "Heading", "Text", "String", "Paragraph", "TextBlock", "List", "ListItem", "CodeSpan", "Table", "TableHeader", "TableRow", "TableCell"}
	tree := md.Parser().Parse(text.NewReader([]byte(report)))
	_ = ast.Walk(tree, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if kind := n.Kind().String(); entering && !slices.Contains(allowed, kind) {
			t.Errorf("the report has a %s, in %q", kind, n.Parent().Kind())
		}
		return ast.WalkContinue, nil
	})
	var b bytes.Buffer
	if err := md.Convert([]byte(report), &b); err != nil {
		t.Fatal(err)
	}
	return takeApart(t, "<html>"+b.String()+"</html>")
}

func takeApart(t *testing.T, page string) shown {
	t.Helper()
	var out shown
	var open []string
	var items []int // those that are open
	in := xml.NewDecoder(strings.NewReader(page))
	in.Entity = xml.HTMLEntity
	for {
		token, err := in.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			open = append(open, e.Name.Local)
			out.begin(e.Name.Local)
			if e.Name.Local == "li" {
				items = append(items, len(out.items)-1)
			}
		case xml.EndElement:
			open = open[:len(open)-1]
			if e.Name.Local == "li" {
				items = items[:len(items)-1]
			}
		case xml.CharData:
			out.add(string(e), open, items)
		}
	}
	for i := range out.tables {
		out.tables[i] = out.tables[i][1:]
	}
	return out
}

func (s *shown) begin(element string) {
	switch element {
	case "h1", "h2", "h3":
		s.headings = append(s.headings, "")
	case "table":
		s.tables = append(s.tables, nil)
	case "tr":
		last := &s.tables[len(s.tables)-1]
		*last = append(*last, nil)
	case "td", "th":
		last := s.tables[len(s.tables)-1]
		last[len(last)-1] = append(last[len(last)-1], "")
	case "li":
		s.items = append(s.items, "")
	}
}

// add takes a text inside of elements and, last, of items of lists.
func (s *shown) add(text string, open []string, items []int) {
	within := func(names ...string) bool {
		return slices.ContainsFunc(open, func(name string) bool { return slices.Contains(names, name) })
	}
	if within("code") {
		s.plain += "\u2060" // parts what stands on both sides
	} else {
		s.plain += text
	}
	switch {
	case within("td", "th"):
		last := s.tables[len(s.tables)-1]
		row := last[len(last)-1]
		row[len(row)-1] += text
	case len(items) > 0:
		s.items[items[len(items)-1]] += strings.Trim(text, "\n")
	case within("h1", "h2", "h3"):
		s.headings[len(s.headings)-1] += text
	}
}

// wanted is what a report has to show of a run, in order.
type wanted struct {
	headings         []string
	items            []string
	stopped, ordered []*assess.Result
}

func (w *wanted) item(head string, e entry) {
	w.items = append(w.items, head+e.word()+": "+e.title+", "+e.rule+", "+e.subject+" at "+e.at())
	for _, line := range e.lines() {
		w.items = append(w.items, strings.TrimSpace(line))
	}
}

func (w *wanted) of(run told) {
	w.headings = []string{"sillwright lint", "Could not be judged", "Marks given twice", "Noticed", "Cannot be ordered", "What is in the way"}
	for _, p := range run.problems {
		w.items = append(w.items, "Problem: "+p.Error())
	}
	for _, p := range run.repeated {
		w.items = append(w.items, "Mark: "+p.Error())
	}
	for _, p := range run.notices {
		w.items = append(w.items, "Notice: "+p.Error())
	}
	for _, r := range run.results {
		if r.CanOrder {
			w.ordered = append(w.ordered, r)
			continue
		}
		w.stopped = append(w.stopped, r)
		heading := "Door " + schema.Printable(r.Door.Mark)
		if r.Door.Title != "" {
			heading += ", titled " + schema.Printable(r.Door.Title)
		}
		w.headings = append(w.headings, heading+": "+verdictWord(r))
		for _, e := range entries(r, usual) {
			if e.kind != isCaution && e.accepted == nil {
				w.item("", e)
			}
		}
	}
	for _, r := range run.results {
		for _, e := range entries(r, usual) {
			if e.accepted != nil {
				w.item("Door "+schema.Printable(e.mark)+", ", e)
			}
		}
	}
	w.headings = append(w.headings, "Accepted", "Can be ordered", "The house", "Cautions")
}

// Whatever the doors hold, the report has a row for each, and shows every text as it is.
func TestMarkdownShowsAll(t *testing.T) {
	run := allTold(t)
	report, _ := reported(t, "markdown", run, usual, false)
	got := showMarkdown(t, report)
	var want wanted
	want.of(run)
	if !slices.Equal(got.headings, want.headings) {
		t.Errorf("headings\n%q\nnot\n%q", got.headings, want.headings)
	}
	for i, item := range want.items {
		if i >= len(got.items) || strings.TrimRight(got.items[i], " ") != strings.TrimRight(item, " ") {
			t.Fatalf("item %d:\n%q\nnot\n%q", i, got.items[min(i, len(got.items)-1)], item)
		}
	}
	if len(got.tables) != 3 {
		t.Fatalf("%d tables", len(got.tables))
	}
	rows(t, got.tables[1], want.stopped)
	rows(t, got.tables[2], want.ordered)
	tellsCautions(t, run, got.items[len(want.items):])
}

// rows holds a table to the doors that it is of.
func rows(t *testing.T, table [][]string, results []*assess.Result) {
	t.Helper()
	if len(table) != len(results) || len(results) == 0 {
		t.Fatalf("%d rows of %d doors", len(table), len(results))
	}
	for i, r := range results {
		row := table[i]
		if len(row) != 5 {
			t.Fatalf("%q: cells %q", r.Door.Mark, row)
		}
		if row[0] != schema.Printable(r.Door.Mark) || !strings.HasPrefix(row[1], schema.Printable(fromHere(r.Door.Document.File))+":") {
			t.Errorf("door %q in %q is shown as %q in %q", r.Door.Mark, r.Door.Document.File, row[0], row[1])
		}
		if !r.CanOrder && row[2] != verdictWord(r) {
			t.Errorf("%q: %s", r.Door.Mark, row[2])
		}
		if failing := withOutcome(unaccepted(r), policies.Fail); len(failing) > 0 && !strings.Contains(row[3], ruleName(*failing[0], r.Strict)) {
			t.Errorf("%q: %q does not name %s", r.Door.Mark, row[3], failing[0].Rule)
		}
		for _, f := range r.Findings {
			if f.Accepted != nil && (!strings.Contains(row[3], "accepted ") || !strings.Contains(row[3], f.Rule)) {
				t.Errorf("%q: %q does not say that %s was accepted", r.Door.Mark, row[3], f.Rule)
			}
		}
		names := strings.Split(row[4], ", ")
		for _, c := range r.Cautions {
			if name := cautionName(r, c); !slices.Contains(names, name) && !slices.Contains(names, name+"?") {
				t.Errorf("%q: %q does not name %s", r.Door.Mark, row[4], name)
			}
		}
	}
}

// tellsCautions looks for each caution once in full, with the number of its doors.
func tellsCautions(t *testing.T, run told, items []string) {
	t.Helper()
	doors, texts := map[string]int{}, map[string]string{}
	for _, r := range run.results {
		for _, c := range r.Cautions {
			doors[cautionName(r, c)]++
			texts[cautionName(r, c)] = c.Text
		}
	}
	for name, text := range texts {
		full := slices.DeleteFunc(slices.Clone(items), func(s string) bool { return !strings.HasSuffix(s, text) })
		if len(full) != 1 || !strings.HasPrefix(full[0], fmt.Sprintf("%s, %d door", name, doors[name])) {
			t.Errorf("caution %s of %d doors is told as %q", name, doors[name], full)
		}
	}
	if len(texts) == 0 {
		t.Error("no caution in the run")
	}
}

// Outside code nothing is left that the sites make links, mentions, pictures or formulas of after the Markdown was read: for
// addresses, issues and commits as docs.github.com has it under "Autolinked references and URLs", the rest from memory, not verified.
func TestMarkdownMentionsNobody(t *testing.T) {
	report, _ := reported(t, "markdown", allTold(t), usual, false)
	got := showMarkdown(t, report)
	for _, acts := range []string{`@\w`, `[#!$&~%]\w`, `\bGH-\d`, `://`, `(?i)\bwww\.`, `:[a-z0-9_+-]+:`, `\b[0-9a-f]{7,40}\b`, `\$`, `\[\w+:\d`} {
		if found := regexp.MustCompile(acts).FindAllString(got.plain, 3); len(found) > 0 {
			t.Errorf("outside code: %q, by %s", found, acts)
		}
	}
	for line := range strings.SplitSeq(report, "\n") {
		if strings.HasPrefix(line, "/") {
			t.Errorf("a line that a comment takes for an action: %s", line)
		}
	}
}

// A text of any kind in the words of prose and of code comes out as it went in, in a line and in a table.
func TestMarkdownTextsComeBack(t *testing.T) {
	for _, hostile := range hostileTexts {
		want := schema.Printable(hostile)
		for _, form := range []string{prose(hostile), code(hostile)} {
			got := showMarkdown(t, "| a | b |\n| --- | --- |\n| x "+form+" x | y |\n\n- x "+form+" x\n\n# x "+form+" x\n")
			if len(got.tables) != 1 || len(got.tables[0]) != 1 || len(got.tables[0][0]) != 2 || got.tables[0][0][0] != "x "+want+" x" || got.items[0] != "x "+want+" x" || got.headings[0] != "x "+want+" x" {
				t.Errorf("%q as %q is shown as %+v", want, form, got)
			}
		}
		if got := showMarkdown(t, "- "+strings.TrimSpace(prose(hostile))+"\n"); len(got.items) != 1 || strings.TrimSpace(got.items[0]) != strings.TrimSpace(want) {
			t.Errorf("%q at the start of a line is shown as %+v", want, got)
		}
	}
}

// A run that was interrupted says so at the top; one of nothing has the counts alone; a report that is too large for the summary of
// a step is whole, and warned of.
func TestMarkdownOfSpecialRuns(t *testing.T) {
	report, rep := reported(t, "markdown", told{}, usual, true)
	if !strings.HasPrefix(report, "# sillwright lint\n\n"+cutShort+"\n") || len(rep.(*markdown).Warnings()) != 0 {
		t.Error(report)
	}
	report, _ = reported(t, "markdown", told{}, usual, false)
	if got := showMarkdown(t, report); len(got.headings) != 1 || len(got.tables) != 1 || len(got.items) != 0 {
		t.Errorf("%+v", got)
	}
	run := told{}
	open := slices.DeleteFunc(exampleResults(t), func(r *assess.Result) bool { return r.Verdict != assess.Unproven })
	for range 150 {
		run.results = append(run.results, open...)
	}
	report, rep = reported(t, "markdown", run, usual, false)
	if warnings := rep.(*markdown).Warnings(); len(report) <= mostSummary || len(warnings) != 1 || !strings.Contains(warnings[0], fmt.Sprint(len(report))) {
		t.Errorf("%d bytes, %q", len(report), warnings)
	}
	if !strings.Contains(report[len(report)-20000:], "## Cautions") {
		t.Error("a large report is not whole")
	}
}
