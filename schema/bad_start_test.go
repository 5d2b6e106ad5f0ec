package schema

import (
	"encoding/json"
	"io"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
)

const oneDoor = `{"format": "sillwright/door/1", "mark": "A-01", "rulebooks": ["us-ada-2010"]}`

// A bad first line of NDJSON costs only itself, told with its own number, on standard input too, and Read says the same.
func TestBadFirstLine(t *testing.T) {
	doors := oneDoor + "\n" + oneDoor + "\n" + oneDoor + "\n"
	for _, first := range []string{
		`{"mark":`, "{", `{"format": "sillwright/door/1", "mark": "tru`, `{"mark": "A-01",`, `{"mark"`, oneDoor + " x", oneDoor + ",", `{"a": {`, "\ufeff{\"mark\":", "\n \n{\"mark\":", "{\"mark\":\n\n",
		"garbage", "# comment", "nonsense: 1", "}", "\r\nmark: A-01\r", `"A-01`, "---x",
	} {
		for _, file := range []string{"doors.ndjson", "standard input"} {
			text := first + "\n" + doors
			docs, problems := streamed(t, file, strings.NewReader(text))
			if len(docs) != 3 || len(problems) != 1 || problems[0].Document != 0 || docs[0].Index != 1 {
				t.Errorf("%s, %q: %d documents, %v", file, first, len(docs), problems)
				continue
			}
			number := 1 + strings.Count(first[:len(first)-len(strings.TrimLeft(first, "\r\n \t"))], "\n")
			if problems[0].Span.Start.Line != number {
				t.Errorf("%s, %q: told on line %d, want %d", file, first, problems[0].Span.Start.Line, number)
			}
			if d, p := Read(file, []byte(text)); !reflect.DeepEqual(d, docs) || !reflect.DeepEqual(p, problems) {
				t.Errorf("%s, %q: Read gives %v, %v", file, first, d, p)
			}
		}
	}
}

// One door is enough where the end has come, and bad lines may stand between.
func TestBadFirstLines(t *testing.T) {
	for text, want := range map[string][2]int{ // documents, problems
		"{\"mark\":\n" + oneDoor: {1, 1}, "garbage\n" + oneDoor: {1, 1}, "garbage\n{]\n" + oneDoor + "\n" + oneDoor: {2, 2}, "{\"mark\":\n{\"b\":\n" + oneDoor + "\n" + oneDoor + "\n{]": {2, 3},
	} {
		docs, problems := streamed(t, "-", strings.NewReader(text))
		if got := [2]int{len(docs), len(problems)}; got != want {
			t.Errorf("%q: %v, want %v; %v", text, got, want, problems)
		}
	}
}

// What is YAML or JSON over several lines is read as such, with the doors of a line that stand in it.
func TestNoBadStart(t *testing.T) {
	for _, c := range []struct{ ending, text string }{
		{"yaml", "# comment\n" + oneDoor}, {"yaml", "# comment\n---\n" + oneDoor + "\n---\n" + oneDoor}, {"yaml", "---\n" + oneDoor + "\n---\n" + oneDoor}, {"yaml", "%YAML 1.2\n---\n" + oneDoor},
		{"yaml", "# a\n# b\n\nformat: sillwright/door/1\nmark: A-01\n"}, {"yaml", "-\n " + oneDoor + "\n-\n " + oneDoor}, {"yaml", "note: |\n  " + oneDoor + "\n  " + oneDoor + "\n"}, {"yaml", "a: [b\n---\n" + oneDoor},
		{"yaml", "list: [\n" + oneDoor + ",\n" + oneDoor + "\n]"}, {"yaml", "garbage\n{\"a\": 1}\n{\"b\": 2}"},
		{"json", "[\n" + oneDoor + "\n]"}, {"json", "[\n" + oneDoor + ",\n" + oneDoor + "\n]"}, {"json", "[\n" + oneDoor + "\n" + oneDoor + "\n]"}, {"json", "{\"a\":\n" + oneDoor + "\n}"}, {"json", "{\n\"a\": 1}\n" + oneDoor + "\n" + oneDoor},
		{"json", "{\n\"a\": [\n" + oneDoor + "\n], \"b\":\n" + oneDoor + "\n}"}, {"json", oneDoor + oneDoor + "\n" + oneDoor}, {"json", "{\"gap\": [\n{\"at\": \"0 mm\"}\n{\"at\": \"9 mm\"}\n]}"}, {"json", "{\n{\"a\": 1}\n}"},
	} {
		wantDocs, wantProblems := Read("a."+c.ending, []byte(c.text))
		docs, problems := streamed(t, "-", strings.NewReader(c.text))
		for i := range docs {
			docs[i].File = "a." + c.ending
		}
		for i := range problems {
			problems[i].File = "a." + c.ending
		}
		if !reflect.DeepEqual(docs, wantDocs) || !reflect.DeepEqual(problems, wantProblems) {
			t.Errorf("%q\ngot  %v, %v\nwant %v, %v", c.text, docs, problems, wantDocs, wantProblems)
		}
	}
}

// No JSON (RFC 8259, by the standard library's reading of it) that is broken between any of its tokens, and has doors
// in any place, has a bad start.
func TestNoBadStart_Published(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	gap := func() string { return strings.Repeat("\n", random.IntN(3)/2) + strings.Repeat(" ", random.IntN(2)) }
	var value func(level int) string
	value = func(level int) string {
		switch kind := random.IntN(5); {
		case kind < 2 || level > 3:
			return oneDoor
		case kind == 2:
			return `"x"`
		case kind == 3:
			return "[" + gap() + value(level+1) + gap() + "," + gap() + value(level+1) + gap() + "]"
		}
		return "{" + gap() + `"a"` + gap() + ":" + gap() + value(level+1) + gap() + "," + gap() + `"b":` + gap() + value(level+1) + gap() + "}"
	}
	tried := 0
	for range 20_000 {
		text := "{" + gap() + `"k":` + gap() + value(1) + gap() + "}" + strings.Repeat("\n"+oneDoor, random.IntN(3))
		first, rest, _ := strings.Cut(text, "\n")
		if wholeObject([]byte(first)) {
			continue
		}
		dec := json.NewDecoder(strings.NewReader(text))
		for {
			if err := dec.Decode(new(any)); err == io.EOF {
				break
			} else if err != nil {
				t.Fatalf("%q: %v", text, err)
			}
		}
		tried++
		if bad, err := badStart([]byte(first), newLines(strings.NewReader(rest))); bad || err != nil {
			t.Fatalf("%q: %v %v", text, bad, err)
		}
	}
	if tried < 1000 {
		t.Errorf("only %d texts tried", tried)
	}
}

// A bad first line holds nothing up: what is looked at beyond it is a few lines, and after them each line is given
// before the next is waited for.
func TestBadFirstLineDoesNotWait(t *testing.T) {
	for first, looked := range map[string]int{`{"mark": "tru`: 2, "{": 2, oneDoor + " x": 2, `{"mark":`: 3, "garbage": 3, "# comment": 3} {
		given := 0
		s := &stepReader{steps: []string{first + "\n"}, before: func(step int) {
			if step >= looked && given != step {
				t.Errorf("%q: line %d was waited for with %d given", first, step+1, given)
			}
		}}
		for range 6 {
			s.steps = append(s.steps, oneDoor+"\n")
		}
		if err := Stream("standard input", s, func(d []Document, p []Problem) error { given += len(d) + len(p); return nil }); err != nil || given != 7 {
			t.Errorf("%q: %d given, %v", first, given, err)
		}
	}
}

// What is looked at is bounded, in lines and in bytes.
func TestBadStartIsBounded(t *testing.T) {
	long := `{"a": "` + strings.Repeat("x", 1<<20) + "\"}\n"
	for name, line := range map[string]string{"lines": "{\"a\": 1}\n", "long lines": long, "blank lines": strings.Repeat(" ", 999) + "\n", "one line": strings.Repeat("x", 1<<20)} {
		in := &endless{lines: 20_000, line: func(int) string { return line }}
		if bad, err := badStart([]byte(`{"mark":`), newLines(in)); bad || err != nil || in.taken > startBytes+len(long)+1<<17 {
			t.Errorf("%s: %v, %v after %d bytes", name, bad, err, in.taken)
		}
	}
}

// An input that has ended is asked for no more: a terminal would wait for another end.
func TestStreamAsksNoMoreAfterEnd(t *testing.T) {
	for _, text := range []string{"mark: A-01\n", "garbage\n" + oneDoor, "", "{\n", oneDoor} {
		in := &endCounter{in: strings.NewReader(text)}
		streamed(t, "-", in)
		if in.ends != 1 {
			t.Errorf("%q: asked %d times at its end", text, in.ends)
		}
	}
}

type endCounter struct {
	in   io.Reader
	ends int
}

func (e *endCounter) Read(p []byte) (int, error) {
	n, err := e.in.Read(p)
	if err == io.EOF {
		e.ends++
	}
	return n, err
}
