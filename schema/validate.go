package schema

import (
	"errors"
	"strings"

	"github.com/santhosh-tekuri/jsonschema/v5"
)

// Validate gives every problem that a document has with a schema, in the order of the file.
func Validate(doc Document, s *Schema) []Problem {
	if s.places != nil && s.places.passes(doc.Root) {
		return nil
	}
	err := s.compiled.Validate(doc.Root.Plain())
	if err == nil {
		return nil
	}
	c := &collector{doc: doc, schema: s, index: map[*Node]map[string]int{}}
	var ve *jsonschema.ValidationError
	if !errors.As(err, &ve) {
		p := whole(doc.File, "a document that the schema "+s.name+" cannot judge ("+escape(err.Error())+")", "", "")
		p.Document, p.Mark, p.Span = doc.Index, doc.Root.mark(), doc.Root.Span
		return []Problem{p}
	}
	findings := c.collect(ve, "")
	var problems []Problem
	mark := doc.Root.mark()
	for _, f := range findings {
		if f.keyword != "unevaluatedProperties" || !c.followsFrom(f, findings) {
			f.Mark = mark
			problems = append(problems, f.Problem)
		}
	}
	return sortProblems(problems)
}

// followsFrom reports whether an unevaluated key is only so because the part of the schema that declares it has
// failed for a reason that is told anyway.
func (c *collector) followsFrom(f finding, all []finding) bool {
	if !f.declared {
		return false
	}
	parent := f.at[:strings.LastIndexByte(f.at, '/')]
	for _, other := range all {
		if other.keyword != f.keyword && (other.at == parent || strings.HasPrefix(other.at, parent+"/")) {
			return true
		}
	}
	return false
}

// collector turns the validator's tree of errors into problems.
type collector struct {
	doc         Document
	schema      *Schema
	index       map[*Node]map[string]int // members of large objects by key
	suggestions int                      // spellings looked up so far
}

// finding is a problem with what choosing between alternatives needs to know of it.
type finding struct {
	Problem
	keyword  string
	at       string // instance location
	declared bool   // of an unevaluated key: some part of the schema knows it
}

// collect gives the findings of the leaves below an error. phrase words leaves that have no wording of their own
// when they concern the same value as the alternatives around them.
func (c *collector) collect(e *jsonschema.ValidationError, phrase string) []finding {
	keyword, _ := keywordOf(keywordPath(e.KeywordLocation))
	switch {
	case len(e.Causes) == 0:
		return c.leaf(e, phrase)
	case keyword == "anyOf" || keyword == "oneOf":
		return c.choose(e, keyword, phrase)
	case keyword == "contains" || keyword == "minContains" || keyword == "maxContains":
		return c.leaf(e, phrase)
	}
	var list []finding
	for _, cause := range e.Causes {
		inner := phrase
		if cause.InstanceLocation != e.InstanceLocation {
			inner = ""
		}
		list = append(list, c.collect(cause, inner)...)
	}
	return list
}

// choose reports the one alternative that the writer seems to have meant, else that none fits.
func (c *collector) choose(e *jsonschema.ValidationError, keyword, phrase string) []finding {
	path := keywordPath(e.AbsoluteKeywordLocation)
	if len(path) > 0 && keyword == path[len(path)-1] {
		if own := c.schema.phrase(c.schema.object(path[:len(path)-1]), true); own != "" {
			phrase = own
		}
	}
	var branches, meant [][]finding
	for _, cause := range e.Causes {
		list := c.collect(cause, phrase)
		branches = append(branches, list)
		if !c.otherKind(list, e.InstanceLocation) {
			meant = append(meant, list)
		}
	}
	if node, _ := c.lookup(e.InstanceLocation); len(meant) > 1 && node != nil && (node.Kind == Object || node.Kind == Array) {
		best := meant[0]
		for _, list := range meant[1:] {
			if len(list) < len(best) {
				best = list
			}
		}
		return best
	}
	if len(meant) == 1 {
		return meant[0]
	}
	allowed, do := phrase, ""
	var words []string
	for _, list := range branches {
		for _, f := range list {
			if f.at == e.InstanceLocation && f.Allowed != "" {
				words = append(words, f.Allowed)
			}
			if strings.HasPrefix(f.Do, didYouMean) {
				do = f.Do
			}
		}
	}
	if allowed == "" {
		allowed = alternatives(words)
	}
	f := c.finding(e, keyword)
	f.Allowed, f.Do = allowed, do
	return []finding{f}
}

// otherKind reports whether an alternative was clearly not meant: the value is of another kind, or a key that
// tells the alternatives apart has another value.
func (c *collector) otherKind(list []finding, at string) bool {
	for _, f := range list {
		direct := f.at == at
		below := strings.HasPrefix(f.at, at+"/") && !strings.Contains(f.at[len(at)+1:], "/")
		switch f.keyword {
		case "type", "enum":
			if direct {
				return true
			}
		case "const":
			if direct || below {
				return true
			}
		}
	}
	return false
}

// alternatives joins phrases without saying one twice.
func alternatives(words []string) string {
	var list []string
	said := map[string]bool{}
	for _, w := range words {
		if !said[w] {
			said[w] = true
			list = append(list, w)
		}
	}
	return strings.Join(list, " or ")
}

// lookup finds a node at the validator's instance location, and the member that it is the value of.
func (c *collector) lookup(location string) (*Node, *Member) {
	n, member := c.doc.Root, (*Member)(nil)
	for _, part := range keywordPath(location) {
		if n.Kind != Object {
			child, ok := n.child(part)
			if !ok {
				return nil, nil
			}
			n, member = child, nil
			continue
		}
		m := c.member(n, part)
		if m == nil {
			return nil, nil
		}
		n, member = m.Value, m
	}
	return n, member
}

// member finds a key, in large objects through an index.
func (c *collector) member(n *Node, key string) *Member {
	if len(n.Members) <= 32 {
		for i := range n.Members {
			if n.Members[i].Key == key {
				return &n.Members[i]
			}
		}
		return nil
	}
	if c.index[n] == nil {
		keys := make(map[string]int, len(n.Members))
		for i, m := range n.Members {
			keys[m.Key] = i
		}
		c.index[n] = keys
	}
	if i, ok := c.index[n][key]; ok {
		return &n.Members[i]
	}
	return nil
}

// steps turns an instance location into the path of the document.
func (c *collector) steps(location string) []step {
	var path []step
	n := c.doc.Root
	for _, part := range keywordPath(location) {
		s := step{key: part, isKey: true}
		if n != nil && n.Kind == Array {
			i, _ := arrayIndex(part)
			s = step{index: i}
		}
		path = append(path, s)
		if n == nil {
			continue
		}
		if n.Kind == Object {
			if m := c.member(n, part); m != nil {
				n = m.Value
			} else {
				n = nil
			}
		} else if next, ok := n.child(part); ok {
			n = next
		} else {
			n = nil
		}
	}
	return path
}

// finding starts the problem of a value: where it is and what was found.
func (c *collector) finding(e *jsonschema.ValidationError, keyword string) finding {
	path := c.steps(e.InstanceLocation)
	f := finding{keyword: keyword, at: e.InstanceLocation}
	f.Problem = Problem{File: c.doc.File, Document: c.doc.Index, Pointer: pointerOf(path), Field: fieldOf(path), Span: c.doc.Root.Span}
	if n, _ := c.lookup(e.InstanceLocation); n != nil {
		f.Span, f.Found = n.Span, n.show()
	}
	return f
}
