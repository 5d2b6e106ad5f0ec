package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"sillwright/cmd/internal/cases"
	"sillwright/cmd/internal/render"
	"sillwright/cmd/internal/starter"
	"sillwright/policies"
)

func newRulebook(s streams) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "rulebook",
		Short: "Start a rulebook of your own, and try it on its cases",
		Long: `A rulebook of your own is a file own-<name>.yaml, with its cases beside it in own-<name>.cases.yaml, and
questions in Rego of its own, if it needs any, in own-<question>.rego. A folder of these is taken with
--rulebooks-dir FOLDER, or as rulebooks_dir of the project file; a spec then names them like any other.

Nothing in such a folder changes, silences or claims a built-in rule, and every report says which
findings are of your own. Its Rego reaches no network, file, environment, clock or random number, and
runs in a process with bounds on its time and memory.`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	cmd.AddCommand(newRulebookNew(s), newRulebookProve(s))
	return cmd
}

var ownID = regexp.MustCompile(`^own(-[a-z0-9]+)+$`)

func newRulebookNew(s streams) *cobra.Command {
	var output, question string
	cmd := &cobra.Command{
		Use:     "new ID",
		Short:   "Write a rulebook to begin with, and its cases",
		Long:    "Write a small rulebook to begin with, own-<name>.yaml, and its cases. It is whole: sillwright rulebook prove passes. No file is replaced.",
		Example: "  sillwright rulebook new own-house --output rulebooks\n  sillwright rulebook new own-house --question own-sum-at-most --output rulebooks",
		Args:    cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			for _, name := range []string{args[0], question} {
				if name != "" && (!ownID.MatchString(name) || len(name) > 60) {
					return fmt.Errorf("%q; allowed: %s and then small letters, figures and hyphens, such as own-house", name, policies.OwnPrefix)
				}
			}
			return writeStarter(s, args[0], question, output)
		},
	}
	cmd.Flags().StringVarP(&output, "output", "o", ".", "write them to this `FOLDER`, which is made if it is not there")
	cmd.Flags().StringVar(&question, "question", "", "write a question of its own by this `NAME`, too, and a rule that asks it")
	return cmd
}

// writeStarter writes all files or none.
func writeStarter(s streams, id, question, dir string) error {
	files, err := starter.Files(id, question, fmt.Sprint(time.Now().UTC().Year()))
	if err != nil {
		return err
	}
	for _, f := range files {
		if _, err := os.Lstat(filepath.Join(dir, f.Name)); err == nil {
			return fmt.Errorf("%s is there already; allowed: a name of its own", shown(filepath.Join(dir, f.Name)))
		}
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return fmt.Errorf("%s: %w", shown(dir), bare(err))
	}
	for _, f := range files {
		name := filepath.Join(dir, f.Name)
		if err := write(s, name, f.Text); err != nil {
			return err
		}
		fmt.Fprintln(s.err, "written:", shown(name))
	}
	fmt.Fprintf(s.err, "try it: sillwright rulebook prove %s\n", shown(dir))
	return nil
}

func newRulebookProve(s streams) *cobra.Command {
	return &cobra.Command{
		Use:   "prove FOLDER",
		Short: "Load the rulebooks of a folder and try them on their cases",
		Long: `Load every rulebook of a folder, and judge the doors of its cases by it. Each rule has to pass, fail and
be unknown in some case, and not apply where it has conditions, or its cases say why it never does.

Exits 1 where a case comes out otherwise than it says, or an outcome has no case; 2 where a rulebook
is refused.`,
		Example: "  sillwright rulebook prove rulebooks",
		Args:    cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return prove(cmd.Context(), s, args[0])
		},
	}
}

func prove(ctx context.Context, s streams, dir string) error {
	if dir == "" {
		return errors.New(`prove ""; allowed: a folder of rulebooks`)
	}
	p, err := (&rulebooksFlag{dir}).loadRules(ctx, s)
	if err != nil {
		return err
	}
	var proofs []render.BookProof
	code := ExitOrder
	for _, b := range p.Rulebooks {
		if b.Own == "" {
			continue
		}
		proof, err := proofOf(ctx, p, b)
		if err != nil {
			return refused(s, err)
		}
		if !proof.Holds() {
			code = ExitFinding
		}
		proofs = append(proofs, proof)
	}
	var out bytes.Buffer
	if err := render.Proofs(&out, proofs); err != nil {
		return err
	}
	if err := write(s, "", out.Bytes()); err != nil {
		return err
	}
	return exit(code)
}

// proofOf tries a rulebook on its cases.
func proofOf(ctx context.Context, p *policies.Policies, b *policies.Rulebook) (render.BookProof, error) {
	out := render.BookProof{Book: b}
	file, err := casesOf(p, b)
	if err != nil {
		return out, err
	}
	name := strings.TrimSuffix(b.Own, ".yaml") + ".cases.yaml"
	all, err := cases.Of(p, file, name)
	if err != nil {
		return out, err
	}
	for _, c := range all {
		if _, ok := p.Rule(c.Rule); !ok {
			return out, fmt.Errorf("%s:%d: a case of rule %s, which the rulebook does not have", name, c.Line, c.Rule)
		}
		out.Tried++
		if err := c.Check(ctx, p); err != nil {
			out.Wrong = append(out.Wrong, fmt.Sprintf("%s:%d: %s: %v", name, c.Line, c.Name, err))
		}
	}
	for _, r := range b.Rules {
		if lacking := cases.Lacking(r, file); len(lacking) > 0 {
			out.Lacking = append(out.Lacking, fmt.Sprintf("%s has no case of %s", r.ID, strings.Join(lacking, ", ")))
		}
	}
	return out, nil
}
