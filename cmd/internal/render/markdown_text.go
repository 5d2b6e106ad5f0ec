package render

import (
	"regexp"
	"strings"

	"sillwright/schema"
)

// prose writes a text so that nothing in it takes effect in GitHub-flavoured or GitLab Markdown: what the syntax would read is
// escaped, and words that the site itself makes into a link, a mention or a picture, after the syntax was read, stand as code, which
// it leaves alone.
func prose(text string) string {
	words := strings.Split(schema.Printable(text), " ")
	for i, word := range words {
		if (len(word) > 6 || strings.ContainsAny(word, "@#!~$&^%:-[.0123456789")) && linked.MatchString(word) { // most words are neither
			words[i] = code(word)
			continue
		}
		words[i] = escapes.Replace(word)
	}
	return starts.ReplaceAllString(strings.Join(words, " "), `$1\$2`)
}

// starts finds what would begin a list or a line below a heading, were it first in a line.
var starts = regexp.MustCompile(`^([0-9]*)([-+=.)])`)

// linked finds what the sites act on: https://docs.github.com/get-started/writing-on-github/working-with-advanced-formatting/autolinked-references-and-urls
// for addresses, #26, GH-26 and commits; of GitLab's own references (doc/user/markdown.md) and of :emoji: and $mathematics$ from
// memory, not verified. Rather too much than too little: as code a word reads the same.
var linked = regexp.MustCompile(`[@#!~$&^%][^\s.,;:)]|://|(?i:www\.|mailto:|xmpp:|javascript:)|:[\w+-]+:|\b[0-9a-fA-F]{7,}\b|\b[A-Za-z]+-[0-9]|\[[a-z_]+:|\$`)

// escapes are of the punctuation that means something in Markdown (CommonMark 0.31.2, section 2.4) inside a line.
var escapes = strings.NewReplacer(
	`\`, `\\`, "`", "\\`", `*`, `\*`, `_`, `\_`, `[`, `\[`, `]`, `\]`, `<`, `\<`, `>`, `\>`, `&`, `\&`, `~`, `\~`, `!`, `\!`, `#`, `\#`,
	`^`, `\^`, `|`, pipe,
)

// pipe is a reference, for in a table a backslash before one of two signs would be read of the other.
const pipe = "&#124;"

// code writes a text as code, in a table too.
func code(text string) string {
	parts := strings.Split(schema.Printable(text), "|")
	for i, part := range parts {
		parts[i] = codeSpan(part)
	}
	return strings.Join(parts, pipe)
}

// codeSpan fences a text with more backticks than it has in a row (CommonMark 0.31.2, section 6.1).
func codeSpan(text string) string {
	if text == "" {
		return ""
	}
	fence := "`"
	for strings.Contains(text, fence) {
		fence += "`"
	}
	if strings.Trim(text, " ") != "" && (strings.HasPrefix(text, " ") && strings.HasSuffix(text, " ") || strings.HasPrefix(text, "`") || strings.HasSuffix(text, "`")) {
		text = " " + text + " " // one on each side is taken off again
	}
	return fence + text + fence
}
