// Package policies judges facts by rulebooks. Rulebooks are data (rulebooks/*.yaml),
// questions are code (questions/*.rego), and every rule of every asked rulebook gives
// one outcome for every subject of its kind: silence is an error, never a pass.
package policies

import (
	"cmp"
	"context"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"
	"sync"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/rego"
	"github.com/open-policy-agent/opa/v1/storage/inmem"

	"sillwright/schema"
)

// The patterns leave out names that end in _test.rego: a pattern cannot say "not this
// ending", so they take what ends in no t, and what ends in st after no e. A test holds
// that they take every other file.
//
//go:embed *.rego questions/*.rego rulebooks/*.yaml capabilities.json
var files embed.FS

// Policies are the compiled questions with the rulebooks that use them.
type Policies struct {
	Rulebooks []*Rulebook // sorted by id
	Digest    string      // of every rule and question, for the record

	rules     map[string]*Rule
	questions map[string]question
	query     rego.PreparedEvalQuery // every rule of every subject
	single    rego.PreparedEvalQuery // single rules
	plans     plans
	anew      bool // nothing is kept, for the numbers are others than those of the rules
	kept      kept

	own      *Own      // a folder of rulebooks that are not built in
	confined *confined // where its questions run; nil: it has none
}

// Ref asks for a rulebook.
type Ref struct {
	ID      string `json:"id"`
	Variant string `json:"variant,omitempty"`
}

// Load reads, checks and compiles the built-in rulebooks and questions.
func Load(ctx context.Context) (*Policies, error) { return LoadWith(ctx, nil, nil) }

// builtIn gives the built-in rulebooks and questions, read and checked once in a process: they are the same each time, and nothing changes
// them. Its queries are still to be made.
func builtIn() (*Policies, *ast.Compiler, error) {
	once, err := readBuiltIn()
	if err != nil {
		return nil, nil, err
	}
	p := once.policies
	return &Policies{Rulebooks: slices.Clone(p.Rulebooks), Digest: p.Digest, rules: maps.Clone(p.rules), questions: maps.Clone(p.questions)}, once.compiler, nil
}

// sources are policies with what compiled their questions.
type sources struct {
	policies *Policies
	compiler *ast.Compiler
}

var readBuiltIn = sync.OnceValues(func() (sources, error) {
	modules, err := Modules()
	if err != nil {
		return sources{}, err
	}
	var books []bookFile
	var unread error
	var reading sync.WaitGroup
	reading.Go(func() { books, unread = readBooks() }) // which takes as long as the questions do
	p := &Policies{rules: map[string]*Rule{}}
	compiler, err := p.ask(modules)
	reading.Wait()
	if err = cmp.Or(err, unread); err != nil {
		return sources{}, err
	}
	digest := sha256.New()
	var wrong Problems
	for _, w := range books {
		digest.Write(w.src)
		wrong = append(wrong, p.admit(w.book, w.problems)...)
	}
	for _, b := range p.Rulebooks {
		wrong = append(wrong, p.brought(b)...)
	}
	if len(wrong) > 0 {
		return sources{}, wrong
	}
	slices.SortFunc(p.Rulebooks, func(a, b *Rulebook) int { return strings.Compare(a.ID, b.ID) })
	for _, name := range slices.Sorted(maps.Keys(modules)) {
		digest.Write([]byte(modules[name]))
	}
	p.Digest = hex.EncodeToString(digest.Sum(nil))[:12]
	return sources{p, compiler}, nil
})

// bookFile is a rulebook file as it was read, with what is wrong with its shape.
type bookFile struct {
	src      []byte
	book     *Rulebook
	problems []schema.Problem
}

// readBooks reads every built-in rulebook file, in order of their names.
func readBooks() ([]bookFile, error) {
	names, err := fs.Glob(files, "rulebooks/*.yaml")
	if err != nil {
		return nil, err
	}
	names = slices.DeleteFunc(names, func(name string) bool { return strings.HasSuffix(name, ".cases.yaml") })
	out, unread := make([]bookFile, len(names)), make([]error, len(names))
	var group sync.WaitGroup
	for i, name := range names {
		group.Go(func() {
			f := &out[i]
			if f.src, unread[i] = files.ReadFile(name); unread[i] == nil {
				f.book, f.problems = readRulebook(path.Base(name), f.src)
			}
		})
	}
	group.Wait()
	return out, errors.Join(unread...)
}

// add reads one rulebook file, and gives all that is wrong with it.
func (p *Policies) add(file string, src []byte) []schema.Problem {
	return p.admit(readRulebook(file, src))
}

// admit takes a rulebook that was read, and adds to what is wrong with its shape what is wrong beyond that.
func (p *Policies) admit(book *Rulebook, problems []schema.Problem) []schema.Problem {
	if book == nil {
		return problems
	}
	p.take(book)
	return inOrder(append(problems, book.check(p.questions)...))
}

// take adds a rulebook as it is.
func (p *Policies) take(book *Rulebook) {
	if book.Superseded != "" {
		book.Cite += " (superseded)" // wherever a clause is told
	}
	p.Rulebooks = append(p.Rulebooks, book)
	for _, r := range book.Rules {
		p.rules[r.ID] = r
		r.asked = p.questions[r.Question]
		book.reads = append(book.reads, r.Facts()...)
	}
	slices.Sort(book.reads)
	book.reads = slices.Compact(book.reads)
}

// Problems are all that is wrong with the rulebooks, each at its place.
type Problems []schema.Problem

func (p Problems) Error() string {
	var lines []string
	for _, one := range p {
		lines = append(lines, one.Error())
	}
	return strings.Join(lines, "\n")
}

// ask compiles the questions and reads what each declares.
func (p *Policies) ask(modules map[string]string) (*ast.Compiler, error) {
	compiler, err := compile(modules)
	if err != nil {
		return nil, err
	}
	p.questions, err = questions(compiler)
	return compiler, err
}

// prepare makes the query for the rules that are loaded.
func (p *Policies) prepare(ctx context.Context, compiler *ast.Compiler) error {
	data, err := p.dataOf(func(b *Rulebook) bool { return p.confined == nil || !slices.Contains(p.confined.ids, b.ID) })
	if err != nil {
		return err
	}
	return p.over(ctx, compiler, data)
}

// With gives policies with the same words that judge by other questions and other data, such as a rule with another
// limit: what a change would do. Rules that the data leaves out are not judged. Nothing is checked.
func (p *Policies) With(ctx context.Context, compiler *ast.Compiler, data map[string]any) (*Policies, error) {
	out := &Policies{Digest: p.Digest + "*", rules: p.rules, questions: p.questions, anew: true}
	for _, b := range p.Rulebooks {
		own, _ := data["rulebooks"].(map[string]any)[b.ID].(map[string]any)
		rules, _ := own["rules"].([]any)
		book := *b
		book.Rules = slices.DeleteFunc(slices.Clone(b.Rules), func(r *Rule) bool {
			return !slices.ContainsFunc(rules, func(d any) bool { return d.(map[string]any)["id"] == r.ID })
		})
		out.Rulebooks = append(out.Rulebooks, &book)
	}
	return out, out.over(ctx, compiler, data)
}

// over makes the queries over a data document.
func (p *Policies) over(ctx context.Context, compiler *ast.Compiler, data map[string]any) (err error) {
	for name, query := range map[string]*rego.PreparedEvalQuery{"outcomes": &p.query, "singly": &p.single} {
		if *query, err = queried(ctx, compiler, data, name); err != nil {
			return err
		}
	}
	return nil
}

// queried makes a query over a data document.
func queried(ctx context.Context, compiler *ast.Compiler, data map[string]any, name string) (rego.PreparedEvalQuery, error) {
	store := inmem.NewFromObjectWithOpts(data, inmem.OptRoundTripOnWrite(true), inmem.OptReturnASTValuesOnRead(true))
	return rego.New(rego.Query("data.sillwright."+name), rego.Compiler(compiler), rego.Store(store), rego.StrictBuiltinErrors(true)).PrepareForEval(ctx)
}

// Modules gives the Rego sources by file name, tests left out.
func Modules() (map[string]string, error) {
	out := map[string]string{}
	err := fs.WalkDir(files, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(name, ".rego") || strings.HasSuffix(name, "_test.rego") {
			return err
		}
		src, err := files.ReadFile(name)
		out[name] = string(src)
		return err
	})
	return out, err
}

// Data is the document that the questions read: every rule with its limits in exact units.
func (p *Policies) Data() (map[string]any, error) {
	return p.dataOf(func(*Rulebook) bool { return true })
}

// dataOf is the same of some rulebooks.
func (p *Policies) dataOf(has func(*Rulebook) bool) (map[string]any, error) {
	books := map[string]any{}
	for _, book := range p.Rulebooks {
		if !has(book) {
			continue
		}
		rules := []any{}
		for _, r := range book.Rules {
			d, err := r.data()
			if err != nil {
				return nil, fmt.Errorf("rule %s: %w", r.ID, err)
			}
			rules = append(rules, d)
		}
		books[book.ID] = map[string]any{"rules": rules}
	}
	return map[string]any{"rulebooks": books}, nil
}

// compile builds the modules strictly and with the pinned capabilities only: no rule can
// reach a network, a clock or an environment.
func compile(modules map[string]string) (*ast.Compiler, error) {
	parsed, capabilities, err := parse(modules)
	if err != nil {
		return nil, err
	}
	c := ast.NewCompiler().WithStrict(true).WithCapabilities(capabilities)
	if c.Compile(parsed); c.Failed() {
		return nil, c.Errors
	}
	return c, nil
}

// pinned are the capabilities that every question is limited to.
func pinned() (*ast.Capabilities, error) {
	src, err := files.ReadFile("capabilities.json")
	if err != nil {
		return nil, err
	}
	return ast.LoadCapabilitiesJSON(strings.NewReader(string(src)))
}

func parse(modules map[string]string) (map[string]*ast.Module, *ast.Capabilities, error) {
	capabilities, err := pinned()
	if err != nil {
		return nil, nil, err
	}
	parsed := map[string]*ast.Module{}
	for name, text := range modules {
		m, err := ast.ParseModuleWithOpts(name, text, ast.ParserOptions{Capabilities: capabilities, RegoVersion: ast.RegoV1, ProcessAnnotation: true})
		if err != nil {
			return nil, nil, err
		}
		parsed[name] = m
	}
	return parsed, capabilities, nil
}

// Rulebook gives a rulebook by its id.
func (p *Policies) Rulebook(id string) (*Rulebook, bool) {
	i := slices.IndexFunc(p.Rulebooks, func(b *Rulebook) bool { return b.ID == id })
	if i < 0 {
		return nil, false
	}
	return p.Rulebooks[i], true
}

// Rule gives a rule by its id.
func (p *Policies) Rule(id string) (*Rule, bool) {
	r, ok := p.rules[id]
	return r, ok
}

// Refuse says what is wrong with asking for a rulebook, if anything is.
func (p *Policies) Refuse(ref Ref) (found, allowed, do string, wrong bool) {
	book, ok := p.Rulebook(ref.ID)
	switch {
	case !ok && strings.HasPrefix(ref.ID, OwnPrefix):
		return fmt.Sprintf("rulebook %q, which is not built in", ref.ID), schema.Choices(ref.ID, p.IDs()), "name the folder that has it: --rulebooks-dir FOLDER, or rulebooks_dir in the project file", true
	case !ok:
		return fmt.Sprintf("rulebook %q", ref.ID), schema.Choices(ref.ID, p.IDs()), "list them with: sillwright rules", true
	case ref.Variant != "" && len(book.Variants) == 0:
		return fmt.Sprintf("variant %q", ref.Variant), "no variant: " + ref.ID + " has none", "take the variant out", true
	case ref.Variant != "" && !slices.Contains(book.Variants, ref.Variant):
		return fmt.Sprintf("variant %q", ref.Variant), schema.Choices(ref.Variant, book.Variants), "name one that applies", true
	}
	return "", "", "", false
}

// IDs lists the rulebooks that a spec may name.
func (p *Policies) IDs() []string {
	var out []string
	for _, b := range p.Rulebooks {
		if !b.Always {
			out = append(out, b.ID)
		}
	}
	return out
}

// Asked adds the rulebooks that those which are asked bring along, and those that always run.
func (p *Policies) Asked(refs []Ref) []Ref {
	out := slices.Clone(refs)
	add := func(id string) {
		if !slices.ContainsFunc(out, func(r Ref) bool { return r.ID == id }) {
			out = append(out, Ref{ID: id})
		}
	}
	for i := 0; i < len(out); i++ {
		if b, ok := p.Rulebook(out[i].ID); ok {
			for _, id := range b.Brings {
				add(id)
			}
		}
	}
	for _, b := range p.Rulebooks {
		if b.Always {
			add(b.ID)
		}
	}
	return out
}

// Reads names the facts that the rules of some rulebooks read.
func (p *Policies) Reads(refs []Ref) []string {
	var out []string
	for _, ref := range refs {
		if b, ok := p.Rulebook(ref.ID); ok {
			out = append(out, b.reads...)
		}
	}
	return out
}
