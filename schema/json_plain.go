package schema

import (
	"encoding/json"
	"sort"
	"strings"
	"sync"
	"unicode/utf8"
)

// plain reads JSON in which nothing is wrong. At anything else it gives up, and jsonReader reads the same value and says
// what is wrong with it. What plain reads, jsonReader reads too, to the same nodes.
type plain struct {
	src   *source
	text  []byte // of the source, up to where the input ends
	pos   int
	list  bool // the root is a list
	nodes int  // of the document that is being read
	place mark
	room  *room

	spareNodes   []Node
	spareMembers []Member
	spareItems   []*Node
}

// room is what is used again for the next value.
type room struct {
	members []Member
	items   []*Node
	names   []name // keys, each kept once
	byText  map[string]int
	last    int // the name before
}

// name is a key, with the one that came after it last: mappings of one kind have their keys in one order.
type name struct {
	text string
	next int
}

var rooms = sync.Pool{New: func() any { return &room{names: make([]name, 1), byText: map[string]int{}} }}

const (
	maxNames = 1024 // kept in a room
	maxName  = 32   // bytes
)

// addPlain reads the value at an offset and takes it over; it gives where the value ends, or false where it gives up.
func (r *reader) addPlain(start, limit int, list bool) (end int, ok bool) {
	own := rooms.Get().(*room)
	defer rooms.Put(own)
	line := sort.SearchInts(r.src.lines, start+1) - 1
	p := &plain{src: r.src, text: r.src.text[:limit], pos: start, list: list, place: mark{line: line, off: r.src.lines[line]}, room: own}
	root := p.value(1)
	if root == nil {
		own.members, own.items = own.members[:0], own.items[:0]
		return 0, false
	}
	b := r.builder()
	b.list = p.list
	r.add(b, root)
	return p.pos, true
}

// mark is an offset with the line that it is in and the characters of the line before it.
type mark struct{ line, off, count int }

// position is that of an offset no nearer than that of the call before.
func (p *plain) position(off int) Position {
	m := &p.place
	for m.line+1 < len(p.src.lines) && p.src.lines[m.line+1] <= off {
		m.line++
		m.off, m.count = p.src.lines[m.line], 0
	}
	if p.src.runes == nil {
		m.count += off - m.off
	} else {
		for _, c := range p.text[m.off:off] {
			if utf8.RuneStart(c) {
				m.count++
			}
		}
	}
	m.off = off
	return Position{Line: p.src.before + m.line + 1, Column: m.count + 1}
}

// space passes over blanks and gives what stands after them, 0 at the end.
func (p *plain) space() byte {
	for p.pos < len(p.text) {
		switch c := p.text[p.pos]; c {
		case ' ', '\t', '\r', '\n':
			p.pos++
		default:
			return c
		}
	}
	return 0
}

// value reads a value, which p.pos is at the start of; nil: it gives up.
func (p *plain) value(level int) *Node {
	if p.list && level == 2 {
		p.nodes = 0
	}
	if p.nodes++; p.nodes > MaxNodes || level > MaxDepth || p.pos >= len(p.text) {
		return nil
	}
	n := p.node()
	start := p.pos
	n.Span.Start = p.position(start)
	ok := false
	switch c := p.text[start]; c {
	case '{':
		n.Kind = Object
		n.Members, ok = p.object(level)
	case '[':
		n.Kind = Array
		n.Items, ok = p.array(level)
	case '"':
		n.Kind = String
		n.Text, ok = p.string(false)
	case 't':
		n.Kind, n.Text = Bool, "true"
		ok = p.word("true")
	case 'f':
		n.Kind, n.Text = Bool, "false"
		ok = p.word("false")
	case 'n':
		n.Kind = Null
		ok = p.word("null")
	default:
		n.Kind = Number
		n.Text, ok = p.number()
	}
	if !ok || level <= 2 && p.pos-start > MaxDocumentBytes && (level == 2) == p.list {
		return nil
	}
	n.Span.End = p.position(p.pos)
	return n
}

func (p *plain) word(w string) bool {
	if len(p.text)-p.pos < len(w) || string(p.text[p.pos:p.pos+len(w)]) != w {
		return false
	}
	p.pos += len(w)
	return true
}

// object reads the members of a mapping.
func (p *plain) object(level int) ([]Member, bool) {
	p.pos++
	if p.space() == '}' {
		p.pos++
		return nil, true
	}
	first := len(p.room.members)
	for {
		if p.space() != '"' {
			return nil, false
		}
		var m Member
		var ok bool
		m.KeySpan.Start = p.position(p.pos)
		if m.Key, ok = p.string(true); !ok || p.twice(m.Key, first) {
			return nil, false
		}
		m.KeySpan.End = p.position(p.pos)
		if p.space() != ':' {
			return nil, false
		}
		p.pos++
		p.space()
		if m.Value = p.value(level + 1); m.Value == nil {
			return nil, false
		}
		p.room.members = append(p.room.members, m)
		c := p.space()
		p.pos++
		if c == '}' {
			break
		}
		if c != ',' {
			return nil, false
		}
	}
	out := p.members(p.room.members[first:])
	p.room.members = p.room.members[:first]
	return out, true
}

// mostKeys is how many keys of a mapping are compared one by one.
const mostKeys = 64

// twice says whether a key is among those that were read of a mapping; of a mapping with many it says so in any case.
func (p *plain) twice(key string, first int) bool {
	before := p.room.members[first:]
	if len(before) >= mostKeys {
		return true
	}
	for i := range before {
		if before[i].Key == key {
			return true
		}
	}
	return false
}

// array reads the items of a list.
func (p *plain) array(level int) ([]*Node, bool) {
	p.pos++
	if p.space() == ']' {
		p.pos++
		return nil, true
	}
	first := len(p.room.items)
	for {
		p.space()
		n := p.value(level + 1)
		if n == nil {
			return nil, false
		}
		p.room.items = append(p.room.items, n)
		c := p.space()
		p.pos++
		if c == ']' {
			break
		}
		if c != ',' {
			return nil, false
		}
	}
	out := p.items(p.room.items[first:])
	p.room.items = p.room.items[:first]
	return out, true
}

// string reads a text in double quotes.
func (p *plain) string(key bool) (string, bool) {
	start := p.pos
	escaped, high := false, false
	for i := start + 1; i < len(p.text); i++ {
		switch c := p.text[i]; {
		case c == '"':
			p.pos = i + 1
			raw := p.text[start+1 : i]
			switch {
			case escaped:
				return unescaped(p.text[start:p.pos])
			case high && !utf8.Valid(raw):
				return "", false
			case key:
				return p.room.name(raw), true
			}
			return string(raw), true
		case c == '\\':
			escaped = true
			i++
		case c < ' ':
			return "", false
		case c >= utf8.RuneSelf:
			high = true
		}
	}
	return "", false
}

// unescaped reads a text that has escapes. It gives up where something may have been replaced.
func unescaped(raw []byte) (string, bool) {
	var out string
	if json.Unmarshal(raw, &out) != nil || strings.ContainsRune(out, utf8.RuneError) {
		return "", false
	}
	return out, true
}

// name is a key; the same keys come again and again.
func (r *room) name(raw []byte) string {
	if i := r.names[r.last].next; i > 0 && r.names[i].text == string(raw) {
		r.last = i
		return r.names[i].text
	}
	i, ok := r.byText[string(raw)]
	if !ok {
		s := string(raw)
		if len(r.names) > maxNames || len(s) > maxName {
			return s
		}
		i = len(r.names)
		r.names = append(r.names, name{text: s})
		r.byText[s] = i
	}
	r.names[r.last].next = i
	r.last = i
	return r.names[i].text
}

// number reads a number of RFC 8259 section 6 that is none too long.
func (p *plain) number() (string, bool) {
	start := p.pos
	if p.text[p.pos] == '-' {
		p.pos++
	}
	whole := p.digits()
	if whole == 0 || whole > 1 && p.text[p.pos-whole] == '0' {
		return "", false
	}
	if p.at('.') {
		p.pos++
		if p.digits() == 0 {
			return "", false
		}
	}
	if p.at('e') || p.at('E') || p.pos-start > maxLiteral {
		return "", false // an exponent is rare, and has limits of its own
	}
	return string(p.text[start:p.pos]), true
}

func (p *plain) at(c byte) bool { return p.pos < len(p.text) && p.text[p.pos] == c }

func (p *plain) digits() int {
	start := p.pos
	for p.pos < len(p.text) && p.text[p.pos] >= '0' && p.text[p.pos] <= '9' {
		p.pos++
	}
	return p.pos - start
}

// Nodes, members and items are cut from pieces of up to 4 kB, of a size that suits what is left of the text.

func (p *plain) node() *Node {
	if len(p.spareNodes) == 0 {
		p.spareNodes = make([]Node, min(39, 1+(len(p.text)-p.pos)/14))
	}
	n := &p.spareNodes[0]
	p.spareNodes = p.spareNodes[1:]
	return n
}

func (p *plain) members(list []Member) []Member {
	n := len(list)
	if n > len(p.spareMembers) {
		p.spareMembers = make([]Member, max(n, min(73, (len(p.text)-p.pos)/16)))
	}
	copy(p.spareMembers, list)
	out := p.spareMembers[:n:n]
	p.spareMembers = p.spareMembers[n:]
	return out
}

func (p *plain) items(list []*Node) []*Node {
	n := len(list)
	if n > len(p.spareItems) {
		p.spareItems = make([]*Node, max(n, min(64, (len(p.text)-p.pos)/64)))
	}
	copy(p.spareItems, list)
	out := p.spareItems[:n:n]
	p.spareItems = p.spareItems[n:]
	return out
}
