package cli

import (
	"context"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"sillwright/cmd/internal/confined"
	"sillwright/cmd/internal/project"
	"sillwright/policies"
	"sillwright/schema"
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
	return f.rulebooksFlag.beside(ctx, s, file)
}

// here loads the rulebooks that the flag names, or else the project file of the current folder, so that a rule that a report names is found.
func (f *rulebooksFlag) here(ctx context.Context, s streams) (*policies.Policies, error) {
	if f.rulebooksDir != "" {
		return f.loadRules(ctx, s)
	}
	quiet := s
	quiet.err = io.Discard
	file, err := (&projectFlags{}).open(ctx, quiet)
	if err != nil {
		file = projectFile{} // it is the business of those who judge by it
	}
	if dir, _ := project.RulebooksDir(file.name, file.src); dir != "" {
		fmt.Fprintf(s.err, "project file: %s\n", schema.Printable(shown(file.name)))
	}
	return f.beside(ctx, s, file)
}

// beside loads the rulebooks that the flag names, or else a project file.
func (f *rulebooksFlag) beside(ctx context.Context, s streams, file projectFile) (*policies.Policies, error) {
	if f.rulebooksDir != "" || file.name == "" {
		return f.loadRules(ctx, s)
	}
	dir, at := project.RulebooksDir(shown(file.name), file.src)
	p, err := (&rulebooksFlag{dir}).loadRules(ctx, s)
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
