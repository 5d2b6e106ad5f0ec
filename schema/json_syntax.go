package schema

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// found words what stands at an offset.
func found(text []byte, off int) string {
	if off >= len(text) {
		return "the end of the file"
	}
	r, width := utf8.DecodeRune(text[off:])
	if r == '"' || r == '\'' || unicode.IsLetter(r) || unicode.IsDigit(r) {
		end := off + width
		for end < len(text) && end-off < 4*longest && strings.IndexByte(" \t\r\n,:]}", text[end]) < 0 {
			end++
		}
		for end < len(text) && !utf8.RuneStart(text[end]) {
			end++
		}
		return tick(string(text[off:end]))
	}
	if r == '\n' || r == '\r' {
		return "the end of the line"
	}
	return tick(string(r))
}

// syntax reports the error that stopped the library at j.pos.
func (j *jsonReader) syntax(e expect, missing bool) {
	text := j.src.text[:j.limit]
	allowed := map[expect]string{
		firstValue: "a JSON value", firstItem: "a value or ]", nextItem: "a value", firstKey: "a key in double quotes or }",
		nextKey: "a key in double quotes", memberValue: "a value",
	}[e]
	if e == firstValue && j.more {
		j.syntaxAt(j.pos, found(text, j.pos)+" after the end of a value", "another document or the end of the file", noComments(text, j.pos, ""))
		return
	}
	if missing {
		if start := numberBefore(text, j.pos); start < j.pos {
			j.pos = start
			j.numberSyntax(text)
			return
		}
		allowed = map[expect]string{nextItem: "a comma or ]", nextKey: "a comma or }", memberValue: "a colon"}[e]
		j.syntaxAt(j.pos, found(text, j.pos), allowed, noComments(text, j.pos, ""))
		return
	}
	if j.pos >= len(text) {
		do := "The file breaks off: look for a bracket that is not closed."
		if e == nextItem || e == firstItem {
			allowed = "a comma or ]"
		} else if e == nextKey {
			allowed = "a comma or }"
		}
		j.syntaxAt(j.pos, "the end of the text in the middle of a value", allowed, do)
		return
	}
	c := text[j.pos]
	switch {
	case c == '"':
		j.stringSyntax(text)
	case e == firstKey || e == nextKey:
		j.keySyntax(text, e, allowed)
	case c == '-' || c >= '0' && c <= '9' || c == '+' || c == '.':
		j.numberSyntax(text)
	case c == ']' && e == nextItem:
		j.syntaxAt(j.pos, "`]` after a comma", allowed, "Remove the comma before it.")
	case c == '\'':
		j.syntaxAt(j.pos, found(text, j.pos)+" in single quotes", allowed, "Use double quotes.")
	default:
		j.syntaxAt(j.pos, found(text, j.pos), allowed, j.wordHint(text))
	}
}

func alphanumeric(c byte) bool {
	return c >= '0' && c <= '9' || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z'
}

// numberBefore is the start of the number that runs into offset off, as the 0 of 012 does; off when there is none.
func numberBefore(text []byte, off int) int {
	if off >= len(text) || text[off] != '.' && text[off] != '_' && !alphanumeric(text[off]) {
		return off
	}
	start := off
	for start > 0 && strings.IndexByte("+-.0123456789eE", text[start-1]) >= 0 {
		start--
	}
	return start
}

func (j *jsonReader) syntaxAt(off int, found, allowed, do string) {
	j.report(j.src.span(off, off), found, allowed, do)
}

func noComments(text []byte, off int, do string) string {
	if off < len(text) && (text[off] == '#' || text[off] == '/') {
		return "JSON has no comments: remove it, or write the file as YAML."
	}
	return do
}

func (j *jsonReader) keySyntax(text []byte, e expect, allowed string) {
	c := text[j.pos]
	switch {
	case c == '}' && e == nextKey:
		j.syntaxAt(j.pos, "`}` after a comma", allowed, "Remove the comma before it.")
	case c == '\'':
		j.syntaxAt(j.pos, found(text, j.pos)+" in single quotes", allowed, "Use double quotes.")
	case c == '#' || c == '/':
		j.syntaxAt(j.pos, found(text, j.pos), allowed, noComments(text, j.pos, ""))
	default:
		j.syntaxAt(j.pos, found(text, j.pos), allowed, "Put every key in double quotes.")
	}
}

// wordHint says what to write in place of a word that is not JSON.
func (j *jsonReader) wordHint(text []byte) string {
	end := j.pos
	for end < len(text) && alphanumeric(text[end]) {
		end++
	}
	switch strings.ToLower(string(text[j.pos:end])) {
	case "":
		if r, _ := utf8.DecodeRune(text[j.pos:]); strings.ContainsRune("“”„‘’«»", r) {
			return `Use straight double quotes (").`
		}
		return noComments(text, j.pos, "")
	case "true", "false", "null":
		return "Write true, false and null in small letters."
	case "none", "nil", "undefined", "nan", "inf", "infinity":
		return "Leave the key out when the value is not known."
	}
	return "Put text in double quotes."
}

// stringSyntax finds what is wrong with the string at j.pos.
func (j *jsonReader) stringSyntax(text []byte) {
	for i := j.pos + 1; i < len(text); i++ {
		switch c := text[i]; {
		case c == '"':
			j.syntaxAt(j.pos, found(text, j.pos), "JSON", "")
			return
		case c == '\n' || c == '\r':
			j.syntaxAt(i, "the end of the line inside a text", `the closing "`, `Close the text with ", or write \n for a line break.`)
			return
		case c < ' ':
			j.syntaxAt(i, fmt.Sprintf("the control character 0x%02x inside a text", c), `printable characters`, fmt.Sprintf(`Write \u%04x.`, c))
			return
		case c == '\\':
			if i+1 >= len(text) {
				break
			}
			length := escapeLength(text[i+1:])
			if length == 0 {
				end := min(i+2, len(text))
				for end < len(text) && !utf8.RuneStart(text[end]) {
					end++
				}
				j.syntaxAt(i, "the escape "+tick(string(text[i:end])), `\" \\ \/ \b \f \n \r \t and \u with four hexadecimal digits`, `Write \\ for a backslash.`)
				return
			}
			i += length
		}
	}
	j.syntaxAt(j.pos, "a text that is never closed", `the closing "`, `Close the text with ".`)
}

// escapeLength is the length of a valid escape after its backslash, else 0.
func escapeLength(s []byte) int {
	if strings.IndexByte(`"\/bfnrt`, s[0]) >= 0 {
		return 1
	}
	if s[0] != 'u' || len(s) < 5 {
		return 0
	}
	for _, c := range s[1:5] {
		if !strings.ContainsRune("0123456789abcdefABCDEF", rune(c)) {
			return 0
		}
	}
	return 5
}

func (j *jsonReader) numberSyntax(text []byte) {
	end := j.pos
	for end < len(text) && (alphanumeric(text[end]) || strings.IndexByte("+-._", text[end]) >= 0) {
		end++
	}
	j.report(j.src.span(j.pos, end), "the number "+tick(string(text[j.pos:end])), "a number such as 12, -0.5 or 1e3", "Give digits before and after the point; put a value with a unit in double quotes.")
}
