package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/explain"
	"sillwright/cmd/internal/project"
	"sillwright/cmd/internal/remedy"
	"sillwright/cmd/internal/render"
	"sillwright/schema"
	"sillwright/schema/door"
)

type explainFlags struct {
	judgeFlags
	scope    explain.Scope
	patch    bool
	document int
}

func newExplain(s streams) *cobra.Command {
	f := explainFlags{}
	cmd := &cobra.Command{
		Use:   "explain SPEC",
		Short: "Explain why a door or an option fails, and what would make it comply",
		Long: `Explain why the door of a spec (JSON or YAML; - is standard input) fails or is not proven: each rule in
words with its clause, where it bites, what was found against what is allowed, and every fact that it
rests on with where that came from; then what would make the door comply, what to find out, and the
cautions. Of a door that can be ordered it tells what does not count, if anything.

--option tells of one option besides, whether or not it stands in the way; --rule tells all that one
rule says of the door and its options, passes included.` + projectHelp + exitHelp(),
		Example: "  sillwright explain examples/fails-h-03-inner-bevel-too-steep.yaml\n  sillwright explain hall.yaml --option brush\n  sillwright explain hall.yaml --rule us-ada-2010/threshold-profile --format markdown",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 1 {
				return fmt.Errorf("explain takes one SPEC, a file or - for standard input; found %d. See: sillwright explain --help", len(args))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if cmd.Flags().Changed("document") && f.document < 0 {
				return fmt.Errorf("--document %d; allowed: a number from 0", f.document)
			}
			return runExplain(cmd.Context(), s, f, args[0])
		},
	}
	f.add(cmd)
	cmd.Flags().StringVar(&f.scope.Option, "option", "", "explain this option by its `ID`, and the door")
	cmd.Flags().StringVar(&f.scope.Rule, "rule", "", "tell all that this rule says, by its `ID`")
	cmd.Flags().BoolVar(&f.patch, "patch", false, "print the first change that makes the door comply as a JSON Patch (RFC 6902), and nothing else")
	cmd.Flags().IntVar(&f.document, "document", -1, "explain only document `N` of the file, counted from 0")
	return cmd
}

func runExplain(ctx context.Context, s streams, f explainFlags, spec string) error {
	run := &oneSpec{command: "explain", flags: &f.judgeFlags, document: f.document}
	return run.run(ctx, s, spec, func(a *assess.Assessor, d *door.Door, met *project.Tracker) (int, error) {
		return f.one(ctx, s, a, d, met, &run.report)
	})
}

// one explains one door and gives its exit code.
func (f *explainFlags) one(ctx context.Context, s streams, a *assess.Assessor, d *door.Door, met *project.Tracker, report *bytes.Buffer) (int, error) {
	r, err := a.Assess(ctx, d)
	if err != nil {
		return 0, err
	}
	met.Add(r.Met)
	e, err := explain.New(a, r, f.scope)
	if unknown := (*explain.UnknownError)(nil); errors.As(err, &unknown) {
		fmt.Fprintln(s.err, "sillwright:", schema.Printable("--"+unknown.Error()))
		return ExitCannot, nil
	}
	if err != nil {
		return 0, err
	}
	answer, err := f.remedies(ctx, a, r)
	if err != nil {
		return 0, err
	}
	if f.patch {
		return f.printPatch(s, r, answer, report)
	}
	return codeOf(r, f.allowUnproven), f.show(s, a, e, answer, report)
}

// remedies looks for what would make a door comply; nil: that was not looked for.
func (f *explainFlags) remedies(context.Context, *assess.Assessor, *assess.Result) (*remedy.Answer, error) {
	return nil, nil
}

// printPatch prints the first change that makes the door comply; where there is none it says so on standard error.
func (f *explainFlags) printPatch(s streams, r *assess.Result, answer *remedy.Answer, report *bytes.Buffer) (int, error) {
	if r.CanOrder {
		fmt.Fprintf(s.err, "sillwright: --patch: door %s can be ordered as it is: there is nothing to change\n", schema.Printable(r.Door.Mark))
		return ExitOrder, nil
	}
	if answer == nil || len(answer.Remedies) == 0 || !answer.Remedies[0].Complies {
		fmt.Fprintf(s.err, "sillwright: --patch: no change was found that makes door %s comply; see: sillwright explain SPEC\n", schema.Printable(r.Door.Mark))
		return ExitFinding, nil
	}
	out, err := json.MarshalIndent(answer.Remedies[0].Patch, "", "  ")
	if err != nil {
		return 0, err
	}
	report.Write(append(out, '\n'))
	return codeOf(r, f.allowUnproven), nil
}

func (f *explainFlags) show(s streams, a *assess.Assessor, e *explain.Explanation, answer *remedy.Answer, report *bytes.Buffer) error {
	if f.format == "json" {
		return render.ExplanationJSON(report, e, answer, madeBy(a))
	}
	if report.Len() > 0 {
		report.WriteString("\n")
	}
	if f.format == "markdown" {
		return render.ExplanationMarkdown(report, e, answer)
	}
	return render.ExplanationText(report, e, answer, f.output == "" && colour(s.out))
}
