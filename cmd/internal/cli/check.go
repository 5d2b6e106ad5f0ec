package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"

	"github.com/spf13/cobra"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/project"
	"sillwright/cmd/internal/render"
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
	run := &oneSpec{command: "check", flags: &f.judgeFlags, document: f.document}
	return run.run(ctx, s, spec, func(a *assess.Assessor, d *door.Door, met *project.Tracker) (int, error) {
		return checkOne(ctx, s, a, f, d, met, &run.report)
	})
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
