package schema

import (
	"bytes"
	"regexp"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"
)

// searchBytes is the size up to which the place of a YAML error is searched for by parsing again.
const searchBytes = 64 << 10

var yamlErrorLine = regexp.MustCompile(`^yaml: (?:line (\d+): )?`)

// yamlError reports a syntax error of a chunk. The line in the library's message is often that of the collection
// around the error, or one too low, so the place is found as the shortest start of the text that gives the same
// message; in a long text the library's line has to do.
func (b *builder) yamlError(c chunk, err error) {
	text := withoutVersion(b.src.text[c.start:c.end])
	message := err.Error()
	head := yamlErrorLine.FindStringSubmatch(message)
	detail := strings.TrimPrefix(message, head[0])
	off := c.start
	if len(text) <= searchBytes {
		off += breakingPoint(text, message)
	} else if head[1] != "" {
		line, _ := strconv.Atoi(head[1])
		line += c.line - 1
		if !strings.HasPrefix(detail, "did not find expected") {
			line-- // the scanner counts on by one, the parser does not
		}
		off = max(c.start, min(b.src.yamlOffset(line, 0), c.end))
	}
	if tab, ok := b.tabIndent(c, off); ok {
		b.report(b.src.span(tab, tab), "a tab in the indentation", "spaces", "Replace the tab with spaces: YAML does not allow tabs there.")
		return
	}
	if strings.HasPrefix(detail, "did not find expected") && off < c.end && b.src.text[off] == ':' {
		for off > c.start && strings.IndexByte(" \t\r\n", b.src.text[off-1]) < 0 {
			off-- // to the start of the key
		}
	}
	found, allowed, do := yamlWords(detail, text, off-c.start)
	if name, ok := strings.CutPrefix(detail, "unknown anchor '"); ok {
		name, _, _ = strings.Cut(name, "' referenced")
		if i := bytes.LastIndex(text[:min(off-c.start+1, len(text))], []byte("*"+name)); i >= 0 && len(text) <= searchBytes {
			off = c.start + i
		}
	}
	b.report(b.src.span(off, off), found, allowed, do)
}

// breakingPoint is the offset of the last character of the shortest start of text that fails with a message.
func breakingPoint(text []byte, message string) int {
	fails := func(n int) bool {
		_, err := parseYAML(text[:n])
		return err != nil && err.Error() == message
	}
	starts := append(lineStarts(text, false)[1:], len(text))
	line := sort.Search(len(starts)-1, func(i int) bool { return fails(starts[i]) })
	first := 0
	if line > 0 {
		first = starts[line-1]
	}
	var ends []int // of the characters of that line
	for i := first + 1; i <= starts[line]; i++ {
		if i == len(text) || utf8.RuneStart(text[i]) {
			ends = append(ends, i)
		}
	}
	if len(ends) == 0 {
		return first
	}
	k := sort.Search(len(ends)-1, func(i int) bool { return fails(ends[i]) })
	off := first
	if k > 0 {
		off = ends[k-1]
	}
	for off > first && breakLength(text, off, false) > 0 { // say the end of the line's text, not its break
		off--
	}
	return off
}

// tabIndent looks for a tab in the indentation of the line at an offset.
func (b *builder) tabIndent(c chunk, off int) (int, bool) {
	at := b.src.lines[b.src.position(off).Line-1]
	for ; at >= c.start && at < c.end && strings.IndexByte(" \t", b.src.text[at]) >= 0; at++ {
		if b.src.text[at] == '\t' && len(bytes.TrimSpace(firstLine(b.src.text[at:c.end]))) > 0 {
			return at, true
		}
	}
	return 0, false
}

func firstLine(text []byte) []byte {
	if i := bytes.IndexAny(text, "\r\n"); i >= 0 {
		return text[:i]
	}
	return text
}

// yamlWordings says in plain words what the library's messages mean.
var yamlWordings = []struct{ message, found, allowed, do string }{
	{"mapping values are not allowed", "`: ` where no key can stand", "one key and one value a line", `Put text with a colon in quotes, or look at the indentation of this line and at the line above it.`},
	{"found a tab character", "a tab", "spaces", "Replace the tab with spaces."},
	{"did not find expected ',' or ']'", "a list in brackets that is not closed, or an item without a comma", "a comma or ]", "Close the [ or add the comma."},
	{"did not find expected ',' or '}'", "a mapping in braces that is not closed, or a key without a comma", "a comma or }", "Close the { or add the comma."},
	{"did not find expected '-' indicator", "a line that is no item of the list above it", "a line that starts with `- `", "Look at the indentation of this line."},
	{"did not find expected key", "text that is no key", "`key: value`", "Look at the indentation of this line, and for text after a closing quote or bracket."},
	{"did not find expected node content", "no value", "a value", "Look for a bracket or comma too many."},
	{"did not find expected <document start>", "more text after the end of the document", "`---` before another document", "Look at the indentation and the brackets."},
	{"could not find expected ':'", "a line without a colon", "`key: value`", "Add the colon, or look at the indentation."},
	{"found unexpected end of stream", "a quote that is never closed", "the closing quote", "Close the text with the quote that opened it."},
	{"found unexpected document indicator", "the end of the document inside a quote", "the closing quote", "Close the text with the quote that opened it."},
	{"found unknown escape character", `an unknown escape in double quotes`, `escapes such as \" \\ \n \t`, `Write \\ for a backslash, or use single quotes.`},
	{"found character that cannot start any token", "a character that cannot start a value", "text in quotes when it starts with @, ` or %", "Put the text in quotes."},
	{"unknown anchor", "an alias (*) of a name that no anchor (&) gives", "the name of an anchor above it", "Write the value out, or put text that starts with * in quotes."},
	{"exceeded max depth", "lists and mappings nested thousands of levels deep", "at most 64 levels", "Look for brackets that are never closed."},
	{"block sequence entries are not allowed", "`- ` where no list can stand", "the list on lines of its own", "Put the first item on the next line."},
	{"found unknown directive name", "a line that starts with %", "`%YAML 1.2`, or none", "Remove the line."},
	{"found incompatible YAML document", "a YAML version that is not 1", "`%YAML 1.2`, or none", "Remove the line."},
	{"found undefined tag handle", "a tag with an unknown handle", "values without a tag", "Remove the tag, or put text that starts with ! in quotes."},
	{"did not find expected tag URI", "a broken tag", "values without a tag", "Put text that starts with ! in quotes."},
	{"did not find expected alphabetic or numeric", "& or * without a name", "text in quotes when it starts with & or *", "Put the text in quotes."},
}

func yamlWords(detail string, text []byte, off int) (found, allowed, do string) {
	for _, w := range yamlWordings {
		if strings.HasPrefix(detail, w.message) {
			if strings.HasPrefix(detail, "found character") && off < len(text) {
				r, _ := utf8.DecodeRune(text[off:])
				return "text that starts with " + tick(string(r)), w.allowed, w.do
			}
			return w.found, w.allowed, w.do
		}
	}
	return "YAML that cannot be read (" + shorten(escape(detail)) + ")", "", "Look at the indentation, the quotes and the brackets of this line."
}
