package schema

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

// partsSchema has every keyword that places are read from, and some that make one whole.
const partsSchema = `{
  "$schema": "http://json-schema.org/draft-07/schema#",
  "type": "object", "additionalProperties": false, "minProperties": 1,
  "properties": {
    "a": {"type": "string", "pattern": "^[a-fx]+[0-9]?$", "maxLength": 4},
    "b": {"pattern": "(?i)^k.$|\\s"},
    "c": {"pattern": "\\bin\\b"},
    "d": {"type": ["number", "string"], "minimum": 2, "maximum": 10, "pattern": "^[0-9]+ mm$"},
    "e": {"enum": [1, "1", true, null, "x9"]},
    "f": {"type": "integer"},
    "g": {"type": "number"},
    "h": {"type": "object", "required": ["a"], "minProperties": 2, "dependencies": {"b": ["c"]}, "additionalProperties": {"$ref": "#/definitions/short"}},
    "i": {"type": "array", "minItems": 1, "maxItems": 3, "items": {"$ref": "#"}},
    "j": {"type": "object", "anyOf": [{"required": ["a"]}, {"required": ["b"]}], "not": {"required": ["a", "c"]}, "if": {"required": ["d"]}, "then": {"required": ["b"]}, "else": {"type": "object", "required": ["e"]}},
    "k": {"type": "object", "oneOf": [{"properties": {"a": {"const": 1}}}, {"required": ["b"]}]},
    "l": {"uniqueItems": true, "items": {"type": "string"}},
    "m": {"items": [{"type": "string"}, {"type": "number"}], "additionalItems": false},
    "n": {"patternProperties": {"^a": {"type": "string"}}, "additionalProperties": false},
    "o": {"multipleOf": 3},
    "p": {"format": "date"},
    "q": {"const": {"a": 1}},
    "r": {"properties": {"a": {"type": "string"}, "b": false, "c": true}},
    "s": {"contains": {"type": "string"}, "allOf": [{"type": ["integer", "array"]}]},
    "t": {"dependencies": {"a": {"required": ["b"]}}},
    "u": {"$ref": "#/definitions/short", "type": "number"}
  },
  "definitions": {"short": {"type": ["string", "boolean"], "minLength": 1, "maxLength": 3}}
}`

// value is a value of any kind; its texts are near what the schema asks for.
func (w *writer) value(depth int) *Node {
	pick := func(list ...string) string { return list[w.rand.IntN(len(list))] }
	switch kind := Kind(w.rand.IntN(7)); {
	case kind == Object && depth > 0:
		n := &Node{}
		for key := 'a'; key <= 'v'; key++ {
			if w.rand.IntN(6) == 0 {
				n.Members = append(n.Members, Member{Key: string(key), Value: w.value(depth - 1)})
			}
		}
		return n
	case kind == Array && depth > 0:
		n := &Node{Kind: Array}
		for range w.rand.IntN(5) {
			n.Items = append(n.Items, w.value(depth-1))
		}
		return n
	case kind == Number:
		return &Node{Kind: Number, Text: pick("0", "1", "1.0", "2", "-3", "9", "10.5", "12", "2e0", "0.5")}
	case kind == Bool:
		return &Node{Kind: Bool, Text: pick("true", "false")}
	case kind == Null:
		return &Node{Kind: Null}
	}
	var b strings.Builder
	for range w.rand.IntN(5) {
		b.WriteString(pick("a", "f", "g", "x", "1", "9", "k", "K", " ", "\n", "in", "é", " mm", "2026-01-02", "\u00a0", "\u212a"))
	}
	return &Node{Kind: String, Text: b.String()}
}

// Whatever was passed before, a document passes by its parts where the validator passes it as a whole, and nowhere else.
func TestPasses_Identity(t *testing.T) {
	s, err := Compile("parts", []byte(partsSchema))
	if err != nil {
		t.Fatal(err)
	}
	w := newWriter(3)
	valid := map[bool]int{}
	for range 40000 {
		n := &Node{}
		for range 1 + w.rand.IntN(2) {
			n.Members = append(n.Members, Member{Key: string(rune('a' + w.rand.IntN(22))), Value: w.value(3)})
		}
		if twice(n) {
			continue
		}
		valid[samePass(t, s, n)]++
	}
	if valid[true] < 3000 || valid[false] < 3000 {
		t.Errorf("%d pass, %d do not", valid[true], valid[false])
	}
}

func samePass(t *testing.T, s *Schema, n *Node) bool {
	t.Helper()
	got, err := s.places.passes(n), s.compiled.Validate(n.Plain())
	if got != (err == nil) {
		t.Fatalf("passes is %v, the validator says %#v of\n%s", got, err, plainJSON(t, Document{Root: n}))
	}
	return got
}

// parts are all nodes of a document.
func parts(n *Node) []*Node {
	list := []*Node{n}
	for _, m := range n.Members {
		list = append(list, parts(m.Value)...)
	}
	for _, item := range n.Items {
		list = append(list, parts(item)...)
	}
	return list
}

// spoil changes one value of a document; the second call puts it back.
func spoil(r *rand.Rand, all []*Node) (back func()) {
	n, other := all[r.IntN(len(all))], all[r.IntN(len(all))]
	before := *n
	back = func() { *n = before }
	switch k := r.IntN(6); {
	case n.Kind == Object && k < 3 && len(n.Members) > 0:
		i := r.IntN(len(n.Members))
		n.Members = append(append([]Member{}, n.Members[:i]...), n.Members[i+1:]...)
	case n.Kind == Object:
		n.Members = append(append([]Member{}, n.Members...), Member{Key: fmt.Sprint("other", r.IntN(3)), Value: &Node{Kind: Null}})
	case n.Kind == Array && k < 3 && len(n.Items) > 0:
		n.Items = n.Items[1:]
	case n.Kind == String && k < 4 && len(n.Text) > 0:
		i := r.IntN(len(n.Text))
		n.Text = n.Text[:i] + []string{"", "0", "7", " ", "x", "\u00b0", ".", "-"}[r.IntN(8)] + n.Text[i+r.IntN(2):]
	case len(other.Members)+len(other.Items) == 0:
		*n = *other
	default:
		*n = Node{Kind: Number, Text: fmt.Sprint(r.IntN(12))}
	}
	return back
}

// The same of the doors of the examples with one or two values changed, several at once.
func TestPasses_Examples_Identity(t *testing.T) {
	s, err := Compile("door", readFile(t, "door-1.schema.json"))
	if err != nil {
		t.Fatal(err)
	}
	if s.places == nil || s.places.whole {
		t.Fatal("doors are judged as a whole")
	}
	files, _ := filepath.Glob("../examples/[cfu]*-*-*.*")
	if len(files) < 20 {
		t.Fatalf("%d examples", len(files))
	}
	var all sync.WaitGroup
	for i, file := range files {
		data := readFile(t, file)
		all.Go(func() {
			r := rand.New(rand.NewPCG(uint64(i), 1))
			docs, _ := Read(file, data)
			for _, doc := range docs {
				nodes := parts(doc.Root)
				for range 250 {
					back := []func(){spoil(r, nodes), spoil(r, nodes)}
					if got, err := s.places.passes(doc.Root), s.compiled.Validate(doc.Root.Plain()); got != (err == nil) {
						t.Errorf("%s: passes is %v, the validator says %#v", file, got, err)
					}
					back[1]()
					if r.IntN(2) == 0 && !s.places.passes(doc.Root) && s.compiled.Validate(doc.Root.Plain()) == nil {
						t.Errorf("%s: does not pass with one change", file)
					}
					back[0]()
				}
				if !s.places.passes(doc.Root) {
					t.Errorf("%s does not pass", file)
				}
			}
		})
	}
	all.Wait()
}

func readFile(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// No more shapes are kept than so many, and what is not kept is judged all the same.
func TestPasses_Bounded(t *testing.T) {
	s, err := Compile("text", []byte(`{"$schema": "http://json-schema.org/draft-07/schema#", "type": "object", "properties": {"a": {"enum": [1]}, "b": {"type": "string", "pattern": "^([a-z]|é)*$"}}}`))
	if err != nil {
		t.Fatal(err)
	}
	for i := range 3 * maxPassed {
		text := strings.NewReplacer("0", "é", "1", "a").Replace(fmt.Sprintf("%b", i))
		n := &Node{Members: []Member{{Key: "b", Value: &Node{Kind: String, Text: text}}}}
		if !samePass(t, s, n) {
			t.Fatalf("%q does not pass", text)
		}
		n.Members[0].Value.Text += "A"
		samePass(t, s, n)
	}
	if kept := len(*s.places.keys["b"].at.passed.set.Load()); kept != maxPassed {
		t.Errorf("%d shapes are kept, not %d", kept, maxPassed)
	}
}
