package schema

import (
	"cmp"
	"strings"
)

// Field writes a JSON Pointer as a person would say it: threshold.segments[2].run. A part
// that is a plain number reads as an index.
func Field(pointer string) string {
	parts, ok := splitPointer(pointer)
	if !ok {
		return pointer
	}
	path := make([]step, len(parts))
	for i, part := range parts {
		n, isIndex := arrayIndex(part)
		path[i] = step{key: part, index: n, isKey: !isIndex}
	}
	return fieldOf(path)
}

// SpanOf is where a pointer stands in a document, or the nearest thing around it that is written.
func (n *Node) SpanOf(pointer string) Span {
	for {
		if at, ok := n.Lookup(pointer); ok {
			return at.Span
		}
		pointer = ParentPointer(pointer)
	}
}

// Problem reports what is wrong at a pointer of the document.
func (d Document) Problem(pointer, found, allowed, do string) Problem {
	return Problem{File: d.File, Document: d.Index, Mark: d.Root.mark(), Pointer: pointer, Span: d.Root.SpanOf(pointer), Field: Field(pointer), Found: found, Allowed: allowed, Do: do}
}

// ParentPointer is the pointer of what holds the value that pointer points to.
func ParentPointer(pointer string) string {
	i := strings.LastIndexByte(pointer, '/')
	if i < 0 {
		return ""
	}
	return pointer[:i]
}

// ComparePlaces orders problems as they stand in a file.
func ComparePlaces(a, b Problem) int {
	return cmp.Or(
		cmp.Compare(a.Span.Start.Line, b.Span.Start.Line),
		cmp.Compare(a.Span.Start.Column, b.Span.Start.Column),
		cmp.Compare(a.Pointer, b.Pointer),
	)
}

// Choices words what is allowed in place of a word: the nearest spelling first, then all.
func Choices(word string, names []string) string {
	if len(names) == 0 {
		return "none is there"
	}
	return "one of " + listed(names) + Nearest(word, names)
}

// Nearest is " (did you mean `x`?)" where a name is near enough to the word, else nothing.
func Nearest(word string, names []string) string {
	if near, ok := nearest(word, names); ok {
		return " (" + didYouMean + tick(near) + "?)"
	}
	return ""
}
