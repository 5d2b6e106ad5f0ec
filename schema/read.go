package schema

import (
	"bytes"
	"path/filepath"
	"strings"
)

// reader holds what has been read of one file.
type reader struct {
	file     string
	src      *source
	next     int // index of the next document
	docs     []Document
	problems []Problem
	aliased  int
}

// Read decodes a file of JSON, NDJSON or YAML. The format follows the extension of the name (.json, .ndjson,
// .jsonl, .yaml, .yml), else the first lines: { and [ mean JSON, and doors that each have a line NDJSON. A list at the top of a document
// stands for several documents. Documents with problems are left out; the problems are in the order of the file.
func Read(file string, data []byte) ([]Document, []Problem) {
	if p, bad := unfit(file, data); bad {
		return nil, []Problem{p}
	}
	r := &reader{file: file, src: newSource(bytes.TrimPrefix(data, utf8BOM))}
	switch formatOf(file, r.src.text) {
	case formatJSON:
		r.readJSON()
	case formatLines:
		r.readJSONLines()
	default:
		r.readYAML()
	}
	if len(r.docs) == 0 && len(r.problems) == 0 {
		found := "a file with no document in it"
		if bytes.IndexByte(data, '#') >= 0 {
			found = "nothing but comments"
		}
		return nil, []Problem{whole(file, found, "at least one document in JSON or YAML", "Start with a line such as `format: sillwright/door/1`.")}
	}
	return r.docs, sortProblems(r.problems)
}

// builder starts the next root value.
func (r *reader) builder() *builder {
	return &builder{file: r.file, src: r.src, aliased: &r.aliased}
}

// add takes over a root value and its problems. An unfinished list keeps the documents before the break.
func (r *reader) add(b *builder, root *Node) {
	for _, p := range b.problems {
		switch {
		case !b.list:
			p.Mark = root.mark()
		case root != nil && p.Pointer != "" && p.Document < len(root.Items): // without a pointer it may be of the list
			p.Mark = root.Items[p.Document].mark()
		}
		p.Document += r.next
		r.problems = append(r.problems, p)
	}
	if !b.list {
		if root != nil && b.counts[0] == 0 {
			r.docs = append(r.docs, Document{File: r.file, Index: r.next, Root: root})
		}
		r.next++
		return
	}
	for i, item := range root.Items {
		if b.counts[i] == 0 && b.counts[-1] == 0 {
			r.docs = append(r.docs, Document{File: r.file, Index: r.next + i, Root: item})
		}
	}
	r.next += len(root.Items)
	if b.counts[len(root.Items)] > 0 {
		r.next++ // the item that broke off
	}
	if len(root.Items) == 0 && len(b.problems) == 0 {
		r.problems = append(r.problems, Problem{File: r.file, Document: r.next, Span: root.Span,
			Found: "an empty list", Allowed: "at least one document", Do: "Put a document in it."})
	}
}

type format uint8

const (
	formatYAML format = iota
	formatJSON
	formatLines
)

// formatByName is what the extension of a name says, if it says anything.
func formatByName(file string) (f format, known bool) {
	switch strings.ToLower(filepath.Ext(file)) {
	case ".json":
		return formatJSON, true
	case ".ndjson", ".jsonl":
		return formatLines, true
	case ".yaml", ".yml":
		return formatYAML, true
	}
	return 0, false
}

func formatOf(file string, text []byte) format {
	if f, known := formatByName(file); known {
		return f
	}
	trimmed := bytes.TrimLeft(text, " \t\r\n")
	if len(trimmed) == 0 {
		return formatYAML
	}
	// Two lines that each hold a whole object are NDJSON: one bad line then costs only itself.
	first, rest, _ := bytes.Cut(trimmed, []byte("\n"))
	second, _, _ := bytes.Cut(bytes.TrimLeft(rest, " \t\r\n"), []byte("\n"))
	if wholeObject(first) {
		if wholeObject(second) {
			return formatLines
		}
		return formatJSON
	}
	if found, err := findsLines(file, newLines(bytes.NewReader(text))); found && err == nil {
		return formatLines
	}
	if trimmed[0] == '{' || trimmed[0] == '[' {
		return formatJSON
	}
	return formatYAML
}

// wholeObject says whether a line is meant to be one whole JSON object: the bracket that opens it is closed at
// its end. Other faults inside it, a text that is never closed too, do not make it less of a line.
func wholeObject(line []byte) bool {
	line = bytes.Trim(line, " \t\r\n")
	if len(line) < 2 || line[0] != '{' || line[len(line)-1] != '}' {
		return false
	}
	level, inText := 0, false
	for i := 0; i < len(line); i++ {
		switch c := line[i]; {
		case inText && c == '\\':
			i++
		case c == '"':
			inText = !inText
		case inText: // a bracket in a text is no bracket
		case c == '{' || c == '[':
			level++
		case c == '}' || c == ']':
			if level--; level == 0 && i < len(line)-1 {
				return false
			}
		}
	}
	return level == 0 || inText
}

// whole is a problem of the file as such.
func whole(file, found, allowed, do string) Problem {
	start := Position{Line: 1, Column: 1}
	return Problem{File: file, Span: Span{Start: start, End: start}, Found: found, Allowed: allowed, Do: do}
}

// at is a problem of the file as such that has a place.
func at(file string, src *source, off int, found, allowed, do string) Problem {
	p := whole(file, found, allowed, do)
	p.Span = src.span(off, off)
	return p
}

const notASpec = "A model or a schedule is no door spec: write one spec for each door."
