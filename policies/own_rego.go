package policies

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"
)

// ownHelper begins the name of every function and value that the questions of a user define, besides `answer`.
const ownHelper = "own_"

// questionsPackage is where questions are, and comparePackage what they may call.
const (
	questionsPackage = "data.sillwright.questions"
	comparePackage   = "data.sillwright.compare"
)

// fault is what is wrong at a place of a Rego file.
type fault struct {
	File    string `json:"file"`
	Row     int    `json:"row"`
	Column  int    `json:"column"`
	Found   string `json:"found"`
	Allowed string `json:"allowed,omitempty"`
	Do      string `json:"do,omitempty"`
}

func faultAt(at *ast.Location, found, allowed, do string) fault {
	if at == nil {
		return fault{Found: found, Allowed: allowed, Do: do}
	}
	return fault{at.File, at.Row, at.Col, found, allowed, do}
}

// ownModule parses a file of questions, and refuses what could reach beyond them: it may define answers to questions whose names begin with
// own-, and helpers whose names begin with own_; it may call the comparisons and its own helpers; and it gets its rule and its facts, so
// it reads neither input nor data.
func ownModule(file, src string) (*ast.Module, []fault) {
	capabilities, err := pinned()
	if err != nil {
		return nil, []fault{{File: file, Found: err.Error()}}
	}
	m, err := ast.ParseModuleWithOpts(file, src, ast.ParserOptions{Capabilities: capabilities, RegoVersion: ast.RegoV1, ProcessAnnotation: true})
	if err != nil {
		return nil, regoFaults(file, err)
	}
	var out []fault
	report := func(at *ast.Location, found, allowed, do string) { out = append(out, faultAt(at, found, allowed, do)) }
	if got := m.Package.Path.String(); got != questionsPackage {
		report(m.Package.Location, "package "+strings.TrimPrefix(got, "data."), "package "+strings.TrimPrefix(questionsPackage, "data."), "write it so, for a question is asked there")
	}
	for _, i := range m.Imports {
		if got := i.Path.String(); got != comparePackage || i.Alias != "" {
			report(i.Location, "import of "+got, "import "+comparePackage+", without another name", "take it out; a question gets what it reads as its rule and its facts")
		}
	}
	name := strings.TrimSuffix(file[strings.LastIndexByte(file, '/')+1:], ".rego")
	answered := false
	for _, r := range m.Rules {
		for ; r != nil; r = r.Else {
			answered = defined(r, name, report) || answered
		}
	}
	if !answered {
		out = append(out, fault{file, 1, 1, "no answer", fmt.Sprintf("answer(%q, rule, facts), the question that the file is named by", name), "write it, or give the file the name of its question"})
	}
	for _, r := range m.Rules {
		reaches(r, report)
		for _, a := range r.Annotations {
			if len(a.Schemas) > 0 {
				report(a.Location, "schemas in METADATA", "a description, and under custom what the question reads and says", "take them out: they could be fetched from elsewhere")
			}
		}
	}
	return m, out
}

// defined refuses a definition of anything but the answer to the file's question and helpers, and says whether it is that answer.
func defined(r *ast.Rule, question string, report func(at *ast.Location, found, allowed, do string)) bool {
	head := r.Head.Ref().String()
	switch {
	case r.Default:
		report(r.Location, "a default of "+head, "no default", "answer in every case: what is not answered is silence, and refused")
	case head == "answer":
		if len(r.Head.Args) == 3 && r.Head.Args[0].Value.Compare(ast.String(question)) == 0 {
			return true
		}
		report(r.Location, "an answer to another question", fmt.Sprintf("answer(%q, rule, facts)", question), "a file holds the question that it is named by; keep others in files of their own")
	case !strings.HasPrefix(head, ownHelper):
		report(r.Location, "a definition of "+head, "answer, and names that begin with "+ownHelper, "name it "+ownHelper+strings.ReplaceAll(head, ".", "_"))
	}
	return false
}

// reaches refuses whatever reads or replaces more than the rule and the facts that an answer gets.
func reaches(m *ast.Rule, report func(at *ast.Location, found, allowed, do string)) {
	ast.WalkWiths(m, func(w *ast.With) bool {
		report(w.Location, "with", "no with", "take it out: a question replaces nothing")
		return false
	})
	ast.WalkTerms(m, func(t *ast.Term) bool {
		ref, ok := t.Value.(ast.Ref)
		if !ok {
			if v, isVar := t.Value.(ast.Var); isVar && (v == "input" || v == "data") {
				report(t.Location, string(v), "its rule and its facts", "read them from the arguments of answer")
			}
			return false
		}
		head := ref[0].String()
		switch head {
		case "input", "data":
			report(t.Location, ref.String(), "its rule and its facts", "read them from the arguments of answer")
			return true
		case "print":
			report(t.Location, "a call of print", "an answer, and nothing else", "take it out; say in the values of a check what a person is to read")
		}
		return false
	})
}

// regoFaults are those of the parser or the compiler, each at its place.
func regoFaults(file string, err error) []fault {
	var all ast.Errors
	if !errors.As(err, &all) {
		return []fault{{File: file, Found: err.Error()}}
	}
	var out []fault
	for _, e := range all {
		f := fault{File: file, Found: e.Message}
		if e.Location != nil {
			f.File, f.Row, f.Column = e.Location.File, e.Location.Row, e.Location.Col
		}
		if name, ok := strings.CutPrefix(e.Message, "undefined function "); ok {
			f.Found = "a call of " + name
			f.Allowed = "the functions of Rego that count and compare: no network, file, environment, clock or random number"
			f.Do = "take it out, or define it as a helper whose name begins with " + ownHelper
		}
		out = append(out, f)
	}
	return out
}

// declaredQuestion is what a question of a user declares, and where.
type declaredQuestion struct {
	Custom []map[string]any `json:"custom"` // of the METADATA of its answers
	Row    int              `json:"row"`
	Column int              `json:"column"`
}

// declarations reads them from a module. They are taken apart where rulebooks are read.
func declarations(m *ast.Module) declaredQuestion {
	out := declaredQuestion{Custom: []map[string]any{}}
	for _, r := range m.Rules {
		if r.Head.Ref().String() != "answer" {
			continue
		}
		if out.Row == 0 {
			out.Row, out.Column = r.Location.Row, r.Location.Col
		}
		for _, a := range r.Annotations {
			if len(a.Custom) > 0 {
				out.Custom = append(out.Custom, a.Custom)
			}
		}
	}
	return out
}

// compileOwn compiles the built-in questions with those of a user.
func compileOwn(own map[string]*ast.Module) (*ast.Compiler, []fault) {
	sources, err := Modules()
	if err != nil {
		return nil, []fault{{Found: err.Error()}}
	}
	parsed, capabilities, err := parse(sources)
	if err != nil {
		return nil, []fault{{Found: err.Error()}}
	}
	helpers := map[string]string{} // by name, the file that defines it
	var out []fault
	for _, file := range slices.Sorted(maps.Keys(own)) {
		parsed[file] = own[file]
		seen := []string{}
		for _, r := range own[file].Rules {
			name := r.Head.Ref().String()
			if name == "answer" || slices.Contains(seen, name) {
				continue
			}
			seen = append(seen, name)
			if other, taken := helpers[name]; taken {
				out = append(out, faultAt(r.Location, name+", which "+other+" defines too", "each name in one file", "rename it: one question must not change another"))
			}
			helpers[name] = file
		}
	}
	if len(out) > 0 {
		return nil, out
	}
	c := ast.NewCompiler().WithStrict(true).WithCapabilities(capabilities)
	if c.Compile(parsed); c.Failed() {
		return nil, regoFaults("", c.Errors)
	}
	return c, nil
}
