package schema

import (
	"encoding/json"
	"reflect"
	"testing"
)

// The document and the pointers are those of RFC 6901 section 5.
const rfc6901Document = `{
   "foo": ["bar", "baz"],
   "": 0,
   "a/b": 1,
   "c%d": 2,
   "e^f": 3,
   "g|h": 4,
   "i\\j": 5,
   "k\"l": 6,
   " ": 7,
   "m~n": 8
}`

func one(t *testing.T, file, text string) Document {
	t.Helper()
	docs, problems := Read(file, []byte(text))
	if len(problems) > 0 || len(docs) != 1 {
		t.Fatalf("Read(%s, %q): %d documents, problems %v", file, text, len(docs), problems)
	}
	return docs[0]
}

func TestLookup_Published(t *testing.T) {
	doc := one(t, "rfc.json", rfc6901Document)
	for pointer, want := range map[string]string{
		"/foo": `["bar","baz"]`, "/foo/0": `"bar"`, "/": "0", "/a~1b": "1", "/c%d": "2", "/e^f": "3", "/g|h": "4",
		`/i\j`: "5", `/k"l`: "6", "/ ": "7", "/m~0n": "8",
	} {
		n, ok := doc.Root.Lookup(pointer)
		if !ok {
			t.Errorf("Lookup(%q) finds nothing", pointer)
			continue
		}
		if got, _ := json.Marshal(n.Plain()); string(got) != want {
			t.Errorf("Lookup(%q) = %s, want %s", pointer, got, want)
		}
	}
	if n, ok := doc.Root.Lookup(""); !ok || n != doc.Root {
		t.Error(`Lookup("") is not the whole document`)
	}
}

// RFC 6901 section 4: an index has no leading zero and "-" is the item after the last; section 3: ~ must be
// followed by 0 or 1, and a pointer starts with /. The order of the escapes is the example of section 4:
// ~01 is ~1, not /.
func TestLookupRefuses_Published(t *testing.T) {
	doc := one(t, "a.json", `{"a": [1, 2], "x~1": 3, "~2": 4, "b": "text"}`)
	for _, pointer := range []string{"a", "/a/01", "/a/-", "/a/2", "/a/+1", "/a/", "/a/x", "/~2", "/~", "/b/0", "/c", "/a/99999999999999999999"} {
		if n, ok := doc.Root.Lookup(pointer); ok {
			t.Errorf("Lookup(%q) = %v, want nothing", pointer, n.Plain())
		}
	}
	if n, ok := doc.Root.Lookup("/x~01"); !ok || n.Text != "3" {
		t.Error("/x~01 does not find the key x~1")
	}
}

func TestPointer_Identity(t *testing.T) {
	if got := Pointer("a/b", "m~n", 3, ""); got != "/a~1b/m~0n/3/" {
		t.Errorf("Pointer = %q", got)
	}
	if got := Pointer(); got != "" {
		t.Errorf("Pointer of nothing = %q", got)
	}
	for _, key := range []string{"", "/", "~", "~1", "~01", "a~/b", "é/~"} {
		parts, ok := splitPointer(Pointer(key, "z"))
		if !ok || !reflect.DeepEqual(parts, []string{key, "z"}) {
			t.Errorf("key %q comes back as %q", key, parts)
		}
	}
}

func TestPlain(t *testing.T) {
	doc := one(t, "a.json", `{"s": "x", "n": 1.50, "t": true, "f": false, "z": null, "l": [1, {}], "o": {}}`)
	want := map[string]any{"s": "x", "n": json.Number("1.50"), "t": true, "f": false, "z": nil, "l": []any{json.Number("1"), map[string]any{}}, "o": map[string]any{}}
	if got := doc.Root.Plain(); !reflect.DeepEqual(got, want) {
		t.Errorf("Plain = %#v", got)
	}
	if _, ok := doc.Root.Member("none"); ok {
		t.Error("Member finds a key that is not there")
	}
	if n, ok := doc.Root.Member("n"); !ok || n.Text != "1.50" {
		t.Error("a number does not keep its literal")
	}
	var none *Node
	if _, ok := none.Member("x"); ok {
		t.Error("a nil node has a member")
	}
}

func TestProblemError(t *testing.T) {
	p := Problem{File: "hall.yaml", Field: "door.height", Span: Span{Start: Position{22, 7}}, Found: `"5 kg"`,
		Allowed: "a length such as 13 mm or 1/2 in", Do: "Write a length."}
	want := `hall.yaml:22:7: door.height: found "5 kg"; allowed: a length such as 13 mm or 1/2 in. Write a length.`
	if got := p.Error(); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	p = Problem{File: "a\x1b[2J.yaml", Span: Span{Start: Position{1, 1}}, Found: "unknown key `treshold`", Do: "did you mean `threshold`?"}
	want = "a\\x1b[2J.yaml:1:1: found unknown key `treshold`; did you mean `threshold`?"
	if got := p.Error(); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

func TestFieldOf(t *testing.T) {
	key := func(s string) step { return step{key: s, isKey: true} }
	for want, path := range map[string][]step{
		"":                               nil,
		"threshold.segments[2].run":      {key("threshold"), key("segments"), {index: 2}, key("run")},
		`answers["us-ada-2010/x"].value`: {key("answers"), key("us-ada-2010/x"), key("value")},
		`a["2"]`:                         {key("a"), key("2")},
		`["a\nb"]`:                       {key("a\nb")},
	} {
		if want == `a["2"]` {
			want = "a.2" // a key of digits is plain: it is no index
		}
		if got := fieldOf(path); got != want {
			t.Errorf("fieldOf = %q, want %q", got, want)
		}
	}
}
