package remedy

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"strings"

	jsonpatch "github.com/evanphx/json-patch/v5"

	"sillwright/cmd/internal/assess"
	"sillwright/schema"
	"sillwright/schema/door"
)

// spec is a door spec as it stands after some changes, with what the house says of it.
type spec struct {
	text   []byte // JSON
	doc    schema.Document
	door   *door.Door
	result *assess.Result
}

// plain is a document as JSON, which is what a patch is applied to.
func plain(doc schema.Document) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(doc.Root.Plain())
	return b.Bytes(), err
}

// patched applies operations to a JSON text.
func patched(text []byte, ops []Operation) ([]byte, error) {
	src, err := json.Marshal(ops)
	if err != nil {
		return nil, err
	}
	p, err := jsonpatch.DecodePatch(src)
	if err != nil {
		return nil, err
	}
	return p.Apply(text)
}

// refused is a changed spec that the house does not read, which a move may run into: a leaf that would stand in the floor.
type refused struct{ problem schema.Problem }

func (r refused) Error() string { return r.problem.Error() }

// impossible words why a changed spec is none.
func impossible(r refused) string { return "such a door is not possible: " + r.problem.Found }

// subjectOf is what findings on an option have as their subject.
func subjectOf(option string) string {
	if option == "" {
		return "door"
	}
	return "option:" + option
}

// through takes a text the whole way through the house, as a spec that a user gives would go.
func through(ctx context.Context, a *assess.Assessor, file string, text []byte) (*spec, error) {
	docs, problems := schema.Read(file, text)
	if len(problems) > 0 {
		return nil, refused{problems[0]}
	}
	if len(docs) != 1 {
		return nil, fmt.Errorf("%d documents of one changed spec", len(docs))
	}
	d, problems := a.Decode(docs[0])
	if len(problems) > 0 {
		return nil, refused{problems[0]}
	}
	r, err := a.Assess(ctx, d)
	if err != nil {
		return nil, err
	}
	return &spec{text: text, doc: docs[0], door: d, result: r}, nil
}

// after is the spec with operations applied.
func (s *spec) after(ctx context.Context, a *assess.Assessor, ops []Operation) (*spec, error) {
	text, err := patched(s.text, ops)
	if err != nil {
		return nil, err
	}
	return through(ctx, a, s.doc.File, text)
}

// node is the value at a pointer; nil where there is none.
func (s *spec) node(pointer string) *schema.Node {
	n, ok := s.doc.Root.Lookup(pointer)
	if !ok {
		return nil
	}
	return n
}

// put is the operation that gives a place a value, whether it had one or not; a mapping that it lies in, and that is not written, is
// added with it.
func (s *spec) put(pointer string, value any) Operation {
	if s.node(pointer) != nil {
		return Operation{"replace", pointer, raw(value)}
	}
	for {
		parent := schema.ParentPointer(pointer)
		if parent == "" || s.node(parent) != nil {
			return Operation{"add", pointer, raw(value)}
		}
		value = map[string]any{strings.TrimPrefix(pointer, parent+"/"): value}
		pointer = parent
	}
}

func drop(pointer string) Operation { return Operation{Op: "remove", Path: pointer} }
