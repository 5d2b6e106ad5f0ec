package policies

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"sync"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/rego"

	"sillwright/schema"
)

// Confined is a process of its own that runs Confine, with bounds on its time and memory. It answers one line for each that it gets. An
// error says in a few words which bound was met, as "more than 5 s", and ends the process. Close ends it too.
type Confined interface {
	Ask(line []byte) ([]byte, error)
	Close()
}

// told is one line to the process, and answer one line from it.
type told struct {
	File   string          `json:"file,omitempty"` // a file of questions, with its text
	Text   string          `json:"text,omitempty"`
	Data   json.RawMessage `json:"data,omitempty"`   // the rulebooks that ask them, once all files are told
	Single json.RawMessage `json:"single,omitempty"` // an input of one rule and one subject
}

type answer struct {
	Faults   []fault            `json:"faults,omitempty"`
	Declared *declaredQuestion  `json:"declared,omitempty"`
	Outcomes *[]json.RawMessage `json:"outcomes,omitempty"`
	Failed   string             `json:"failed,omitempty"`
}

// mostLine is more than any line between the two holds.
const mostLine = 16 << 20

// Confine reads questions of a user and the rulebooks that ask them, and judges by these what it is asked, one rule and subject
// at a time, until its input ends. It opens nothing. It is what a process runs that may be ended at any moment.
func Confine(in io.Reader, out io.Writer) error {
	c := &confining{modules: map[string]*ast.Module{}}
	lines := bufio.NewScanner(in)
	lines.Buffer(nil, mostLine)
	w := bufio.NewWriter(out)
	for lines.Scan() {
		var t told
		if err := json.Unmarshal(lines.Bytes(), &t); err != nil {
			return err
		}
		src, err := json.Marshal(c.take(t))
		if err != nil {
			return err
		}
		if _, err := w.Write(append(src, '\n')); err != nil {
			return err
		}
		if err := w.Flush(); err != nil {
			return err
		}
	}
	return lines.Err()
}

type confining struct {
	modules map[string]*ast.Module
	query   rego.PreparedEvalQuery
}

func (c *confining) take(t told) answer {
	switch {
	case t.File != "":
		m, faults := ownModule(t.File, t.Text)
		if len(faults) > 0 {
			return answer{Faults: faults}
		}
		c.modules[t.File] = m
		declared := declarations(m)
		return answer{Declared: &declared}
	case t.Data != nil:
		return c.compile(t.Data)
	}
	return c.judge(t.Single)
}

func (c *confining) compile(data json.RawMessage) answer {
	compiler, faults := compileOwn(c.modules)
	if len(faults) > 0 {
		return answer{Faults: faults}
	}
	plain, err := plainOf(data)
	if err != nil {
		return answer{Failed: err.Error()}
	}
	if c.query, err = queried(context.Background(), compiler, plain.(map[string]any), "singly"); err != nil {
		return answer{Failed: err.Error()}
	}
	return answer{}
}

func (c *confining) judge(input json.RawMessage) answer {
	plain, err := plainOf(input)
	if err != nil {
		return answer{Failed: err.Error()}
	}
	value, err := ast.InterfaceToValue(plain)
	if err != nil {
		return answer{Failed: err.Error()}
	}
	src, err := evaluate(context.Background(), c.query, value, "")
	if err != nil {
		return answer{Failed: strings.TrimPrefix(err.Error(), "judging : ")}
	}
	out := []json.RawMessage{}
	if err := json.Unmarshal(src, &out); err != nil {
		return answer{Failed: err.Error()}
	}
	return answer{Outcomes: &out}
}

// plainOf reads JSON with its numbers as they are written.
func plainOf(src []byte) (any, error) {
	d := json.NewDecoder(bytes.NewReader(src))
	d.UseNumber()
	var out any
	return out, d.Decode(&out)
}

// confined is the other end: it asks the process, one thing at a time.
type confined struct {
	mu      sync.Mutex
	process Confined
	ended   error                       // why the process is gone
	asked   map[string]declaredQuestion // by question
	files   map[string]string           // by question, its file
	ids     []string                    // the rulebooks whose rules ask them
}

// ask tells the process something, and gives its answer. What it was about is named where a bound is met.
func (c *confined) ask(t told, about string) (answer, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.ended != nil {
		return answer{}, c.ended
	}
	src, err := json.Marshal(t)
	if err != nil {
		return answer{}, err
	}
	got, err := c.process.Ask(append(src, '\n'))
	if err != nil {
		c.ended = fmt.Errorf("%s was cut off: %w. Nothing was judged by it", about, err)
		return answer{}, c.ended
	}
	var out answer
	if err := json.Unmarshal(got, &out); err != nil {
		return answer{}, fmt.Errorf("%s: %w", about, err)
	}
	return out, nil
}

// read takes every file of questions to the process, and gives what is wrong with any.
func (c *confined) read(own *Own) (Problems, error) {
	var wrong Problems
	for _, f := range own.questions() {
		got, err := c.ask(told{File: f.path, Text: string(f.src)}, f.path)
		if err != nil {
			return nil, err
		}
		wrong = append(wrong, problemsOf(got.Faults)...)
		if got.Declared != nil {
			name := strings.TrimSuffix(f.name, ".rego")
			c.asked[name], c.files[name] = *got.Declared, f.path
		}
	}
	return wrong, nil
}

func problemsOf(faults []fault) Problems {
	var out Problems
	for _, f := range faults {
		at := schema.Position{Line: f.Row, Column: f.Column}
		out = append(out, schema.Problem{File: f.File, Span: schema.Span{Start: at, End: at}, Found: f.Found, Allowed: f.Allowed, Do: f.Do})
	}
	return out
}

// declare reads what every question of the user says of itself, as for built-in ones.
func (c *confined) declare(into map[string]question) Problems {
	var wrong Problems
	for _, name := range slices.Sorted(maps.Keys(c.asked)) {
		d, q := c.asked[name], question{}
		for _, custom := range d.Custom {
			if err := q.read(custom); err != nil {
				wrong = append(wrong, c.at(name, "METADATA of question "+name+": "+err.Error(), "", "declare what DEVELOPERS.md, \"How a question answers\", lists"))
			}
		}
		q.ByPlace, q.Among, q.Gentle = nil, "", false // its answers are not kept
		into[name] = q
	}
	return wrong
}

// at tells a fault of a question, at its first answer.
func (c *confined) at(name, found, allowed, do string) schema.Problem {
	at := schema.Position{Line: c.asked[name].Row, Column: c.asked[name].Column}
	return schema.Problem{File: c.files[name], Span: schema.Span{Start: at, End: at}, Found: found, Allowed: allowed, Do: do}
}
