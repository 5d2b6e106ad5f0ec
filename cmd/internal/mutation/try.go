package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/tester"

	"sillwright/cmd/internal/cases"
	"sillwright/policies"
)

const unbuilt = "does not compile"

// mutant is one change of what judges.
type mutant struct {
	kind, file, where, was, now string
	line                        int
	same                        string // why it changes no outcome, should it survive

	rule   string // of a rulebook: the rule, and what is changed of its data
	change func(rule map[string]any)

	module, source string // of Rego: the file, and its changed text
}

// key tells a mutant by its text, whatever lines stand before it.
func (m mutant) key() string { return m.where + ": " + m.was + " -> " + m.now }

// bench holds what every mutant is tried against. Facts are measured once.
type bench struct {
	policies     *policies.Policies
	compiler     *ast.Compiler
	capabilities *ast.Capabilities
	sources      map[string]string
	modules      map[string]*ast.Module     // every Rego file, tests included
	rules        map[string]map[string]any  // the data of each rule
	cases        map[string][]cases.Case    // by rule
	order        []string                   // the rules that have cases
	questions    map[string]map[string]bool // the questions that each module answers
}

func newBench(ctx context.Context, dir string) (*bench, error) {
	b := &bench{modules: map[string]*ast.Module{}, rules: map[string]map[string]any{}, cases: map[string][]cases.Case{}, questions: map[string]map[string]bool{}}
	p, all, err := cases.All(ctx)
	if err != nil {
		return nil, err
	}
	b.policies = p
	data, err := p.Data()
	if err != nil {
		return nil, err
	}
	for _, book := range data["rulebooks"].(map[string]any) {
		for _, rule := range book.(map[string]any)["rules"].([]any) {
			own := rule.(map[string]any)
			b.rules[own["id"].(string)] = own
		}
	}
	for _, c := range all {
		if len(b.cases[c.Rule]) == 0 {
			b.order = append(b.order, c.Rule)
		}
		b.cases[c.Rule] = append(b.cases[c.Rule], c)
	}
	if err := b.read(dir); err != nil {
		return nil, err
	}
	// Nothing is changed yet, so everything must hold.
	var why string
	if b.compiler, why = b.tested(ctx, "", nil); why != "" {
		return nil, fmt.Errorf("unchanged Rego fails: %s", why)
	}
	for _, rule := range b.order {
		if why := b.cased(ctx, b.compiler, rule, b.rules[rule], b.cases[rule]); why != "" {
			return nil, fmt.Errorf("unchanged rules fail: %s", why)
		}
	}
	return b, nil
}

// read reads and parses the Rego files.
func (b *bench) read(dir string) error {
	src, err := os.ReadFile(filepath.Join(dir, "capabilities.json"))
	if err != nil {
		return err
	}
	if b.capabilities, err = ast.LoadCapabilitiesJSON(strings.NewReader(string(src))); err != nil {
		return err
	}
	if b.sources, err = modules(dir); err != nil {
		return err
	}
	for name, src := range b.sources {
		m, err := ast.ParseModuleWithOpts(name, src, options)
		if err != nil {
			return err
		}
		b.modules[name], b.questions[name] = m, map[string]bool{}
		for _, r := range m.Rules {
			if len(r.Head.Args) > 0 {
				if asked, ok := r.Head.Args[0].Value.(ast.String); ok {
					b.questions[name][string(asked)] = true
				}
			}
		}
	}
	return nil
}

// try says what kills a mutant; "": it survives.
func (b *bench) try(ctx context.Context, m mutant) string {
	if m.change != nil {
		data := clone(b.rules[m.rule]).(map[string]any)
		m.change(data)
		return b.cased(ctx, b.compiler, m.rule, data, b.cases[m.rule])
	}
	parsed, err := ast.ParseModuleWithOpts(m.module, m.source, options)
	if err != nil {
		return unbuilt
	}
	compiler, why := b.tested(ctx, m.module, parsed)
	if why != "" {
		return why
	}
	for _, rule := range b.by(m.module) {
		if why := b.cased(ctx, compiler, rule, b.rules[rule], b.cases[rule]); why != "" {
			return why
		}
	}
	return ""
}

// by orders the rules: those that ask what the module answers come first.
func (b *bench) by(module string) []string {
	out := slices.Clone(b.order)
	last := func(rule string) int {
		if r, ok := b.policies.Rule(rule); ok && b.questions[module][r.Question] {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(out, func(x, y string) int { return last(x) - last(y) })
	return out
}

// tested runs the Rego tests with one module changed, its own first, and says which fails. Not strictly: a name that a mutant
// leaves unused would be found by the compiler, where a test should find it.
func (b *bench) tested(ctx context.Context, changed string, m *ast.Module) (*ast.Compiler, string) {
	own := map[string]*ast.Module{}
	for name, module := range b.modules {
		if changed == "" || !strings.HasSuffix(name, "_test.rego") || name == strings.TrimSuffix(changed, ".rego")+"_test.rego" {
			own[name] = module
		}
	}
	all := b.modules
	if changed != "" {
		all = map[string]*ast.Module{}
		for name, module := range b.modules {
			all[name] = module
		}
		own[changed], all[changed] = m, m
		// Its own tests may need words of another file: then only all of them tell whether the mutant compiles.
		if _, why := b.run(ctx, own); why != "" && why != unbuilt {
			return nil, why
		}
	}
	return b.run(ctx, all)
}

func (b *bench) run(ctx context.Context, modules map[string]*ast.Module) (*ast.Compiler, string) {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	compiler := ast.NewCompiler().WithCapabilities(b.capabilities)
	results, err := tester.NewRunner().SetCompiler(compiler).SetModules(modules).SetParallel(1).RunTests(ctx, nil)
	if err != nil {
		return nil, unbuilt
	}
	why := ""
	for r := range results {
		if !r.Pass() && why == "" {
			why = "test " + r.Name
			stop()
		}
	}
	return compiler, why
}

// cased judges cases by one rule alone, and says which does not hold.
func (b *bench) cased(ctx context.Context, compiler *ast.Compiler, rule string, data map[string]any, own []cases.Case) string {
	id, _, _ := strings.Cut(rule, "/")
	p, err := b.policies.With(ctx, compiler, map[string]any{"rulebooks": map[string]any{id: map[string]any{"rules": []any{data}}}})
	if err != nil {
		return unbuilt
	}
	for _, c := range own {
		if c.Check(ctx, p) != nil {
			return fmt.Sprintf("case %s:%d", c.File, c.Line)
		}
	}
	return ""
}
