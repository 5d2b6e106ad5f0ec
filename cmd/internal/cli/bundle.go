package cli

import (
	"bytes"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"sillwright/policies"
	"sillwright/schema"
)

func newBundle(s streams) *cobra.Command {
	var output string
	var own rulebooksFlag
	cmd := &cobra.Command{
		Use:   "bundle --output FILE",
		Short: "Write the rules as a bundle for stock OPA",
		Long: `Write every rulebook and question as a standard bundle of Open Policy Agent (OPA). For the input that
check --print-input prints, OPA gives the outcomes that sillwright gives. The bundle's revision is the
one that results name as made_by.policies.

OPA counts nothing. Each rule of each rulebook in the input owes one outcome for every subject of
its kind, and whoever asks OPA counts them: one that is not there is no pass. Facts are measured by
sillwright, and accepted deviations, verdicts and the ranking of options come after the outcomes.`,
		Example: "  sillwright bundle -o sillwright-rules.tar.gz\n  opa run --server --bundle sillwright-rules.tar.gz\n  sillwright check --print-input hall.yaml | opa eval --bundle sillwright-rules.tar.gz --stdin-input " + policies.Query,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return fmt.Errorf("bundle takes no argument, for it holds every rulebook; found %q. Name the file with --output FILE", args[0])
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, _ []string) error {
			if output == "" {
				return errors.New("bundle needs --output FILE, or - for standard output. See: sillwright bundle --help")
			}
			if output == "-" && terminal(s.out) {
				return errors.New("--output - is a terminal, and a bundle is no text; allowed: a FILE, or - into a pipe or a file")
			}
			p, err := own.loadRules(cmd.Context(), s)
			if err != nil {
				return err
			}
			return writeBundle(s, p, output)
		},
	}
	own.add(cmd, "")
	cmd.Flags().StringVarP(&output, "output", "o", "", "write the bundle to this `FILE`, whole or not at all; - is standard output")
	return cmd
}

// writeBundle writes a bundle and says what was written.
func writeBundle(s streams, p *policies.Policies, output string) error {
	var b bytes.Buffer
	if err := p.WriteBundle(&b, version()); err != nil {
		return err
	}
	rules := 0
	for _, book := range p.Rulebooks {
		rules += len(book.Rules)
	}
	file, name := output, shown(output)
	if output == "-" {
		file, name = "", "standard output"
	}
	if err := write(s, file, b.Bytes()); err != nil {
		return err
	}
	fmt.Fprintf(s.err, "%s: %d rulebooks with %d rules, revision %s\n", schema.Printable(name), len(p.Rulebooks), rules, p.Digest)
	return nil
}
