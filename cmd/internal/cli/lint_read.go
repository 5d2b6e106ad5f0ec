package cli

import (
	"context"
	"fmt"
	"io"
	"os"
	"slices"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/render"
	"sillwright/schema"
)

// found is what reading comes upon, one thing at a time: a document, with the problems that stand before it, or what there
// is to count or to tell.
type found struct {
	doc       *schema.Document
	problems  []schema.Problem
	quiet     bool // a document of a file that was not asked about: its mark is compared, and nothing else
	file      bool // a file begins
	unchanged bool // and was not asked about
	missing   bool // the problems are of a file or folder that cannot be read
	skipped   int  // documents that are no door spec
	note      string
}

// reading finds the documents of the arguments, in order. One file is open at a time, and of NDJSON one line is held.
type reading struct {
	in      io.Reader
	filter  bool
	changed func(file string) bool // nil: everything is asked about
	project string                 // the project file that holds, without links
	output  string                 // where the report goes: no door of it is read
	give    func(found) error
}

func (r *reading) all(ctx context.Context, args []string) error {
	if r.filter {
		if err := r.give(found{file: true}); err != nil {
			return err
		}
		return schema.EachLine(render.StandardInput, newPatient(ctx, r.in), func(docs []schema.Document, problems []schema.Problem) error {
			return r.take(docs, problems, false)
		})
	}
	find := newFinder(args)
	for _, arg := range args {
		files, problems := find.find(arg)
		for _, p := range problems {
			if err := r.missing(p); err != nil {
				return err
			}
		}
		for _, in := range files {
			if err := r.file(ctx, in); err != nil {
				return err
			}
		}
	}
	return nil
}

func (r *reading) missing(p schema.Problem) error {
	return r.give(found{missing: true, problems: []schema.Problem{p}})
}

// file reads the documents of a file as they come.
func (r *reading) file(ctx context.Context, in input) error {
	name, src, quiet := in.path, r.in, false
	if in.path == "-" {
		name = render.StandardInput
	} else {
		quiet = r.changed != nil && !r.changed(in.path)
		file, err := await(ctx, func() (*os.File, error) { return os.Open(in.path) })
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			return r.missing(unreadable(in.path, err))
		}
		defer file.Close()
		src = file
	}
	if err := r.give(found{file: true, unchanged: quiet}); err != nil {
		return err
	}
	return r.stream(ctx, name, newPatient(ctx, src), in.named, quiet, spared(r.output, in.path))
}

func (r *reading) stream(ctx context.Context, name string, src io.Reader, named, quiet bool, isReport error) error {
	var ours error // a fault of the run, not of the input
	var skipped []string
	err := schema.Stream(name, src, func(docs []schema.Document, problems []schema.Problem) error {
		if !named {
			read := len(docs)
			docs = slices.DeleteFunc(docs, func(d schema.Document) bool {
				what, is := assess.Stranger(d)
				if is && !slices.Contains(skipped, what) {
					skipped = append(skipped, what)
				}
				return is
			})
			if read > len(docs) && !quiet {
				if ours = r.give(found{skipped: read - len(docs)}); ours != nil {
					return ours
				}
			}
		}
		if ours = isReport; ours == nil || len(docs) == 0 { // an older report is no door
			ours = r.take(docs, problems, quiet)
		}
		return ours
	})
	switch {
	case ours != nil:
		return ours
	case ctx.Err() != nil:
		return ctx.Err()
	case quiet:
		return nil
	}
	for _, what := range skipped { // once a file, however many documents it has
		if what == assess.ProjectFile && whole(name) != r.project {
			what += " that does not hold for this run, for it was neither found from here nor named"
		}
		if err := r.give(found{note: fmt.Sprintf("skipped: %s: %s, no door spec", schema.Printable(name), what)}); err != nil {
			return err
		}
	}
	if err != nil {
		return r.missing(unreadable(name, err))
	}
	return nil
}

// take gives documents and problems on in order; of a file that was not asked about, documents only.
func (r *reading) take(docs []schema.Document, problems []schema.Problem, quiet bool) error {
	if quiet {
		problems = nil
	}
	for doc, before := range inOrder(docs, problems) {
		if err := r.give(found{doc: doc, problems: before, quiet: quiet}); err != nil {
			return err
		}
	}
	return nil
}
