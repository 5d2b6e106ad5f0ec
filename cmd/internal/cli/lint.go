package cli

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/changed"
	"sillwright/cmd/internal/marks"
	"sillwright/cmd/internal/project"
	"sillwright/cmd/internal/render"
	"sillwright/policies"
	"sillwright/schema"
	"sillwright/schema/door"
)

type lintFlags struct {
	judgeFlags
	only    string
	workers int
	filter  bool

	since      string
	sinceGiven bool
}

func newLint(s streams) *cobra.Command {
	f := lintFlags{}
	cmd := &cobra.Command{
		Use:   "lint PATH...",
		Short: "Check many doors, one line a door",
		Long: `Check door specs one after the other, one line a door: files, folders (.json, .yaml, .yml, .ndjson and
.jsonl files below them, but no names that begin with a dot), globs (the same files, or those with the
extension that the glob names), and - for standard input. NDJSON, one spec a line, is judged line by line
as it comes. A bad document does not stop the others. A mark that two doors have is told in the end.

In folders and globs, documents with no key of a door spec, nor one close to it, are skipped and counted.
A summary closes the report: doors by verdict, the rules in the way, and every caution once in full.

text, json (NDJSON) and github (annotations of a log) are written as doors are judged.
` + waiting() + ` are one document each, written when all is judged;
until then what is found waits on disk.

With --filter, places are counted from each line itself, marks are not compared and there is no summary:
parts of a stream, judged apart, give the lines that the whole gives.` + projectHelp + exitHelp(),
		Example: "  sillwright lint --seals examples/own-seals.yaml examples\n  sillwright lint --format json 'doors/*.yaml' > results.ndjson\n  cat doors.ndjson | sillwright lint -",
		Args: func(cmd *cobra.Command, args []string) error {
			switch {
			case f.filter && cmd.Flags().Changed("since"):
				return fmt.Errorf("--filter with --since: standard input is in no revision; allowed: one of them")
			case f.filter && len(args) > 0:
				return fmt.Errorf("lint --filter reads standard input and takes no PATH; found %q. See: sillwright lint --help", args[0])
			case !f.filter && len(args) == 0:
				return fmt.Errorf("lint takes at least one PATH, a file, a folder, a glob or - for standard input. See: sillwright lint --help")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			f.sinceGiven = cmd.Flags().Changed("since")
			return runLint(cmd.Context(), s, f, args)
		},
	}
	f.add(cmd)
	cmd.Flags().StringVar(&f.only, "only", "fail,unknown", "give only findings with these `OUTCOMES`: "+strings.Join(render.Outcomes, ", "))
	cmd.Flags().StringVar(&f.since, "since", "", "judge only the doors of files that differ from this git `REVISION`; of the others the marks are compared")
	cmd.Flags().IntVar(&f.workers, "workers", 0, "judge `N` doors at once, with the same report for any N (default one a processor)")
	cmd.Flags().BoolVar(&f.filter, "filter", false, "be a filter of NDJSON from standard input, each line as if it stood alone")
	return cmd
}

// mostWorkers is far more than help.
const mostWorkers = 1000

// waiting names the formats that are written when all is known.
func waiting() string {
	var out []string
	for _, format := range render.ReportFormats() {
		if render.Spools(format) {
			out = append(out, format)
		}
	}
	return strings.Join(out[:len(out)-1], ", ") + " and " + out[len(out)-1]
}

// known checks what was asked for, and reads the list of --only.
func (f *lintFlags) known() (only []string, err error) {
	if err := f.judgeFlags.known("lint"); err != nil {
		return nil, err
	}
	switch {
	case f.workers < 0 || f.workers > mostWorkers:
		return nil, fmt.Errorf("--workers %d; allowed: a number from 1 to %d, or 0 for one a processor", f.workers, mostWorkers)
	case f.workers == 0:
		f.workers = runtime.GOMAXPROCS(0)
	}
	if f.filter && render.Spools(f.format) {
		return nil, fmt.Errorf("--filter with --format %s, which is one document; allowed: the formats that are written line by line, as json", f.format)
	}
	for word := range strings.SplitSeq(f.only, ",") {
		word = strings.TrimSpace(word)
		if !slices.Contains(render.Outcomes, word) {
			return nil, fmt.Errorf("--only %q: outcome %q; allowed: %s, with commas between several", f.only, word, schema.Choices(word, render.Outcomes))
		}
		only = append(only, word)
	}
	return only, nil
}

// changed tells which files are asked about; nil: all. Where the project file, or a catalogue of seals, is among those that differ, every
// door may fare otherwise, and all are.
func (f *lintFlags) changed(ctx context.Context, s streams, a *assess.Assessor) (func(string) bool, error) {
	if !f.sinceGiven {
		return nil, nil
	}
	set, err := changed.Since(ctx, ".", f.since)
	if err != nil {
		return nil, fmt.Errorf("--since: %w", err)
	}
	var differs []string
	for _, file := range f.shared(a) {
		if set.Has(file) {
			differs = append(differs, file)
		}
	}
	if own := a.Policies.Own(); own != nil { // so did a rulebook that is gone
		differs = append(differs, set.GoneFrom(own.Dir)...)
	}
	if f.project == "" && !f.noProject { // one that is gone held for these doors, too
		differs = append(differs, set.Gone(project.FileName)...)
	}
	if len(differs) > 0 {
		fmt.Fprintf(s.err, "every door is judged, for %s differs from %s\n", schema.Printable(shown(differs[0])), schema.Printable(f.since))
		return nil, nil
	}
	return set.Has, nil
}

// linter checks many doors. It keeps counters, which do not grow with the doors, and the path of each file, so that
// none is read twice; the files of a folder are listed before the first is read.
type linter struct {
	judge
	report   render.Report
	marks    marks.Book
	progress *progress
	summary  render.Summary
	batch    assess.Batch
}

func runLint(ctx context.Context, s streams, f lintFlags, args []string) error {
	only, err := f.known()
	if err != nil {
		return err
	}
	a, err := f.assessor(ctx, s)
	if err != nil {
		return err
	}
	a.Shown = append([]string{policies.Fail, policies.Unknown}, only...)
	changed, err := f.changed(ctx, s, a)
	if err != nil {
		return err
	}
	if err := spared(f.output, slices.Concat(f.shared(a), args)...); err != nil {
		return err
	}
	to, err := openTarget(s, f.output)
	if err != nil {
		return err
	}
	defer to.drop()
	waits := render.Spools(f.format)
	report, err := render.NewReport(f.format, to, render.Options{
		By: madeBy(a), Only: only, AllowUnproven: f.allowUnproven, Colour: f.output == "" && colour(s.out), Rule: a.Policies.Rule,
	})
	if err != nil {
		return err
	}
	defer report.Drop()
	if waits && slices.Contains(args, "-") {
		fmt.Fprintf(s.err, "--format %s is one document: it is written when standard input has ended\n", f.format)
	}
	l := &linter{report: report, progress: newProgress(s, scrolls(s, f.output, waits)), summary: render.NewSummary(a.Project)}
	defer l.progress.stop()
	defer l.marks.Drop()
	s.err = l.progress
	l.batch.Assessor = a
	l.judge = judge{s: s, f: &f.judgeFlags, a: a, wrong: report.Problem}
	err = l.all(ctx, f, changed, args)
	if err == nil && l.judged+l.problems == 0 && !f.sinceGiven {
		err = l.nothing(args)
	}
	if err == nil {
		err = l.close(f, args)
	} else if ctx.Err() != nil && f.output == "" { // of a report that is one document, what was finished
		err = errors.Join(err, report.Close(render.End{Summary: l.total(), Code: ExitCannot, Interrupted: true}))
	}
	if err != nil {
		return err
	}
	if err := to.keep(); err != nil {
		return err
	}
	return exit(l.code)
}

// checked is what was found with what there is to say of it.
type checked struct {
	found
	door   *door.Door
	wrong  []schema.Problem
	result *assess.Result
}

// all judges what the arguments lead to, several documents at once, and tells of them in order.
func (l *linter) all(ctx context.Context, f lintFlags, changed func(string) bool, args []string) error {
	return ordered(ctx, f.workers, func(ctx context.Context, give func(found) error) error {
		r := reading{in: l.s.in, filter: f.filter, changed: changed, output: f.output, give: give}
		if p := l.a.Project; p != nil {
			r.project = whole(p.File)
		}
		return r.all(ctx, args)
	}, l.check, func(c checked) error { return l.tellOf(c, f) })
}

// check judges one document. It runs beside itself.
func (l *linter) check(ctx context.Context, in found) (out checked, err error) {
	out.found = in
	if in.doc == nil {
		return out, nil
	}
	out.door, out.result, out.wrong, err = l.batch.Check(ctx, *in.doc, !in.quiet)
	return out, err
}

// tellOf counts and reports one thing that was found.
func (l *linter) tellOf(c checked, f lintFlags) error {
	switch {
	case c.unchanged:
		l.summary.Unchanged++
	case c.file:
		l.summary.Files++
	case c.missing:
		l.summary.Missing++
		return l.tell(c.problems[0])
	case c.note != "":
		fmt.Fprintln(l.s.err, c.note)
	}
	l.summary.Skipped += c.skipped
	if err := l.complain(c.problems); err != nil {
		return err
	}
	if c.doc == nil {
		return nil
	}
	if c.door != nil && !f.filter {
		if err := l.marks.Add(marks.Use{Mark: c.door.Mark, File: c.doc.File, Document: c.doc.Index, Span: c.doc.Root.SpanOf("/mark"), Quiet: c.quiet}); err != nil {
			return err
		}
	}
	if c.quiet {
		return nil
	}
	if err := l.complain(c.wrong); err != nil || c.result == nil {
		return err
	}
	l.judged++
	l.code = max(l.code, codeOf(c.result, f.allowUnproven))
	l.summary.Add(c.result)
	l.progress.door(c.result.CanOrder)
	return l.report.Door(c.result)
}

// total is the summary with what the run counted.
func (l *linter) total() *render.Summary {
	l.summary.Broken, l.summary.Problems = l.broken, l.problems
	return &l.summary
}

// close tells of marks that stand for two doors and of what of the project somebody should look at, and ends the report.
func (l *linter) close(f lintFlags, args []string) error {
	if f.filter {
		return nil
	}
	if l.summary.Unchanged > 0 || !wholeJob(l.a.Project, args) {
		l.summary.Part()
	}
	err := l.marks.Repeated(func(use, first marks.Use) error {
		l.summary.Repeated++
		l.problems++
		l.code = ExitCannot
		p := schema.Problem{
			File: use.File, Document: use.Document, Pointer: "/mark", Span: use.Span, Field: "mark", Mark: use.Mark, Found: fmt.Sprintf("%q a second time", use.Mark), Allowed: "each mark once",
			Do: fmt.Sprintf("Give one of the two doors another mark; the other is at %s:%d:%d", schema.Printable(first.File), first.Span.Start.Line, first.Span.Start.Column),
		}
		fmt.Fprintln(l.s.err, p.Error())
		return l.report.Repeated(p)
	})
	if err != nil {
		return err
	}
	l.progress.stop()
	for _, n := range l.summary.Notices() {
		fmt.Fprintln(l.s.err, n.Error())
		if err := l.report.Notice(n); err != nil {
			return err
		}
	}
	if err := l.report.Close(render.End{Summary: l.total(), Code: l.code}); err != nil {
		return err
	}
	if w, ok := l.report.(render.Warner); ok {
		for _, warning := range w.Warnings() {
			fmt.Fprintln(l.s.err, warning)
		}
	}
	return nil
}

// wholeJob says whether a run goes through all doors of a project: those below the folder of its file.
func wholeJob(p *project.Project, args []string) bool {
	return p != nil && slices.ContainsFunc(args, func(arg string) bool {
		info, err := os.Stat(arg)
		below, out := filepath.Rel(whole(arg), filepath.Dir(whole(p.File)))
		return err == nil && info.IsDir() && out == nil && filepath.IsLocal(below)
	})
}

// nothing says that no door was found. An older report is left alone.
func (l *linter) nothing(args []string) error {
	const most = 3
	if len(args) == 0 {
		args = []string{render.StandardInput}
	}
	where := strings.Join(args[:min(len(args), most)], ", ")
	if len(args) > most {
		where += ", …"
	}
	why := "no door spec in " + schema.Printable(where)
	if l.summary.Skipped > 0 {
		why += fmt.Sprintf(" (documents skipped: %d)", l.summary.Skipped)
	}
	return fmt.Errorf("nothing to check: %s", why)
}
