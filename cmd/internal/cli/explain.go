package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

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
	against  string
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

--option tells of one option besides, whether or not it stands in the way; with --against it compares
two of them, point by point, and nothing else. --rule tells all that one rule says of the door and its
options, passes included. --patch prints the first change that is proven to make the door comply, and
nothing else.

A change is looked for by the moves that the rules name (sillwright rules ID), the least work first and
then the smallest that a builder can make; what the spec lists under fixed stays, and so does what
safety holds back. Each is proven: the changed spec went through the same checks.` + projectHelp + exitHelp(),
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
			if err := f.together(); err != nil {
				return err
			}
			return runExplain(cmd.Context(), s, f, args[0])
		},
	}
	f.add(cmd)
	cmd.Flags().StringVar(&f.scope.Option, "option", "", "explain this option by its `ID`, and the door")
	cmd.Flags().StringVar(&f.scope.Rule, "rule", "", "tell all that this rule says, by its `ID`")
	cmd.Flags().StringVar(&f.against, "against", "", "compare the option of --option with this one by its `ID`, point by point")
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

// together refuses flags that say nothing beside each other.
func (f *explainFlags) together() error {
	switch {
	case f.against != "" && f.scope.Option == "":
		return errors.New("--against without --option; name both: --option A --against B")
	case f.against != "" && (f.patch || f.scope.Rule != ""):
		return errors.New("--against beside --patch or --rule; ask for one at a time")
	case f.patch && f.scope.Rule != "":
		return errors.New("--patch beside --rule; a patch makes the whole door comply: leave --rule out")
	}
	return nil
}

// compare compares two options of a door.
func (f *explainFlags) compare(s streams, a *assess.Assessor, r *assess.Result, report *bytes.Buffer) (int, error) {
	c, err := explain.Against(r, a.Policies, f.scope.Option, f.against)
	if err != nil {
		fmt.Fprintln(s.err, "sillwright:", schema.Printable("--option, --against: "+err.Error()))
		return ExitCannot, nil
	}
	code := codeOf(r, f.allowUnproven)
	if f.format == "json" {
		return code, render.AgainstJSON(report, c, madeBy(a))
	}
	if report.Len() > 0 {
		report.WriteString("\n")
	}
	if f.format == "markdown" {
		return code, render.AgainstMarkdown(report, c)
	}
	return code, render.AgainstText(report, c, f.output == "" && colour(s.out))
}

// one explains one door and gives its exit code.
func (f *explainFlags) one(ctx context.Context, s streams, a *assess.Assessor, d *door.Door, met *project.Tracker, report *bytes.Buffer) (int, error) {
	r, err := a.Assess(ctx, d)
	if err != nil {
		return 0, err
	}
	met.Add(r.Met)
	if f.against != "" {
		return f.compare(s, a, r, report)
	}
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

// remedies looks for what would make a door comply; nil: nothing has to change, or one rule is asked for.
func (f *explainFlags) remedies(ctx context.Context, a *assess.Assessor, r *assess.Result) (*remedy.Answer, error) {
	if f.scope.Rule != "" || f.orderable(r) {
		return nil, nil
	}
	scope := remedy.Scope{Option: f.scope.Option}
	if f.patch {
		scope.Most = 1
	}
	return remedy.Find(ctx, a, r, scope)
}

// orderable says whether the door can be ordered as it is, with the option that is asked for if there is one.
func (f *explainFlags) orderable(r *assess.Result) bool {
	asked := func(o assess.Option) bool { return o.ID == f.scope.Option && o.Standing == assess.Complies }
	return r.CanOrder && (f.scope.Option == "" || slices.ContainsFunc(r.Options, asked))
}

// printPatch prints the first change that makes the door comply; where there is none it says so on standard error.
func (f *explainFlags) printPatch(s streams, r *assess.Result, answer *remedy.Answer, report *bytes.Buffer) (int, error) {
	if f.orderable(r) {
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
