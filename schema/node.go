package schema

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
)

// Position is a place in a file. Both numbers start at 1; columns count characters, not bytes.
type Position struct{ Line, Column int }

// before reports whether p stands before q.
func (p Position) before(q Position) bool {
	return p.Line < q.Line || p.Line == q.Line && p.Column < q.Column
}

// Span is a stretch of a file. End is one past the last character.
type Span struct{ Start, End Position }

// Kind is what a node holds.
type Kind uint8

// The kinds of the JSON data model.
const (
	Object Kind = iota
	Array
	String
	Number
	Bool
	Null
)

// String names the kind in the words that problems use.
func (k Kind) String() string {
	switch k {
	case Object:
		return "a mapping"
	case Array:
		return "a list"
	case String:
		return "text"
	case Number:
		return "a number"
	case Bool:
		return "true or false"
	default:
		return "null"
	}
}

// Member is one key of an object with its value.
type Member struct {
	Key     string
	KeySpan Span
	Value   *Node
}

// Node is one value with its place. In YAML the span of an alias is the place of the alias, and the
// nodes inside it keep the place where they are written. An anchor or a tag is not part of the span.
type Node struct {
	Kind    Kind
	Span    Span
	Text    string   // the value of a string, the literal of a number as written, "true" or "false"
	Members []Member // of an object, as written
	Items   []*Node  // of an array
}

// Document is one value of a file that holds one or several. Index counts from 0 through the file.
type Document struct {
	File  string
	Index int
	Root  *Node
}

// Member returns the value of a key.
func (n *Node) Member(key string) (*Node, bool) {
	if n == nil || n.Kind != Object {
		return nil, false
	}
	for i := range n.Members {
		if n.Members[i].Key == key {
			return n.Members[i].Value, true
		}
	}
	return nil, false
}

// mark is the text of the top-level key mark, if a document has one.
func (n *Node) mark() string {
	m, ok := n.Member("mark")
	if !ok || m.Kind != String && m.Kind != Number {
		return ""
	}
	return m.Text
}

// Lookup returns the node at a JSON pointer (RFC 6901), "" being the node itself.
func (n *Node) Lookup(pointer string) (*Node, bool) {
	parts, ok := splitPointer(pointer)
	if !ok || n == nil {
		return nil, false
	}
	for _, part := range parts {
		next, ok := n.child(part)
		if !ok {
			return nil, false
		}
		n = next
	}
	return n, true
}

func (n *Node) child(part string) (*Node, bool) {
	if n.Kind != Array {
		return n.Member(part)
	}
	i, ok := arrayIndex(part)
	if !ok || i >= len(n.Items) {
		return nil, false
	}
	return n.Items[i], true
}

// arrayIndex reads an array index as RFC 6901 section 4 has it: digits without a leading zero.
func arrayIndex(part string) (int, bool) {
	if part == "" || len(part) > 1 && part[0] == '0' {
		return 0, false
	}
	for i := range len(part) {
		if part[i] < '0' || part[i] > '9' {
			return 0, false
		}
	}
	i, err := strconv.Atoi(part)
	return i, err == nil
}

// splitPointer undoes Pointer; it refuses what RFC 6901 section 3 does not allow.
func splitPointer(pointer string) ([]string, bool) {
	if pointer == "" {
		return nil, true
	}
	if pointer[0] != '/' {
		return nil, false
	}
	parts := strings.Split(pointer[1:], "/")
	for i, part := range parts {
		for j := 0; j < len(part); j++ {
			if part[j] == '~' && (j+1 == len(part) || part[j+1] != '0' && part[j+1] != '1') {
				return nil, false
			}
		}
		parts[i] = strings.ReplaceAll(strings.ReplaceAll(part, "~1", "/"), "~0", "~")
	}
	return parts, true
}

// Pointer joins keys and indexes into a JSON pointer with the escapes of RFC 6901.
func Pointer(parts ...any) string {
	var b strings.Builder
	for _, part := range parts {
		text, ok := part.(string)
		if !ok {
			text = fmt.Sprint(part)
		}
		b.WriteByte('/')
		b.WriteString(strings.ReplaceAll(strings.ReplaceAll(text, "~", "~0"), "/", "~1"))
	}
	return b.String()
}

// Plain gives the value in the types that the JSON Schema validator and the policies take:
// map[string]any, []any, string, json.Number, bool and nil.
func (n *Node) Plain() any {
	switch n.Kind {
	case Object:
		m := make(map[string]any, len(n.Members))
		for i := range n.Members {
			m[n.Members[i].Key] = n.Members[i].Value.Plain()
		}
		return m
	case Array:
		list := make([]any, len(n.Items))
		for i, item := range n.Items {
			list[i] = item.Plain()
		}
		return list
	case String:
		return n.Text
	case Number:
		return json.Number(n.Text)
	case Bool:
		return n.Text == "true"
	default:
		return nil
	}
}
