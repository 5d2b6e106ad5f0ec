package render

import (
	"io"
	"os"
	"path/filepath"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema"
)

// codeQuality is a report as GitLab takes it (GitLab documentation, Code Quality, "Implement a custom tool"): a list. GitLab
// tells entries apart by their fingerprints alone, and shows one of those that share one.
type codeQuality struct {
	w       io.Writer
	o       Options
	entries entryList
}

type qualityJSON struct {
	Description string       `json:"description"`
	Check       string       `json:"check_name"`
	Print       string       `json:"fingerprint"`
	Severity    string       `json:"severity"`
	Location    qualityPlace `json:"location"`
}

// qualityPlace gives the lines, which is what most readers look at, and beside them the columns, where there are any.
type qualityPlace struct {
	Path      string            `json:"path"`
	Lines     qualityLines      `json:"lines"`
	Positions *qualityPositions `json:"positions,omitempty"`
}

type qualityPositions struct {
	Begin qualityPosition `json:"begin"`
	End   qualityPosition `json:"end"`
}

type qualityPosition struct {
	Line   int `json:"line"`
	Column int `json:"column"`
}

type qualityLines struct {
	Begin int `json:"begin"`
	End   int `json:"end"`
}

// interruptedID is the check of the entry that says that a report is not whole.
const interruptedID = "sillwright/interrupted"

func newCodeQuality(w io.Writer, o Options) (Report, error) {
	return &codeQuality{w: w, o: o}, nil
}

func (q *codeQuality) Door(r *assess.Result) error {
	for _, e := range entries(r, q.o) {
		if err := q.add(e); err != nil {
			return err
		}
	}
	return nil
}

func (q *codeQuality) Problem(p schema.Problem) error { return q.add(problem(p)) }

func (q *codeQuality) Repeated(p schema.Problem) error { return q.add(repeated(p)) }

func (q *codeQuality) Notice(p schema.Problem) error { return q.add(notice(p)) }

func (q *codeQuality) Drop() { q.entries.Drop() }

// Close writes the list. The format has no place for how a run ended, so one that was interrupted is an entry of its own.
func (q *codeQuality) Close(end End) error {
	defer q.Drop()
	if end.Interrupted {
		if err := q.add(entry{rule: interruptedID, kind: isProblem, weight: severe, message: notWhole(end)}); err != nil {
			return err
		}
	}
	if err := q.entries.copyTo(q.w); err != nil {
		return err
	}
	_, err := io.WriteString(q.w, "\n")
	return err
}

func (q *codeQuality) add(e entry) error {
	p := e.print()
	at := qualityPlace{Path: qualityPath(e.file), Lines: qualityLines{1, 1}} // a line is asked for
	if len(e.places) > 0 {
		from, to := e.places[0].Start, e.places[0].End
		at.Lines = qualityLines{from.Line, to.Line}
		at.Positions = &qualityPositions{qualityPosition(from), qualityPosition(to)}
	}
	return q.entries.add(qualityJSON{
		Description: strings.ReplaceAll(e.alone(), "\n", " "), Check: e.rule, Print: p.String(),
		Severity: qualitySeverity(e), Location: at,
	}, "fingerprint", p)
}

// qualitySeverity ranks what stands in the way of ordering: what could not be judged, for nothing is known of it, then what
// fails and a mark given twice, then what is not proven.
func qualitySeverity(e entry) string {
	switch {
	case e.weight == note:
		return "info"
	case e.weight == minor:
		return "minor"
	case e.kind == isProblem:
		return "blocker"
	case e.kind == policies.Unknown:
		return "major"
	}
	return "critical"
}

// qualityPath is a file relative to the folder of the run. A path is asked for: standard input has its name for one, which
// is no file of the repository, and what is of no file has the folder itself.
func qualityPath(file string) string {
	name := placeName(file)
	if name == "" {
		return "."
	}
	if !filepath.IsAbs(filepath.FromSlash(name)) {
		return strings.TrimPrefix(name, "./") // the name of a file is from the top of the repository
	}
	if here, err := os.Getwd(); err == nil {
		if path, err := filepath.Rel(here, filepath.FromSlash(name)); err == nil {
			return filepath.ToSlash(path)
		}
	}
	return name
}
