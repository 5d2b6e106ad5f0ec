package cli

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/project"
	"sillwright/schema"
)

// projectHelp says where a project file is looked for.
const projectHelp = `

What holds for every door of a job, and the deviations that an authority has accepted, stand in a
project file, sillwright.yaml: that of the current folder, or the nearest above it within the same
repository (up to the folder with .git). A door that can be ordered only because of an accepted
deviation exits 0, and the report says so.`

// projectFlags say which project file holds, and for which day.
type projectFlags struct {
	project   string
	noProject bool
	asOf      string
	given     func(flag string) bool
}

func (f *projectFlags) add(cmd *cobra.Command) {
	f.given = cmd.Flags().Changed
	cmd.Flags().StringVar(&f.project, "project", "", "take this `FILE` for the project file, and look for no "+project.FileName)
	cmd.Flags().BoolVar(&f.noProject, "no-project", false, "take no project file")
	cmd.Flags().StringVar(&f.asOf, "as-of", "", "the `DATE` on which accepted deviations are to hold, such as 2027-06-30 (default SOURCE_DATE_EPOCH, or else today, in UTC)")
}

// known refuses flags that cannot be meant.
func (f *projectFlags) known() error {
	if f.project == "" && f.given("project") {
		return errors.New(`--project ""; allowed: a project file; look for a variable that is not set, or say --no-project`)
	}
	if f.noProject && f.project != "" {
		return fmt.Errorf("--project %s and --no-project; allowed: one of them", f.project)
	}
	if f.given("as-of") && !project.IsDay(f.asOf) {
		return fmt.Errorf("--as-of %q; allowed: a day of the calendar, such as 2027-06-30", f.asOf)
	}
	return nil
}

// day is the one on which deviations are to hold: as given, or that of SOURCE_DATE_EPOCH (reproducible-builds.org), or today, in UTC.
func (f *projectFlags) day(now time.Time) (string, error) {
	if f.asOf != "" {
		return f.asOf, nil
	}
	if epoch := os.Getenv("SOURCE_DATE_EPOCH"); epoch != "" {
		seconds, err := strconv.ParseInt(epoch, 10, 64)
		now = time.Unix(seconds, 0)
		if year := now.UTC().Year(); err != nil || seconds < 0 || year > 9999 {
			return "", fmt.Errorf("SOURCE_DATE_EPOCH %q in the environment; allowed: a whole number of seconds since 1970, up to the year 9999; or name the day: --as-of DATE", epoch)
		}
	}
	return now.UTC().Format(time.DateOnly), nil
}

// projectFile is a project file as it was read.
type projectFile struct {
	name string // "": there is none
	src  []byte
}

// open reads the project file that is named or found.
func (f *projectFlags) open(ctx context.Context, s streams) (projectFile, error) {
	file, err := f.file(s)
	if file == "" || err != nil {
		return projectFile{}, err
	}
	src, err := readFile(ctx, file)
	if err != nil {
		return projectFile{}, fmt.Errorf("project file %w", err)
	}
	return projectFile{file, src}, nil
}

// load holds the project file against the rules, and reads its seal catalogues. It gives these, so that none is read again.
func (f *projectFlags) load(ctx context.Context, s streams, a *assess.Assessor, file projectFile) (catalogues []string, err error) {
	if file.name == "" {
		return nil, nil
	}
	day, err := f.day(time.Now())
	if err != nil {
		return nil, err
	}
	p, problems := project.Read(shown(file.name), file.src, a.Policies, day)
	if p != nil {
		a.Project = p
		for _, c := range p.Catalogues {
			src, err := readFile(ctx, c.Path)
			switch {
			case ctx.Err() != nil:
				return nil, ctx.Err()
			case err != nil:
				problems = append(problems, p.Unreadable(c, errors.Unwrap(err)))
			default:
				wrong := a.Catalogue.Add(c.Path, src)
				if len(wrong) > 0 {
					wrong = append(wrong, p.Wrong(c))
				}
				problems = append(problems, wrong...)
			}
			catalogues = append(catalogues, c.Path)
		}
	}
	for _, problem := range problems {
		fmt.Fprintln(s.err, problem.Error())
	}
	if len(problems) > 0 {
		return nil, exitError{ExitCannot}
	}
	return catalogues, nil
}

// file is the project file that is named, or found from here. One that nobody named is told, for it decides.
func (f *projectFlags) file(s streams) (string, error) {
	if f.project != "" || f.noProject {
		return f.project, nil
	}
	here, err := os.Getwd()
	if err != nil {
		return "", fmt.Errorf("looking for %s: %w; to look for none: --no-project", project.FileName, bare(err))
	}
	found, err := project.Find(here)
	if err != nil {
		return "", fmt.Errorf("looking for %s: %w; to look for none: --no-project", project.FileName, bare(err))
	}
	if found.Passed != "" {
		fmt.Fprintf(s.err, "passed over: %s, for everybody may write to its folder; name it with --project\n", schema.Printable(fromFolder(here, found.Passed)))
	}
	if found.Path == "" {
		return "", nil
	}
	file := fromFolder(here, found.Path)
	fmt.Fprintf(s.err, "project file: %s\n", schema.Printable(shown(file)))
	return file, nil
}

// fromFolder is a path as it is written from a folder, whose own path may go through links.
func fromFolder(folder, path string) string {
	if real, err := filepath.EvalSymlinks(folder); err == nil {
		folder = real
	}
	if below, err := filepath.Rel(folder, path); err == nil {
		return below
	}
	return path
}
