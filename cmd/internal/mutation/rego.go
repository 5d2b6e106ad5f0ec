package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"
)

// module makes mutants of one Rego file, by changes of its text.
type module struct {
	name, src string
	rule      string // the one walked
	out       []mutant
	skip      map[*ast.Term]bool // keys and parts of references, which are no literals of a rule
}

var options = ast.ParserOptions{RegoVersion: ast.RegoV1, ProcessAnnotation: true}

// turned gives what each comparison is turned into: its boundary, and its opposite.
var turned = map[string][]string{
	"<": {"<=", ">="}, "<=": {"<", ">"}, ">": {">=", "<="}, ">=": {">", "<"}, "==": {"!="}, "!=": {"=="},
}

// swapped gives another state for each: one that a slip would write.
var swapped = map[string][]string{
	"pass": {"fail"}, "fail": {"pass", "open"}, "open": {"fail", "missing"}, "close": {"open"}, "missing": {"open"},
	"unknown": {"pass", "false"}, "not-applicable": {"unknown"}, "true": {"unknown"}, "false": {"true", "unknown"},
}

// modules reads every Rego file under dir, by the names that the product has for them.
func modules(dir string) (map[string]string, error) {
	out := map[string]string{}
	for _, pattern := range []string{"*.rego", "questions/*.rego"} {
		names, err := filepath.Glob(filepath.Join(dir, pattern))
		if err != nil {
			return nil, err
		}
		for _, name := range names {
			src, err := os.ReadFile(name)
			if err != nil {
				return nil, err
			}
			own, err := filepath.Rel(dir, name)
			if err != nil {
				return nil, err
			}
			out[filepath.ToSlash(own)] = string(src)
		}
	}
	return out, nil
}

func regoMutants(name, src string) ([]mutant, error) {
	parsed, err := ast.ParseModuleWithOpts(name, src, options)
	if err != nil {
		return nil, err
	}
	m := &module{name: name, src: src, skip: map[*ast.Term]bool{}}
	for _, r := range parsed.Rules {
		m.rule = r.Head.Ref().String()
		for own := r; own != nil; own = own.Else {
			m.walk(own.Head)
			m.walk(own.Body)
		}
	}
	return m.out, nil
}

// walk visits what stands in a head or a body, comprehensions and every included.
func (m *module) walk(x any) {
	ast.NewGenericVisitor(func(x any) bool {
		switch x := x.(type) {
		case *ast.Expr:
			m.guard(x)
			if terms, ok := x.Terms.([]*ast.Term); ok {
				m.comparison(terms)
			}
		case *ast.Term:
			m.term(x)
		}
		return false
	}).Walk(x)
}

// edit makes a mutant of the text at a location.
func (m *module) edit(kind string, at, around *ast.Location, now string) {
	from, to := at.Offset, at.Offset+len(at.Text)
	was, whole := string(around.Text), ""
	if around != at {
		head := at.Offset - around.Offset
		whole = was[:head] + now + was[head+len(at.Text):]
	} else {
		whole = now
	}
	m.out = append(m.out, mutant{
		kind: kind, file: "policies/" + m.name, line: at.Row, where: strings.TrimSuffix(filepath.Base(m.name), ".rego") + "/" + m.rule,
		was: oneLine(was), now: oneLine(whole), module: m.name, source: m.src[:from] + now + m.src[to:],
	})
}

func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

// guard leaves out an expression that binds no name: true stands in its place.
func (m *module) guard(e *ast.Expr) {
	if e.Generated || e.IsAssignment() || e.IsEquality() || string(e.Location.Text) == "true" {
		return
	}
	if _, ok := e.Terms.(*ast.SomeDecl); ok {
		return
	}
	m.edit("guard", e.Location, e.Location, "true")
}

func (m *module) comparison(terms []*ast.Term) {
	op := terms[0].Location
	if len(terms) != 3 || terms[1].Location == nil {
		return
	}
	around := *op
	around.Offset = terms[1].Location.Offset
	end := terms[2].Location.Offset + len(terms[2].Location.Text)
	if around.Offset > op.Offset || end > len(m.src) || end < op.Offset {
		return // a call, written before what it takes
	}
	around.Text = []byte(m.src[around.Offset:end])
	for _, now := range turned[string(op.Text)] {
		m.edit("comparison", op, &around, now)
	}
}

func (m *module) term(t *ast.Term) {
	switch v := t.Value.(type) {
	case ast.Ref:
		for i, part := range v {
			if _, word := part.Value.(ast.String); i == 0 || word {
				m.skip[part] = true
			}
		}
	case ast.Object:
		v.Foreach(func(key, _ *ast.Term) { m.skip[key] = true })
	case ast.Call:
		m.comparison(v)
	}
	if m.skip[t] || t.Location == nil || m.outside(t) {
		return
	}
	switch v := t.Value.(type) {
	case ast.Number:
		n, err := strconv.Atoi(string(t.Location.Text))
		if err != nil {
			return
		}
		m.edit("literal", t.Location, m.lineOf(t.Location), strconv.Itoa(n+1))
		if n > 0 {
			m.edit("literal", t.Location, m.lineOf(t.Location), strconv.Itoa(n-1))
		}
	case ast.String:
		for _, now := range swapped[string(v)] {
			m.edit("state", t.Location, m.lineOf(t.Location), strconv.Quote(now))
		}
	case ast.Boolean:
		m.edit("state", t.Location, m.lineOf(t.Location), fmt.Sprint(!bool(v)))
	}
}

// outside is true of a term that the parser made: its location is not its own text.
func (m *module) outside(t *ast.Term) bool {
	text := string(t.Location.Text)
	if s, ok := t.Value.(ast.String); ok {
		return text != strconv.Quote(string(s))
	}
	return text != t.Value.String()
}

// lineOf is the line that a literal stands on, to tell it from its like.
func (m *module) lineOf(at *ast.Location) *ast.Location {
	from := strings.LastIndexByte(m.src[:at.Offset], '\n') + 1
	to := at.Offset + strings.IndexByte(m.src[at.Offset:]+"\n", '\n')
	own := *at
	own.Offset, own.Text = from, []byte(m.src[from:to])
	return &own
}
