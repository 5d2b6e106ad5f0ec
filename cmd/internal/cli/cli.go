// Package cli is the command line: one file a command, each of which parses, calls and
// renders.
package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strings"
	"syscall"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/render"
	"sillwright/schema"
)

// Exit codes. ExitCodes words them for help and documentation.
const (
	ExitOrder   = 0
	ExitFinding = 1
	ExitCannot  = 2
)

// ExitCodes lists the exit codes with when each is given, once for help and README.
var ExitCodes = []struct {
	Code int
	When string
}{
	{ExitOrder, "all that was asked can be ordered"},
	{ExitFinding, "something asked about fails or is unproven"},
	{ExitCannot, "could not run: usage, unreadable or invalid input, readings that no fit can carry, a broken rulebook, nothing to check"},
}

// streams is what a command may read and write.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// exitError carries an exit code for something that has been said already.
type exitError struct{ code int }

func (e exitError) Error() string { return fmt.Sprintf("exit %d", e.code) }

// Run runs a command line and gives the exit code.
func Run(ctx context.Context, args []string, in io.Reader, out, errOut io.Writer) int {
	s := streams{in, out, errOut}
	root := newRoot(s)
	help := &kept{out: out}
	root.SetOut(help)
	root.SetArgs(args)
	err := root.ExecuteContext(ctx)
	if err == nil {
		err = help.err
	}
	var said exitError
	switch {
	case err == nil:
		return ExitOrder
	case errors.As(err, &said):
		return said.code
	case errors.Is(err, syscall.EPIPE): // whoever read has gone, and cannot be told
		return ExitCannot
	case ctx.Err() != nil:
		fmt.Fprintln(errOut, "sillwright: ended by a signal before all was checked; the report is not whole")
		return ExitCannot
	default: // the message may hold what was typed
		fmt.Fprintln(errOut, "sillwright:", schema.Printable(err.Error()))
		return ExitCannot
	}
}

// kept keeps the first error of writing, for help that is written by a library which does not look.
type kept struct {
	out io.Writer
	err error
}

func (k *kept) Write(p []byte) (int, error) {
	n, err := k.out.Write(p)
	if k.err == nil {
		k.err = err
	}
	return n, err
}

func newRoot(s streams) *cobra.Command {
	root := &cobra.Command{
		Use:   "sillwright",
		Short: "Check thresholds and bottom seals of step-free doors",
		Long: `sillwright checks the threshold and the bottom seal of a step-free door before it is ordered:
against access codes, against good practice, and for the air that each seal would let through.

It does not replace the local code, the authority, or a licensed fire or gas specialist.` + exitHelp(),
		SilenceUsage: true, SilenceErrors: true,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return fmt.Errorf("unknown command %q; see: sillwright help", args[0])
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.SetIn(s.in)
	root.SetErr(s.err)
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return fmt.Errorf("%w; see: %s --help", err, cmd.CommandPath())
	})
	root.AddCommand(newCheck(s), newLint(s), newExplain(s), newFit(s), newRules(s), newSchema(s), newBundle(s), newRulebook(s), newVersion(s))
	return root
}

func exitHelp() string {
	var b strings.Builder
	b.WriteString("\n\nExit codes:\n")
	for _, c := range ExitCodes {
		fmt.Fprintf(&b, "  %d  %s\n", c.Code, c.When)
	}
	return strings.TrimRight(b.String(), "\n")
}

// version is that of the build; debug information says which commit.
func version() string {
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" && info.Main.Version != "(devel)" {
		return info.Main.Version
	}
	return "development"
}

func madeBy(a *assess.Assessor) render.MadeBy {
	by := render.MadeBy{Version: version(), Policies: a.Policies.Digest, Catalogue: a.Catalogue.Digest}
	if a.Project != nil {
		by.Project, by.AsOf = a.Project.Digest, a.Project.Day
	}
	return by
}

// colour says whether a writer is a terminal that wants colour: NO_COLOR (no-color.org)
// and TERM=dumb turn it off.
func colour(w io.Writer) bool {
	return terminal(w) && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
}

func terminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}
