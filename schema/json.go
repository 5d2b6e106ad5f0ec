package schema

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// readJSON reads one or several JSON values, one after the other.
func (r *reader) readJSON() {
	limit := len(r.src.text)
	for at := r.src.pastSpace(0, limit); at < limit; {
		end, ok := r.addPlain(at, limit, r.src.text[at] == '[')
		if !ok {
			r.readTokens(at)
			return
		}
		at = r.src.pastSpace(end, limit)
	}
}

// readTokens reads on from the value at an offset.
func (r *reader) readTokens(start int) {
	j := newJSONReader(r, start, len(r.src.text))
	j.more = len(bytes.Trim(r.src.text[:start], " \t\r\n")) > 0
	for {
		j.skipSpace(j.end())
		if j.pos >= j.limit {
			return
		}
		if !r.addJSON(j) {
			return
		}
		j.more = true
	}
}

// readJSONLines reads one JSON value a line; a bad line costs only itself.
func (r *reader) readJSONLines() {
	first := true
	for i, start := range r.src.lines {
		end := len(r.src.text)
		if i+1 < len(r.src.lines) {
			end = r.src.lines[i+1]
		}
		line := r.src.text[start:end]
		if first && len(bytes.Trim(line, " \t\r\n")) > 0 {
			first = false
			after := newLines(bytes.NewReader(r.src.text[end:]))
			if p, bad, err := overLines(r.file, line, r.src.before+i+1, after); bad && err == nil {
				r.problems = append(r.problems, p)
				return
			}
		}
		r.readLine(start, end)
	}
}

// readLine reads the JSON value of one line of NDJSON. With more text after the value the line is no value, and
// nothing of it is taken: who reads on may not know which of the two was meant.
func (r *reader) readLine(start, end int) {
	line := bytes.TrimRight(r.src.text[start:end], " \t\r\n")
	if len(bytes.TrimLeft(line, " \t")) == 0 {
		return
	}
	before, limit := *r, start+len(line)
	end, ok := r.addPlain(r.src.pastSpace(start, limit), limit, r.src.text[start] == '[')
	if !ok {
		j := newJSONReader(r, start, limit)
		if !r.addJSON(j) {
			return
		}
		end = j.end()
	}
	if at := r.src.pastSpace(end, limit); at < limit {
		r.docs, r.problems, r.next = before.docs, before.problems, before.next
		b := r.builder()
		b.report(b.src.span(at, limit), "more text after the value: "+found(b.src.text[:limit], at), "one JSON value a line", "Put it on a line of its own.")
		r.add(b, nil)
	}
}

// addJSON reads the value at j.pos; it is false when the reader cannot go on after it.
func (r *reader) addJSON(j *jsonReader) bool {
	j.builder = r.builder()
	j.list = j.src.text[j.pos] == '['
	root, ok := j.root()
	r.add(j.builder, root)
	return ok
}

// jsonReader turns the tokens of the standard library into nodes. The library's own error offsets are not
// reliable, so the place and the wording of a syntax error are found from the text.
type jsonReader struct {
	*builder
	dec   *json.Decoder
	base  int  // offset of the decoder's first byte in the source
	limit int  // offset at which the decoder's input ends
	pos   int  // start of the token or of what stands in its place
	more  bool // a value came before
}

func newJSONReader(r *reader, start, end int) *jsonReader {
	dec := json.NewDecoder(bytes.NewReader(r.src.text[start:end]))
	dec.UseNumber()
	return &jsonReader{builder: r.builder(), dec: dec, base: start, limit: end, pos: start}
}

// end is the offset after the last token.
func (j *jsonReader) end() int { return j.base + int(j.dec.InputOffset()) }

func (j *jsonReader) skipSpace(off int) { j.pos = j.src.pastSpace(off, j.limit) }

// pastSpace is the offset of the first character that is no blank of JSON, no further than a limit.
func (s *source) pastSpace(off, limit int) int {
	for off < limit && strings.IndexByte(" \t\r\n", s.text[off]) >= 0 {
		off++
	}
	return off
}

// expect is what the grammar allows at a place.
type expect uint8

const (
	firstValue expect = iota // of a document
	firstItem                // or ]
	nextItem                 // after a comma, or ]
	firstKey                 // or }
	nextKey                  // after a comma, or }
	memberValue
)

// token reads the next token and leaves j.pos at its start.
func (j *jsonReader) token(e expect) (json.Token, bool) {
	j.skipSpace(j.end())
	separator := byte(0)
	switch e {
	case nextItem, nextKey:
		separator = ','
	case memberValue:
		separator = ':'
	}
	missing := false
	if separator != 0 && j.pos < j.limit {
		if j.src.text[j.pos] == separator {
			j.skipSpace(j.pos + 1)
		} else {
			missing = true
		}
	}
	t, err := j.dec.Token()
	if err == nil {
		return t, true
	}
	if err != io.EOF && err != io.ErrUnexpectedEOF {
		if _, syntax := err.(*json.SyntaxError); !syntax {
			j.report(j.src.span(j.pos, j.pos), "JSON that cannot be read: "+escape(err.Error()), "JSON", "")
			return nil, false
		}
	}
	j.syntax(e, missing)
	return nil, false
}

// root reads a whole document or list of documents. Of a broken list the items before the break are given.
func (j *jsonReader) root() (*Node, bool) {
	t, ok := j.token(firstValue)
	if !ok {
		return &Node{Kind: Array}, false
	}
	n, ok := j.value(t, 1)
	if n == nil {
		n = &Node{Kind: Array}
	}
	return n, ok
}

// value builds the node of a token that has just been read.
func (j *jsonReader) value(t json.Token, level int) (*Node, bool) {
	start := j.pos
	if !j.enter(start, level) {
		return nil, false
	}
	n := &Node{}
	ok := true
	switch t := t.(type) {
	case json.Delim:
		if t == '{' {
			n.Kind = Object
			ok = j.object(n, level)
		} else {
			n.Kind = Array
			ok = j.array(n, level)
		}
	case string:
		n.Kind, n.Text = String, t
		j.surrogates(t, start, j.end())
	case json.Number:
		n.Kind, n.Text = Number, t.String()
		j.number(n.Text, start, j.end())
	case bool:
		n.Kind, n.Text = Bool, fmt.Sprint(t)
	default:
		n.Kind = Null
	}
	end := j.end()
	n.Span = j.src.span(start, end)
	if ok && (level == 1 && !j.list || level == 2 && j.list) {
		ok = j.size(start, end)
	}
	return n, ok
}

func (j *jsonReader) object(n *Node, level int) bool {
	keys := seen{}
	for e := firstKey; ; e = nextKey {
		t, ok := j.token(e)
		if !ok {
			return false
		}
		if t == json.Delim('}') {
			return true
		}
		key := t.(string) // the library gives nothing else in this place
		span := j.src.span(j.pos, j.end())
		j.surrogates(key, j.pos, j.end())
		j.builder.key(keys, key, span)
		j.push(step{key: key, isKey: true})
		if t, ok = j.token(memberValue); !ok {
			j.pop()
			return false
		}
		v, ok := j.value(t, level+1)
		j.pop()
		if !ok {
			return false
		}
		n.Members = append(n.Members, Member{Key: key, KeySpan: span, Value: v})
	}
}

func (j *jsonReader) array(n *Node, level int) bool {
	for e := firstItem; ; e = nextItem {
		j.push(step{index: len(n.Items)})
		t, ok := j.token(e)
		if !ok {
			j.pop()
			return false
		}
		if t == json.Delim(']') {
			j.pop()
			return true
		}
		v, ok := j.value(t, level+1)
		j.pop()
		if !ok {
			return false
		}
		n.Items = append(n.Items, v)
	}
}

// surrogates refuses half of a UTF-16 pair (\ud800), which the library would replace without a word.
func (j *jsonReader) surrogates(value string, start, end int) {
	if !strings.ContainsRune(value, utf8.RuneError) {
		return
	}
	raw := string(j.src.text[start:end])
	written := strings.Count(raw, "\ufffd") + strings.Count(strings.ToLower(raw), `\ufffd`)
	if strings.Count(value, "\ufffd") > written {
		j.report(j.src.span(start, end), "half of a UTF-16 pair in "+shorten(escape(raw)), "whole characters", "Write the character itself.")
	}
}
