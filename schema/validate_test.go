package schema

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
)

const smallSchema = `{
  "$schema": "http://json-schema.org/draft-07/schema#",
  "$id": "urn:small",
  "type": "object",
  "required": ["mark"],
  "additionalProperties": false,
  "patternProperties": {"^x-": {}},
  "properties": {
    "mark": {"type": "string", "minLength": 1, "x-allowed": "the door mark, such as D-01"},
    "opens": {"enum": ["in", "out", "unknown"]},
    "format": {"const": "small/1"},
    "rated": {"type": "boolean"},
    "truth": {"enum": [true, false, "unknown"]},
    "height": {"$ref": "#/definitions/length"},
    "count": {"type": "integer", "minimum": 1, "maximum": 9, "description": "How many leaves."},
    "code": {"type": "string", "pattern": "^[a-z]+$"},
    "note": {"type": "string", "pattern": "^[A-Z]", "description": "A sentence."},
    "gaps": {"type": "array", "minItems": 1, "maxItems": 3, "uniqueItems": true, "items": {"$ref": "#/definitions/gap"}},
    "rulebooks": {"type": "array", "items": {"anyOf": [
      {"type": "string", "enum": ["us-ada-2010", "seal-practice"]},
      {"type": "object", "required": ["id"], "additionalProperties": false, "properties": {"id": {"type": "string"}, "variant": {"type": "string"}}}]}},
    "either": {"oneOf": [{"type": "number"}, {"type": "integer"}], "description": "A number."},
    "shape": {"oneOf": [
      {"type": "object", "required": ["kind", "width"], "properties": {"kind": {"const": "plate"}, "width": {"$ref": "#/definitions/length"}}},
      {"type": "object", "required": ["kind", "depth"], "properties": {"kind": {"const": "slot"}, "depth": {"$ref": "#/definitions/length"}}}]},
    "names": {"type": "object", "propertyNames": {"pattern": "^[a-z]+$", "x-allowed": "a name in small letters"}, "additionalProperties": {"type": "number"}},
    "type": {"type": "object", "properties": {"type": false, "properties": {"type": "string"}, "anyOf": {"type": "string"}}},
    "a/b": {"properties": {"c%d": {"type": "string"}, "m~n": {"type": "string"}, "é k": {"type": "string"}}},
    "date": {"format": "date"},
    "duty": {"dependencies": {"cycles": ["years"]}},
    "powered": {"if": {"properties": {"by": {"const": "motor"}}, "required": ["by"]}, "then": {"required": ["force"], "properties": {"force": {"type": "number", "exclusiveMinimum": 0}}}},
    "size": {"enum": ["12", "14"]},
    "step": {"multipleOf": 2},
    "closed": {"additionalProperties": false},
    "any": {"anyOf": [{"minimum": 5}, {"maximum": 1}]},
    "none": {"not": {"const": 0}, "x-allowed": "anything but 0"},
    "list": {"contains": {"const": "hinge"}, "x-allowed": "a list with hinge in it"}
  },
  "definitions": {
    "length": {"type": ["string", "number"], "pattern": "^[0-9.]+ (mm|in)$", "minimum": 0, "x-allowed": "a length, such as 13 mm, 1/2 in or 0.04 m"},
    "gap": {"type": "object", "required": ["at", "gap"], "additionalProperties": false, "properties": {"at": {"$ref": "#/definitions/length"}, "gap": {"$ref": "#/definitions/length"}}}
  }
}`

func compile(t testing.TB, src string) *Schema {
	t.Helper()
	s, err := Compile("small", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

var validateCases = []struct {
	name, text string
	want       []string // of each problem: pointer, place, message without the file
}{
	{"good", "mark: a\nx-own: 1\nheight: 2040 mm\nopens: in\n", nil},
	{"unknown key", "mark: a\nheigth: 1\n", []string{"/heigth 2:1 heigth: found unknown key `heigth`; did you mean `height`?"}},
	{"unknown key, far from any", "mark: a\ngaps: [{at: 1, gap: 1, zzzzzz: 2}]\n", []string{"/gaps/0/zzzzzz 2:24 gaps[0].zzzzzz: found unknown key `zzzzzz`; allowed: the keys at, gap"}},
	{"unknown keys", "mark: a\nOpens: in\nHEIGHT: 1\n", []string{"/Opens 2:1 Opens: found unknown key `Opens`; did you mean `opens`?", "/HEIGHT 3:1 HEIGHT: found unknown key `HEIGHT`; did you mean `height`?"}},
	{"missing at the top", "opens: in\n", []string{" 1:1 mark: found no key `mark`; allowed: the door mark, such as D-01. Add `mark`."}},
	{"missing in a list", "mark: a\ngaps:\n  - {at: 1}\n", []string{"/gaps/0 3:5 gaps[0].gap: found no key `gap`; allowed: a length, such as 13 mm, 1/2 in or 0.04 m. Add `gap`."}},
	{"missing after then", "mark: a\npowered:\n  by: motor\n", []string{"/powered 2:1 powered.force: found no key `force`. Add `force`."}},
	{"missing because of another", "mark: a\nduty: {cycles: 4}\n", []string{"/duty 2:1 duty.years: found no key `years`, which is needed because `cycles` is given. Add `years`."}},
	{"pattern with annotation", "mark: a\nheight: 5 kg\n", []string{`/height 2:9 height: found "5 kg"; allowed: a length, such as 13 mm, 1/2 in or 0.04 m`}},
	{"pattern with description", "mark: a\nnote: x\n", []string{`/note 2:7 note: found "x"; allowed: A sentence`}},
	{"pattern alone", "mark: a\ncode: A\n", []string{`/code 2:7 code: found "A"; allowed: text that matches ^[a-z]+$`}},
	{"type with annotation", "mark: a\nheight: [1]\n", []string{"/height 2:9 height: found [1]; allowed: a length, such as 13 mm, 1/2 in or 0.04 m"}},
	{"number for text", "mark: 101\n", []string{`/mark 1:7 mark: found 101; allowed: the door mark, such as D-01. Put it in quotes: "101".`}},
	{"nothing for text", "mark:\n", []string{`/mark 1:6 mark: found no value; allowed: the door mark, such as D-01`}},
	{"text for truth", "mark: a\nrated: yes\n", []string{`/rated 2:8 rated: found "yes"; allowed: true or false. Write true or false, without quotes.`}},
	{"text for truth in a list of values", "mark: a\ntruth: no\n", []string{`/truth 2:8 truth: found "no"; allowed: true, false, unknown. Write true or false, without quotes.`}},
	{"text for a number", "mark: a\ncount: '3'\n", []string{`/count 2:8 count: found "3"; allowed: a whole number. Write 3 without quotes.`}},
	{"minimum", "mark: a\ncount: 0\n", []string{"/count 2:8 count: found 0; allowed: at least 1 (How many leaves)"}},
	{"minimum in a reference", "mark: a\nheight: -5\n", []string{"/height 2:9 height: found -5; allowed: at least 0 (a length, such as 13 mm, 1/2 in or 0.04 m)"}},
	{"exclusive minimum", "mark: a\npowered: {by: motor, force: 0}\n", []string{"/powered/force 2:29 powered.force: found 0; allowed: more than 0"}},
	{"length", "mark: ''\n", []string{`/mark 1:7 mark: found ""; allowed: at least 1 character (the door mark, such as D-01)`}},
	{"items", "mark: a\ngaps: []\n", []string{"/gaps 2:7 gaps: found []; allowed: at least 1 item"}},
	{"enum", "mark: a\nopens: ni\n", []string{`/opens 2:8 opens: found "ni"; allowed: in, out, unknown`}},
	{"enum, near", "mark: a\nopens: unknwon\n", []string{"/opens 2:8 opens: found \"unknwon\"; allowed: in, out, unknown; did you mean `unknown`?"}},
	{"const", "mark: a\nformat: smal/1\n", []string{"/format 2:9 format: found \"smal/1\"; allowed: small/1; did you mean `small/1`?"}},
	{"twice in a list", "mark: a\ngaps: [{at: 1, gap: 2}, {gap: 2, at: 1}]\n", []string{"/gaps/1 2:25 gaps[1]: found {gap: 2, at: 1} again, as in item 0; allowed: each item once. Remove one of them."}},
	{"anyOf, the object is meant", "mark: a\nrulebooks: [{variant: x}]\n", []string{"/rulebooks/0 2:13 rulebooks[0].id: found no key `id`. Add `id`."}},
	{"anyOf, none is meant", "mark: a\nrulebooks: [us-ada-2011]\n", []string{"/rulebooks/0 2:13 rulebooks[0]: found \"us-ada-2011\"; allowed: us-ada-2010, seal-practice or a mapping; did you mean `us-ada-2010`?"}},
	{"oneOf with a telling key", "mark: a\nshape: {kind: slot}\n", []string{"/shape 2:1 shape.depth: found no key `depth`; allowed: a length, such as 13 mm, 1/2 in or 0.04 m. Add `depth`."}},
	{"oneOf, two fit", "mark: a\neither: 1\n", []string{"/either 2:9 either: found 1; allowed: A number"}},
	{"key name", "mark: a\nnames: {ok: 1, Bad: 2}\n", []string{"/names/Bad 2:16 names.Bad: found key `Bad`; allowed: a name in small letters"}},
	{"properties named like keywords", "mark: a\ntype: {type: 1, properties: 2, anyOf: 3}\n", []string{
		"/type/type 2:8 type.type: found a value that is not allowed here. Remove it.",
		`/type/properties 2:29 type.properties: found 2; allowed: text. Put it in quotes: "2".`,
		`/type/anyOf 2:39 type.anyOf: found 3; allowed: text. Put it in quotes: "3".`}},
	{"keys that need escapes", "mark: a\na/b: {c%d: 1, m~n: 2, é k: 3}\n", []string{
		`/a~1b/c%d 2:12 ["a/b"]["c%d"]: found 1; allowed: text. Put it in quotes: "1".`,
		`/a~1b/m~0n 2:20 ["a/b"]["m~n"]: found 2; allowed: text. Put it in quotes: "2".`,
		`/a~1b/é k 2:28 ["a/b"]["é k"]: found 3; allowed: text. Put it in quotes: "3".`}},
	{"format", "mark: a\ndate: 2026-02-30\n", []string{`/date 2:7 date: found "2026-02-30"; allowed: text in the format date`}},
	{"not", "mark: a\nnone: 0\n", []string{"/none 2:7 none: found 0; allowed: anything but 0"}},
	{"contains", "mark: a\nlist: [x, y]\n", []string{"/list 2:7 list: found [x, y]; allowed: a list with hinge in it"}},
	{"number that is text", "mark: a\nsize: 12\n", []string{`/size 2:7 size: found 12; allowed: 12, 14. Put it in quotes: "12".`}},
	{"multiple", "mark: a\nstep: 5\n", []string{"/step 2:7 step: found 5; allowed: a multiple of 2"}},
	{"too many items", "mark: a\ngaps: [{at: 1, gap: 1}, {at: 1, gap: 2}, {at: 1, gap: 3}, {at: 1, gap: 4}]\n", []string{
		"/gaps 2:7 gaps: found [{at: 1, gap: 1}, {at: 1, gap: 2}, {at: 1, gap: 3}, {at: 1,…; allowed: at most 3 items"}},
	{"no key is known", "mark: a\nclosed: {x: 1}\n", []string{"/closed/x 2:10 closed.x: found unknown key `x`. Remove it."}},
	{"anyOf, several are meant", "mark: a\nany: 3\n", []string{"/any 2:6 any: found 3; allowed: at least 5 or at most 1"}},
	{"number where text must fit a pattern", "mark: a\ncode: 5\n", []string{"/code 2:7 code: found 5; allowed: text"}},
	{"through an alias", "mark: &m ''\ncode: *m\n", []string{
		`/mark 1:10 mark: found ""; allowed: at least 1 character (the door mark, such as D-01)`, `/code 2:7 code: found ""; allowed: text that matches ^[a-z]+$`}},
	{"not even a mapping", "just text\n", []string{` 1:1 found "just text"; allowed: a mapping`}},
	{"control characters and length", "mark: a\ncode: \"\\e[31m" + strings.Repeat("é", 100) + "\"\n", []string{
		`/code 2:7 code: found "\x1b[31m` + strings.Repeat("é", 51) + `…"; allowed: text that matches ^[a-z]+$`}},
}

func TestValidate(t *testing.T) {
	s := compile(t, smallSchema)
	for _, c := range validateCases {
		t.Run(c.name, func(t *testing.T) {
			var got []string
			for _, p := range Validate(one(t, "a.yaml", c.text), s) {
				_, message, _ := strings.Cut(p.Error(), fmt.Sprintf("%d:%d: ", p.Span.Start.Line, p.Span.Start.Column))
				got = append(got, fmt.Sprintf("%s %d:%d %s", p.Pointer, p.Span.Start.Line, p.Span.Start.Column, message))
			}
			if !reflect.DeepEqual(got, c.want) {
				t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(c.want, "\n"))
			}
		})
	}
}

// The validator goes through maps, so its own order differs from run to run.
func TestValidateOrder_Identity(t *testing.T) {
	s := compile(t, smallSchema)
	doc := one(t, "a.yaml", "heigth: 1\nopens: x\nzz: 2\nrated: maybe\nrulebooks: [1, x]\nnames: {A: x, B: y}\ngaps: [{a: 1}, {b: 2}]\ncount: 0\nb: 1\na: 2\n")
	first := Validate(doc, s)
	if len(first) < 15 {
		t.Fatalf("only %d problems", len(first))
	}
	for i := 1; i < len(first); i++ {
		if first[i].Span.Start.before(first[i-1].Span.Start) {
			t.Errorf("%v stands before %v", first[i], first[i-1])
		}
	}
	for range 50 {
		if again := Validate(doc, s); !reflect.DeepEqual(again, first) {
			t.Fatalf("another order:\n%v\n%v", again, first)
		}
	}
}

func TestValidate2020(t *testing.T) {
	s := compile(t, `{"$schema": "https://json-schema.org/draft/2020-12/schema", "$defs": {"base": {"properties": {"a": {"type": "string"}}}},
	  "allOf": [{"$ref": "#/$defs/base"}], "properties": {"pair": {"prefixItems": [{"type": "number"}], "items": {"type": "string"}},
	  "needs": {"dependentRequired": {"x": ["y"]}}, "day": {"format": "date"}}, "unevaluatedProperties": false}`)
	doc := one(t, "a.json", `{"a": 1, "pair": ["x", 2], "needs": {"x": 1}, "day": "2026-02-30", "more": 1}`)
	var got []string
	for _, p := range Validate(doc, s) {
		got = append(got, p.Pointer+" "+p.Found)
	}
	want := []string{"/a 1", "/pair/0 \"x\"", "/pair/1 2", "/needs no key `y`, which is needed because `x` is given", "/day \"2026-02-30\"", "/more unknown key `more`"}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %q\nwant %q", got, want)
	}
}

func TestCompileRefuses(t *testing.T) {
	for name, c := range map[string]struct{ src, says string }{
		"no JSON":        {"{", "schema x"},
		"remote":         {`{"$ref": "https://schema.example/other.json"}`, "nothing else is loaded"},
		"file":           {`{"$ref": "file:///etc/hosts"}`, "nothing else is loaded"},
		"relative":       {`{"$ref": "other.json"}`, "nothing else is loaded"},
		"remote dialect": {`{"$schema": "https://schema.example/dialect"}`, "nothing else is loaded"},
		"no schema":      {`{"type": "tetx"}`, "tetx"},
		"look-ahead":     {`{"pattern": "(?!x)"}`, "schema x"},
	} {
		t.Run(name, func(t *testing.T) {
			if _, err := Compile("x", []byte(c.src)); err == nil {
				t.Error("it compiles")
			} else if name != "no schema" && !strings.Contains(err.Error(), c.says) {
				t.Errorf("%v does not say %q", err, c.says)
			}
		})
	}
}

// A misspelling by one letter is put right; the pairs are common slips, no published source.
func TestNearest(t *testing.T) {
	names := []string{"threshold", "leaves", "options", "id", "at", "gap", "clear_width", "in", "out"}
	for word, want := range map[string]string{"treshold": "threshold", "Threshold": "threshold", "leafs": "leaves", "clearWidth": "clear_width", "clear-width": "clear_width",
		"idd": "id", "gaps": "gap", "xyzzy": "", "ni": "", "": "", "q": "", strings.Repeat("threshold", 20): ""} {
		if got, _ := nearest(word, names); got != want {
			t.Errorf("nearest(%q) = %q, want %q", word, got, want)
		}
	}
	if _, ok := nearest("x", nil); ok {
		t.Error("a suggestion out of nothing")
	}
}

// Thousands of problems in one document are found without going through its members again for each.
func TestValidateMany(t *testing.T) {
	s := compile(t, `{"additionalProperties": {"type": "string"}}`)
	var b strings.Builder
	r := rand.New(rand.NewPCG(1, 1))
	for i := range 20_000 {
		fmt.Fprintf(&b, "k%d_%d: %d\n", i, r.IntN(10), i)
	}
	problems := Validate(one(t, "a.yaml", b.String()), s)
	if len(problems) != 20_000 {
		t.Fatalf("%d problems", len(problems))
	}
	if p := problems[19_999]; p.Span.Start.Line != 20_000 {
		t.Errorf("the last one is on line %d", p.Span.Start.Line)
	}
}

func BenchmarkRead(b *testing.B) {
	text := readDoor(b)
	docs, problems := Read("door.yaml", text)
	if len(problems) > 0 {
		b.Fatal(problems)
	}
	asJSON := plainJSON(b, docs[0])
	for _, c := range []struct {
		file string
		text []byte
	}{{"door.yaml", text}, {"door.json", asJSON}} {
		b.Run(c.file[5:], func(b *testing.B) {
			b.ReportAllocs()
			b.SetBytes(int64(len(c.text)))
			for b.Loop() {
				if docs, _ := Read(c.file, c.text); len(docs) != 1 {
					b.Fatal("no document")
				}
			}
		})
	}
}

func BenchmarkValidate(b *testing.B) {
	s := compile(b, smallSchema)
	for name, text := range map[string]string{"good": "mark: a\nheight: 2040 mm\nopens: in\ngaps: [{at: 0, gap: 3 mm}, {at: 9, gap: 4 mm}]\nrulebooks: [us-ada-2010, {id: x}]\n",
		"bad": "heigth: 1\nopens: x\nrulebooks: [1, x]\ngaps: [{a: 1}, {b: 2}]\ncount: 0\n"} {
		docs, _ := Read("a.yaml", []byte(text))
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if got := Validate(docs[0], s); (len(got) == 0) != (name == "good") {
					b.Fatal(got)
				}
			}
		})
	}
}
