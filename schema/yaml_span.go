package schema

import (
	"strings"

	"go.yaml.in/yaml/v3"
)

// This file finds where YAML nodes start and end in the text. The library gives the start of a node with its
// anchor and tag, and no end at all.

// contentStart skips the anchor and the tag before a node.
func (y *yamlReader) contentStart(n *yaml.Node, off int) int {
	end := y.chunk.end
	if n.Kind == yaml.AliasNode || n.Anchor == "" && n.Style&yaml.TaggedStyle == 0 && !y.bareTag(off) {
		return off
	}
	for off < end && (y.src.text[off] == '&' || y.src.text[off] == '!') {
		isTag := y.src.text[off] == '!'
		if isTag && off+1 < end && y.src.text[off+1] == '<' { // a tag written out, which ends at >
			for off < end-1 && y.src.text[off] != '>' {
				off++
			}
		}
		off++
		for off < end && (nameByte(y.src.text[off]) || isTag && strings.IndexByte("!:.~%/#;?@&=+$*'()>", y.src.text[off]) >= 0) {
			off++
		}
		next := y.skipBlank(off, "")
		if n.Kind == yaml.ScalarNode && n.Value == "" && n.Style&^yaml.TaggedStyle == 0 &&
			(next >= end || y.src.text[next] != '&' && y.src.text[next] != '!') {
			return off
		}
		off = next
	}
	return off
}

// bareTag reports whether the tag `!`, of which the library says nothing, stands at an offset.
func (y *yamlReader) bareTag(off int) bool {
	if off >= y.chunk.end || y.src.text[off] != '!' {
		return false
	}
	return off+1 == y.chunk.end || strings.IndexByte(" \t,[]{}", y.src.text[off+1]) >= 0 || breakLength(y.src.text, off+1, true) > 0
}

// nameByte reports whether the library takes a byte for part of the name of an anchor.
func nameByte(c byte) bool { return alphanumeric(c) || c == '_' || c == '-' }

// skipBlank skips spaces, line breaks and comments, and the further bytes that are given.
func (y *yamlReader) skipBlank(off int, also string) int {
	for off < y.chunk.end {
		c := y.src.text[off]
		n := breakLength(y.src.text, off, true)
		switch {
		case n > 0:
			off += n
		case c == ' ' || c == '\t' || strings.IndexByte(also, c) >= 0:
			off++
		case c == '#':
			for off < y.chunk.end && breakLength(y.src.text, off, true) == 0 {
				off++
			}
		default:
			return off
		}
	}
	return off
}

// collectionEnd is where a list or mapping ends, given where its last child does.
func (y *yamlReader) collectionEnd(n *yaml.Node, start, last int, opening, closing byte) int {
	if n.Style&yaml.FlowStyle == 0 || start >= y.chunk.end || y.src.text[start] != opening {
		return last // block style, or the single pair of [a: 1]
	}
	off := y.skipBlank(max(last, start+1), ",:?")
	if off < y.chunk.end && y.src.text[off] == closing {
		return off + 1
	}
	return off
}

func (y *yamlReader) keyEnd(k *yaml.Node, start int) int {
	switch k.Kind {
	case yaml.AliasNode:
		return start + 1 + len(k.Value)
	case yaml.ScalarNode:
		return y.scalarEnd(k, start, 0)
	}
	return start
}

func (y *yamlReader) scalarEnd(n *yaml.Node, start, indent int) int {
	text := y.src.text[:y.chunk.end]
	switch {
	case start >= len(text):
		return len(text)
	case n.Style&yaml.DoubleQuotedStyle != 0:
		for i := start + 1; i < len(text); i++ {
			switch text[i] {
			case '\\':
				i++
			case '"':
				return i + 1
			}
		}
		return len(text)
	case n.Style&yaml.SingleQuotedStyle != 0:
		for i := start + 1; i < len(text); i++ {
			if text[i] != '\'' {
				continue
			}
			if i+1 == len(text) || text[i+1] != '\'' {
				return i + 1
			}
			i++
		}
		return len(text)
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		return y.blockEnd(n, start, indent)
	}
	return plainEnd(text, start, n.Value)
}

// plainEnd follows the value of a plain scalar through the text: only blanks and line breaks may differ.
func plainEnd(text []byte, start int, value string) int {
	blank := func(s []byte) int {
		if len(s) > 0 && (s[0] == ' ' || s[0] == '\t') {
			return 1
		}
		return breakLength(s, 0, true)
	}
	end, rest := start, []byte(value)
	for len(rest) > 0 {
		if n := blank(rest); n > 0 {
			rest = rest[n:]
			continue
		}
		off := end
		for n := blank(text[off:]); n > 0; n = blank(text[off:]) {
			off += n
		}
		if off >= len(text) || text[off] != rest[0] {
			return end
		}
		end, rest = off+1, rest[1:]
	}
	return end
}

// blockEnd is the end of the last line of a literal (|) or folded (>) scalar, without its line break.
func (y *yamlReader) blockEnd(n *yaml.Node, start, indent int) int {
	text := y.src.text[:y.chunk.end]
	off, width := start+1, 0
	for off < len(text) && strings.IndexByte("+-123456789", text[off]) >= 0 {
		if text[off] > '0' {
			width = max(indent, 0) + int(text[off]-'0')
		}
		off++
	}
	end := off
	if strings.Trim(n.Value, "\n\u0085\u2028\u2029") == "" {
		return end
	}
	for off < len(text) && breakLength(text, off, true) == 0 {
		off++
	}
	for off < len(text) {
		off += breakLength(text, off, true)
		line := off
		for off < len(text) && text[off] == ' ' {
			off++
		}
		spaces := off - line
		for off < len(text) && breakLength(text, off, true) == 0 {
			off++
		}
		blank := off == line+spaces
		switch {
		case blank && (width == 0 || spaces <= width):
			continue
		case width == 0 && !blank:
			width = spaces
		}
		if spaces < width {
			break
		}
		end = off
	}
	return end
}
