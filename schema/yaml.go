package schema

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"
)

// readYAML reads the documents of a YAML file. The file is cut at its document markers first, so that an
// error in one document does not hide the others: `---` and `...` at the start of a line are markers
// wherever they stand (YAML 1.2.2 section 9.1.2).
func (r *reader) readYAML() {
	if off, bad := controlCharacter(r.src.text); bad {
		c, _ := utf8.DecodeRune(r.src.text[off:])
		r.problems = append(r.problems, at(r.file, r.src, off, fmt.Sprintf("the control character U+%04X", c), "printable characters, spaces and line breaks", "Remove it."))
		return
	}
	for _, c := range r.chunks() {
		if c.end-c.start > MaxDocumentBytes {
			b := r.builder()
			b.size(c.start, c.end)
			r.add(b, nil)
			continue
		}
		r.readChunk(c)
	}
}

// controlCharacter finds the first character that YAML does not allow in a file.
func controlCharacter(text []byte) (int, bool) {
	for i, c := range string(text) {
		switch {
		case c >= 0x20 && c < 0x7f, c == '\t', c == '\n', c == '\r', c == 0x85, c >= 0xa0 && c != 0xfffe && c != 0xffff && c != 0xfeff:
		default:
			return i, true
		}
	}
	return 0, false
}

// chunk is the part of a file that holds one YAML document.
type chunk struct{ start, end, line int } // line is the number of its first line in the YAML library's count, from 0

func (r *reader) chunks() []chunk {
	var list []chunk
	starts := r.src.yamlLines
	cur, content, directive, text := chunk{}, false, false, false
	finish := func(end, line int) {
		if text || directive { // else only a marker and comments
			cur.end = end
			list = append(list, cur)
		}
		cur, content, directive, text = chunk{start: end, line: line}, false, false, false
	}
	for i, start := range starts {
		end := len(r.src.text)
		if i+1 < len(starts) {
			end = starts[i+1]
		}
		line := r.src.text[start:end]
		trimmed := bytes.TrimLeft(line, " \t")
		switch {
		case marker(line, "---"):
			if content {
				finish(start, i)
			}
			content = true
			if rest := bytes.TrimSpace(line[3:]); len(rest) > 0 && rest[0] != '#' {
				text = true
			}
		case marker(line, "..."):
			finish(end, i+1)
		case len(bytes.TrimSpace(trimmed)) == 0 || trimmed[0] == '#':
		case line[0] == '%' && !content:
			directive = true
		default:
			content, text = true, true
		}
	}
	finish(len(r.src.text), len(starts))
	return list
}

// marker reports whether a line starts with a document marker.
func marker(line []byte, mark string) bool {
	return bytes.HasPrefix(line, []byte(mark)) && (len(line) == len(mark) || strings.IndexByte(" \t", line[len(mark)]) >= 0 || breakLength(line, len(mark), true) > 0)
}

// readChunk parses one chunk. A document is only taken when nothing after it in its chunk is wrong.
func (r *reader) readChunk(c chunk) {
	roots, err := parseYAML(withoutVersion(r.src.text[c.start:c.end]))
	if err != nil {
		b := r.builder()
		b.yamlError(c, err)
		r.add(b, nil)
		return
	}
	for _, root := range roots {
		if root.Kind == yaml.ScalarNode && root.Style == 0 && root.Value == "" && root.Anchor == "" {
			continue // only comments between two markers
		}
		y := &yamlReader{builder: r.builder(), chunk: c, done: map[*yaml.Node]*anchored{}}
		y.list = root.Kind == yaml.SequenceNode
		n, _ := y.value(root, 1, -1)
		if n == nil {
			n = &Node{Kind: Array}
		}
		r.add(y.builder, n)
	}
}

// withoutVersion makes a comment of a line such as `%YAML 1.2`: the library refuses every version but 1.1,
// and what we take of YAML is the same in all of them.
func withoutVersion(text []byte) []byte {
	for start := 0; start < len(text); {
		line := text[start:]
		if i := bytes.IndexByte(line, '\n'); i >= 0 {
			line = line[:i+1]
		}
		if bytes.HasPrefix(line, []byte("%YAML 1.")) {
			text = bytes.Clone(text)
			text[start] = '#'
			return text
		}
		if trimmed := bytes.TrimSpace(line); len(trimmed) > 0 && trimmed[0] != '#' && trimmed[0] != '%' {
			return text
		}
		start += len(line)
	}
	return text
}

// parseYAML gives the root nodes of a text. A line break is put before the text, because the library leaves
// the line out of its messages when it is the first.
func parseYAML(text []byte) (roots []*yaml.Node, err error) {
	defer func() {
		if p := recover(); p != nil { // the library panics on its own errors
			roots, err = nil, fmt.Errorf("yaml: %v", p)
		}
	}()
	dec := yaml.NewDecoder(io.MultiReader(strings.NewReader("\n"), bytes.NewReader(text)))
	for {
		var n yaml.Node
		if err := dec.Decode(&n); err == io.EOF {
			return roots, nil
		} else if err != nil {
			return nil, err
		}
		if len(n.Content) > 0 {
			roots = append(roots, n.Content[0])
		}
	}
}

// yamlReader turns the library's nodes into ours and finds where they end, which the library does not say.
type yamlReader struct {
	*builder
	chunk chunk
	done  map[*yaml.Node]*anchored
}

// anchored is a node that aliases may refer to.
type anchored struct {
	node   *Node
	size   int // values in it, with those of its own aliases
	height int // levels in it
	bad    bool
}

// offset is where the library says that a node starts.
func (y *yamlReader) offset(n *yaml.Node) int {
	return min(y.src.yamlOffset(n.Line-2+y.chunk.line, n.Column-1), y.chunk.end)
}

// value builds a node; indent is the column of the collection around it, from 0, -1 at the top.
// The second result is the offset of the node's end.
func (y *yamlReader) value(n *yaml.Node, level, indent int) (*Node, int) {
	start := y.offset(n)
	if y.stop || !y.enter(start, level) {
		return nil, start
	}
	if n.Kind == yaml.AliasNode {
		return y.alias(n, start, level)
	}
	var a *anchored
	problems, before := y.counts[y.current()], y.nodes
	if n.Anchor != "" {
		a = &anchored{}
		y.done[n] = a
	}
	start = y.contentStart(n, start)
	y.tag(n, start)
	node, end := &Node{}, start
	switch n.Kind {
	case yaml.MappingNode:
		node.Kind = Object
		end = y.mapping(node, n, start, level)
	case yaml.SequenceNode:
		node.Kind = Array
		end = y.sequence(node, n, start, level)
	default:
		end = y.scalarEnd(n, start, indent)
		y.scalar(node, n, start, end)
	}
	node.Span = y.src.span(start, end)
	if level == 2 && y.list {
		y.size(start, end)
	}
	if a != nil {
		*a = anchored{node: node, size: y.nodes - before + 1, height: node.height(), bad: y.counts[y.current()] > problems}
	}
	return node, end
}

// height is how many levels of lists and mappings a node holds, itself counted.
func (n *Node) height() int {
	h := 0
	for i := range n.Members {
		h = max(h, n.Members[i].Value.height())
	}
	for _, item := range n.Items {
		h = max(h, item.height())
	}
	return h + 1
}

func (y *yamlReader) alias(n *yaml.Node, start, level int) (*Node, int) {
	end := start + 1 + len(n.Value)
	span := y.src.span(start, end)
	a := y.done[n.Alias]
	switch {
	case a == nil:
		y.report(span, "the alias "+tick("*"+n.Value)+" of a value that cannot be read", "", "Correct that value first.")
		return &Node{Kind: Null, Span: span}, end
	case a.node == nil:
		y.report(span, "the alias "+tick("*"+n.Value)+" inside the value that it stands for", "an alias of a value that is complete", "Write the value out.")
		return &Node{Kind: Null, Span: span}, end
	case a.bad:
		y.report(span, "the alias "+tick("*"+n.Value)+" of a value that has problems", "", "Correct the value on line "+fmt.Sprint(a.node.Span.Start.Line)+".")
	}
	y.nodes += a.size - 1
	*y.aliased += a.size
	switch {
	case y.nodes > MaxNodes || *y.aliased > MaxNodes:
		y.limit(start, fmt.Sprintf("aliases that stand for more than %d values", MaxNodes), fmt.Sprintf("at most %d", MaxNodes), "Write the values out.")
		return nil, end
	case level+a.height-1 > MaxDepth:
		y.limit(start, fmt.Sprintf("lists and mappings nested more than %d levels deep through aliases", MaxDepth), fmt.Sprintf("at most %d levels", MaxDepth), "Write the values out.")
		return nil, end
	}
	node := *a.node
	node.Span = span
	return &node, end
}

func (y *yamlReader) mapping(node *Node, n *yaml.Node, start, level int) int {
	keys, end := seen{}, start
	indent := y.src.position(start).Column - 1
	for i := 0; i+1 < len(n.Content) && !y.stop; i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		keyStart := y.contentStart(k, y.offset(k))
		keyEnd := y.keyEnd(k, keyStart)
		span := y.src.span(keyStart, keyEnd)
		if y.keyProblem(k, span) {
			y.enter(keyStart, level)
			end = max(end, keyEnd)
			continue
		}
		y.key(keys, k.Value, span)
		if k.Anchor != "" {
			y.done[k] = &anchored{node: &Node{Kind: String, Text: k.Value, Span: span}, size: 1, height: 1}
		}
		y.push(step{key: k.Value, isKey: true})
		value, valueEnd := y.value(v, level+1, indent)
		y.pop()
		if value == nil {
			break
		}
		if emptyScalar(v) && bytes.ContainsAny(y.src.text[keyEnd:max(keyEnd, valueEnd)], "\r\n") {
			valueEnd = keyEnd // the library puts the missing value of `? key` at the next token
			value.Span = y.src.span(keyEnd, keyEnd)
		}
		end = max(end, keyEnd, valueEnd)
		node.Members = append(node.Members, Member{Key: k.Value, KeySpan: span, Value: value})
	}
	return y.collectionEnd(n, start, end, '{', '}')
}

func (y *yamlReader) sequence(node *Node, n *yaml.Node, start, level int) int {
	end := start
	indent := y.src.position(start).Column - 1
	for i, c := range n.Content {
		y.push(step{index: i})
		item, itemEnd := y.value(c, level+1, indent)
		y.pop()
		if item == nil {
			break
		}
		end = max(end, itemEnd)
		node.Items = append(node.Items, item)
	}
	return y.collectionEnd(n, start, end, '[', ']')
}
