package render

import (
	"fmt"
	"io"
	"slices"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema"
)

// Report is what lint writes, in one format. Doors, problems and notices come one at a time, in the order of the input.
type Report interface {
	Door(r *assess.Result) error
	Problem(p schema.Problem) error  // an input that could not be judged
	Repeated(p schema.Problem) error // two doors have one mark
	Notice(p schema.Problem) error   // what was noticed beside the doors, and stands in nobody's way
	Close(end End) error
	Drop() // removes what waits on disk; after Close it does nothing
}

// End is how a run ended.
type End struct {
	Summary     *Summary
	Code        int
	Interrupted bool // before all was checked: what was finished is in the report
}

// Options say how a report is written.
type Options struct {
	By            MadeBy
	Only          []string // the outcomes of the findings to give
	AllowUnproven bool
	Colour        bool
	Rule          func(id string) (*policies.Rule, bool)
}

// reportFormat is a format that many doors can be written in.
type reportFormat struct {
	name  string
	spool bool // one document, whose beginning is known at the end only: until then what is found waits on disk
	open  func(w io.Writer, o Options) (Report, error)
}

var reportFormats = []reportFormat{
	{"text", false, newTextLog},
	{"json", false, newResultLines},
	{"sarif", true, newSARIF},
	{"junit", true, newJUnit},
	{"github", false, newAnnotations},
	{"gitlab", true, newCodeQuality},
	{"markdown", true, newMarkdown},
}

// ReportFormats names the formats of a report of many doors.
func ReportFormats() []string {
	var out []string
	for _, f := range reportFormats {
		out = append(out, f.name)
	}
	return out
}

// Spools says whether a format is one document that is written when all is known.
func Spools(format string) bool {
	return slices.ContainsFunc(reportFormats, func(f reportFormat) bool { return f.name == format && f.spool })
}

// NewReport begins a report.
func NewReport(format string, w io.Writer, o Options) (Report, error) {
	for _, f := range reportFormats {
		if f.name == format {
			return f.open(w, o)
		}
	}
	return nil, fmt.Errorf("no report in format %q", format)
}

// textLog is a line a door, as it comes, and the summary.
type textLog struct {
	w io.Writer
	o Options
}

func newTextLog(w io.Writer, o Options) (Report, error) { return textLog{w, o}, nil }

func (t textLog) Door(r *assess.Result) error { return Line(t.w, r, t.o.Only, t.o.Colour) }

func (t textLog) Problem(schema.Problem) error { return nil } // told on standard error

func (t textLog) Repeated(schema.Problem) error { return nil } // likewise

func (t textLog) Notice(schema.Problem) error { return nil }

func (t textLog) Close(end End) error {
	if end.Interrupted {
		return nil
	}
	return end.Summary.Text(t.w)
}

func (t textLog) Drop() {}

// resultLines is an object a door, a problem and the summary, a line each.
type resultLines struct {
	w io.Writer
	o Options
}

func newResultLines(w io.Writer, o Options) (Report, error) { return resultLines{w, o}, nil }

func (l resultLines) Door(r *assess.Result) error { return JSON(l.w, r.Only(l.o.Only), l.o.By) }

func (l resultLines) Problem(p schema.Problem) error { return ProblemJSON(l.w, p) }

func (l resultLines) Repeated(p schema.Problem) error { return l.Problem(p) }

func (l resultLines) Notice(schema.Problem) error { return nil } // in the summary

func (l resultLines) Close(end End) error {
	if end.Interrupted {
		return nil
	}
	return end.Summary.JSON(l.w, l.o.By, end.Code)
}

func (l resultLines) Drop() {}
