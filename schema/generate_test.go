package schema

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"reflect"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"
)

// A writer emits random documents and notes where it put every value, so that spans are checked against
// what was written and not against the reader.
type writer struct {
	rand   *rand.Rand
	text   strings.Builder
	spans  map[string][2]int // byte offsets by pointer
	values map[string]any
	last   int // where the last value ended
	eol    string
}

var words = []string{"a", "door", "é", "日本", "😀", "x y", "it's", `q"q`, `b\s`, "a: b", "# no", "- x", "", " lead", "12", "true", "null", "~", "1/2 in", "<<", "yes", "2026-01-02", "[", "}", "a#b", "*x", "&y", "!z", "%d", "@e", "tab\tin", "line\nbreak", ".inf"}

var plainSafe = regexp.MustCompile(`^[a-zé日😀][a-zé日本😀/]*( [a-z]+)*$`)

func (w *writer) put(s string) { w.text.WriteString(s) }

func (w *writer) note(pointer string, start int, value any) {
	w.last = w.text.Len()
	w.noteBlock(pointer, start, value)
}

// noteBlock notes a collection in block style: it ends where its last value does, before comments and line breaks.
func (w *writer) noteBlock(pointer string, start int, value any) {
	w.spans[pointer] = [2]int{start, w.last}
	w.values[pointer] = value
}

func (w *writer) blank() {
	switch w.rand.IntN(4) {
	case 0:
		w.put(" ")
	case 1:
		w.put(w.eol + "  ")
	case 2:
		w.put("\t")
	}
}

func quoteJSON(s string) string {
	b, _ := json.Marshal(s)
	return string(b)
}

func (w *writer) scalar() (text string, value any) {
	switch w.rand.IntN(6) {
	case 0:
		n := []string{"0", "-1", "12.50", "1e3", "-0.5E-2"}[w.rand.IntN(5)]
		return n, json.Number(n)
	case 1:
		return "true", true
	case 2:
		return "null", nil
	}
	s := words[w.rand.IntN(len(words))]
	return quoteJSON(s), s
}

func (w *writer) keys() []string {
	var keys []string
	for _, i := range w.rand.Perm(len(words))[:w.rand.IntN(4)] {
		keys = append(keys, words[i])
	}
	return keys
}

// json writes a value in JSON.
func (w *writer) json(pointer string, depth int) any {
	start := w.text.Len()
	var value any
	switch kind := w.rand.IntN(3); {
	case depth > 0 && kind == 0 || pointer == "":
		m := map[string]any{}
		w.put("{")
		for i, key := range w.keys() {
			if i > 0 {
				w.put(",")
			}
			w.blank()
			w.put(quoteJSON(key))
			w.blank()
			w.put(":")
			w.blank()
			m[key] = w.json(pointer+Pointer(key), depth-1)
			w.blank()
		}
		w.put("}")
		value = m
	case depth > 0 && kind == 1:
		list := []any{}
		w.put("[")
		for i := range w.rand.IntN(4) {
			if i > 0 {
				w.put(",")
			}
			w.blank()
			list = append(list, w.json(pointer+Pointer(i), depth-1))
			w.blank()
		}
		w.put("]")
		value = list
	default:
		var text string
		text, value = w.scalar()
		w.put(text)
	}
	w.note(pointer, start, value)
	return value
}

// yamlText writes text in one of the styles that can hold it.
func (w *writer) yamlText(s string) string {
	style := w.rand.IntN(3)
	switch {
	case style == 0 && plainSafe.MatchString(s) && s != "true" && s != "null":
		return s
	case style == 1 && !strings.ContainsAny(s, "\n\t"):
		return "'" + strings.ReplaceAll(s, "'", "''") + "'"
	}
	return quoteJSON(s)
}

// block writes a value in block style after a colon or a dash; indent is that of the collection around it.
func (w *writer) block(pointer string, depth, indent int) any {
	kind := w.rand.IntN(5)
	pad := strings.Repeat(" ", indent+2)
	if w.rand.IntN(5) == 0 {
		w.put(fmt.Sprintf(" &n%d", w.text.Len()))
	}
	switch keys := w.keys(); {
	case depth > 0 && kind == 0 && len(keys) > 0:
		m := map[string]any{}
		w.put(w.eol + pad)
		start := w.text.Len()
		for i, key := range keys {
			if i > 0 {
				w.put(w.eol + pad)
			}
			w.put(w.yamlText(key) + ":")
			m[key] = w.block(pointer+Pointer(key), depth-1, indent+2)
		}
		w.noteBlock(pointer, start, m)
		return m
	case depth > 0 && kind == 1:
		var list []any
		w.put(w.eol + pad)
		start := w.text.Len()
		for i := range 1 + w.rand.IntN(3) {
			if i > 0 {
				w.put(w.eol + pad)
			}
			w.put("-")
			list = append(list, w.block(pointer+Pointer(i), depth-1, indent+2))
		}
		w.noteBlock(pointer, start, list)
		return list
	case kind == 2:
		w.put(" ")
		return w.flow(pointer, depth)
	case kind == 3:
		w.put(" ")
		start := w.text.Len()
		w.put("|" + w.eol + pad + "é one" + w.eol + w.eol + pad + "  two")
		w.note(pointer, start, "é one\n\n  two\n")
		w.put(w.eol)
		return w.values[pointer]
	}
	w.put(" ")
	start := w.text.Len()
	text, value := w.scalar()
	if s, ok := value.(string); ok {
		text = w.yamlText(s)
	}
	w.put(text)
	w.note(pointer, start, value)
	if w.rand.IntN(3) == 0 {
		w.put("  # note é ]")
	}
	return value
}

// flow writes a value in flow style.
func (w *writer) flow(pointer string, depth int) any {
	start := w.text.Len()
	var value any
	switch kind := w.rand.IntN(3); {
	case depth > 0 && kind == 0:
		m := map[string]any{}
		w.put("{")
		for i, key := range w.keys() {
			if i > 0 {
				w.put(", ")
			}
			w.put(w.yamlText(key) + ": ")
			m[key] = w.flow(pointer+Pointer(key), depth-1)
		}
		w.put("}")
		value = m
	case depth > 0 && kind == 1:
		list := []any{}
		w.put("[ ")
		for i := range w.rand.IntN(4) {
			list = append(list, w.flow(pointer+Pointer(i), depth-1))
			w.put(" , ")
		}
		w.put("]")
		value = list
	default:
		var text string
		text, value = w.scalar()
		if s, ok := value.(string); ok {
			text = w.yamlText(s)
		}
		w.put(text)
	}
	w.note(pointer, start, value)
	return value
}

// positionIn counts lines and characters from the start of the text, one after the other.
func positionIn(text string, off int) Position {
	p := Position{1, 1}
	for _, r := range text[:off] {
		if p.Column++; r == '\n' {
			p = Position{p.Line + 1, 1}
		}
	}
	return p
}

func (w *writer) check(t *testing.T, file string, want any) {
	t.Helper()
	text := w.text.String()
	docs, problems := Read(file, []byte(text))
	if len(problems) > 0 || len(docs) != 1 {
		t.Fatalf("%d documents, problems %v in\n%s", len(docs), problems, text)
	}
	if got := docs[0].Root.Plain(); !reflect.DeepEqual(got, want) {
		t.Fatalf("value %#v, want %#v in\n%s", got, want, text)
	}
	for pointer, span := range w.spans {
		n, ok := docs[0].Root.Lookup(pointer)
		if !ok {
			t.Fatalf("nothing at %q in\n%s", pointer, text)
		}
		if !reflect.DeepEqual(n.Plain(), w.values[pointer]) {
			t.Fatalf("%q is %#v, want %#v", pointer, n.Plain(), w.values[pointer])
		}
		want := Span{positionIn(text, span[0]), positionIn(text, span[1])}
		if n.Span != want {
			t.Fatalf("span of %q is %v, want %v (%q) in\n%s", pointer, n.Span, want, text[span[0]:span[1]], text)
		}
	}
}

func newWriter(seed uint64) *writer {
	w := &writer{rand: rand.New(rand.NewPCG(seed, 1)), spans: map[string][2]int{}, values: map[string]any{}, eol: "\n"}
	if seed%3 == 0 {
		w.eol = "\r\n"
	}
	return w
}

func TestGeneratedJSON_Identity(t *testing.T) {
	for seed := range uint64(400) {
		w := newWriter(seed)
		want := w.json("", 4)
		w.check(t, "a.json", want)
	}
}

func TestGeneratedYAML_Identity(t *testing.T) {
	values := 0
	for seed := range uint64(800) {
		w := newWriter(seed)
		want := map[string]any{}
		w.put("# head" + w.eol)
		for i, key := range append(w.keys(), "last") {
			if i > 0 {
				w.put(w.eol)
			}
			w.put(w.yamlText(key) + ":")
			want[key] = w.block(Pointer(key), 4, 0)
		}
		w.put(w.eol)
		w.check(t, "a.yaml", want)
		values += len(w.spans)
	}
	if values < 4000 {
		t.Errorf("only %d values were generated", values)
	}
}

// The tables of a source agree with counting, for texts longer than one stretch between checkpoints.
func TestSource_Identity(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for range 40 {
		var b strings.Builder
		for b.Len() < 1500 {
			b.WriteString([]string{"a", "é", "日", "😀", "\n", "\r\n", " "}[r.IntN(7)])
		}
		text := b.String()
		s := newSource([]byte(text))
		characters := 0
		for off := range text {
			if got := s.offsetOf(characters); got != off {
				t.Fatalf("offsetOf(%d) = %d, want %d", characters, got, off)
			}
			characters++
			if off > 0 && text[off-1] == '\r' {
				continue // inside a line break
			}
			if got, want := s.position(off), positionIn(text, off); got != want {
				t.Fatalf("position(%d) = %v, want %v", off, got, want)
			}
		}
		if got := s.offsetOf(utf8.RuneCountInString(text)); got != len(text) {
			t.Fatalf("offsetOf the end = %d, want %d", got, len(text))
		}
	}
}

func plainJSON(t testing.TB, d Document) []byte {
	t.Helper()
	b, err := json.MarshalIndent(d.Root.Plain(), "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	return b
}
