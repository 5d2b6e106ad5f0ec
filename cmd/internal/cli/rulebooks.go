package cli

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"sillwright/cmd/internal/confined"
	"sillwright/cmd/internal/project"
	"sillwright/policies"
)

// rulebooksFlag names a folder of rulebooks that are not built in.
type rulebooksFlag struct{ rulebooksDir string }

func (f *rulebooksFlag) add(cmd *cobra.Command, instead string) {
	cmd.Flags().StringVar(&f.rulebooksDir, "rulebooks-dir", "", "take the rulebooks of this `FOLDER` besides the built-in ones"+instead+"; see: sillwright rulebook --help")
}

// loadRules loads the built-in rulebooks with those of the folder, and tells all that is wrong with these.
func (f *rulebooksFlag) loadRules(ctx context.Context, s streams) (*policies.Policies, error) {
	var own *policies.Own
	if f.rulebooksDir != "" {
		var err error
		if own, err = policies.ReadOwn(f.rulebooksDir); err != nil {
			return nil, refused(s, err)
		}
	}
	p, err := policies.LoadWith(ctx, own, confined.Start(confined.Usual))
	switch {
	case err != nil && own == nil:
		return nil, fmt.Errorf("the built-in rules do not load: %w", err)
	case err != nil:
		return nil, refused(s, err)
	}
	return p, nil
}

// refused tells each problem of own rulebooks on a line of its own.
func refused(s streams, err error) error {
	var problems policies.Problems
	if !errors.As(err, &problems) {
		return fmt.Errorf("rulebooks: %w", err)
	}
	for _, p := range problems {
		fmt.Fprintln(s.err, p.Error())
	}
	return exitError{ExitCannot}
}

// rules loads the rulebooks that the flag names, or else the project.
func (f *judgeFlags) rules(ctx context.Context, s streams, file projectFile) (*policies.Policies, error) {
	named := f.rulebooksFlag
	if named.rulebooksDir != "" || file.name == "" {
		return named.loadRules(ctx, s)
	}
	dir, at := project.RulebooksDir(shown(file.name), file.src)
	named.rulebooksDir = dir
	p, err := named.loadRules(ctx, s)
	if err == nil || dir == "" {
		return p, err
	}
	var said exitError
	if !errors.As(err, &said) {
		fmt.Fprintln(s.err, "sillwright:", err)
	}
	fmt.Fprintln(s.err, at.Error())
	return nil, exitError{ExitCannot}
}
