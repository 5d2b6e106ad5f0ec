package schema

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"
	"unicode/utf8"
)

var utf8BOM = []byte("\xef\xbb\xbf")

const specs = "a spec in JSON or YAML, in UTF-8"

// kindByStart names files that are often given by mistake, by the bytes they start with.
var kindByStart = []struct{ start, name, do string }{
	{"PK\x05\x06", "an empty ZIP archive", "Give the spec itself."},
	{"%PDF-", "a PDF file", "Write a spec by hand, or export the door schedule as CSV or XLSX and import that."},
	{"\x1f\x8b", "a gzip file", "Unpack it first."},
	{"BZh", "a bzip2 file", "Unpack it first."},
	{"\xfd7zXZ\x00", "an xz file", "Unpack it first."},
	{"7z\xbc\xaf\x27\x1c", "a 7z archive", "Unpack it first."},
	{"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "an old XLS or DOC file", "Save it as XLSX or CSV, then import that."},
	{"\x89PNG", "a PNG image", "Give the spec itself."},
	{"\xff\xd8\xff", "a JPEG image", "Give the spec itself."},
	{"SQLite format 3\x00", "an SQLite database", "Give the spec itself."},
}

// unfit finds files that are no text of ours at all, before any parser sees them.
func unfit(file string, data []byte) (Problem, bool) {
	if len(data) > MaxFileBytes {
		return whole(file, "more than "+bytesText(MaxFileBytes), "at most "+bytesText(MaxFileBytes), "Split it into several files."), true
	}
	if p, bad := foreign(file, data); bad {
		return p, true
	}
	if p, bad := wrongEncoding(file, data); bad {
		return p, true
	}
	if p, bad := otherText(file, data); bad {
		return p, true
	}
	switch strings.ToLower(filepath.Ext(file)) {
	case ".csv", ".tsv":
		return whole(file, "a CSV file", specs, notASpec), true
	}
	return Problem{}, false
}

// otherText finds text that is empty or in a format of others, by its start.
func otherText(file string, data []byte) (Problem, bool) {
	trimmed := bytes.TrimSpace(bytes.TrimPrefix(data, utf8BOM))
	switch {
	case len(trimmed) == 0:
		return empty(file), true
	case bytes.HasPrefix(trimmed, []byte("ISO-10303-21")):
		return whole(file, "an IFC model (a STEP file)", specs, notASpec), true
	case len(trimmed) > 1 && trimmed[0] == '<' && (trimmed[1] == '?' || trimmed[1] == '!' || trimmed[1] >= 'A' && trimmed[1] <= 'z'):
		return whole(file, "XML or HTML", specs, "Give the spec itself; an IFC model must be saved as .ifc (STEP) to be imported."), true
	}
	return Problem{}, false
}

func empty(file string) Problem {
	return whole(file, "an empty file", "at least one document in JSON or YAML", "Start with a line such as `format: sillwright/door/1`.")
}

func foreign(file string, data []byte) (Problem, bool) {
	if bytes.HasPrefix(data, []byte("PK\x03\x04")) {
		head := data[:min(len(data), 1<<16)]
		switch {
		case bytes.Contains(head, []byte("xl/")), bytes.Contains(head, []byte("[Content_Types].xml")), strings.EqualFold(filepath.Ext(file), ".xlsx"):
			return whole(file, "an XLSX workbook (a ZIP archive)", specs, notASpec), true
		}
		return whole(file, "a ZIP archive", specs, "Unpack it first."), true
	}
	for _, k := range kindByStart {
		if bytes.HasPrefix(data, []byte(k.start)) {
			return whole(file, k.name, specs, k.do), true
		}
	}
	return Problem{}, false
}

func wrongEncoding(file string, data []byte) (Problem, bool) {
	if p, bad := wide(file, data); bad {
		return p, true
	}
	return notText(file, data, 0)
}

const saveUTF8 = "Save the file as UTF-8."

// wide finds text in UTF-16 or UTF-32.
func wide(file string, data []byte) (Problem, bool) {
	name := wideEncoding(data)
	if name == "" {
		return Problem{}, false
	}
	return whole(file, "text in "+name, "UTF-8", saveUTF8), true
}

// notText finds the first byte that is no UTF-8 text, in a file or in a stretch of it that begins at an offset.
func notText(file string, data []byte, offset int) (Problem, bool) {
	i := bytes.IndexByte(data, 0)
	found, allowed, do := fmt.Sprintf("a NUL byte at byte %d: this is no text file", offset+i), specs, "Check that this is the right file."
	if i < 0 {
		if utf8.Valid(data) {
			return Problem{}, false
		}
		i = firstInvalid(data)
		found, allowed, do = fmt.Sprintf("the byte 0x%02x at byte %d, which is not UTF-8", data[i], offset+i), "UTF-8", saveUTF8
	}
	src := newSource(bytes.TrimPrefix(data[:i], utf8BOM))
	return at(file, src, len(src.text), found, allowed, do), true
}

// firstInvalid is the offset of the first byte that is not UTF-8.
func firstInvalid(data []byte) int {
	i := 0
	for i < len(data) {
		r, width := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && width == 1 {
			break
		}
		i += width
	}
	return i
}

// wideEncoding recognises UTF-16 and UTF-32 by their mark, or by a NUL beside every letter.
func wideEncoding(data []byte) string {
	switch {
	case bytes.HasPrefix(data, []byte{0xff, 0xfe, 0, 0}), bytes.HasPrefix(data, []byte{0, 0, 0xfe, 0xff}):
		return "UTF-32"
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}), bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		return "UTF-16"
	}
	head := data[:min(len(data), 64)&^1]
	if len(head) < 4 {
		return ""
	}
	var even, odd int
	for i := 0; i < len(head); i += 2 {
		if head[i] == 0 {
			even++
		}
		if head[i+1] == 0 {
			odd++
		}
	}
	pairs := len(head) / 2
	if even == 0 && odd*4 >= pairs*3 || odd == 0 && even*4 >= pairs*3 {
		return "UTF-16"
	}
	return ""
}
