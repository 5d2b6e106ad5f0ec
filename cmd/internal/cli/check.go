package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/render"
	"sillwright/schema"
	"sillwright/schema/door"
)

type checkFlags struct {
	format        string
	output        string
	seals         []string
	printInput    bool
	strict        bool
	allowUnproven bool
	document      int
}

func newCheck(s streams) *cobra.Command {
	f := checkFlags{}
	cmd := &cobra.Command{
		Use:   "check SPEC",
		Short: "Check one door before it is ordered",
		Long: `Check one door spec (JSON or YAML; - is standard input): every rule of the rulebooks that it names,
every option with its predicted leakage in rank order, what must change, what is still needed, and
the cautions. A file with several documents is checked door by door.` + exitHelp(),
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
	cmd.Flags().StringVar(&f.format, "format", "text", "text or json")
	cmd.Flags().StringVar(&f.output, "output", "", "write the report to this `FILE`, whole or not at all")
	cmd.Flags().StringArrayVar(&f.seals, "seals", nil, "add the seals of this catalogue `FILE`; may be given again")
	cmd.Flags().BoolVar(&f.printInput, "print-input", false, "print what the rules get, as JSON, and judge nothing")
	cmd.Flags().BoolVar(&f.strict, "strict", false, "let should rules count")
	cmd.Flags().BoolVar(&f.allowUnproven, "allow-unproven", false, "exit 0 for a door that is unproven but does not fail")
	cmd.Flags().IntVar(&f.document, "document", -1, "check only document `N` of the file, counted from 0")
	return cmd
}

func runCheck(ctx context.Context, s streams, f checkFlags, spec string) error {
	if f.format != "text" && f.format != "json" {
		return fmt.Errorf("--format %q; allowed: text or json", f.format)
	}
	name, src, err := readSpec(s, spec)
	if err != nil {
		return err
	}
	a, err := assess.New(ctx)
	if err != nil {
		return fmt.Errorf("the built-in rules do not load: %w", err)
	}
	a.Strict = f.strict
	if err := addSeals(s, a, f.seals); err != nil {
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
	if code != ExitOrder {
		return exitError{code}
	}
	return nil
}

func readSpec(s streams, spec string) (name string, src []byte, err error) {
	if spec == "-" {
		src, err = io.ReadAll(io.LimitReader(s.in, schema.MaxFileBytes+1))
		return "standard input", src, err
	}
	info, err := os.Stat(spec)
	if err != nil {
		return spec, nil, err
	}
	if info.IsDir() {
		return spec, nil, fmt.Errorf("%s is a folder; check takes one file", spec)
	}
	file, err := os.Open(spec)
	if err != nil {
		return spec, nil, err
	}
	defer file.Close()
	src, err = io.ReadAll(io.LimitReader(file, schema.MaxFileBytes+1))
	return filepath.ToSlash(spec), src, err
}

func addSeals(s streams, a *assess.Assessor, files []string) error {
	bad := false
	for _, file := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		for _, p := range a.Catalogue.Add(filepath.ToSlash(file), src) {
			fmt.Fprintln(s.err, p.Error())
			bad = true
		}
	}
	if bad {
		return exitError{ExitCannot}
	}
	return nil
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
	code, judged := ExitOrder, 0
	for _, doc := range docs {
		// What could not be read stands where it is written.
		before := slices.IndexFunc(problems, func(p schema.Problem) bool { return p.Document > doc.Index })
		if before < 0 {
			before = len(problems)
		}
		if err := complain(s, f, report, problems[:before]); err != nil {
			return 0, err
		}
		code = worse(code, problems[:before])
		problems = problems[before:]
		d, wrong := a.Decode(doc)
		if err := complain(s, f, report, wrong); err != nil {
			return 0, err
		}
		if code = worse(code, wrong); d == nil {
			continue
		}
		judged++
		own, err := checkOne(ctx, s, a, f, d, report)
		if err != nil {
			return 0, err
		}
		code = max(code, own)
	}
	if err := complain(s, f, report, problems); err != nil {
		return 0, err
	}
	if code = worse(code, problems); code == ExitCannot && judged > 0 {
		fmt.Fprintf(s.err, "%s: judged in spite of that: %d\n", name, judged)
	}
	return code, nil
}

// checkOne checks one door and gives its exit code.
func checkOne(ctx context.Context, s streams, a *assess.Assessor, f checkFlags, d *door.Door, report *bytes.Buffer) (int, error) {
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
	return codeOf(r, f), show(s, f, a, r, report)
}

func worse(code int, problems []schema.Problem) int {
	if len(problems) > 0 {
		return ExitCannot
	}
	return code
}

// complain says what is wrong with an input: on standard error, and in JSON as an object of its own.
func complain(s streams, f checkFlags, report *bytes.Buffer, problems []schema.Problem) error {
	for _, p := range problems {
		fmt.Fprintln(s.err, p.Error())
		if f.format == "json" {
			if err := render.ProblemJSON(report, p); err != nil {
				return err
			}
		}
	}
	return nil
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

// codeOf gives the exit code of one door.
func codeOf(r *assess.Result, f checkFlags) int {
	if r.CanOrder {
		return ExitOrder
	}
	if !f.allowUnproven || r.Verdict == assess.Fails {
		return ExitFinding
	}
	for _, o := range r.Options {
		if o.Verdict != assess.Fails {
			return ExitOrder
		}
	}
	if len(r.Options) == 0 {
		return ExitOrder
	}
	return ExitFinding
}
