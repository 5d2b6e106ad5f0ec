package schema

import (
	"reflect"
	"regexp/syntax"
	"slices"
	"sync/atomic"
	"unicode/utf8"

	"github.com/santhosh-tekuri/jsonschema/v5"
)

// place is a part of a schema. Whether a value passes there rests on the value's shape (see mapping), and on whether its
// items, or the values of its keys, pass at their places.
type place struct {
	schema  *jsonschema.Schema
	whole   bool                // it may rest on more: a value is judged with all that it holds
	number  bool                // it matters which number it is
	text    *[256]byte          // for each byte of a text one that stands for all that are judged alike; nil: none are
	counted bool                // it matters how many keys or items there are
	closed  bool                // keys that are not listed are refused
	keys    map[string]*key     // those listed
	first   atomic.Pointer[key] // the key that came first last
	rest    *place              // of the values of other keys; nil: any will do
	items   *place              // nil: any will do
	passed  passed
}

// key is a key that a place lists, or of which it matters that it is there.
type key struct {
	name    string
	at      *place // nil: any value will do
	refused bool
	flag    uint64              // a bit of its own where it matters that the key is there, else 0
	next    atomic.Pointer[key] // the key that came after it last
}

// places is the place of a whole schema, with those below it. There is none but in draft 7, where nothing that stands
// around a value has a say in it, and none that would be whole.
func places(s *jsonschema.Schema) *place {
	if s.Draft != jsonschema.Draft7 {
		return nil
	}
	if p := (finder{}).place(s); !p.whole {
		return p
	}
	return nil
}

// finder has the places that were found so far.
type finder map[*jsonschema.Schema]*place

func (f finder) place(s *jsonschema.Schema) *place {
	if p, ok := f[s]; ok {
		return p
	}
	p := &place{schema: s, whole: true}
	f[s] = p
	if s.Ref != nil && hasOnly(s, "Ref") {
		f[s] = f.place(s.Ref)
		return f[s]
	}
	flags, ok := flags(s)
	if !ok || !hasOnly(s, judged...) {
		return p
	}
	switch items := s.Items.(type) {
	case nil:
	case *jsonschema.Schema:
		p.items = f.place(items)
	default:
		return p
	}
	switch rest := s.AdditionalProperties.(type) {
	case bool:
		p.closed = !rest
	case *jsonschema.Schema:
		p.rest = f.place(rest)
	}
	p.keys = map[string]*key{}
	for name, flag := range flags {
		p.keys[name] = &key{name: name, at: p.rest, refused: p.closed, flag: flag}
	}
	for name, of := range s.Properties {
		p.keys[name] = &key{name: name, at: f.place(of), flag: flags[name]}
	}
	listed := len(s.Enum)+len(s.Constant) > 0
	p.number = listed || s.Minimum != nil || s.Maximum != nil || slices.Contains(s.Types, "integer")
	if !listed {
		p.text = alike(s)
	}
	p.counted = s.MinProperties >= 0 || s.MaxProperties >= 0 || s.MinItems >= 0 || s.MaxItems >= 0
	p.whole = false
	return p
}

// judged are the keywords that a place is read from, by the names of the library.
var judged = []string{"Types", "Constant", "Enum", "AllOf", "AnyOf", "OneOf", "Not", "If", "Then", "Else",
	"MinProperties", "MaxProperties", "Required", "Properties", "AdditionalProperties", "Dependencies",
	"MinItems", "MaxItems", "Items", "MinLength", "MaxLength", "Pattern", "Minimum", "Maximum"}

// unset is a schema without a keyword.
var unset = reflect.ValueOf(jsonschema.Schema{MinProperties: -1, MaxProperties: -1, MinItems: -1, MaxItems: -1, MinContains: 1, MaxContains: -1, MinLength: -1, MaxLength: -1})

// hasOnly says whether a schema has no keywords but these, annotations aside.
func hasOnly(s *jsonschema.Schema, names ...string) bool {
	v := reflect.ValueOf(s).Elem()
	for i := range v.NumField() {
		field := v.Type().Field(i)
		if !field.IsExported() || field.Name == "Location" || field.Name == "Draft" || slices.Contains(names, field.Name) {
			continue
		}
		if !reflect.DeepEqual(v.Field(i).Interface(), unset.Field(i).Interface()) {
			return false
		}
	}
	return true
}

// flags gives a bit to each key that the schema asks for, in itself or in an alternative. It is false where an
// alternative, or a value that is listed, speaks of more than of the kind of a value and of which keys are there.
func flags(s *jsonschema.Schema) (map[string]uint64, bool) {
	out := map[string]uint64{}
	parts := slices.Concat([]*jsonschema.Schema{s}, s.AllOf, s.AnyOf, s.OneOf, []*jsonschema.Schema{s.Not, s.If, s.Then, s.Else})
	for i, part := range parts {
		if part == nil {
			continue
		}
		if i > 0 && (!hasOnly(part, "Types", "Required", "Dependencies") || slices.Contains(part.Types, "integer")) {
			return nil, false
		}
		names := slices.Clone(part.Required)
		for name, needed := range part.Dependencies {
			list, ok := needed.([]string)
			if !ok {
				return nil, false
			}
			names = append(append(names, name), list...)
		}
		for _, name := range names {
			if _, ok := out[name]; !ok {
				out[name] = 1 << len(out)
			}
		}
	}
	for _, v := range slices.Concat(s.Enum, s.Constant) {
		switch v.(type) {
		case map[string]any, []any:
			return nil, false
		}
	}
	return out, len(out) <= 64
}

// alike gives for each byte of a text one that stands for it: a pattern cannot tell apart characters that each of its steps
// either takes or leaves together, and a length only counts them. Beyond ASCII, where a byte is no character, each stands for
// itself. There is none for a pattern that looks at what is before and after a character.
func alike(s *jsonschema.Schema) *[256]byte {
	var steps []syntax.Inst
	if s.Pattern != nil {
		tree, err := syntax.Parse(s.Pattern.String(), syntax.Perl)
		if err != nil {
			return nil
		}
		program, err := syntax.Compile(tree.Simplify())
		if err != nil {
			return nil
		}
		for _, step := range program.Inst {
			switch step.Op {
			case syntax.InstRune, syntax.InstRune1, syntax.InstRuneAny, syntax.InstRuneAnyNotNL:
				steps = append(steps, step)
			case syntax.InstEmptyWidth:
				if syntax.EmptyOp(step.Arg)&^(syntax.EmptyBeginText|syntax.EmptyEndText) != 0 {
					return nil
				}
			}
		}
	}
	var out [256]byte
	first := map[string]byte{}
	for c := range out {
		if out[c] = byte(c); c >= utf8.RuneSelf {
			continue
		}
		taken := make([]byte, len(steps))
		for i, step := range steps {
			if step.Op == syntax.InstRuneAny || step.Op == syntax.InstRuneAnyNotNL && c != '\n' || step.MatchRune(rune(c)) {
				taken[i] = 1
			}
		}
		if _, ok := first[string(taken)]; !ok {
			first[string(taken)] = byte(c)
		}
		out[c] = first[string(taken)]
	}
	return &out
}
