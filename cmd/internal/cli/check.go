package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"slices"

	"github.com/spf13/cobra"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/project"
	"sillwright/cmd/internal/render"
	"sillwright/schema"
	"sillwright/schema/door"
)

type checkFlags struct {
	judgeFlags
	printInput bool
	document   int
}

func newCheck(s streams) *cobra.Command {
	f := checkFlags{}
	cmd := &cobra.Command{
		Use:   "check SPEC",
		Short: "Check one door before it is ordered",
		Long: `Check one door spec (JSON or YAML; - is standard input): every rule of the rulebooks that it names,
every option with its predicted leakage in rank order, what must change, what is still needed, and
the cautions. A file with several documents is checked door by door.` + projectHelp + exitHelp(),
		Example: "  sillwright check examples/fails-h-03-inner-bevel-too-steep.yaml\n  sillwright check hall.yaml --format json\n  cat hall.yaml | sillwright check -",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 1 {
				return fmt.Errorf("check takes one SPEC, a file or - for standard input; found %d. See: sillwright check --help", len(args))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if cmd.Flags().Changed("document") && f.document < 0 {
				return fmt.Errorf("--document %d; allowed: a number from 0", f.document)
			}
			return runCheck(cmd.Context(), s, f, args[0])
		},
	}
	f.add(cmd)
	cmd.Flags().BoolVar(&f.printInput, "print-input", false, "print what the rules get, as JSON, and judge nothing")
	cmd.Flags().IntVar(&f.document, "document", -1, "check only document `N` of the file, counted from 0")
	return cmd
}

func runCheck(ctx context.Context, s streams, f checkFlags, spec string) error {
	if err := f.known("check"); err != nil {
		return err
	}
	name, src, err := readSpec(ctx, s, spec)
	if err != nil {
		return err
	}
	a, err := f.assessor(ctx, s)
	if err != nil {
		return err
	}
	if err := spared(f.output, append(f.shared(a), spec)...); err != nil {
		return err
	}
	var report bytes.Buffer
	code, err := checkAll(ctx, s, a, f, name, src, &report)
	if err != nil {
		return err
	}
	if report.Len() > 0 || f.output == "" { // nothing to report leaves an older report alone
		if err := write(s, f.output, report.Bytes()); err != nil {
			return err
		}
	}
	return exit(code)
}

func readSpec(ctx context.Context, s streams, spec string) (name string, src []byte, err error) {
	if spec == "-" {
		src, err = readSome(ctx, s.in)
		return render.StandardInput, src, err
	}
	if info, err := os.Stat(spec); err == nil && info.IsDir() {
		return "", nil, fmt.Errorf("%s is a folder; check takes one file", shown(spec))
	}
	src, err = readFile(ctx, spec)
	return shown(spec), src, err
}

// readFile reads a file that is named on the command line, which may be a pipe.
func readFile(ctx context.Context, name string) ([]byte, error) {
	file, err := await(ctx, func() (*os.File, error) { return os.Open(name) })
	if err != nil {
		return nil, fmt.Errorf("%s: %w", shown(name), bare(err))
	}
	defer file.Close()
	src, err := readSome(ctx, file)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", shown(name), bare(err))
	}
	return src, nil
}

// readSome reads all of an input, but no more than one byte beyond what a file may have.
func readSome(ctx context.Context, in io.Reader) ([]byte, error) {
	return io.ReadAll(io.LimitReader(newPatient(ctx, in), schema.MaxFileBytes+1))
}

// checkAll checks every document and gives the worst exit code.
func checkAll(ctx context.Context, s streams, a *assess.Assessor, f checkFlags, name string, src []byte, report *bytes.Buffer) (int, error) {
	docs, problems := schema.Read(name, src)
	if f.document >= 0 {
		other := func(index int) bool { return index != f.document }
		docs = slices.DeleteFunc(docs, func(d schema.Document) bool { return other(d.Index) })
		// A problem of the file as such stands in the way of every document of it.
		problems = slices.DeleteFunc(problems, func(p schema.Problem) bool { return other(p.Document) && (p.Pointer != "" || len(docs) > 0) })
		if len(docs)+len(problems) == 0 {
			return 0, fmt.Errorf("%s has no document number %d, counted from 0: nothing to check", name, f.document)
		}
	}
	met := a.Project.NewTracker()
	if met != nil {
		met.Partial = true // one door is not the job
	}
	j := &judge{s: s, f: &f.judgeFlags, a: a, door: func(d *door.Door) (int, error) { return checkOne(ctx, s, a, f, d, met, report) }}
	if f.format == "json" {
		j.wrong = func(p schema.Problem) error { return render.ProblemJSON(report, p) }
	}
	if err := j.take(ctx, docs, problems); err != nil {
		return 0, err
	}
	for _, n := range met.Notices() {
		fmt.Fprintln(s.err, n.Error())
	}
	if j.code == ExitCannot && j.judged > 0 {
		fmt.Fprintf(s.err, "%s: judged in spite of that: %d\n", schema.Printable(name), j.judged)
	}
	return j.code, nil
}

// checkOne checks one door and gives its exit code.
func checkOne(ctx context.Context, s streams, a *assess.Assessor, f checkFlags, d *door.Door, met *project.Tracker, report *bytes.Buffer) (int, error) {
	if f.printInput {
		in, _ := a.Input(d)
		e := json.NewEncoder(report)
		e.SetEscapeHTML(false)
		e.SetIndent("", "  ")
		return ExitOrder, e.Encode(in)
	}
	r, err := a.Assess(ctx, d)
	if err != nil {
		return 0, err
	}
	met.Add(r.Met)
	return codeOf(r, f.allowUnproven), show(s, f, a, r, report)
}

func show(s streams, f checkFlags, a *assess.Assessor, r *assess.Result, report *bytes.Buffer) error {
	if f.format == "json" {
		return render.JSON(report, r, madeBy(a))
	}
	if report.Len() > 0 {
		report.WriteString("\n")
	}
	return render.Text(report, r, f.output == "" && colour(s.out))
}
