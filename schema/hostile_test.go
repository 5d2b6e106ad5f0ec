package schema

import (
	"fmt"
	"strings"
	"testing"
)

// expectProblem checks the first problem of a text: where it is and what it says.
func expectProblem(t *testing.T, file, text string, line, column int, says ...string) {
	t.Helper()
	docs, problems := Read(file, []byte(text))
	if len(problems) == 0 {
		t.Fatalf("no problem; %d documents", len(docs))
	}
	p := problems[0]
	if p.Span.Start != (Position{line, column}) {
		t.Errorf("at %d:%d, want %d:%d: %v", p.Span.Start.Line, p.Span.Start.Column, line, column, p)
	}
	if p.File != file || p.Found == "" || p.Allowed == "" && p.Do == "" {
		t.Errorf("a part is missing: %+v", p)
	}
	for _, s := range says {
		if !strings.Contains(p.Error(), s) {
			t.Errorf("%q does not say %q", p.Error(), s)
		}
	}
	if len(p.Error()) > 500 {
		t.Errorf("a message of %d bytes", len(p.Error()))
	}
}

func TestWrongFiles(t *testing.T) {
	for _, c := range []struct {
		name, file, text string
		line, column     int
		says             []string
	}{
		{"empty", "a.yaml", "", 1, 1, []string{"empty file", "format: sillwright/door/1"}},
		{"blank", "a.json", " \r\n\t", 1, 1, []string{"empty file"}},
		{"mark only", "a.json", "\xef\xbb\xbf", 1, 1, []string{"empty file"}},
		{"comments", "a.yaml", "# a\n\n  # b\n", 1, 1, []string{"nothing but comments"}},
		{"markers", "a.yaml", "---\n---\n", 1, 1, []string{"no document"}},
		{"empty list", "a.json", "\n[]", 2, 1, []string{"empty list"}},
		{"UTF-16 with mark", "a.yaml", "\xff\xfea\x00:\x00", 1, 1, []string{"UTF-16", "UTF-8"}},
		{"UTF-16 big end with mark", "a.json", "\xfe\xff\x00{\x00}", 1, 1, []string{"UTF-16"}},
		{"UTF-16 without mark", "a.yaml", "a\x00:\x00 \x001\x00", 1, 1, []string{"UTF-16"}},
		{"UTF-16 big end without mark", "a.yaml", "\x00a\x00:\x00 \x001", 1, 1, []string{"UTF-16"}},
		{"UTF-32", "a.yaml", "\xff\xfe\x00\x00a\x00\x00\x00", 1, 1, []string{"UTF-32"}},
		{"not UTF-8", "a.yaml", "a: 1\nb: \xe9t\xe9\n", 2, 4, []string{"0xe9", "byte 8", "UTF-8"}},
		{"cut off in a character", "a.json", "{\"a\": \"\xe2\x82", 1, 8, []string{"0xe2", "byte 7"}},
		{"NUL", "a.yaml", "a: 1\nb: x\x00y\n", 2, 5, []string{"NUL", "byte 9"}},
		{"control character", "a.yaml", "a: 1\nb: é\x07\n", 2, 5, []string{"U+0007"}},
		{"IFC", "hall.ifc", "ISO-10303-21;\nHEADER;\n", 1, 1, []string{"IFC model", "write one spec for each door"}},
		{"IFC on standard input", "-", "\xef\xbb\xbf\nISO-10303-21;\n", 1, 1, []string{"IFC model", "write one spec for each door"}},
		{"XLSX", "doors.xlsx", "PK\x03\x04\x14\x00\x06\x00[Content_Types].xml", 1, 1, []string{"XLSX", "write one spec for each door"}},
		{"ZIP", "doors.zip", "PK\x03\x04\x14\x00\x06\x00a.txt", 1, 1, []string{"ZIP", "Unpack"}},
		{"PDF", "a.yaml", "%PDF-1.7\n%\xe2\xe3", 1, 1, []string{"PDF"}},
		{"gzip", "a.yaml.gz", "\x1f\x8b\x08\x00", 1, 1, []string{"gzip", "Unpack"}},
		{"XML", "a.yaml", "<?xml version=\"1.0\"?>\n<a/>", 1, 1, []string{"XML"}},
		{"CSV", "doors.csv", "Mark,Width\nD-01,926\n", 1, 1, []string{"CSV", "write one spec for each door"}},
	} {
		t.Run(c.name, func(t *testing.T) { expectProblem(t, c.file, c.text, c.line, c.column, c.says...) })
	}
}

func TestYAMLProblems(t *testing.T) {
	for _, c := range []struct {
		name, text   string
		line, column int
		says         []string
	}{
		{"key twice", "a: 1\nb:\n  c: 1\n  d: 2\n  c: 3\n", 5, 3, []string{"b.c: ", "`c` twice", "line 3", "line 5"}},
		{"two colons", "a: 1\nb: c: d\n", 2, 5, []string{"`: `"}},
		{"list not closed", "a: 1\nb: 2\nc: [1, 2\nd: 3\n", 3, 5, []string{"brackets", "closed"}},
		{"list not closed at the end", "a: [1, 2\n", 1, 5, []string{"brackets"}},
		{"mapping not closed", "a: 1\nb: {c: 1\n", 2, 5, []string{"braces"}},
		{"quote not closed", "q: 1\na: 'x\nb: 1\n", 2, 4, []string{"quote"}},
		{"quote not closed after others", "q: 'a\n  b'\na: \"x\nb: 'c'\n", 3, 4, []string{"quote"}},
		{"tab", "a:\n\tb: 1\n", 2, 1, []string{"tab", "spaces"}},
		{"tab after spaces", "a:\n  b: 1\n  \tc: 2\n", 3, 3, []string{"tab", "spaces"}},
		{"tab at the start", "\ta: 1\n", 1, 1, []string{"tab"}},
		{"indentation", "# note\nx: 1\na:\n  b: 1\n c: 2\n", 5, 2, []string{"indentation"}},
		{"list in a mapping", "a: 1\n- b\n", 2, 1, []string{"indentation"}},
		{"mapping in a list", "- a\nb: 1\n", 2, 1, []string{"item of the list"}},
		{"character that starts nothing", "a: 1\nb: @x\n", 2, 4, []string{"`@`", "quotes"}},
		{"bracket too many", "x: 1\ny: 2\na: }\n", 3, 4, []string{"bracket"}},
		{"alias of nothing", "a: 1\nb: [1, *nope]\n", 2, 8, []string{"alias", "anchor"}},
		{"escape", "x: 1\na: \"b\\q\"\n", 2, 6, []string{"escape"}},
		{"no colon", "a: 1\nb\nc: 2\n", 2, 1, []string{"colon"}},
		{"text after a quote", "q: 2\na: \"x\" y\n", 2, 8, []string{"no key"}},
		{"text after the document", "{a: 1} b\n", 1, 8, []string{"more text"}},
		{"directive", "%FOO\n---\na: 1\n", 1, 2, []string{"%"}},
		{"YAML version", "%YAML 3.0\n---\na: 1\n", 1, 9, []string{"version"}},
		{"second document, CR LF", "a: 1\r\n---\r\nb: 2\r\nc: [\r\n", 4, 4, []string{"value"}},
		{"octal", "a: 012\n", 1, 4, []string{"a: found the number `012`", "Write 12 if it is decimal, 10 if it is octal"}},
		{"hexadecimal", "a: 0x10\n", 1, 4, []string{"Write 16"}},
		{"underscore", "a: 1_000\n", 1, 4, []string{"Write 1000"}},
		{"infinity", "a: [1, -.inf]\n", 1, 8, []string{"a[1]: ", "`-.inf`", "not known"}},
		{"no number", "a: .nan\n", 1, 4, []string{"`.nan`"}},
		{"no digit before the point", "a: -.5\n", 1, 4, []string{"Write -0.5"}},
		{"no digits at all", "a: 0b_\nb: .e\nc: 1__\n", 3, 4, []string{"Write 1, or"}},
		{"tag that fits, and one that does not", "a: !!float 1.5\nb: !!bool true\nc: !!null ~\nd: !!bool 1\n", 4, 4, []string{"d: ", "`!!bool`"}},
		{"no digit after the point", "a: 5.\n", 1, 4, []string{"Write 5, or"}},
		{"plus", "a: +5\n", 1, 4, []string{"Write 5, or"}},
		{"leading zero", "a: 08\n", 1, 4, []string{"Write 8, or"}},
		{"huge exponent", "a: 1e999999999\n", 1, 4, []string{"1e999999999"}},
		{"binary tag", "a: !!binary aGk=\n", 1, 4, []string{"`!!binary`", "Remove the tag"}},
		{"set tag", "a: !!set {x}\n", 1, 4, []string{"`!!set`"}},
		{"own tag", "a: &x !foo x\n", 1, 4, []string{"`!foo`"}},
		{"bare tag", "a: ! 5\n", 1, 4, []string{"`!`"}},
		{"tag that does not fit", "a: !!int x\n", 1, 4, []string{"`!!int`"}},
		{"tag on a key", "!foo a: 1\n", 1, 6, []string{"`!foo`", "key"}},
		{"merge key", "a: &a {x: 1}\nb:\n  <<: *a\n", 3, 3, []string{"merge key", "b: "}},
		{"number as a key", "a:\n  12: x\n", 2, 3, []string{"`12`", "a number", `"12"`}},
		{"truth as a key", "true: x\n", 1, 1, []string{"`true`", `"true"`}},
		{"null as a key", "~: x\n", 1, 1, []string{"`~`"}},
		{"no key", "a:\n  ? \n  : x\n", 2, 4, []string{"empty key"}},
		{"list as a key", "[a]: 1\n", 1, 1, []string{"key"}},
		{"alias as a key", "a: &x y\n*x : 1\n", 2, 1, []string{"`*x`", "key"}},
		{"alias in itself", "a: &x [1, *x]\n", 1, 11, []string{"a[1]: ", "`*x`"}},
	} {
		t.Run(c.name, func(t *testing.T) { expectProblem(t, "a.yaml", c.text, c.line, c.column, c.says...) })
	}
}

func TestJSONProblems(t *testing.T) {
	for _, c := range []struct {
		name, text   string
		line, column int
		says         []string
	}{
		{"key twice", "{\"a\": 1,\n \"b\": {\"c\": 1,\n \"\\u0063\": 2}}", 3, 2, []string{"b.c: ", "`c` twice", "line 2", "line 3"}},
		{"comma at the end of an object", "{\"a\": 1,\n}", 2, 1, []string{"`}` after a comma", "Remove the comma"}},
		{"comma at the end of a list", "{\"a\": [1, ]}", 1, 11, []string{"a[1]: ", "`]` after a comma"}},
		{"no comma", "{\"a\": 1 \"b\": 2}", 1, 9, []string{"`\"b\"`", "a comma or }"}},
		{"no comma in a list", "[1 2]", 1, 4, []string{"`2`", "a comma or ]"}},
		{"no colon", "{\"a\" 1}", 1, 6, []string{"a colon"}},
		{"key without quotes", "{\"é\": 1, a: 2}", 1, 10, []string{"`a`", "double quotes"}},
		{"single quotes", "{'a': 1}", 1, 2, []string{"single quotes"}},
		{"curly quotes", "{\"a\": “x”}", 1, 7, []string{"`“`", "straight"}},
		{"word", "{\"a\": {\"b\": [tru]}}", 1, 14, []string{"a.b[0]: ", "`tru`"}},
		{"Python", "{\"a\": None}", 1, 7, []string{"`None`", "Leave the key out"}},
		{"capitals", "{\"a\": True}", 1, 7, []string{"small letters"}},
		{"leading zero", "{\"a\": 012}", 1, 7, []string{"the number `012`"}},
		{"no digit before the point", "{\"a\": .5}", 1, 7, []string{"the number `.5`"}},
		{"plus", "{\"a\": +5}", 1, 7, []string{"the number `+5`"}},
		{"unit without quotes", "{\"a\": 5mm}", 1, 7, []string{"`5mm`", "double quotes"}},
		{"huge exponent", "{\"a\": 1e999999999}", 1, 7, []string{"1e999999999"}},
		{"line break in text", "{\"a\": \"x\ny\"}", 1, 9, []string{"end of the line"}},
		{"tab in text", "{\"a\": \"x\ty\"}", 1, 9, []string{"0x09"}},
		{"escape", "{\"a\": \"x\\q\"}", 1, 9, []string{"`\\q`"}},
		{"escape without its digits", "{\"a\": \"\\/ \\u12\"}", 1, 11, []string{"`\\u`", "four hexadecimal digits"}},
		{"backslash at the end", "{\"a\": \"x\\", 1, 7, []string{"never closed"}},
		{"half a pair", "{\"a\": \"\\ud83d\"}", 1, 7, []string{"half"}},
		{"text not closed", "{\"a\": \"x", 1, 7, []string{"never closed"}},
		{"object not closed", "{\"a\": 1\n", 2, 1, []string{"bracket"}},
		{"comment", "{\n// note\n\"a\": 1}", 2, 1, []string{"no comments"}},
		{"rubbish", "{\"a\": 1}\n}", 2, 1, []string{"another document or the end"}},
		{"after CR LF", "{\r\n\"a\": 1,\r\n}", 3, 1, []string{"Remove the comma"}},
	} {
		t.Run(c.name, func(t *testing.T) { expectProblem(t, "a.json", c.text, c.line, c.column, c.says...) })
	}
}

// Every problem of a document is told, but not without end.
func TestManyProblems(t *testing.T) {
	_, problems := Read("a.yaml", []byte("a: .inf\nb: 012\nc: !x y\nd: 1\nd: 2\n1: x\n"))
	if len(problems) != 5 {
		t.Errorf("%d problems, want 5: %v", len(problems), problems)
	}
	_, problems = Read("a.yaml", []byte(strings.Repeat("a: .inf\n", 500)))
	if len(problems) != maxProblems+1 || !strings.Contains(problems[maxProblems].Found, "more problems") {
		t.Errorf("%d problems", len(problems))
	}
	docs, _ := Read("a.yaml", []byte("- a: &x .inf\n- b: *x\n- c: 1\n"))
	if len(docs) != 1 || docs[0].Index != 2 {
		t.Errorf("documents that share a bad value: %v", docs)
	}
}

// Sizes that would cost seconds, gigabytes or the stack if they were not bounded.
func TestBombs(t *testing.T) {
	const size = 2 << 20
	bomb := "a0: &a0 [x,x,x,x,x,x,x,x,x,x]\n"
	for i := 1; i < 10; i++ {
		bomb += fmt.Sprintf("a%d: &a%d [%s]\n", i, i, strings.TrimSuffix(strings.Repeat(fmt.Sprintf("*a%d,", i-1), 10), ","))
	}
	chain := "a0: &a0 [x]\n"
	for i := 1; i < 1000; i++ {
		chain += fmt.Sprintf("a%d: &a%d [*a%d]\n", i, i, i-1)
	}
	shared := "- &a [" + strings.Repeat("x,", 1000) + "]\n" + strings.Repeat("- *a\n", 1000)
	for _, c := range []struct{ name, file, text, says string }{
		{"YAML [", "a.yaml", strings.Repeat("[", size), "64"},
		{"YAML {", "a.yaml", strings.Repeat("{", size), "64"},
		{"YAML [] pairs", "a.yaml", strings.Repeat("[", size/2) + strings.Repeat("]", size/2), "64"},
		{"YAML - ", "a.yaml", strings.Repeat("- ", size/2), "64"},
		{"YAML ? ", "a.yaml", strings.Repeat("? ", size/2), "64"},
		{"YAML {a: ", "a.yaml", strings.Repeat("{a: ", size/4), "64"},
		{"YAML 9000 levels", "a.yaml", strings.Repeat("[", 9000) + strings.Repeat("]", 9000), "64"},
		{"YAML 65 levels", "a.yaml", strings.Repeat("[", 65) + strings.Repeat("]", 65), "64"},
		{"JSON [", "a.json", strings.Repeat("[", size), "64"},
		{"JSON {", "a.json", strings.Repeat(`{"a":`, size/5), "64"},
		{"JSON 65 levels", "a.json", strings.Repeat("[", 65) + strings.Repeat("]", 65), "64"},
		{"aliases", "a.yaml", bomb, "aliases"},
		{"aliases in a chain", "a.yaml", chain, "64"},
		{"aliases in many documents", "a.yaml", shared, "aliases"},
		{"YAML values", "a.yaml", "a: [" + strings.Repeat("1,", 300_000) + "]", "200000"},
		{"JSON values", "a.json", `{"a": [` + strings.Repeat("1,", 300_000) + "1]}", "200000"},
		{"YAML document", "a.yaml", "a: " + strings.Repeat("x", MaxDocumentBytes), "4 MB"},
		{"JSON document", "a.json", `{"a": "` + strings.Repeat("x", MaxDocumentBytes) + `"}`, "4 MB"},
		{"file", "a.yaml", strings.Repeat("#", MaxFileBytes+1), "64 MB"},
		{"digits", "a.json", strings.Repeat("1", size), "100"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, problems := Read(c.file, []byte(c.text))
			if len(problems) == 0 {
				t.Fatal("no problem")
			}
			if got := problems[0].Error(); !strings.Contains(got, c.says) || len(got) > 500 {
				t.Errorf("%.600s does not say %q", got, c.says)
			}
		})
	}
	for _, file := range []string{"a.json", "a.yaml"} { // the limit itself is allowed, on documents in a list too
		deep := strings.Repeat("[", MaxDepth) + strings.Repeat("]", MaxDepth)
		if docs, problems := Read(file, []byte(`{"a": `+deep[1:len(deep)-1]+`}`)); len(docs) != 1 {
			t.Errorf("%s: 64 levels are refused: %v", file, problems)
		}
	}
}

// An error in a long YAML text is placed by the library's own line, as searching would take too long.
func TestYAMLErrorInLongText(t *testing.T) {
	text := strings.Repeat("# note\n", searchBytes/7+1)
	lines := strings.Count(text, "\n")
	expectProblem(t, "a.yaml", text+"a: 1\nb: @x\n", lines+2, 1)
	expectProblem(t, "a.yaml", "- x\n"+text+"b: 1\n", 1, 1) // the parser names where the list starts
}
