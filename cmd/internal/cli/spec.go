package cli

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"slices"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/project"
	"sillwright/cmd/internal/render"
	"sillwright/schema"
	"sillwright/schema/door"
)

// oneSpec is a run over the doors of one file, with one report of them all.
type oneSpec struct {
	command  string
	flags    *judgeFlags
	document int // the only one to take; below 0: all
	report   bytes.Buffer
}

// takeDoor tells of one door in the report, and gives its exit code.
type takeDoor func(a *assess.Assessor, d *door.Door, met *project.Tracker) (code int, err error)

func (o *oneSpec) run(ctx context.Context, s streams, spec string, take takeDoor) error {
	if err := o.flags.known(o.command); err != nil {
		return err
	}
	name, src, err := readSpec(ctx, s, o.command, spec)
	if err != nil {
		return err
	}
	a, err := o.flags.assessor(ctx, s)
	if err != nil {
		return err
	}
	if err := spared(o.flags.output, append(o.flags.shared(a), spec)...); err != nil {
		return err
	}
	code, err := o.takeAll(ctx, s, a, name, src, take)
	if err != nil {
		return err
	}
	if o.report.Len() > 0 || o.flags.output == "" { // nothing to report leaves an older report alone
		if err := write(s, o.flags.output, o.report.Bytes()); err != nil {
			return err
		}
	}
	return exit(code)
}

func readSpec(ctx context.Context, s streams, command, spec string) (name string, src []byte, err error) {
	if spec == "-" {
		src, err = readSome(ctx, s.in)
		return render.StandardInput, src, err
	}
	if info, err := os.Stat(spec); err == nil && info.IsDir() {
		return "", nil, fmt.Errorf("%s is a folder; %s takes one file", shown(spec), command)
	}
	src, err = readFile(ctx, spec)
	return shown(spec), src, err
}

// readFile reads a file that is named on the command line, which may be a pipe.
func readFile(ctx context.Context, name string) ([]byte, error) {
	file, err := await(ctx, func() (*os.File, error) { return os.Open(name) })
	if err != nil {
		return nil, fmt.Errorf("%s: %w", shown(name), bare(err))
	}
	defer file.Close()
	src, err := readSome(ctx, file)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", shown(name), bare(err))
	}
	return src, nil
}

// readSome reads all of an input, but no more than one byte beyond what a file may have.
func readSome(ctx context.Context, in io.Reader) ([]byte, error) {
	return io.ReadAll(io.LimitReader(newPatient(ctx, in), schema.MaxFileBytes+1))
}

// takeAll takes every document and gives the worst exit code.
func (o *oneSpec) takeAll(ctx context.Context, s streams, a *assess.Assessor, name string, src []byte, take takeDoor) (int, error) {
	docs, problems := schema.Read(name, src)
	if o.document >= 0 {
		other := func(index int) bool { return index != o.document }
		docs = slices.DeleteFunc(docs, func(d schema.Document) bool { return other(d.Index) })
		// A problem of the file as such stands in the way of every document of it.
		problems = slices.DeleteFunc(problems, func(p schema.Problem) bool { return other(p.Document) && (p.Pointer != "" || len(docs) > 0) })
		if len(docs)+len(problems) == 0 {
			return 0, fmt.Errorf("%s has no document number %d, counted from 0: nothing to %s", name, o.document, o.command)
		}
	}
	met := a.Project.NewTracker()
	if met != nil {
		met.Partial = true // one door is not the job
	}
	j := &judge{s: s, f: o.flags, a: a, door: func(d *door.Door) (int, error) { return take(a, d, met) }}
	if o.flags.format == "json" {
		j.wrong = func(p schema.Problem) error { return render.ProblemJSON(&o.report, p) }
	}
	if err := j.take(ctx, docs, problems); err != nil {
		return 0, err
	}
	for _, n := range met.Notices() {
		fmt.Fprintln(s.err, n.Error())
	}
	if j.problems > 0 && j.judged > 0 {
		fmt.Fprintf(s.err, "%s: judged in spite of that: %d\n", schema.Printable(name), j.judged)
	}
	return j.code, nil
}
