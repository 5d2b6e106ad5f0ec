package schema

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
	"testing/iotest"
)

// streamed gathers all that Stream gives.
func streamed(t *testing.T, file string, in io.Reader) ([]Document, []Problem) {
	t.Helper()
	var docs []Document
	var problems []Problem
	if err := Stream(file, in, func(d []Document, p []Problem) error {
		docs, problems = append(docs, d...), append(problems, p...)
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	return docs, problems
}

// A stream read line by line says what the same file read whole says: documents, their places, problems.
func TestStreamIsRead_Identity(t *testing.T) {
	lines := []string{`{"a": 1}`, `{"b": "é😀", "c": [1, 2]}`, ``, "  \t", `{"a": }`, `[{"x": 1}, {"y": 2}]`, `[]`, `{"a": 1} 2`, `{"a": 1, "a": 2}`, `nonsense`, `{"open": "`, ` {"d": "日本"} `, `7`, `[{"x": 1}, {]`, `{"a":`, "{", `[1,`, oneDoor, oneDoor + ","}
	breaks := []string{"\n", "\r\n", "\r"}
	random := rand.New(rand.NewPCG(1, 2))
	for range 500 {
		text := ""
		if random.IntN(3) == 0 {
			text = "\xef\xbb\xbf"
		}
		n := 1 + random.IntN(8)
		for i := range n {
			text += lines[random.IntN(len(lines))]
			if i < n-1 || random.IntN(2) == 0 {
				text += breaks[random.IntN(len(breaks))]
			}
		}
		wantDocs, wantProblems := Read("doors.ndjson", []byte(text))
		for _, in := range []io.Reader{strings.NewReader(text), iotest.OneByteReader(strings.NewReader(text)), iotest.DataErrReader(strings.NewReader(text))} {
			docs, problems := streamed(t, "doors.ndjson", in)
			if !reflect.DeepEqual(docs, wantDocs) || !reflect.DeepEqual(problems, wantProblems) {
				t.Fatalf("%q\nstream %v, %v\nread   %v, %v", text, docs, problems, wantDocs, wantProblems)
			}
		}
	}
}

// What is no NDJSON goes through Read in one piece, whatever its name.
func TestStreamWhole_Identity(t *testing.T) {
	for _, c := range []struct{ file, text string }{
		{"a.yaml", "a: 1\n---\nb: 2\n"}, {"a.json", "{\"a\": 1}\n{\"b\": 2}\n"}, {"-", "a: 1\nb: 2\n"}, {"-", "\n\n{\n\"a\": {}}\n"}, {"-", "\xef\xbb\xbf{\"a\": {}\n}"},
		{"-", `[{"a": 1}]`}, {"-", `{"a": 1} {"b": 2}`}, {"-", ""}, {"-", "\n \n"}, {"doors.csv", "Mark\n1\n"}, {"x", "\xff\xfe{\x00}\x00\n\x00"}, {"x", "%PDF-1.7\n"}, {"-", "# note\na: 1\n"},
	} {
		wantDocs, wantProblems := Read(c.file, []byte(c.text))
		docs, problems := streamed(t, c.file, iotest.OneByteReader(strings.NewReader(c.text)))
		if !reflect.DeepEqual(docs, wantDocs) || !reflect.DeepEqual(problems, wantProblems) {
			t.Errorf("%s %q\nstream %v, %v\nread   %v, %v", c.file, c.text, docs, problems, wantDocs, wantProblems)
		}
	}
}

// Standard input and unknown extensions are NDJSON when the first line that is not blank is one whole object
// (with a bad one: TestBadFirstLine).
func TestStreamFindsLines(t *testing.T) {
	for text, pieces := range map[string]int{ // one a line, or one in all
		"{\"a\": \"}{\"}\n{\"b\n": 2, "\xef\xbb\xbf\r\n \n{\"a\": 1,}\n{\"b\": 2}": 2, "{\"a\": \"x}\n{\"b\": 2}\n": 2, "{\"a\": \"\\\"}\"}\n{}\n": 2, "{}\nx: 1": 2,
		"{\"a\": {}\n}": 1, "{\"a\": \"}\"\n}": 1, "[{\"a\": 1}]\n{}\n": 1, "{}{}\n{}\n": 1, "{\"a\": [\n]}": 1, "a: {}\n{}\n": 1, "{ \n}": 1,
	} {
		for _, file := range []string{"standard input", "doors.txt"} {
			got := 0
			if err := Stream(file, strings.NewReader(text), func([]Document, []Problem) error { got++; return nil }); err != nil || got != pieces {
				t.Errorf("%q comes in %d pieces, want %d; %v", text, got, pieces, err)
			}
		}
	}
}

// A document over several lines is told by its first line alone: nothing beyond a buffer is read of it. A first line
// with a fault in it, or broken off inside a word, is a bad line.
func TestStreamOverLines(t *testing.T) {
	const buffer = 1 << 16
	for first, over := range map[string]bool{
		"{": true, "[": true, "  {\"a\": 1,": true, "{\"a\"": true, "{\"a\":": true, "[{\"a\": 1}": true, "[1": true, "\xef\xbb\xbf{": true, "\n\n\t{\r": true, "{\"a\": [": true,
		"{]": false, "{nonsense": false, "{\"a": false, "{\"a\": tr": false, "{}": false, "{} {": false, "{\"a\" 1": false, "1": false, "{,": false, "{\"a\": 1,}": false,
	} {
		in := &endless{lines: 20_000, line: func(i int) string {
			if i == 0 {
				return first + "\n"
			}
			return "{\"b\": 1}\n"
		}}
		docs, problems := streamed(t, "a.ndjson", in)
		said := len(problems) > 0 && strings.Contains(problems[0].Error(), "one JSON document over several lines")
		if said != over || over && (len(docs) > 0 || len(problems) != 1 || in.taken > 2*buffer) {
			t.Errorf("%q: %d documents, %d problems, %d bytes taken", first, len(docs), len(problems), in.taken)
		}
	}
}

// stepReader gives its steps one at a time, as a pipe does.
type stepReader struct {
	steps  []string
	at     int
	before func(step int) // called before a step is given
}

func (s *stepReader) Read(p []byte) (int, error) {
	if s.at == len(s.steps) {
		return 0, io.EOF
	}
	if s.before != nil {
		s.before(s.at)
	}
	n := copy(p, s.steps[s.at])
	if s.steps[s.at] = s.steps[s.at][n:]; s.steps[s.at] == "" {
		s.at++
	}
	return n, nil
}

// A line is given before the next is waited for, however it ends and whether or not the format must be found first.
func TestStreamDoesNotWait(t *testing.T) {
	for _, file := range []string{"doors.ndjson", "standard input"} {
		for _, end := range []string{"\n", "\r\n", "\r"} {
			given := 0
			s := &stepReader{before: func(step int) {
				if given != step {
					t.Errorf("%s, break %q: line %d was waited for with %d lines given", file, end, step, given)
				}
			}}
			for i := range 5 {
				s.steps = append(s.steps, fmt.Sprintf("{\"mark\": \"D-%d\"}%s", i, end))
			}
			if err := Stream(file, s, func(docs []Document, problems []Problem) error {
				given += len(docs)
				return nil
			}); err != nil || given != 5 {
				t.Fatalf("%d lines, %v", given, err)
			}
		}
	}
}

// endless writes lines without holding them and counts what was taken.
type endless struct {
	line  func(i int) string
	lines int
	next  int
	left  string
	taken int
}

func (e *endless) Read(p []byte) (int, error) {
	if e.left == "" {
		if e.next == e.lines {
			return 0, io.EOF
		}
		e.left = e.line(e.next)
		e.next++
	}
	n := copy(p, e.left)
	e.left = e.left[n:]
	e.taken += n
	return n, nil
}

// Memory is flat: at no time is more taken from the stream than a buffer beyond the line that is given, and line
// numbers stay right.
func TestStreamIsFlat(t *testing.T) {
	const n, buffer = 200_000, 1 << 16
	line := func(i int) string {
		if i == 150_000 {
			return "{broken}\n"
		}
		return fmt.Sprintf("{\"mark\": %d}\n", i)
	}
	in := &endless{line: line, lines: n}
	given, docs := 0, 0
	err := Stream("standard input", in, func(d []Document, p []Problem) error {
		i := docs + len(d) + len(p) - 1
		given += len(line(i))
		if in.taken-given > buffer {
			t.Fatalf("line %d: %d bytes taken and %d given", i, in.taken, given)
		}
		if docs++; len(p) > 0 && (i != 150_000 || p[0].Span.Start != (Position{150_001, 2}) || p[0].Document != 150_000) {
			t.Fatalf("line %d: %v of document %d", i, p, p[0].Document)
		}
		if len(d) > 0 && (d[0].Index != i || d[0].Root.Span.Start != (Position{i + 1, 1})) {
			t.Fatalf("line %d: document %d at %v", i, d[0].Index, d[0].Root.Span)
		}
		return nil
	})
	if err != nil || docs != n {
		t.Fatalf("%d documents, %v", docs, err)
	}
}

// A line that is too long is refused as soon as that is known, without the rest of it, and costs only itself.
func TestStreamRefusesLongLine(t *testing.T) {
	const buffer = 1 << 16
	long := strings.Repeat(" ", 1<<20)
	in := &endless{lines: 20, line: func(i int) string {
		switch {
		case i == 0:
			return "\n{\"a\": 1}\n{"
		case i == 18:
			return "\n{\"b\": 2}\n"
		case i == 19:
			return "x\n{\"c\": 3}"
		}
		return long
	}}
	var seen []string
	err := Stream("doors.jsonl", in, func(docs []Document, problems []Problem) error {
		for _, d := range docs {
			seen = append(seen, fmt.Sprintf("%d on line %d", d.Index, d.Root.Span.Start.Line))
		}
		for _, p := range problems {
			seen = append(seen, p.Error())
			if strings.Contains(p.Found, "MB") && in.taken > MaxDocumentBytes+2*buffer {
				t.Errorf("refused only after %d bytes", in.taken)
			}
		}
		return nil
	})
	want := []string{"0 on line 2", "doors.jsonl:3:1: found a line of more than 4 MB; allowed: at most 4 MB. Write one door a line.", "2 on line 4",
		"doors.jsonl:5:1: found `x`; allowed: a JSON value. Put text in double quotes.", "4 on line 6"}
	if err != nil || !reflect.DeepEqual(seen, want) {
		t.Errorf("%v\ngot  %q\nwant %q", err, seen, want)
	}
	exact := `{"a": "` + strings.Repeat("x", MaxDocumentBytes-9) + `"}`
	if docs, problems := streamed(t, "a.ndjson", strings.NewReader(exact+"\n"+exact[:7]+"x"+exact[7:]+"\r\n")); len(docs) != 1 || len(problems) != 1 || problems[0].Span.Start.Line != 2 {
		t.Errorf("a line of the most bytes and one of a byte more: %d documents, %v", len(docs), problems)
	}
}

// Bytes that are no text cost only their line; a file of another kind is told once.
func TestStreamWrongBytes(t *testing.T) {
	for _, c := range []struct {
		name, file, text string
		docs             int
		problems         []string
	}{
		{"not UTF-8", "a.ndjson", "{\"a\": 1}\n{\"é\": \"\xe9\"}\n{\"b\": 2}\n", 2, []string{"a.ndjson:2:8: found the byte 0xe9 at byte 17, which is not UTF-8"}},
		{"NUL", "a.ndjson", "{\"a\": 1}\r\n{\"b\": \x002}\n{\"c\": 3}", 2, []string{"a.ndjson:2:7: found a NUL byte at byte 16"}},
		{"UTF-16", "a.ndjson", "\xff\xfe{\x00}\x00\n\x00{\x00}\x00", 0, []string{"a.ndjson:1:1: found text in UTF-16"}},
		{"ZIP", "a.jsonl", "PK\x03\x04\n1\n2\n", 0, []string{"a.jsonl:1:1: found a ZIP archive"}},
		{"IFC", "a.ndjson", "ISO-10303-21;\nHEADER;\n", 0, []string{"a.ndjson:1:1: found an IFC model"}},
		{"XML", "a.ndjson", "\xef\xbb\xbf<?xml version=\"1.0\"?>\n<a/>", 0, []string{"a.ndjson:1:1: found XML or HTML"}},
		{"empty", "a.ndjson", "", 0, []string{"a.ndjson:1:1: found an empty file"}},
		{"blank", "a.ndjson", "\xef\xbb\xbf\r\n\n  ", 0, []string{"a.ndjson:1:1: found an empty file"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			docs, problems := streamed(t, c.file, strings.NewReader(c.text))
			if len(docs) != c.docs || len(problems) != len(c.problems) {
				t.Fatalf("%d documents, %v", len(docs), problems)
			}
			for i, p := range problems {
				if !strings.HasPrefix(p.Error(), c.problems[i]) {
					t.Errorf("got %v, want %s", p, c.problems[i])
				}
			}
		})
	}
}

// What the caller or the input says ends the reading.
func TestStreamEnds(t *testing.T) {
	enough := errors.New("enough")
	calls := 0
	err := Stream("a.ndjson", strings.NewReader("{}\n{}\n"), func([]Document, []Problem) error { calls++; return enough })
	if err != enough || calls != 1 {
		t.Errorf("%d calls, %v", calls, err)
	}
	for _, file := range []string{"a.ndjson", "a.yaml", "-"} {
		in := io.MultiReader(bytes.NewReader([]byte("{\"a\": 1}\n{")), iotest.ErrReader(enough))
		if err := Stream(file, in, func([]Document, []Problem) error { return nil }); err != enough {
			t.Errorf("%s: a fault of the input gives %v", file, err)
		}
	}
}
