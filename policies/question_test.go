package policies

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/open-policy-agent/opa/v1/ast"
)

// compiled gives the modules and what they compile to.
func compiled(t *testing.T) (map[string]string, *ast.Compiler) {
	t.Helper()
	modules, err := Modules()
	if err != nil {
		t.Fatal(err)
	}
	compiler, err := compile(modules)
	if err != nil {
		t.Fatal(err)
	}
	return modules, compiler
}

// said is one check that a question writes out: its part, and the names of the values that it gives with it.
type said struct {
	part   string // "": worked out
	values []string
	fails  bool // it can fail or be left open, and so its words are filled
}

// saidIn finds the checks that a module writes out.
func saidIn(m *ast.Module) []said {
	var out []said
	ast.WalkTerms(m, func(term *ast.Term) bool {
		o, ok := term.Value.(ast.Object)
		if !ok || o.Get(ast.StringTerm("part")) == nil {
			return false
		}
		if part, ok := o.Get(ast.StringTerm("part")).Value.(ast.Object); ok && part.Len() > 0 {
			return false // a value that is called part, not a check
		}
		values, given := o.Get(ast.StringTerm("values")), false
		c := said{}
		if text, ok := o.Get(ast.StringTerm("part")).Value.(ast.String); ok {
			c.part = string(text)
		}
		if values != nil {
			var names ast.Object
			if names, given = values.Value.(ast.Object); given {
				for _, k := range names.Keys() {
					c.values = append(c.values, string(k.Value.(ast.String)))
				}
			}
		}
		state := o.Get(ast.StringTerm("state"))
		always := state != nil && (state.Equal(ast.StringTerm("pass")) || state.Equal(ast.StringTerm("missing")))
		lacking := o.Get(ast.StringTerm("needs")) != nil && o.Get(ast.StringTerm("measured")) == nil
		c.fails = given && !always && !lacking
		out = append(out, c)
		return false
	})
	return out
}

// A question declares the parts that its checks have, and of each the values that are given with it whenever its words are
// filled: read from the questions themselves.
func TestQuestionsDeclareWhatTheySay(t *testing.T) {
	modules, compiler := compiled(t)
	seen := 0
	parsed, shared := map[string]*ast.Module{}, []said{}
	for _, file := range slices.Sorted(maps.Keys(modules)) {
		if !strings.HasPrefix(file, "questions/") {
			continue
		}
		m, err := ast.ParseModuleWithOpts(file, modules[file], ast.ParserOptions{RegoVersion: ast.RegoV1, ProcessAnnotation: true})
		if err != nil {
			t.Fatal(err)
		}
		parsed[file] = m
		if !strings.Contains(modules[file], "\nanswer(") {
			shared = append(shared, saidIn(parsed[file])...) // what several questions say
		}
	}
	for _, file := range slices.Sorted(maps.Keys(parsed)) {
		all, err := questions(&ast.Compiler{Modules: map[string]*ast.Module{file: parsed[file]}})
		if err != nil || len(all) > 1 {
			t.Fatalf("%s: questions %v, %v; one a file at most", file, all, err)
		}
		for name, q := range all {
			seen++
			of := func(c said) bool { _, says := q.Parts[c.part]; return !says }
			holdDeclared(t, name, q, append(saidIn(parsed[file]), slices.DeleteFunc(slices.Clone(shared), of)...))
		}
	}
	if all, err := questions(compiler); err != nil || len(all) != seen {
		t.Errorf("%d questions looked at, %d there, %v", seen, len(all), err)
	}
}

func holdDeclared(t *testing.T, name string, q question, checks []said) {
	t.Helper()
	if len(q.Parts) == 0 {
		t.Errorf("%s declares no parts", name)
	}
	lacks := func(c said, part string) bool {
		return slices.ContainsFunc(q.Parts[part], func(v string) bool { return !slices.Contains(c.values, v) })
	}
	for _, c := range checks {
		_, known := q.Parts[c.part]
		switch {
		case c.part == "": // any of the parts
		case !known && !slices.Contains(q.Passing, c.part):
			t.Errorf("%s has checks of %q, a part that it does not declare", name, c.part)
		case known && c.fails && (lacks(c, c.part) || len(c.values) != len(q.Parts[c.part])):
			t.Errorf("%s gives %v with part %s, and declares %v", name, c.values, c.part, q.Parts[c.part])
		case !known && c.fails:
			t.Errorf("%s declares that %q only passes, and it may fail", name, c.part)
		}
	}
	for part := range q.Parts {
		of := func(c said) bool { return c.part == part && c.fails }
		worked := func(c said) bool { return c.part == "" && c.fails && !lacks(c, part) }
		missing := func(c said) bool { return c.part == part } // that can only be missing
		if !slices.ContainsFunc(checks, of) && !slices.ContainsFunc(checks, worked) && !slices.ContainsFunc(checks, missing) {
			t.Errorf("%s declares part %q with %v, and no check has it so", name, part, q.Parts[part])
		}
	}
}

// What METADATA cannot mean is refused when the questions are read.
func TestMetadataIsRefused(t *testing.T) {
	for custom, says := range map[string]string{
		"limts: {value: at_most}":                              "limts",
		"limits: {value: atmost}":                              `shape "atmost"`,
		"limits: {value: at_most lenght}":                      `shape "at_most lenght"`,
		"limits: [value]":                                      "array",
		"fact: [lenght]":                                       `"lenght" is neither a kind of fact nor a fact`,
		"target: [nothing]":                                    `"nothing" is neither`,
		"rows: {floor: at_least}":                              `"floor" is neither`,
		"parts: {value: [limit]}\n#   found: {value: '{lim}'}": "{lim} in found: value: one of limit",
		"parts: {value: []}\n#   parts_with: {value: bevel}":   `part "value" with limit "bevel"`,
		"limits: {b: flag}\n#   parts_with: {each: b}":         `part "each" with limit "b"`,
	} {
		src := "package sillwright.questions\n\n# METADATA\n# custom:\n#   " + custom + "\nanswer(\"odd\", _, _) := []\n"
		m, err := ast.ParseModuleWithOpts("odd.rego", src, ast.ParserOptions{RegoVersion: ast.RegoV1, ProcessAnnotation: true})
		if err != nil {
			t.Fatal(err)
		}
		_, err = questions(&ast.Compiler{Modules: map[string]*ast.Module{"odd.rego": m}})
		if err == nil || !strings.HasPrefix(err.Error(), `odd.rego: question "odd": `) || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v, want one that says %s", custom, err, says)
		}
	}
}

// A question without METADATA lets no rule be held to it.
func TestQuestionThatDeclaresNothingIsRefused(t *testing.T) {
	p := &Policies{rules: map[string]*Rule{}, questions: map[string]question{"at-least": {}}}
	problems := p.add("trial.yaml", []byte(trialBook))
	if !strings.Contains(Problems(problems).Error(), `trial.yaml:14:15: rules.width.question: found question "at-least", which declares no parts`) {
		t.Error(Problems(problems))
	}
}
