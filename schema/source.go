package schema

import (
	"bytes"
	"encoding/binary"
	"sort"
	"unicode/utf8"
)

// checkpoint is how many bytes lie between two counted places, so that a column in a very long
// line costs no more than one stretch of this length.
const checkpoint = 256

// source is the text of a file, without its byte order mark, and the tables that turn byte
// offsets into positions and back.
type source struct {
	text      []byte
	before    int   // lines of the file before the text, where only a stretch of it is held
	lines     []int // the offset at which each line starts; breaks are LF, CR LF and CR
	yamlLines []int // the same with the further breaks of YAML 1.1: NEL, LS and PS
	runes     []int // runes[i] is how many characters stand before offset i*checkpoint; nil when all is ASCII
}

func newSource(text []byte) *source {
	s := &source{text: text}
	s.lines = lineStarts(text, false)
	s.yamlLines = s.lines
	if isASCII(text) {
		return s
	}
	count := 0
	for i, c := range text {
		if i%checkpoint == 0 {
			s.runes = append(s.runes, count)
		}
		if utf8.RuneStart(c) {
			count++
		}
	}
	s.runes = append(s.runes, count)
	if bytes.ContainsAny(text, "\u0085\u2028\u2029") {
		s.yamlLines = lineStarts(text, true)
	}
	return s
}

func isASCII(text []byte) bool {
	for ; len(text) >= 8; text = text[8:] {
		if binary.NativeEndian.Uint64(text)&0x8080808080808080 != 0 {
			return false
		}
	}
	for _, c := range text {
		if c >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

func lineStarts(text []byte, wide bool) []int {
	starts := []int{0}
	if !wide && bytes.IndexByte(text, '\r') < 0 {
		for i := bytes.IndexByte(text, '\n'); i >= 0; {
			start := starts[len(starts)-1] + i + 1
			starts = append(starts, start)
			i = bytes.IndexByte(text[start:], '\n')
		}
		return starts
	}
	for i := 0; i < len(text); {
		n := breakLength(text, i, wide)
		if n == 0 {
			i++
			continue
		}
		i += n
		starts = append(starts, i)
	}
	return starts
}

// breakLength is the length of the line break at offset i, 0 when there is none.
func breakLength(text []byte, i int, wide bool) int {
	switch rest := text[i:]; {
	case len(rest) == 0:
		return 0
	case rest[0] == '\n':
		return 1
	case rest[0] == '\r':
		if len(rest) > 1 && rest[1] == '\n' {
			return 2
		}
		return 1
	case !wide || rest[0] < utf8.RuneSelf:
		return 0
	case bytes.HasPrefix(rest, []byte("\u0085")):
		return 2
	case bytes.HasPrefix(rest, []byte("\u2028")), bytes.HasPrefix(rest, []byte("\u2029")):
		return 3
	}
	return 0
}

// runesBefore counts the characters before an offset.
func (s *source) runesBefore(off int) int {
	if s.runes == nil {
		return off
	}
	k := off / checkpoint
	n := s.runes[k]
	for _, c := range s.text[k*checkpoint : off] {
		if utf8.RuneStart(c) {
			n++
		}
	}
	return n
}

// offsetOf is the offset at which the character number n (from 0) starts.
func (s *source) offsetOf(n int) int {
	if s.runes == nil {
		return min(n, len(s.text))
	}
	k := max(sort.SearchInts(s.runes, n)-1, 0)
	count := s.runes[k]
	off := k * checkpoint
	for off < len(s.text) {
		if utf8.RuneStart(s.text[off]) {
			if count == n {
				return off
			}
			count++
		}
		off++
	}
	return len(s.text)
}

func (s *source) position(off int) Position {
	off = min(max(off, 0), len(s.text))
	line := sort.SearchInts(s.lines, off+1) - 1
	return Position{Line: s.before + line + 1, Column: s.runesBefore(off) - s.runesBefore(s.lines[line]) + 1}
}

func (s *source) span(start, end int) Span {
	return Span{Start: s.position(start), End: s.position(max(start, end))}
}

// yamlOffset turns a line and a column of the YAML library, both from 0, into an offset.
func (s *source) yamlOffset(line, column int) int {
	if line < 0 {
		return 0
	}
	if line >= len(s.yamlLines) {
		return len(s.text)
	}
	start := s.yamlLines[line]
	if s.runes == nil {
		return min(start+column, len(s.text))
	}
	return s.offsetOf(s.runesBefore(start) + column)
}
