package schema

import (
	"encoding/json"
	"strings"
	"testing"

	"go.yaml.in/yaml/v3"
)

var fuzzNames = []string{"a.json", "a.yaml", "a.ndjson", "-"}

func FuzzRead(f *testing.F) {
	seeds := []string{"", "a: 1\n", "- a\n- b\n", "{\"a\": [1, true, null, \"x\"]}", rfc6901Document, "a: &x [1]\nb: *x\n", "a: |\n  x\n\n y\n", "a: >2-\n    x\n", "? a\n: b\n? c\n",
		"a: 'b\r\n  c'\r\nd: \"e\\\n  f\"\r\n", "%YAML 1.2\n---\na\n...\n---\nb\n", "[a: b, c: , {d}]\n", "a: !!str 1\n", "!!map {a: b}\n", "a: \u2028b\n", "\xef\xbb\xbf{}", "{\"a\":1}\n{\"b\":\n", "&a a: *a\n",
		"a:\n\t- b\n", "- - - a\n    - b\n", "a: ~\n~: a\n", "a: 0x_\n", "<<: a\n", "a: \"\\ud800\"", "{\"a\":\"\\ud800\"}", "a: 1e-400", "-\n-\n", "a: #b\n  c\n", "\"a\n\n b\": c\n", "- !a\n- !<b> c\n- ! d\n", "é: [é, 'é']\n", "a: b\rc: d\r", "&0:00", "[0:]", "!\u20280\u202800", "[!,a]"}
	for _, s := range seeds {
		for n := range fuzzNames {
			f.Add(uint8(n), []byte(s))
		}
	}
	s, err := Compile("fuzz", []byte(smallSchema))
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, name uint8, data []byte) {
		file := fuzzNames[int(name)%len(fuzzNames)]
		docs, problems := Read(file, data)
		if len(docs) == 0 && len(problems) == 0 {
			t.Fatal("neither a document nor a problem")
		}
		src := newSource([]byte(strings.TrimPrefix(string(data), "\xef\xbb\xbf")))
		for _, p := range problems {
			checkProblem(t, p, src)
		}
		asYAML := formatOf(file, src.text) == formatYAML
		for _, d := range docs {
			checkNode(t, d.Root, src, asYAML)
			for _, p := range Validate(d, s) {
				checkProblem(t, p, src)
			}
		}
	})
}

func checkProblem(t *testing.T, p Problem, src *source) {
	t.Helper()
	if p.Span.Start.Line < 1 || p.Span.Start.Column < 1 || p.Span.End.before(p.Span.Start) || p.Span.Start.Line > len(src.lines) {
		t.Fatalf("a problem at %v", p.Span)
	}
	if p.Found == "" || strings.ContainsAny(p.Error(), "\n\r\x00\x1b") {
		t.Fatalf("problem %q", p.Error())
	}
}

// slice is the text of a span.
func slice(src *source, s Span) string {
	offset := func(p Position) int { return src.offsetOf(src.runesBefore(src.lines[p.Line-1]) + p.Column - 1) }
	return string(src.text[offset(s.Start):offset(s.End)])
}

// reads reports whether the YAML library reads a list of one text.
func reads(list, want string) bool {
	var v yaml.Node
	err := yaml.Unmarshal([]byte(list), &v)
	return err == nil && len(v.Content) == 1 && len(v.Content[0].Content) == 1 && v.Content[0].Content[0].Value == want
}

// checkNode checks that the text of every scalar's span is that scalar.
func checkNode(t *testing.T, n *Node, src *source, asYAML bool) {
	t.Helper()
	if n.Span.Start.Line < 1 || n.Span.End.before(n.Span.Start) {
		t.Fatalf("a node at %v", n.Span)
	}
	for _, m := range n.Members {
		checkNode(t, m.Value, src, asYAML)
	}
	for _, item := range n.Items {
		checkNode(t, item, src, asYAML)
	}
	text := slice(src, n.Span)
	switch {
	case n.Kind == Object || n.Kind == Array || asYAML && strings.HasPrefix(text, "*"):
	case !asYAML:
		var v any
		if err := json.Unmarshal([]byte(text), &v); err != nil {
			t.Fatalf("the span of %q holds %q", n.Text, text)
		} else if s, ok := v.(string); ok && (n.Kind != String || s != n.Text) {
			t.Fatalf("the span of %q holds %q", n.Text, text)
		}
	case n.Kind == String && !strings.ContainsAny(text, "\r\n\u0085\u2028\u2029|>"):
		if !reads("- "+text, n.Text) && !reads("["+text+"]", n.Text) { // 0: is text in flow style only
			t.Fatalf("the span of %q holds %q", n.Text, text)
		}
	case n.Kind == Number && text != n.Text:
		t.Fatalf("the span of %s holds %q", n.Text, text)
	}
}
