package cli

import (
	"bytes"
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"sillwright/cmd/internal/flowtest"
	"sillwright/cmd/internal/render"
	"sillwright/engine/catalogue"
	"sillwright/engine/fit"
	"sillwright/schema"
	"sillwright/schema/readings"
)

type fitFlags struct {
	format string
	output string
	blank  string
	method string
	seals  []string
	entry  flowtest.Entry
}

// fitFormats are those of fit, which has no doors.
var fitFormats = []string{"text", "json"}

func newFit(s streams) *cobra.Command {
	f := fitFlags{}
	cmd := &cobra.Command{
		Use:   "fit FILE...",
		Short: "Fit flow readings of a seal or door sample",
		Long: `Fit the flow readings of a seal or a door sample, a CSV file a test (- is standard input), to C and n of
the power law and to the quadratic pair that sillwright computes with, with standard errors and 95 % limits; or say why
the readings carry no fit. With --seal NAME it writes a seal entry for --seals instead: several tests
at one overlap become one, with the scatter between them.

A file has a header with units in brackets, a reading a line, and # lines for the rest:

  # length: 1 m                     seal in the test     # overlap: 0 mm       free height less gap
  # temperature: 21 C               air                  # altitude: 300 m     or # barometric pressure: 98.2 kPa
  # flow error: 3 %                 meter, either way    # pressure error: 0.5 Pa
  pressure (Pa), flow (L/s), blank (L/s)
  10, 0.47, 0.05

Pressures in ` + "Pa, kPa, psf, inH2O; flows in L/s, m3/h, m3/s, cfm" + `. blank: what the rig passes by itself, the seal
taped over, here or in a file of its own. Further keys:
` + listed(readings.Keys()) + exitHelp(),
		Example: "  sillwright fit examples/rig/brush-at-0-mm.csv\n  sillwright fit --format json examples/rig/brush-at-0-mm.csv\n  sillwright fit --seal rig-brush-15 --like brush-fine-15 --output rig-brush.yaml examples/rig/brush-at-*.csv",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return fmt.Errorf("fit takes at least one FILE of readings, or - for standard input. See: sillwright fit --help")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return runFit(cmd.Context(), s, f, args) },
	}
	flags := cmd.Flags()
	flags.StringVar(&f.format, "format", "text", strings.Join(fitFormats, " or "))
	flags.StringVar(&f.output, "output", "", "write the report, or the seal entry, to this `FILE`, whole or not at all")
	flags.StringVar(&f.blank, "blank", "", "take off what the rig passes by itself, tested in this `FILE`")
	flags.StringVar(&f.method, "method", "", "correct C to standard air by `METHOD`: "+strings.Join(fit.Methods, ", ")+" (usual: "+fit.Methods[0]+")")
	flags.StringVar(&f.entry.Name, "seal", "", "write an entry of a seal of this `NAME` for --seals, and no report")
	flags.StringVar(&f.entry.Like, "like", "", "the known `SEAL` that it is like")
	flags.StringVar(&f.entry.Title, "title", "", "its title, a `TEXT`")
	flags.StringArrayVar(&f.seals, "seals", nil, "know the seals of this catalogue `FILE` too; may be given again")
	return cmd
}

func (f *fitFlags) check() error {
	if !slices.Contains(fitFormats, f.format) {
		return fmt.Errorf("--format %q; allowed: %s", f.format, strings.Join(fitFormats, " or "))
	}
	if f.method != "" && !slices.Contains(fit.Methods, f.method) {
		return fmt.Errorf("--method %q; allowed: %s", f.method, schema.Choices(f.method, fit.Methods))
	}
	if f.entry.Name == "" && (f.entry.Like != "" || f.entry.Title != "" || len(f.seals) > 0) {
		return fmt.Errorf("--like, --title and --seals are of a seal entry: give its name too, --seal NAME")
	}
	if f.entry.Name != "" && f.format != "text" {
		return fmt.Errorf("--format %s with --seal: a seal entry is YAML; leave one of them out", f.format)
	}
	return nil
}

// fitter fits files one after the other.
type fitter struct {
	s     streams
	f     *fitFlags
	out   bytes.Buffer
	tests []*flowtest.Test
	read  map[string]*readings.File // blank tests
	wrong int
}

func runFit(ctx context.Context, s streams, f fitFlags, args []string) error {
	if err := f.check(); err != nil {
		return err
	}
	known, err := f.known(ctx, s)
	if err != nil {
		return err
	}
	r := &fitter{s: s, f: &f, read: map[string]*readings.File{}}
	for _, arg := range args {
		if err := r.one(ctx, arg); err != nil {
			return err
		}
	}
	if known != nil {
		return r.entry(known)
	}
	if f.format == "text" {
		if err := render.FitTogether(&r.out, r.tests, r.colour()); err != nil {
			return err
		}
	}
	if r.out.Len() > 0 || f.output == "" { // nothing to report leaves an older report alone
		if err := write(s, f.output, r.out.Bytes()); err != nil {
			return err
		}
	}
	return r.end()
}

// known is the seals that an entry may be like; nil where none is asked for.
func (f *fitFlags) known(ctx context.Context, s streams) (*catalogue.Catalogue, error) {
	if f.entry.Name == "" {
		return nil, nil
	}
	c, err := catalogue.Generic()
	if err != nil {
		return nil, err
	}
	bad := false
	for _, file := range f.seals {
		src, err := readFile(ctx, file)
		if err != nil {
			return nil, fmt.Errorf("--seals %w", err)
		}
		for _, p := range c.Add(shown(file), src) {
			fmt.Fprintln(s.err, p.Error())
			bad = true
		}
	}
	if bad {
		return nil, exitError{ExitCannot}
	}
	return c, nil
}

func (r *fitter) colour() bool { return r.f.output == "" && colour(r.s.out) }

func (r *fitter) end() error {
	if r.wrong > 0 {
		return exitError{ExitCannot}
	}
	return nil
}

// one fits a file and writes its report. What is wrong with it does not stop the others.
func (r *fitter) one(ctx context.Context, arg string) error {
	name, src, err := readSpec(ctx, r.s, "fit", arg)
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err != nil {
		return err
	}
	file, problems := readings.Read(name, src)
	if file == nil {
		return r.tell(problems)
	}
	blank, problems, err := r.blank(ctx, arg, file)
	if err != nil || len(problems) > 0 {
		if err != nil {
			return err
		}
		return r.tell(problems)
	}
	t, problems := flowtest.New(file, blank, r.f.method)
	if len(problems) > 0 {
		return r.tell(problems)
	}
	r.tests = append(r.tests, t)
	switch {
	case r.f.entry.Name != "":
		for _, w := range t.Warnings {
			p := w.Problem
			p.Field = strings.TrimSuffix("warning, "+p.Field, ", ")
			fmt.Fprintln(r.s.err, p.Error())
		}
		return nil
	case r.f.format == "json":
		return render.FitJSON(&r.out, t, render.MadeBy{Version: version()})
	}
	if r.out.Len() > 0 {
		r.out.WriteString("\n")
	}
	return render.FitText(&r.out, t, r.colour())
}

// blank reads the test of the rig by itself: the one on the command line, or the one beside the file that the file names.
func (r *fitter) blank(ctx context.Context, arg string, file *readings.File) (*readings.File, []schema.Problem, error) {
	name := r.f.blank
	if name == "" && file.Blank != "" {
		if arg == "-" {
			return nil, []schema.Problem{file.Problem("blank", -1, "a blank test beside standard input", "a file that it stands beside", "name it on the command line: --blank FILE")}, nil
		}
		dir, _ := filepath.Split(arg)
		name = dir + file.Blank
	}
	if name == "" {
		return nil, nil, nil
	}
	if blank, ok := r.read[name]; ok {
		return blank, nil, nil
	}
	src, err := readFile(ctx, name)
	if err != nil {
		if r.f.blank != "" {
			return nil, nil, fmt.Errorf("--blank %w", err)
		}
		return nil, []schema.Problem{file.Problem("blank", -1, schema.Printable(err.Error()), "a file of readings beside this one", "look for a slip in its name")}, nil
	}
	blank, problems := readings.Read(shown(name), src)
	if blank != nil {
		r.read[name] = blank
	}
	return blank, problems, nil
}

// tell says what is wrong: on standard error, and in JSON as an object of its own.
func (r *fitter) tell(problems []schema.Problem) error {
	for _, p := range problems {
		r.wrong++
		fmt.Fprintln(r.s.err, p.Error())
		if r.f.format == "json" {
			if err := render.ProblemJSON(&r.out, p); err != nil {
				return err
			}
		}
	}
	return nil
}

// entry writes the seal entry of all files, or nothing where one of them carries no fit.
func (r *fitter) entry(known *catalogue.Catalogue) error {
	if r.wrong > 0 {
		fmt.Fprintln(r.s.err, "sillwright: no seal entry is written: what is told above stands in its way")
		return r.end()
	}
	out, notes, problems := r.f.entry.YAML(r.tests, known)
	if len(problems) > 0 {
		if err := r.tell(problems); err != nil {
			return err
		}
		return r.end()
	}
	if err := write(r.s, r.f.output, out); err != nil {
		return err
	}
	for _, n := range notes {
		fmt.Fprintln(r.s.err, n)
	}
	return nil
}

// listed writes words a few to a line.
func listed(words []string) string {
	var lines []string
	for chunk := range slices.Chunk(words, 5) {
		lines = append(lines, "  "+strings.Join(chunk, ", "))
	}
	return strings.Join(lines, ",\n")
}
