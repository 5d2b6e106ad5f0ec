package schema

import (
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
	"testing"
)

// sameAsTokens reads a text with plain, and on from where it gives up, and by tokens alone; it gives how far plain came.
func sameAsTokens(t *testing.T, text string) int {
	t.Helper()
	src := func() *source { s := newSource([]byte(text)); s.before = 7; return s }
	a, b, c := &reader{file: "a", src: src()}, &reader{file: "a", src: src()}, &reader{file: "a", src: src()}
	a.readJSON()
	b.readTokens(0)
	if !reflect.DeepEqual(a.docs, b.docs) || !reflect.DeepEqual(a.problems, b.problems) || a.next != b.next {
		t.Fatalf("%q reads as\n%v %v %d, by tokens as\n%v %v %d", text, shown(a.docs), a.problems, a.next, shown(b.docs), b.problems, b.next)
	}
	end := 0
	if start := c.src.pastSpace(0, len(text)); start < len(text) {
		end, _ = c.addPlain(start, len(text), text[start] == '[')
	}
	return end
}

func shown(docs []Document) string {
	var b strings.Builder
	for _, d := range docs {
		for _, n := range parts(d.Root) {
			fmt.Fprintf(&b, "%v %v %q; ", n.Kind, n.Span, n.Text)
			for _, m := range n.Members {
				fmt.Fprintf(&b, "%q %v; ", m.Key, m.KeySpan)
			}
		}
	}
	return b.String()
}

var hardJSON = []string{
	``, ` `, `{}`, `[]`, `[{}, {}]`, `{"a":1}{"b":2}`, `1 2`, `01`, `12"a"`, `-`, `-0`, `1.`, `.5`, `1e3`, `1E-400`, `1e`, `[1x]`, `truex`, `[true false]`, `nul`, `{"a":1,"a":2}`, `{"a":{"a":1}}`,
	`{"a":1,}`, `[1,]`, `[,1]`, `{"a"}`, `{"a":}`, `{"a" 1}`, `{a:1}`, `{'a':1}`, `{"a":"b`, `{"a":"\u00e9"}`, `{"a":"\ud83d\ude00"}`, `{"a":"\ud800"}`, `{"\ud800":1}`, `{"a":"\x"}`, `{"a":"\ufffd�"}`, `"�"`,
	"\"a\x01b\"", "\"a\nb\"", "\"\xff\"", "\"\xc3\"", "{\"a\":\r\n1,\r\"é\":\n\"日本\" , \"c\":[ ]\t}", `"\"\\\/\b\f\n\r\t"`, `{"\u0061":1,"a":2}`, `]`, `}`, `[}`, `{]`, `// a`, `[1,2`, `{"a":1`, "\u00a0{}", `"\u0000"`, `"a"b`,
	`[[1,2],[{"é":"é"}],"é"]`, strings.Repeat("[", 70) + strings.Repeat("]", 70), strings.Repeat("[", 64) + strings.Repeat("]", 64), `[` + strings.Repeat("[", 64) + strings.Repeat("]", 64) + `]`,
	strings.Repeat("1", 100), strings.Repeat("1", 101), `[` + strings.Repeat("1", 101) + `]`, `{"x":` + strings.Repeat(`{"x":`, 63) + `1` + strings.Repeat(`}`, 64),
}

func TestPlain_Identity(t *testing.T) {
	for _, text := range hardJSON {
		sameAsTokens(t, text)
	}
	read := 0
	for seed := range uint64(400) {
		w := newWriter(seed)
		w.json("", 4)
		text := w.text.String()
		if sameAsTokens(t, text) == len(text) {
			read++
		}
		b := []byte(text)
		for range 20 {
			i := w.rand.IntN(len(b))
			switch w.rand.IntN(3) {
			case 0:
				b[i] = "\"\\{}[],:01e.-tn \n\r\xff"[w.rand.IntN(19)]
			case 1:
				b = append(b[:i], b[i+1:]...)
			default:
				b = append(b[:i:i], append([]byte{`"\{}[],: 1`[w.rand.IntN(10)]}, b[i:]...)...)
			}
			if len(b) == 0 {
				break
			}
			sameAsTokens(t, string(b))
		}
	}
	if read < 300 {
		t.Errorf("only %d of 400 were read by plain", read)
	}
}

// The limits of a document are those of the tokens, in one document, in a list and over several.
func TestPlain_Limits(t *testing.T) {
	many := strings.Repeat("0,", MaxNodes-2)
	half := strings.Repeat("0,", MaxNodes/2)
	long := `"` + strings.Repeat("a", MaxDocumentBytes-2) + `"`
	keys := func(n int) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, `"k%d":0,`, i)
		}
		return `{` + b.String() + `"k":0}`
	}
	for name, c := range map[string]struct {
		text string
		read bool
	}{
		"most values": {`{"a":[` + many[:len(many)-1] + `]}`, true}, "a value more": {`{"a":[` + many + `0]}`, false},
		"halves": {`[[` + half + `0],[` + half + `0],[` + half + `0]]`, true}, "long": {long, true}, "longer": {long[:1] + "a" + long[1:], false},
		"long items": {`[` + long + `,` + long + `]`, true}, "a longer item": {`[` + long[:1] + "a" + long[1:] + `]`, false},
		"many keys": {keys(mostKeys - 1), true}, "more keys": {keys(mostKeys + 1), false},
	} {
		t.Run(name, func(t *testing.T) {
			if end := sameAsTokens(t, c.text); (end == len(c.text)) != c.read {
				t.Errorf("plain came to %d of %d", end, len(c.text))
			}
		})
	}
}

func FuzzPlain(f *testing.F) {
	for _, s := range hardJSON {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) { sameAsTokens(t, text) })
}

// A door on one line of NDJSON, against what the standard library takes to read it without places.
func BenchmarkLine(b *testing.B) {
	docs, problems := Read("door.yaml", readFile(b, "testdata/door.yaml"))
	if len(problems) > 0 {
		b.Fatal(problems)
	}
	line, err := json.Marshal(docs[0].Root.Plain())
	if err != nil {
		b.Fatal(err)
	}
	b.Run("plain", func(b *testing.B) {
		for b.Loop() {
			r := &reader{src: newSource(line)}
			r.readJSON()
		}
	})
	b.Run("tokens", func(b *testing.B) {
		for b.Loop() {
			r := &reader{src: newSource(line)}
			r.readTokens(0)
		}
	})
	b.Run("standard library", func(b *testing.B) {
		for b.Loop() {
			var v any
			if err := json.Unmarshal(line, &v); err != nil {
				b.Fatal(err)
			}
		}
	})
}
