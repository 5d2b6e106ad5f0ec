package schema

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// The limits of what Read takes. They are far above any real schedule of doors and keep a hostile
// or mistaken file from costing more than a moment.
const (
	MaxFileBytes     = 64 << 20 // a whole file
	MaxDocumentBytes = 4 << 20  // one document, and in YAML one list of documents
	MaxNodes         = 200_000  // values in one document, and values that the aliases of one file add
	MaxDepth         = 64       // levels of lists and mappings
	maxProblems      = 100      // problems that one document is told
)

// builder collects the nodes and problems of one root value of a file. A root that is a list stands for
// several documents, so problems are kept by the first index of their path.
type builder struct {
	file     string
	src      *source
	path     []step
	list     bool // the root is a list
	problems []Problem
	counts   map[int]int // problems by document below this root
	nodes    int         // of the document being built
	aliased  *int        // values added by aliases in the whole file
	stop     bool        // a limit was passed: give up
}

func (b *builder) push(s step) { b.path = append(b.path, s) }
func (b *builder) pop()        { b.path = b.path[:len(b.path)-1] }

// current is the document below this root that the path is in, -1 when the root list itself is meant.
func (b *builder) current() int {
	switch {
	case !b.list:
		return 0
	case len(b.path) == 0:
		return -1
	}
	return b.path[0].index
}

// local is the path within the document.
func (b *builder) local() []step {
	if b.list && len(b.path) > 0 {
		return b.path[1:]
	}
	return b.path
}

// report notes a problem at the current path.
func (b *builder) report(span Span, found, allowed, do string) {
	doc := b.current()
	if b.counts == nil {
		b.counts = map[int]int{}
	}
	b.counts[doc]++
	switch n := b.counts[doc]; {
	case n > maxProblems+1:
		return
	case n > maxProblems:
		found, allowed, do = "more problems than are listed here", "", "Correct those above and run again."
	}
	local := b.local()
	b.problems = append(b.problems, Problem{File: b.file, Document: max(doc, 0), Pointer: pointerOf(local),
		Span: span, Field: fieldOf(local), Found: found, Allowed: allowed, Do: do})
}

// reportKey is report for a key of the object at the current path.
func (b *builder) reportKey(key string, span Span, found, allowed, do string) {
	b.push(step{key: key, isKey: true})
	b.report(span, found, allowed, do)
	b.pop()
}

// enter counts a value that starts at offset off; it is false when a limit is passed.
func (b *builder) enter(off, level int) bool {
	if b.list && len(b.path) == 1 {
		b.nodes = 0
	}
	b.nodes++
	if b.nodes > MaxNodes {
		b.limit(off, fmt.Sprintf("more than %d values in one document", MaxNodes), fmt.Sprintf("at most %d", MaxNodes),
			"Split the file: one door a document.")
		return false
	}
	if level > MaxDepth {
		b.limit(off, fmt.Sprintf("lists and mappings nested more than %d levels deep", MaxDepth), fmt.Sprintf("at most %d levels", MaxDepth),
			"Look for brackets that are never closed.")
		return false
	}
	return true
}

// size checks that a document is not too large; it is false when it is.
func (b *builder) size(start, end int) bool {
	if end-start <= MaxDocumentBytes {
		return true
	}
	b.limit(start, "a document of more than "+bytesText(MaxDocumentBytes), "at most "+bytesText(MaxDocumentBytes), "Split it: one door a document.")
	return false
}

func (b *builder) limit(off int, found, allowed, do string) {
	if b.stop {
		return
	}
	b.stop = true
	full := b.path
	if len(full) > 3 { // a path of 64 levels helps nobody
		b.path = full[:3]
	}
	b.report(b.src.span(off, off), found, allowed, do)
	b.path = full
}

func bytesText(n int) string { return strconv.Itoa(n>>20) + " MB" }

// seen finds keys that are given twice in one object.
type seen map[string]Span

func (b *builder) key(s seen, key string, span Span) {
	first, twice := s[key]
	if !twice {
		s[key] = span
		return
	}
	b.reportKey(key, span, fmt.Sprintf("key %s twice, first on line %d and again on line %d", tick(key), first.Start.Line, span.Start.Line),
		"each key once", "Remove one of them.")
}

// tick shows a name in backquotes.
func tick(s string) string { return "`" + shorten(escape(s)) + "`" }

// jsonNumber is the number of RFC 8259 section 6.
var jsonNumber = regexp.MustCompile(`^-?(0|[1-9][0-9]*)(\.[0-9]+)?([eE][-+]?[0-9]+)?$`)

// maxLiteral is how many characters a number may have.
const maxLiteral = 100

// number checks the size of a number literal: one of a million digits, or 1e999999999, would cost seconds
// in exact arithmetic, and the validator fails on exponents above a million.
func (b *builder) number(literal string, start, end int) {
	tooLong := len(literal) > maxLiteral
	if i := strings.IndexAny(literal, "eE"); i >= 0 && !tooLong {
		exponent, err := strconv.Atoi(literal[i+1:])
		tooLong = err != nil || exponent > 300 || exponent < -300
	}
	if tooLong {
		b.report(b.src.span(start, end), "the number "+shorten(literal), "at most 100 characters, and an exponent between -300 and 300", "Write it in another unit.")
	}
}
