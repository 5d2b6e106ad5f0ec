package cli

import (
	"context"
	"fmt"
	"iter"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/render"
	"sillwright/engine"
	"sillwright/schema"
	"sillwright/schema/door"
)

// Formats lists the output formats of the commands that have several; tests go through all of them.
var Formats = map[string][]string{
	"check":   {"text", "json"},
	"explain": {"text", "json", "markdown"},
	"lint":    render.ReportFormats(),
}

// judgeFlags say how doors are judged and where the report goes.
type judgeFlags struct {
	projectFlags
	rulebooksFlag
	format        string
	output        string
	seals         []string
	rank          string
	order         []engine.Criterion
	strict        bool
	allowUnproven bool
}

func (f *judgeFlags) add(cmd *cobra.Command) {
	f.projectFlags.add(cmd)
	f.rulebooksFlag.add(cmd, ", in place of the project's")
	cmd.Flags().StringVar(&f.format, "format", "text", either(Formats[cmd.Name()]))
	cmd.Flags().StringVar(&f.output, "output", "", "write the report to this `FILE`, whole or not at all")
	cmd.Flags().StringArrayVar(&f.seals, "seals", nil, "add the seals of this catalogue `FILE`, besides those of the project; may be given again")
	cmd.Flags().StringVar(&f.rank, "rank", words(engine.UsualOrder()), "rank the complying options by these `WORDS`, in this order; what is not named does not count")
	cmd.Flags().BoolVar(&f.strict, "strict", false, "let should rules count")
	cmd.Flags().BoolVar(&f.allowUnproven, "allow-unproven", false, "exit 0 for a door that is unproven but does not fail")
}

// known reads the order of --rank, and refuses it, or a format that a command does not have.
func (f *judgeFlags) known(command string) error {
	if !slices.Contains(Formats[command], f.format) {
		return fmt.Errorf("--format %q; allowed: %s", f.format, either(Formats[command]))
	}
	if err := f.projectFlags.known(); err != nil {
		return err
	}
	all := strings.Split(words(engine.UsualOrder()), ",")
	for word := range strings.SplitSeq(f.rank, ",") {
		word = strings.TrimSpace(word)
		if !slices.Contains(all, word) {
			return fmt.Errorf("--rank %q: criterion %q; allowed: %s, with commas between several", f.rank, word, schema.Choices(word, all))
		}
		if slices.Contains(f.order, engine.Criterion(word)) {
			return fmt.Errorf("--rank %q: criterion %q a second time; allowed: each of %s at most once", f.rank, word, strings.Join(all, ", "))
		}
		f.order = append(f.order, engine.Criterion(word))
	}
	return nil
}

// either lists words of which one is to be chosen.
func either(words []string) string {
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

// words writes an order as --rank reads it.
func words(order []engine.Criterion) string {
	var out []string
	for _, c := range order {
		out = append(out, string(c))
	}
	return strings.Join(out, ",")
}

// assessor loads the rules, the project and the seals.
func (f *judgeFlags) assessor(ctx context.Context, s streams) (*assess.Assessor, error) {
	file, err := f.open(ctx, s)
	if err != nil {
		return nil, err
	}
	p, err := f.rules(ctx, s, file)
	if err != nil {
		return nil, err
	}
	a, err := assess.By(p)
	if err != nil {
		return nil, err
	}
	a.Strict, a.Order = f.strict, f.order
	catalogues, err := f.load(ctx, s, a, file)
	if err != nil {
		return nil, err
	}
	return a, addSeals(ctx, s, a, f.seals, catalogues)
}

// addSeals adds the seals of catalogue files, but of those that the project has added.
func addSeals(ctx context.Context, s streams, a *assess.Assessor, files, added []string) error {
	bad := false
	for _, file := range files {
		if slices.ContainsFunc(added, func(other string) bool { return whole(other) == whole(file) }) {
			continue
		}
		src, err := readFile(ctx, file)
		if err != nil {
			return fmt.Errorf("--seals %w", err)
		}
		for _, p := range a.Catalogue.Add(shown(file), src) {
			fmt.Fprintln(s.err, p.Error())
			bad = true
		}
	}
	if bad {
		return exitError{ExitCannot}
	}
	return nil
}

// shared lists the files on which every door rests.
func (f *judgeFlags) shared(a *assess.Assessor) []string {
	out := slices.Concat(f.seals, a.Policies.Own().Files())
	if p := a.Project; p != nil {
		out = append(out, p.File)
		for _, c := range p.Catalogues {
			out = append(out, c.Path)
		}
	}
	return out
}

// judge takes documents one after the other and keeps the worst exit code.
type judge struct {
	s     streams
	f     *judgeFlags
	a     *assess.Assessor
	door  func(*door.Door) (code int, err error) // judges and shows one
	wrong func(schema.Problem) error             // shows a problem; nil: standard error is enough

	code     int
	judged   int
	broken   int // documents that could not be judged
	problems int
}

// take judges documents, until the run is to end. What could not be read is told where it stands among them.
func (j *judge) take(ctx context.Context, docs []schema.Document, problems []schema.Problem) error {
	for doc, before := range inOrder(docs, problems) {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := j.complain(before); err != nil {
			return err
		}
		if doc == nil {
			continue
		}
		d, wrong := j.a.Decode(*doc)
		if err := j.complain(wrong); err != nil {
			return err
		}
		if d == nil {
			continue
		}
		code, err := j.door(d)
		if err != nil {
			return err
		}
		j.judged++
		j.code = max(j.code, code)
	}
	return ctx.Err()
}

// inOrder gives each document with the problems that stand before it, and in the end, with no document, the rest.
func inOrder(docs []schema.Document, problems []schema.Problem) iter.Seq2[*schema.Document, []schema.Problem] {
	return func(yield func(*schema.Document, []schema.Problem) bool) {
		for i := range docs {
			before := slices.IndexFunc(problems, func(p schema.Problem) bool { return p.Document > docs[i].Index })
			if before < 0 {
				before = len(problems)
			}
			if !yield(&docs[i], problems[:before]) {
				return
			}
			problems = problems[before:]
		}
		if len(problems) > 0 {
			yield(nil, problems)
		}
	}
}

// complain says what is wrong with the documents of a file: on standard error, and in JSON as an object of its own.
func (j *judge) complain(problems []schema.Problem) error {
	for i, p := range problems {
		if i == 0 || p.Document != problems[i-1].Document {
			j.broken++
		}
		if err := j.tell(p); err != nil {
			return err
		}
	}
	return nil
}

func (j *judge) tell(p schema.Problem) error {
	j.problems++
	j.code = ExitCannot
	fmt.Fprintln(j.s.err, p.Error())
	if j.wrong == nil {
		return nil
	}
	return j.wrong(p)
}

// exit is the end of a run in which everything has been said.
func exit(code int) error {
	if code == ExitOrder {
		return nil
	}
	return exitError{code}
}

// codeOf gives the exit code of one door.
func codeOf(r *assess.Result, allowUnproven bool) int {
	if r.CanOrder || allowUnproven && r.MayComply() {
		return ExitOrder
	}
	return ExitFinding
}
