package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"sillwright/cmd/internal/render"
	"sillwright/policies"
	"sillwright/schema"
)

func newRules(s streams) *cobra.Command {
	var book string
	var own rulebooksFlag
	cmd := &cobra.Command{
		Use:     "rules [ID]",
		Short:   "List the rules, or print one in full with its source",
		Long:    "List the rulebooks with their rules, level and provenance; with the ID of a rulebook, list that one; of a rule, print it in full:\nwhat is asked, why, the limits, the clause, where the text came from, known problems, what to do and what can be changed.",
		Example: "  sillwright rules\n  sillwright rules --rulebook us-ada-2010\n  sillwright rules us-ada-2010/threshold-profile",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			p, err := own.here(cmd.Context(), s)
			if err != nil {
				return err
			}
			if len(args) == 1 && book != "" {
				return fmt.Errorf("%s and --rulebook %s; allowed: one of them", args[0], book)
			}
			if len(args) == 1 {
				if _, ok := p.Rulebook(args[0]); !ok {
					return oneRule(s, p, args[0])
				}
				book = args[0]
			}
			books := p.Rulebooks
			if book != "" {
				b, ok := p.Rulebook(book)
				if !ok {
					return fmt.Errorf("rulebook %q: %s", book, schema.Choices(book, allBooks(p)))
				}
				books = []*policies.Rulebook{b}
			}
			return render.Rulebooks(s.out, books)
		},
	}
	cmd.Flags().StringVar(&book, "rulebook", "", "list only this rulebook")
	own.add(cmd, ", in place of the project's")
	return cmd
}

func oneRule(s streams, p *policies.Policies, id string) error {
	r, ok := p.Rule(id)
	if !ok {
		var ids []string
		for _, b := range p.Rulebooks {
			for _, r := range b.Rules {
				ids = append(ids, r.ID)
			}
		}
		return fmt.Errorf("rule %q is not known%s; list them with: sillwright rules", id, schema.Nearest(id, ids))
	}
	file, err := casesOf(p, r.Rulebook)
	if err != nil {
		return refused(s, err)
	}
	return render.Rule(s.out, r, file.Cases)
}

// casesOf reads the cases of a rulebook; one of the user's own may have none.
func casesOf(p *policies.Policies, b *policies.Rulebook) (*policies.CaseFile, error) {
	if b.Own == "" {
		return policies.Cases(b.ID)
	}
	file, problems := p.Own().Cases(b.ID)
	switch {
	case len(problems) > 0:
		return nil, policies.Problems(problems)
	case file == nil:
		return &policies.CaseFile{Rulebook: b.ID}, nil
	}
	return file, nil
}

func allBooks(p *policies.Policies) []string {
	var out []string
	for _, b := range p.Rulebooks {
		out = append(out, b.ID)
	}
	return out
}
