package render

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema"
)

// hostileTexts are what a spec may hold to break out of a report, or to make a site act.
var hostileTexts = []string{
	`"quoted" & 'quoted' <b>bold</b>`, "line\nbreak\r\nbreak", "::error::x", "%0A%25 100 %", "a,b=c;d]", "bell\a escape\x1b[31m nul\x00 del\x7f",
	"right\u202eto left", "not\xffUTF-8", "a|b \\| c\\", "`tick` ``two`` `", "<script>alert(1)</script><!-- -->", "]]> <![CDATA[ &amp;",
	"@user #12 GH-12 owner/repo#3 !4 $5 &6 ~label %1", "https://example.invalid www.example.invalid a@example.invalid", "*em* _em_ **strong** ~~gone~~",
	"[text](target) ![alt](target) [^1] [issue:1]", ":tada: $x^2$ 0123abc deadbeef1", "- [ ] task", "1. one", "# heading", "=lead", "##[error]x", "    indented", "  two  spaces  ", "===", "> quoted",
}

// exampleResults are the results of all example doors, each of its own. They are shared: who changes one changes a copy.
func exampleResults(t *testing.T) []*assess.Result {
	t.Helper()
	oneByOne(t)
	out, err := judgedExamples()
	if err != nil {
		t.Fatal(err)
	}
	return slices.Clone(out)
}

// examplesDir is where the examples are, as seen from here.
var examplesDir = filepath.Join("..", "..", "..", "examples")

// exampleAssessor judges with the seals of the examples besides the generic ones.
var exampleAssessor = sync.OnceValues(func() (*assess.Assessor, error) {
	a, err := assess.New(context.Background())
	if err != nil {
		return nil, err
	}
	seals, err := os.ReadFile(filepath.Join(examplesDir, "own-seals.yaml"))
	if err != nil {
		return nil, err
	}
	if problems := a.Catalogue.Add("own-seals.yaml", seals); len(problems) > 0 {
		return nil, problems[0]
	}
	return a, nil
})

var judgedExamples = sync.OnceValues(func() ([]*assess.Result, error) {
	a, err := exampleAssessor()
	if err != nil {
		return nil, err
	}
	files, err := filepath.Glob(filepath.Join(examplesDir, "*-*-[0-9]*"))
	if err != nil || len(files) == 0 {
		return nil, fmt.Errorf("no examples: %w", err)
	}
	var out []*assess.Result
	for _, file := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			return nil, err
		}
		docs, problems := schema.Read("examples/"+filepath.Base(file), src)
		for _, doc := range docs {
			d, more := a.Decode(doc)
			if problems = append(problems, more...); len(problems) > 0 {
				break
			}
			r, err := a.Assess(context.Background(), d)
			if err != nil {
				return nil, err
			}
			out = append(out, r)
		}
		if len(problems) > 0 {
			return nil, problems[0]
		}
	}
	return out, nil
})

// hostileResults are example results with hostile marks, titles, files and findings, by hand.
func hostileResults(t *testing.T, examples []*assess.Result) []*assess.Result {
	t.Helper()
	var out []*assess.Result
	for i, text := range hostileTexts {
		r := *examples[i%len(examples)]
		d := *r.Door
		d.Mark, d.Title, d.Document.File = text, text, "doors/"+text+".yaml"
		if strings.HasPrefix(text, "=") {
			d.Document.File = text
		}
		r.Door, r.Findings = &d, append([]policies.Finding{}, r.Findings...)
		for k := range r.Findings {
			f := &r.Findings[k]
			if f.Outcome == policies.Fail || f.Outcome == policies.Unknown {
				f.Answered = text
				f.Points = append([]policies.Point{}, f.Points...)
				for p := range f.Points {
					f.Points[p].Found = text
				}
			}
		}
		out = append(out, &r)
	}
	return out
}

// acceptedResults are the failing example doors with all that fails or is unknown accepted, by hand.
func acceptedResults(t *testing.T, examples []*assess.Result) []*assess.Result {
	t.Helper()
	var out []*assess.Result
	for i, old := range examples {
		if old.Verdict != assess.Fails {
			continue
		}
		r, d := *old, *old.Door
		d.Mark = "accepted " + d.Mark
		r.Door, r.Verdict, r.CanOrder = &d, assess.Complies, true
		r.Findings = accept(r.Findings, hostileTexts[i%len(hostileTexts)])
		r.Options = append([]assess.Option{}, r.Options...)
		for k := range r.Options {
			r.Options[k].Verdict, r.Options[k].Findings = assess.Complies, accept(r.Options[k].Findings, "seen")
		}
		out = append(out, &r)
	}
	if len(out) == 0 {
		t.Fatal("no example fails")
	}
	return out
}

func accept(findings []policies.Finding, reason string) []policies.Finding {
	out := append([]policies.Finding{}, findings...)
	for i := range out {
		if out[i].Level != policies.Caution && (out[i].Outcome == policies.Fail || out[i].Outcome == policies.Unknown) {
			out[i].Accepted = &policies.Acceptance{Reason: reason, ApprovedBy: "building control", Expires: "2030-06-30"}
		}
	}
	return out
}

// heldResult is an example door that complies, with no option that does.
func heldResult(t *testing.T, examples []*assess.Result) *assess.Result {
	t.Helper()
	for _, old := range examples {
		if old.CanOrder && len(old.Options) > 0 {
			r, d := *old, *old.Door
			d.Mark = "held " + d.Mark
			r.Door, r.CanOrder, r.Options = &d, false, append([]assess.Option{}, r.Options...)
			for k := range r.Options {
				r.Options[k].Verdict = assess.Fails
			}
			return &r
		}
	}
	t.Fatal("no example has options")
	return nil
}

// told is a run with all that a report may hold.
type told struct {
	results  []*assess.Result
	problems []schema.Problem
	repeated []schema.Problem
	notices  []schema.Problem
}

func allTold(t *testing.T) told {
	t.Helper()
	examples := exampleResults(t)
	run := told{results: examples}
	run.results = append(run.results, hostileResults(t, examples)...)
	run.results = append(run.results, acceptedResults(t, examples)...)
	run.results = append(run.results, heldResult(t, examples))
	for _, text := range hostileTexts {
		p := schema.Problem{File: "doors/" + text, Pointer: "/mark", Field: "mark", Found: text, Allowed: "a name", Do: "give one"}
		p.Span.Start.Line, p.Span.Start.Column, p.Span.End.Line, p.Span.End.Column = 3, 7, 3, 9
		run.problems = append(run.problems, p)
		run.repeated = append(run.repeated, p)
		p.Span, p.File = schema.Span{}, text
		run.notices = append(run.notices, p)
	}
	return run
}

var usual = Options{Only: []string{policies.Fail, policies.Unknown}, By: MadeBy{Version: "1", Policies: "2", Catalogue: `3 "<`}}

// reported writes a run in a format.
func reported(t *testing.T, format string, run told, o Options, interrupted bool) (string, Report) {
	t.Helper()
	var b bytes.Buffer
	rep, err := NewReport(format, &b, o)
	if err != nil {
		t.Fatal(err)
	}
	defer rep.Drop()
	end := End{Summary: &Summary{Files: len(run.results), Broken: len(run.problems), Repeated: len(run.repeated), Problems: len(run.problems) + len(run.repeated)}, Interrupted: interrupted}
	must := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, p := range run.notices {
		must(rep.Notice(p))
	}
	for _, r := range run.results {
		must(rep.Door(r))
		end.Summary.Add(r)
	}
	for _, p := range run.problems {
		must(rep.Problem(p))
	}
	for _, p := range run.repeated {
		must(rep.Repeated(p))
	}
	must(rep.Close(end))
	return b.String(), rep
}

// The same run gives the same report.
func TestReportsAreSteady(t *testing.T) {
	run := allTold(t)
	for _, format := range []string{"junit", "github", "markdown"} {
		first, _ := reported(t, format, run, usual, false)
		if second, _ := reported(t, format, run, usual, false); first != second {
			t.Errorf("%s differs from one run to the next", format)
		}
	}
}

// What waits is on disk once it is more than a little: many doors take no more memory than that.
func TestReportsStayFlat(t *testing.T) {
	const little = 3 << 20 // two parts of a report in memory, and room
	r := longResult(t)
	for _, format := range []string{"junit", "github", "markdown"} {
		written := 0
		rep, err := NewReport(format, counting{&written}, usual)
		if err != nil {
			t.Fatal(err)
		}
		used := func(doors int) uint64 {
			for range doors {
				if err := rep.Door(r); err != nil {
					t.Fatal(err)
				}
			}
			var m runtime.MemStats
			runtime.GC()
			runtime.ReadMemStats(&m)
			return m.HeapAlloc
		}
		if few, many := used(5), used(120); many > few+little {
			t.Errorf("%s: %d bytes with 5 doors, %d with 125", format, few, many)
		}
		if err := rep.Close(End{Summary: &Summary{}}); err != nil || written < 2*little {
			t.Errorf("%s: %d bytes written, which shows nothing, %v", format, written, err)
		}
	}
}

// longResult is an example door that fails, with as much to say as fifty.
func longResult(t *testing.T) *assess.Result {
	t.Helper()
	examples := exampleResults(t)
	r := *examples[slices.IndexFunc(examples, func(r *assess.Result) bool { return r.Verdict == assess.Fails })]
	r.Findings = slices.Clone(r.Findings)
	for i := range r.Findings {
		if r.Findings[i].Outcome == policies.Fail {
			r.Findings[i].Answered = strings.Repeat("said at length ", 4000)
		}
	}
	return &r
}

type counting struct{ written *int }

func (c counting) Write(p []byte) (int, error) {
	*c.written += len(p)
	return len(p), nil
}

// A run that was dropped, or closed, leaves nothing on disk.
func TestReportsLeaveNothing(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("TMPDIR", dir)
	t.Setenv("TMP", dir)
	for _, format := range []string{"junit", "markdown"} {
		many := told{results: slices.Repeat([]*assess.Result{longResult(t)}, 20)}
		reported(t, format, many, usual, false)
		rep, err := NewReport(format, io.Discard, usual)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range many.results {
			if err := rep.Door(r); err != nil {
				t.Fatal(err)
			}
		}
		if waits, err := os.ReadDir(dir); err != nil || len(waits) > 0 {
			t.Logf("%s waits in %v, %v", format, waits, err) // where an open file keeps its name
		}
		rep.Drop()
		rep.Drop() // a second time does nothing
		if left, err := os.ReadDir(dir); err != nil || len(left) > 0 {
			t.Errorf("%s leaves %v, %v", format, left, err)
		}
	}
}

// What was accepted of an option that complies is told too: it may comply by that alone.
func TestReportsTellWhatWasAcceptedOfAnOption(t *testing.T) {
	examples := exampleResults(t)
	r := *examples[slices.IndexFunc(examples, func(r *assess.Result) bool { return r.CanOrder && len(r.Options) > 1 })]
	r.Options = slices.Clone(r.Options)
	best := &r.Options[0]
	best.Findings = append(slices.Clone(best.Findings), policies.Finding{
		Rule: "seal-practice/invented", Level: policies.Must, Subject: "option:" + best.ID, Outcome: policies.Fail, Title: "Invented",
		Accepted: &policies.Acceptance{Reason: "tried on site", ApprovedBy: "the owner"},
	})
	for _, format := range []string{"junit", "github", "markdown"} {
		report, _ := reported(t, format, told{results: []*assess.Result{&r}}, usual, false)
		if strings.Count(report, "Accepted by the owner: tried on site") != 1 || strings.Count(report, "seal-practice/invented") < 1 {
			t.Errorf("%s does not tell once what was accepted:\n%s", format, report)
		}
	}
}
