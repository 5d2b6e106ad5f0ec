package schema

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// longest is how many characters of a value a problem shows.
const longest = 60

// Problem is one thing that is wrong with a file, in the parts that a person needs to put it right.
type Problem struct {
	File     string
	Document int    // the document of the file, from 0
	Mark     string // the text of the top-level key mark of that document; empty if there is none, or none that was read
	Pointer  string // JSON pointer into the document
	Span     Span
	Field    string // the same place as a person would say it, as threshold.segments[2].run; empty for the whole file
	Found    string
	Allowed  string
	Do       string
}

// Error gives the problem on one line: place, field, what was found, what is allowed, what to do. Nothing in it
// breaks the line or fails to print, whatever its parts hold.
func (p Problem) Error() string {
	var b strings.Builder
	b.WriteString(p.File + ":")
	if p.Span.Start.Line > 0 { // a file that could not be opened has no lines
		fmt.Fprintf(&b, "%d:%d:", p.Span.Start.Line, p.Span.Start.Column)
	}
	b.WriteString(" ")
	if p.Field != "" {
		b.WriteString(p.Field + ": ")
	}
	if p.Found != "" {
		b.WriteString("found " + p.Found)
	}
	if p.Allowed != "" {
		b.WriteString("; allowed: " + p.Allowed)
	}
	if p.Do != "" {
		first, _ := utf8.DecodeRuneInString(p.Do)
		if unicode.IsUpper(first) {
			b.WriteString(". ")
		} else {
			b.WriteString("; ")
		}
		b.WriteString(p.Do)
	}
	return Printable(b.String())
}

// sortProblems puts problems in the order of the file and drops what is said twice.
func sortProblems(list []Problem) []Problem {
	slices.SortStableFunc(list, func(a, b Problem) int {
		return cmp.Or(
			cmp.Compare(a.Span.Start.Line, b.Span.Start.Line),
			cmp.Compare(a.Span.Start.Column, b.Span.Start.Column),
			cmp.Compare(a.Document, b.Document),
			cmp.Compare(a.Pointer, b.Pointer),
			cmp.Compare(a.Field, b.Field),
			cmp.Compare(a.Found, b.Found),
			cmp.Compare(a.Allowed, b.Allowed),
			cmp.Compare(a.Do, b.Do),
			cmp.Compare(a.Span.End.Line, b.Span.End.Line),
			cmp.Compare(a.Span.End.Column, b.Span.End.Column),
		)
	})
	return slices.Compact(list)
}

// step is one part of the way from the root to a node: a key, or an index when key is not set.
type step struct {
	key   string
	index int
	isKey bool
}

func pointerOf(path []step) string {
	parts := make([]any, len(path))
	for i, s := range path {
		parts[i] = any(s.index)
		if s.isKey {
			parts[i] = s.key
		}
	}
	return Pointer(parts...)
}

func fieldOf(path []step) string {
	var b strings.Builder
	for _, s := range path {
		switch {
		case !s.isKey:
			b.WriteString("[" + strconv.Itoa(s.index) + "]")
		case plainKey(s.key):
			if b.Len() > 0 {
				b.WriteByte('.')
			}
			b.WriteString(s.key)
		default:
			b.WriteString("[" + quote(s.key) + "]")
		}
	}
	return b.String()
}

func plainKey(key string) bool {
	if key == "" || utf8.RuneCountInString(key) > longest {
		return false
	}
	for _, r := range key {
		if r != '_' && r != '-' && r != '$' && !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			return false
		}
	}
	return true
}

// quote shows a string in double quotes, shortened, with everything that would not print escaped.
func quote(s string) string { return `"` + shorten(strings.ReplaceAll(escape(s), `"`, `\"`)) + `"` }

// shorten cuts a text for a message.
func shorten(s string) string {
	if utf8.RuneCountInString(s) <= longest {
		return s
	}
	cut := 0
	for i := range s {
		if cut == longest-1 {
			return s[:i] + "…"
		}
		cut++
	}
	return s
}

// Prints says whether a character shows when it is printed. Those that break lines, change the direction or show
// nothing do not: two names that look the same are the same.
func Prints(r rune) bool {
	return unicode.IsPrint(r) && !unicode.In(r, unicode.Other_Default_Ignorable_Code_Point, unicode.Variation_Selector)
}

// Printable is a text with everything that would not print escaped, on one line. ##[ is escaped too, which some that run a log take
// for the beginning of a command, wherever it stands in a line.
func Printable(text string) string { return escapeUpTo(text, math.MaxInt) }

// escape is Printable for what the caller shortens.
func escape(s string) string { return escapeUpTo(s, 8*longest) }

// escapeUpTo makes control characters and the like visible, so that a file cannot write to the terminal. It stops
// when it has written so many bytes.
func escapeUpTo(s string, most int) string {
	clean := !strings.Contains(s, "##[")
	for _, r := range s {
		if !Prints(r) || r == utf8.RuneError {
			clean = false
			break
		}
	}
	if clean {
		return s
	}
	var b strings.Builder
	for i, r := range s {
		if b.Len() > most {
			break
		}
		_, width := utf8.DecodeRuneInString(s[i:])
		switch {
		case r == utf8.RuneError && width == 1:
			fmt.Fprintf(&b, `\x%02x`, s[i])
		case r == '[' && strings.HasSuffix(s[:i], "##"):
			b.WriteString(`\[`)
		case Prints(r):
			b.WriteRune(r)
		default:
			q := strconv.QuoteRuneToASCII(r)
			b.WriteString(q[1 : len(q)-1])
		}
	}
	return b.String()
}

// show gives a value as a problem shows it: text in quotes, other scalars as written, the rest in flow style.
func (n *Node) show() string {
	switch n.Kind {
	case String:
		return quote(n.Text)
	case Number, Bool:
		return shorten(n.Text)
	case Null:
		return "null"
	}
	var b strings.Builder
	n.flow(&b)
	return shorten(escape(b.String()))
}

func (n *Node) flow(b *strings.Builder) {
	if b.Len() > 8*longest {
		return
	}
	switch n.Kind {
	case Object:
		b.WriteByte('{')
		for i, m := range n.Members {
			if i > 0 {
				b.WriteString(", ")
			}
			if b.Len() > 8*longest {
				break
			}
			b.WriteString(m.Key + ": ")
			m.Value.flow(b)
		}
		b.WriteByte('}')
	case Array:
		b.WriteByte('[')
		for i, item := range n.Items {
			if i > 0 {
				b.WriteString(", ")
			}
			if b.Len() > 8*longest {
				break
			}
			item.flow(b)
		}
		b.WriteByte(']')
	case Null:
		b.WriteString("null")
	default:
		b.WriteString(n.Text)
	}
}
