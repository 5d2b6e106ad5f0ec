// Package readings reads the flow readings of a seal or door sample from CSV: a header with units in brackets, such as
// `pressure (Pa), flow (L/s)`, a reading a line, and `# key: value` lines for what was tested and in which air. Whatever it does not know it
// refuses, with line and column.
package readings

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"sillwright/schema"
	"sillwright/schema/quantity"
)

// Limits of a file.
const (
	MaxBytes    = 4 << 20
	MaxReadings = 10_000
	maxProblems = 20
)

// Given is a value of a key that may be left out.
type Given struct {
	Value float64
	Known bool
}

// File is a flow test as it was written, in SI units: Pa, m3/s, m, C.
type File struct {
	Name          string
	Drops, Flows  []float64
	Blanks        []float64 // what the rig passes by itself, read beside each flow; nil: no such column
	Spans         []schema.Span
	PressureUnit  string
	FlowUnit      string
	Ignored       []string // columns that were left out
	Title         string
	Seal, Like    string
	Floor         string
	Direction     string // Pressurise, Depressurise or not said
	Method        string
	Blank         string // a file with the readings of the rig by itself, beside this one
	From          string
	Length        quantity.Length
	Overlap       quantity.Length
	HasOverlap    bool
	Temperature   Given
	Inside        Given
	Outside       Given
	Altitude      Given
	Barometric    Given
	Zero          [2]Given // drop without flow, before and after
	FlowError     Given    // part of the flow
	PressureError Given    // Pa
	PressurePart  Given    // part of the drop

	header schema.Span
	keys   map[string]schema.Span
}

// The directions of a test.
const (
	Pressurise   = "pressurise"
	Depressurise = "depressurise"
)

// Problem is one of the file: of a key where it is given, of a reading where its number is 0 or more, else of the header.
func (f *File) Problem(key string, reading int, found, allowed, do string) schema.Problem {
	span, field := f.header, ""
	switch at, ok := f.keys[key]; {
	case ok:
		span, field = at, key
	case reading >= 0 && reading < len(f.Spans):
		span, field = f.Spans[reading], fmt.Sprintf("reading %d", reading+1)
	}
	return schema.Problem{File: f.Name, Span: span, Field: field, Found: found, Allowed: allowed, Do: do}
}

// Read reads a file. It is nil where there is a problem.
func Read(name string, src []byte) (*File, []schema.Problem) {
	r := &reader{file: &File{Name: name, keys: map[string]schema.Span{}}}
	if p, bad := unfit(name, src); bad {
		return nil, []schema.Problem{p}
	}
	text := bytes.TrimPrefix(src, []byte("\xef\xbb\xbf"))
	text = bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))
	text = bytes.ReplaceAll(text, []byte("\r"), []byte("\n"))
	r.lines = strings.Split(string(text), "\n")
	r.comments()
	r.table()
	r.together()
	if len(r.problems) > 0 {
		slices.SortStableFunc(r.problems, schema.ComparePlaces)
		return nil, r.problems
	}
	return r.file, nil
}

// reader collects what is wrong with a file.
type reader struct {
	file     *File
	lines    []string
	problems []schema.Problem
	full     bool
}

// problem is one at a line and a byte of it, both from 0, and so many bytes long.
func (r *reader) problem(line, start, length int, field, found, allowed, do string) {
	if r.full {
		return
	}
	if len(r.problems) == maxProblems {
		r.full = true
		field, found, allowed, do = "", "more problems than are listed here", "", "Correct those above and run again."
	}
	r.problems = append(r.problems, schema.Problem{File: r.file.Name, Span: r.span(line, start, length), Field: field, Found: found, Allowed: allowed, Do: do})
}

func (r *reader) span(line, start, length int) schema.Span {
	text := ""
	if line < len(r.lines) {
		text = r.lines[line]
	}
	start = min(start, len(text))
	end := min(start+length, len(text))
	column := func(at int) int { return utf8.RuneCountInString(text[:at]) + 1 }
	return schema.Span{Start: schema.Position{Line: line + 1, Column: column(start)}, End: schema.Position{Line: line + 1, Column: column(end)}}
}

const wanted = "a CSV file of flow readings, in UTF-8"

// unfit finds what is no such text at all.
func unfit(name string, src []byte) (schema.Problem, bool) {
	whole := func(found, allowed, do string) (schema.Problem, bool) {
		start := schema.Position{Line: 1, Column: 1}
		return schema.Problem{File: name, Span: schema.Span{Start: start, End: start}, Found: found, Allowed: allowed, Do: do}, true
	}
	switch {
	case len(src) > MaxBytes:
		return whole(fmt.Sprintf("more than %d MB", MaxBytes>>20), fmt.Sprintf("at most %d MB", MaxBytes>>20), "Give the readings of one test.")
	case bytes.HasPrefix(src, []byte("PK\x03\x04")):
		return whole("an XLSX workbook or another ZIP archive", wanted, "Save the sheet as CSV in UTF-8.")
	case bytes.HasPrefix(src, []byte("\xd0\xcf\x11\xe0")):
		return whole("an old XLS file", wanted, "Save the sheet as CSV in UTF-8.")
	case bytes.HasPrefix(src, []byte("%PDF-")):
		return whole("a PDF file", wanted, "Write the readings into a CSV file.")
	case bytes.HasPrefix(src, []byte{0xff, 0xfe}), bytes.HasPrefix(src, []byte{0xfe, 0xff}):
		return whole("text in UTF-16", "UTF-8", "Save the file as CSV in UTF-8.")
	case len(bytes.TrimSpace(bytes.TrimPrefix(src, []byte("\xef\xbb\xbf")))) == 0:
		return whole("an empty file", wanted, "Begin with a header such as `pressure (Pa), flow (L/s)`.")
	}
	if at := firstOdd(src); at >= 0 {
		c, n := utf8.DecodeRune(src[at:])
		p, _ := whole(fmt.Sprintf("the character U+%04X at byte %d, which does not print", c, at), wanted, "Take it out, or save the file as CSV in UTF-8.")
		if c == utf8.RuneError && n == 1 {
			p.Found = fmt.Sprintf("the byte 0x%02x at byte %d, which is no text in UTF-8", src[at], at)
		}
		line := bytes.Count(src[:at], []byte("\n"))
		begin := bytes.LastIndexByte(src[:at], '\n') + 1
		p.Span.Start = schema.Position{Line: line + 1, Column: utf8.RuneCount(src[begin:at]) + 1}
		p.Span.End = p.Span.Start
		return p, true
	}
	return schema.Problem{}, false
}

// firstOdd is the first byte that is no UTF-8, or a character that does not print, other than tab and line breaks; -1: none.
func firstOdd(src []byte) int {
	at := 0
	if bytes.HasPrefix(src, []byte("\xef\xbb\xbf")) {
		at = 3
	}
	for at < len(src) {
		c, n := utf8.DecodeRune(src[at:])
		if c == utf8.RuneError && n == 1 || !schema.Prints(c) && c != '\t' && c != '\n' && c != '\r' {
			return at
		}
		at += n
	}
	return -1
}

// shown is a text of the file as a problem shows it.
func shown(s string) string {
	const most = 40
	if utf8.RuneCountInString(s) > most {
		s = string([]rune(s)[:most-1]) + "…"
	}
	return `"` + s + `"`
}
