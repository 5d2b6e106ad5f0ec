package cli

import (
	"context"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/render"
	"sillwright/schema"
	"sillwright/schema/door"
)

type lintFlags struct {
	judgeFlags
	only string
}

func newLint(s streams) *cobra.Command {
	f := lintFlags{}
	cmd := &cobra.Command{
		Use:   "lint PATH...",
		Short: "Check many doors, one line a door",
		Long: `Check door specs one after the other, one line a door: files, folders (.json, .yaml, .yml, .ndjson and
.jsonl files below them, but no names that begin with a dot), globs (the same files, or those with the
extension that the glob names), and - for standard input. NDJSON, one spec a line, is judged line by line
as it comes. A bad document does not stop the others. Marks are not compared.

In folders and globs, documents with no key of a door spec, nor one close to it, are skipped and counted.
A summary closes the report: doors by verdict, the rules in the way, and every caution once in full.` + exitHelp(),
		Example: "  sillwright lint --seals examples/own-seals.yaml examples\n  sillwright lint --format json 'doors/*.yaml' > results.ndjson\n  cat doors.ndjson | sillwright lint -",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return fmt.Errorf("lint takes at least one PATH, a file, a folder, a glob or - for standard input. See: sillwright lint --help")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return runLint(cmd.Context(), s, f, args) },
	}
	f.add(cmd)
	cmd.Flags().StringVar(&f.only, "only", "fail,unknown", "give only findings with these `OUTCOMES`: "+strings.Join(render.Outcomes, ", "))
	return cmd
}

// outcomes reads the list of --only.
func (f *lintFlags) outcomes() ([]string, error) {
	var out []string
	for word := range strings.SplitSeq(f.only, ",") {
		word = strings.TrimSpace(word)
		if !slices.Contains(render.Outcomes, word) {
			return nil, fmt.Errorf("--only %q: outcome %q; allowed: %s, with commas between several", f.only, word, schema.Choices(word, render.Outcomes))
		}
		out = append(out, word)
	}
	return out, nil
}

// linter checks many doors. It keeps counters, which do not grow with the doors, and the path of each file, so that
// none is read twice; the files of a folder are listed before the first is read.
type linter struct {
	judge
	only    []string
	by      render.MadeBy
	colour  bool
	summary render.Summary
}

func runLint(ctx context.Context, s streams, f lintFlags, args []string) error {
	if err := f.known("lint"); err != nil {
		return err
	}
	only, err := f.outcomes()
	if err != nil {
		return err
	}
	a, err := f.assessor(ctx, s)
	if err != nil {
		return err
	}
	report, err := openTarget(s, f.output)
	if err != nil {
		return err
	}
	defer report.drop()
	l := &linter{judge: judge{s: s, f: &f.judgeFlags, a: a, report: report}, only: only, by: madeBy(a), colour: f.output == "" && colour(s.out)}
	l.door = func(d *door.Door) (int, error) { return l.one(ctx, d) }
	if err := l.all(ctx, args); err != nil {
		return err
	}
	if l.judged+l.problems == 0 {
		return l.nothing(args)
	}
	if err := l.close(); err != nil {
		return err
	}
	if err := report.keep(); err != nil {
		return err
	}
	return exit(l.code)
}

// all goes through the arguments in order.
func (l *linter) all(ctx context.Context, args []string) error {
	find := newFinder(args)
	for _, arg := range args {
		files, problems := find.find(arg)
		for _, p := range problems {
			if err := l.missing(p); err != nil {
				return err
			}
		}
		for _, in := range files {
			if err := l.file(ctx, in); err != nil {
				return err
			}
		}
	}
	return nil
}

func (l *linter) missing(p schema.Problem) error {
	l.summary.Missing++
	return l.tell(p)
}

// file judges the documents of a file as they come.
func (l *linter) file(ctx context.Context, in input) error {
	name, src := in.path, l.s.in
	if in.path == "-" {
		name = stdinName
	} else {
		file, err := await(ctx, func() (*os.File, error) { return os.Open(in.path) })
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			return l.missing(unreadable(in.path, err))
		}
		defer file.Close()
		src = file
	}
	l.summary.Files++
	return l.stream(ctx, name, newPatient(ctx, src), in.named)
}

func (l *linter) stream(ctx context.Context, name string, src io.Reader, named bool) error {
	var ours error // a fault of the run, not of the input
	var skipped []string
	err := schema.Stream(name, src, func(docs []schema.Document, problems []schema.Problem) error {
		if !named {
			docs = slices.DeleteFunc(docs, func(d schema.Document) bool {
				what, is := assess.Stranger(d)
				if !is {
					return false
				}
				l.summary.Skipped++
				if !slices.Contains(skipped, what) {
					skipped = append(skipped, what)
				}
				return true
			})
		}
		ours = l.take(ctx, docs, problems)
		return ours
	})
	for _, what := range skipped { // once a file, however many documents it has
		fmt.Fprintf(l.s.err, "skipped: %s: %s, no door spec\n", schema.Printable(name), what)
	}
	if ctx.Err() != nil && err != nil {
		return ctx.Err()
	}
	if err != nil && ours == nil {
		return l.missing(unreadable(name, err))
	}
	return ours
}

// one judges a door and writes its line before the next is read.
func (l *linter) one(ctx context.Context, d *door.Door) (int, error) {
	r, err := l.a.Assess(ctx, d)
	if err != nil {
		return 0, err
	}
	l.summary.Add(r)
	code := codeOf(r, l.f.allowUnproven)
	if l.f.format == "json" {
		return code, render.JSON(l.report, r.Only(l.only), l.by)
	}
	return code, render.Line(l.report, r, l.only, l.colour)
}

// close writes the summary.
func (l *linter) close() error {
	l.summary.Broken, l.summary.Problems = l.broken, l.problems
	if l.f.format == "json" {
		return l.summary.JSON(l.report, l.by, l.code)
	}
	return l.summary.Text(l.report)
}

// nothing says that no door was found. An older report is left alone.
func (l *linter) nothing(args []string) error {
	const most = 3
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
