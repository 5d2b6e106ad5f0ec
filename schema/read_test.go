package schema

import (
	"encoding/json"
	"os"
	"reflect"
	"strings"
	"testing"

	"go.yaml.in/yaml/v3"
)

// spanOf is a span in short: line, column, end line, end column.
func spanOf(s Span) [4]int {
	return [4]int{s.Start.Line, s.Start.Column, s.End.Line, s.End.Column}
}

func TestPositions(t *testing.T) {
	for _, c := range []struct {
		name, file, text, pointer string
		want                      [4]int
	}{
		{"JSON number", "a.json", `{"a": 12}`, "/a", [4]int{1, 7, 1, 9}},
		{"JSON object", "a.json", "{\n  \"a\": {\"b\": 1}\n}\n", "/a", [4]int{2, 8, 2, 16}},
		{"JSON root", "a.json", "\n {\n}\n", "", [4]int{2, 2, 3, 2}},
		{"JSON after CR LF", "a.json", "{\r\n  \"a\": [1,\r\n  2]\r\n}", "/a", [4]int{2, 8, 3, 5}},
		{"JSON columns are characters", "a.json", `{"é😀": "ü", "b": true}`, "/b", [4]int{1, 18, 1, 22}},
		{"JSON tab is one column", "a.json", "{\n\t\"a\":\t1}", "/a", [4]int{2, 7, 2, 8}},
		{"JSON after a byte order mark", "a.json", "\xef\xbb\xbf{\"a\": 1}", "/a", [4]int{1, 7, 1, 8}},
		{"YAML plain", "a.yaml", "a: some text  # note\n", "/a", [4]int{1, 4, 1, 13}},
		{"YAML plain over lines", "a.yaml", "a: some\n  more\n\n  text\nb: 1\n", "/a", [4]int{1, 4, 4, 7}},
		{"YAML single quotes", "a.yaml", "a: 'it''s'\n", "/a", [4]int{1, 4, 1, 11}},
		{"YAML double quotes", "a.yaml", `a: "x\"y" # z`, "/a", [4]int{1, 4, 1, 10}},
		{"YAML flow list", "a.yaml", "a: [1, {b: 2}, ] # x\n", "/a", [4]int{1, 4, 1, 17}},
		{"YAML flow over lines", "a.yaml", "a: [1, # ]\n  2\n  ]\n", "/a", [4]int{1, 4, 3, 4}},
		{"YAML flow mapping", "a.yaml", "a: [1, {b: 2}]\n", "/a/1", [4]int{1, 8, 1, 14}},
		{"YAML flow without values", "a.yaml", "a: {b, c: , d: }\n", "/a", [4]int{1, 4, 1, 17}},
		{"YAML single pair", "a.yaml", "a: [b: 2]\n", "/a/0", [4]int{1, 5, 1, 9}},
		{"YAML block mapping", "a.yaml", "a:\n  b: 1\n  c: 22\n\n# end\nd: 2\n", "/a", [4]int{2, 3, 3, 8}},
		{"YAML block list", "a.yaml", "a:\n- 1\n- b: 22\n", "/a", [4]int{2, 1, 3, 8}},
		{"YAML block list item", "a.yaml", "a:\n- 1\n- b: 22\n  c: 3\n", "/a/1", [4]int{3, 3, 4, 7}},
		{"YAML no value", "a.yaml", "a:\nb: 1\n", "/a", [4]int{1, 3, 1, 3}},
		{"YAML literal", "a.yaml", "a: |\n  x\n\n  yy\n\nb: 1\n", "/a", [4]int{1, 4, 4, 5}},
		{"YAML literal with indentation", "a.yaml", "a:\n  b: |2-\n      x\n    y\n", "/a/b", [4]int{2, 6, 4, 6}},
		{"YAML literal without text", "a.yaml", "a: |  # note\n\nb: 1\n", "/a", [4]int{1, 4, 1, 5}},
		{"YAML literal at the top", "a.yaml", "--- |\n x\n y\n...\n", "", [4]int{1, 5, 3, 3}},
		{"YAML after CR LF", "a.yaml", "a: 'x\r\n  y'\r\nb: z\r\n", "/b", [4]int{3, 4, 3, 5}},
		{"YAML plain over CR LF", "a.yaml", "a: x\r\n  y\r\nb: z\r\n", "/a", [4]int{1, 4, 2, 4}},
		{"YAML columns are characters", "a.yaml", "{é😀: ü, b: 日本}\n", "/b", [4]int{1, 12, 1, 14}},
		{"YAML tab after the colon", "a.yaml", "a:\t1\n", "/a", [4]int{1, 4, 1, 5}},
		{"YAML anchor is not the value", "a.yaml", "a: &x\n  b: 1\n", "/a", [4]int{2, 3, 2, 7}},
		{"YAML anchor on a scalar", "a.yaml", "a: &x 'y'\n", "/a", [4]int{1, 7, 1, 10}},
		{"YAML anchor without value", "a.yaml", "a: &x\nb: 1\n", "/a", [4]int{1, 6, 1, 6}},
		{"YAML alias", "a.yaml", "a: &xy 1\nb: *xy\n", "/b", [4]int{2, 4, 2, 7}},
		{"YAML inside an alias", "a.yaml", "a: &x {c: 1}\nb: *x\n", "/b/c", [4]int{1, 11, 1, 12}},
		{"YAML tag is not the value", "a.yaml", "a: !!str 12\n", "/a", [4]int{1, 10, 1, 12}},
		{"YAML explicit key", "a.yaml", "? a\n? b\n: 1\n", "/b", [4]int{3, 3, 3, 4}},
		{"YAML explicit key without value", "a.yaml", "? a\n\n\n? b\n: 1\n", "/a", [4]int{1, 4, 1, 4}},
		{"YAML line separator is no line of an editor", "a.yaml", "a: \"x\u2028 y\"\nb: 1\n", "/b", [4]int{2, 4, 2, 5}},
		{"YAML after a byte order mark", "a.yaml", "\xef\xbb\xbfa: 1\n", "/a", [4]int{1, 4, 1, 5}},
		{"YAML old Mac line breaks", "a.yaml", "a: 1\rb: 2\r", "/b", [4]int{2, 4, 2, 5}},
	} {
		t.Run(c.name, func(t *testing.T) {
			n, ok := one(t, c.file, c.text).Root.Lookup(c.pointer)
			if !ok {
				t.Fatalf("nothing at %q", c.pointer)
			}
			if got := spanOf(n.Span); got != c.want {
				t.Errorf("span %v, want %v", got, c.want)
			}
		})
	}
}

func TestKeySpans(t *testing.T) {
	for text, want := range map[string][4]int{
		"x: 1\n'é k': 2\n":   {2, 1, 2, 6},
		"{x: 1, ék: 2}\n":    {1, 8, 1, 10},
		"x: 1\n? \"k\"\n: 2": {2, 3, 2, 6},
		"x: 1\n&a k: 2\n":    {2, 4, 2, 5},
	} {
		if got := spanOf(one(t, "a.yaml", text).Root.Members[1].KeySpan); got != want {
			t.Errorf("%q: key span %v, want %v", text, got, want)
		}
	}
	if got := spanOf(one(t, "a.json", `{"x": 1, "é": 2}`).Root.Members[1].KeySpan); got != [4]int{1, 10, 1, 13} {
		t.Errorf("JSON key span %v", got)
	}
}

// The texts and values are Examples 2.18 (multi-line flow scalars) and 8.1 (block scalar header) of YAML 1.2.2.
func TestScalars_Published(t *testing.T) {
	doc := one(t, "a.yaml", "plain:\n  This unquoted scalar\n  spans many lines.\n\nquoted: \"So does this\n  quoted scalar.\\n\"\n")
	want := map[string]any{"plain": "This unquoted scalar spans many lines.", "quoted": "So does this quoted scalar.\n"}
	if got := doc.Root.Plain(); !reflect.DeepEqual(got, want) {
		t.Errorf("example 2.18: %q", got)
	}
	text := "- | # Empty header\n literal\n- >1 # Indentation indicator\n  folded\n- |+ # Chomping indicator\n keep\n\n- >1- # Both indicators\n  strip\n"
	docs, problems := Read("a.yaml", []byte(text))
	if len(problems) > 0 || len(docs) != 4 {
		t.Fatalf("example 8.1: %d documents, %v", len(docs), problems)
	}
	for i, want := range []struct {
		text string
		span [4]int
	}{{"literal\n", [4]int{1, 3, 2, 9}}, {" folded\n", [4]int{3, 3, 4, 9}}, {"keep\n\n", [4]int{5, 3, 6, 6}}, {" strip", [4]int{8, 3, 9, 8}}} {
		if docs[i].Root.Text != want.text || spanOf(docs[i].Root.Span) != want.span {
			t.Errorf("example 8.1, item %d: %q at %v, want %q at %v", i, docs[i].Root.Text, spanOf(docs[i].Root.Span), want.text, want.span)
		}
	}
}

// What YAML 1.1 or its libraries turn into other things stays text.
func TestYAMLTextStaysText(t *testing.T) {
	doc := one(t, "a.yaml", "- {yes: yes, no: on, y: n, date: 2026-02-28, time: 2026-02-28T10:00:00Z, sexagesimal: 1:30, half: 1/2 in, str: !!str 12, 2026-01-01: x}\n")
	for _, m := range doc.Root.Members {
		if m.Value.Kind != String {
			t.Errorf("%s is %v, want text", m.Key, m.Value.Kind)
		}
	}
	if n, _ := doc.Root.Lookup("/date"); n.Text != "2026-02-28" {
		t.Errorf("date is %q", n.Text)
	}
	doc = one(t, "a.yaml", "{a: True, b: FALSE, c: ~, d: Null, e: 1e5, f: -0.50, g: !!int 7, h: 123456789012345678901234567890}")
	want := map[string]any{"a": true, "b": false, "c": nil, "d": nil, "e": json.Number("1e5"), "f": json.Number("-0.50"), "g": json.Number("7"), "h": json.Number("123456789012345678901234567890")}
	if got := doc.Root.Plain(); !reflect.DeepEqual(got, want) {
		t.Errorf("got %#v", got)
	}
}

func TestSeveralDocuments(t *testing.T) {
	for _, c := range []struct {
		name, file, text string
		want             []string // index:value of each document
		problems         []int    // the document of each problem
	}{
		{"YAML documents", "a.yaml", "# head\n---\na\n---\n# only a note\n---\nb\n...\n---\nc\n", []string{"0:a", "1:b", "2:c"}, nil},
		{"YAML marker with a value", "a.yaml", "--- a\n--- 'b'\n", []string{"0:a", "1:b"}, nil},
		{"YAML directive", "a.yaml", "%YAML 1.2\n---\na\n", []string{"0:a"}, nil},
		{"YAML list", "a.yaml", "- a\n- b\n---\n- c\n", []string{"0:a", "1:b", "2:c"}, nil},
		{"YAML, one broken", "a.yaml", "a\n---\n[b\n---\nc\n", []string{"0:a", "2:c"}, []int{1}},
		{"YAML list, one bad", "a.yaml", "- a\n- .inf\n- c\n", []string{"0:a", "2:c"}, []int{1}},
		{"JSON values", "a.json", `"a" "b"` + "\n" + `"c"`, []string{"0:a", "1:b", "2:c"}, nil},
		{"JSON list", "a.json", `["a", "b"] ["c"]`, []string{"0:a", "1:b", "2:c"}, nil},
		{"JSON, broken", "a.json", `"a" "b" {"c"`, []string{"0:a", "1:b"}, []int{2}},
		{"JSON list, broken", "a.json", `["a", "b", {"c"`, []string{"0:a", "1:b"}, []int{2}},
		{"JSON list, one bad", "a.json", `["a", {"x": 1, "x": 2}, "c"]`, []string{"0:a", "2:c"}, []int{1}},
		{"JSON rubbish at the end", "a.json", `"a" x`, []string{"0:a"}, []int{1}},
		{"lines", "a.ndjson", "\"a\"\n\n\"b\"\r\n", []string{"0:a", "1:b"}, nil},
		{"lines, one broken", "a.jsonl", "\"a\"\n{\n\"c\"\n", []string{"0:a", "2:c"}, []int{1}},
		{"lines, two on one", "a.jsonl", "\"a\"\n\"b\" 1\n\"c\"\n", []string{"0:a", "2:c"}, []int{1}},
		{"lines, one with more behind a list", "a.jsonl", "[\"a\", \"b\"] 1\n\"c\"\n", []string{"1:c"}, []int{0}},
		{"lines, one with more behind a bad value", "a.jsonl", "{\"a\": 1, \"a\": 2},\n\"c\"\n", []string{"1:c"}, []int{0}},
		{"a document over several lines", "a.jsonl", "\ufeff\n[\"a\",\n\"b\"\n]\n", nil, []int{0}},
	} {
		t.Run(c.name, func(t *testing.T) {
			docs, problems := Read(c.file, []byte(c.text))
			var got []string
			for _, d := range docs {
				if d.File != c.file {
					t.Errorf("file %q", d.File)
				}
				got = append(got, string(rune('0'+d.Index))+":"+d.Root.Text)
			}
			if !reflect.DeepEqual(got, c.want) {
				t.Errorf("documents %v, want %v", got, c.want)
			}
			var at []int
			for _, p := range problems {
				at = append(at, p.Document)
			}
			if !reflect.DeepEqual(at, c.problems) {
				t.Errorf("problems %v, want them in documents %v", problems, c.problems)
			}
		})
	}
}

// On standard input the format is told by the content; NDJSON then loses only its bad lines.
func TestFormatByContent(t *testing.T) {
	for text, want := range map[string]int{"{\"a\": 1}": 1, " [\n1, 2]": 2, "a: 1\n---\nb: 1\n": 2, "{\"a\":1}\n{\"b\":}\n{\"c\":1}\n": 2, "{\n\"a\": 1\n}\n{\n\"b\": 2}\n": 2} {
		if docs, problems := Read("-", []byte(text)); len(docs) != want {
			t.Errorf("%q: %d documents, want %d (%v)", text, len(docs), want, problems)
		}
	}
}

func readDoor(t testing.TB) []byte {
	t.Helper()
	text, err := os.ReadFile("testdata/door.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// The same document in JSON and YAML gives the same plain value, and the YAML library agrees on it.
func TestDoorInBothFormats_Identity(t *testing.T) {
	text := readDoor(t)
	fromYAML := one(t, "door.yaml", string(text)).Root.Plain()
	for _, indent := range []string{"", "\t"} {
		asJSON, err := json.MarshalIndent(fromYAML, "", indent)
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range []string{"door.json", "door.yaml"} { // JSON is YAML too; tabs are white space in flow style
			if got := one(t, file, string(asJSON)).Root.Plain(); !reflect.DeepEqual(got, fromYAML) {
				t.Errorf("%s with indent %q differs:\n%v\n%v", file, indent, got, fromYAML)
			}
		}
	}
	var reference any
	if err := yaml.Unmarshal(text, &reference); err != nil {
		t.Fatal(err)
	}
	a, _ := json.Marshal(reference)
	b, _ := json.Marshal(fromYAML)
	if string(a) != string(b) {
		t.Errorf("the library reads\n%s\nand we read\n%s", a, b)
	}
	if strings.Contains(string(a), "null") {
		t.Error("the example should have no null in it")
	}
}
