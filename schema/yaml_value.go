package schema

import (
	"fmt"
	"math/big"
	"strings"

	"go.yaml.in/yaml/v3"
)

// emptyScalar reports whether a value is not written at all.
func emptyScalar(n *yaml.Node) bool {
	return n.Kind == yaml.ScalarNode && n.Style == 0 && n.Value == "" && n.Anchor == ""
}

// keyProblem refuses keys that are no text; it is true when the pair cannot be read.
func (y *yamlReader) keyProblem(k *yaml.Node, span Span) bool {
	switch {
	case k.Kind == yaml.AliasNode:
		y.report(span, "the alias "+tick("*"+k.Value)+" as a key", "text as a key", "Write the key out.")
	case k.Kind != yaml.ScalarNode:
		y.report(span, "a list or mapping as a key", "text as a key", "Look for a missing quote: text that starts with [ or { must be in quotes.")
	case k.Style&yaml.TaggedStyle != 0 && k.Tag != "!!str":
		y.report(span, "the tag "+tick(k.Tag)+" on a key", "text as a key", "Remove the tag.")
	case k.Tag == "!!merge":
		y.report(span, "the merge key `<<`", "keys that are written out", "Write the keys of the other mapping out; an alias as a value (`height: *name`) is fine.")
	case emptyScalar(k):
		y.report(span, "an empty key", "text as a key", "Write a key before the colon.")
	case k.Tag != "!!str" && k.Tag != "!!timestamp":
		y.report(span, "the key "+tick(k.Value)+", which YAML reads as "+kindOfTag(k.Tag), "text as a key", `Put it in quotes: "`+shorten(escape(k.Value))+`".`)
	default:
		return false
	}
	return true
}

func kindOfTag(tag string) string {
	switch tag {
	case "!!int", "!!float":
		return "a number"
	case "!!bool":
		return "true or false"
	case "!!null":
		return "null"
	}
	return tag
}

// tag refuses explicit tags that would change what a value is.
func (y *yamlReader) tag(n *yaml.Node, start int) {
	if n.Style&yaml.TaggedStyle == 0 {
		if off := y.offset(n); y.bareTag(off) {
			y.report(y.src.span(off, off+1), "the tag `!`", "values without a tag", "Remove the tag.")
		}
		return
	}
	switch n.Tag {
	case "!!str", "!!map", "!!seq":
		return
	case "!!int", "!!float", "!!bool", "!!null":
		if n.Kind == yaml.ScalarNode && agrees(n) {
			return
		}
	}
	y.report(y.src.span(y.offset(n), start), "the tag "+tick(n.Tag), "values without a tag", "Remove the tag.")
}

// agrees reports whether a plain scalar would be the same without its tag.
func agrees(n *yaml.Node) bool {
	if n.Style&^yaml.TaggedStyle != 0 {
		return false
	}
	switch n.Tag {
	case "!!int":
		return jsonNumber.MatchString(n.Value) && !strings.ContainsAny(n.Value, ".eE")
	case "!!float":
		return jsonNumber.MatchString(n.Value)
	case "!!bool":
		return strings.EqualFold(n.Value, "true") || strings.EqualFold(n.Value, "false")
	}
	return n.Value == "" || n.Value == "~" || strings.EqualFold(n.Value, "null")
}

// scalar sets what a scalar holds. Only the numbers of JSON are numbers: the other spellings of YAML 1.1 and 1.2
// (octal 012, 0x10, 1_000, .5, .inf) mean different things to different readers.
func (y *yamlReader) scalar(node *Node, n *yaml.Node, start, end int) {
	node.Kind, node.Text = String, n.Value
	plain := n.Style&^yaml.TaggedStyle == 0
	if !plain || n.Tag == "!!str" && n.Style&yaml.TaggedStyle != 0 {
		return
	}
	switch {
	case jsonNumber.MatchString(n.Value):
		node.Kind = Number
		y.number(n.Value, start, end)
	case n.Tag == "!!int" || n.Tag == "!!float":
		y.report(y.src.span(start, end), "the number "+tick(n.Value), "a number such as 12, -0.5 or 1e3", plainNumber(n.Value))
	case n.Tag == "!!bool":
		node.Kind, node.Text = Bool, strings.ToLower(n.Value)
	case n.Tag == "!!null":
		node.Kind, node.Text = Null, ""
	case n.Tag == "!!merge":
		y.report(y.src.span(start, end), "`<<` as a value", "text in quotes", `Write "<<".`)
	}
}

// plainNumber says what to write in place of a number that only YAML knows.
func plainNumber(s string) string {
	quoted := fmt.Sprintf(`, or %s if it is text`, quote(s))
	clean := strings.ReplaceAll(s, "_", "")
	if v, ok := new(big.Int).SetString(clean, 0); ok && len(clean) < 40 {
		decimal := strings.TrimLeft(strings.TrimPrefix(clean, "+"), "0")
		if jsonNumber.MatchString(decimal) && decimal != v.String() {
			return fmt.Sprintf("Write %s if it is decimal, %s if it is octal%s.", decimal, v, quoted)
		}
		return "Write " + v.String() + quoted + "."
	}
	lower := strings.ToLower(clean)
	if strings.HasSuffix(lower, ".inf") || strings.HasSuffix(lower, ".nan") {
		return "Leave the key out when the value is not known" + quoted + "."
	}
	sign := ""
	switch {
	case strings.HasPrefix(clean, "-"):
		sign, clean = "-", clean[1:]
	case strings.HasPrefix(clean, "+"):
		clean = clean[1:]
	}
	for len(clean) > 1 && clean[0] == '0' && clean[1] >= '0' && clean[1] <= '9' {
		clean = clean[1:]
	}
	if strings.HasPrefix(clean, ".") {
		clean = "0" + clean
	}
	clean = strings.ReplaceAll(strings.ReplaceAll(clean, ".e", ".0e"), ".E", ".0E")
	clean = sign + strings.TrimSuffix(clean, ".")
	if jsonNumber.MatchString(clean) {
		return "Write " + shorten(clean) + quoted + "."
	}
	return "Write it as a decimal number" + quoted + "."
}
