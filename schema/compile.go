package schema

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/url"
	"regexp"
	"strings"

	"github.com/santhosh-tekuri/jsonschema/v5"
)

// Schema is a compiled JSON Schema. It is safe for concurrent use.
type Schema struct {
	name     string
	compiled *jsonschema.Schema
	places   *place // nil: each document is judged as a whole
	doc      any    // the schema itself, for the annotations that word the problems
}

// Compile reads a JSON Schema (draft-07 or 2020-12). It never reads a file or the network: a reference
// to anything but the schema itself is an error. Two annotations word the problems of a value: `x-allowed`,
// a phrase such as "a length, such as 13 mm or 1/2 in", and in its absence `description`.
func Compile(name string, src []byte) (*Schema, error) {
	dec := json.NewDecoder(bytes.NewReader(src))
	dec.UseNumber()
	var doc any
	if err := dec.Decode(&doc); err != nil {
		return nil, fmt.Errorf("schema %s: %w", name, err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat = true
	c.LoadURL = func(u string) (io.ReadCloser, error) {
		return nil, fmt.Errorf("%s is not part of the schema, and nothing else is loaded", u)
	}
	address := "https://schema.invalid/" + url.PathEscape(name)
	if err := c.AddResource(address, bytes.NewReader(src)); err != nil {
		return nil, fmt.Errorf("schema %s: %w", name, err)
	}
	compiled, err := c.Compile(address)
	if err != nil {
		return nil, fmt.Errorf("schema %s: %#v", name, err)
	}
	return &Schema{name: name, compiled: compiled, places: places(compiled), doc: doc}, nil
}

// keywordPath splits a location of the validator, whose parts are escaped as in a URL as well.
func keywordPath(location string) []string {
	if i := strings.IndexByte(location, '#'); i >= 0 {
		location = location[i+1:]
	}
	if location == "" {
		return nil
	}
	parts := strings.Split(strings.TrimPrefix(location, "/"), "/")
	for i, part := range parts {
		if plain, err := url.PathUnescape(part); err == nil {
			part = plain
		}
		parts[i] = strings.ReplaceAll(strings.ReplaceAll(part, "~1", "/"), "~0", "~")
	}
	return parts
}

// notAllowed is the keyword of a schema that is `false`.
const notAllowed = "false"

// keywordOf names the keyword that a path of the schema ends at, and whether it judges a key and not its value.
// It follows the grammar of JSON Schema, so that a property called `type` is not taken for the keyword.
func keywordOf(path []string) (keyword string, ofKey bool) {
	for i := 0; i < len(path); i++ {
		last := i+1 == len(path)
		switch kw := path[i]; kw {
		case "properties", "patternProperties", "dependentSchemas", "$defs", "definitions":
			i++ // the name
		case "dependencies", "dependentRequired":
			if i+2 < len(path) && isIndex(path[i+2]) {
				return "dependentRequired", ofKey
			}
			i++
		case "allOf", "anyOf", "oneOf", "prefixItems":
			if last {
				return kw, ofKey
			}
			i++ // the index
		case "items":
			if !last && isIndex(path[i+1]) {
				i++
			}
		case "propertyNames":
			ofKey = true
		case "additionalProperties", "unevaluatedProperties", "contains", "not", "additionalItems", "unevaluatedItems", "then", "else":
			if last {
				return kw, ofKey
			}
		case "$ref", "$dynamicRef", "$recursiveRef", "if", "contentSchema":
		default:
			return kw, ofKey
		}
	}
	return notAllowed, ofKey
}

func isIndex(s string) bool {
	_, ok := arrayIndex(s)
	return ok
}

// node is the part of the schema at a path.
func (s *Schema) node(path []string) any {
	at := s.doc
	for _, part := range path {
		switch v := at.(type) {
		case map[string]any:
			at = v[part]
		case []any:
			i, ok := arrayIndex(part)
			if !ok || i >= len(v) {
				return nil
			}
			at = v[i]
		default:
			return nil
		}
	}
	return at
}

// object is the part of the schema at a path when that is a mapping; its lookups give nil otherwise.
func (s *Schema) object(path []string) map[string]any {
	m, _ := s.node(path).(map[string]any)
	return m
}

// phrase is the annotation of a part of the schema, followed through references within the schema.
func (s *Schema) phrase(m map[string]any, description bool) string {
	for range 16 {
		if text, ok := m["x-allowed"].(string); ok {
			return text
		}
		if text, ok := m["description"].(string); ok && description {
			return strings.TrimRight(text, ".")
		}
		ref, ok := m["$ref"].(string)
		if !ok || !strings.HasPrefix(ref, "#/") {
			return ""
		}
		m = s.object(keywordPath(ref))
	}
	return ""
}

// known lists the keys that an object schema declares itself.
func known(m map[string]any) map[string]any {
	props, _ := m["properties"].(map[string]any)
	return props
}

// declare adds the keys that a schema and its parts for the same value declare.
func (s *Schema) declare(m map[string]any, names map[string]any, depth int) {
	if m == nil || depth == 0 {
		return
	}
	for key := range known(m) {
		names[key] = nil
	}
	if ref, ok := m["$ref"].(string); ok && strings.HasPrefix(ref, "#/") {
		s.declare(s.object(keywordPath(ref)), names, depth-1)
	}
	for _, keyword := range []string{"allOf", "anyOf", "oneOf"} {
		list, _ := m[keyword].([]any)
		for _, part := range list {
			part, _ := part.(map[string]any)
			s.declare(part, names, depth-1)
		}
	}
	for _, keyword := range []string{"if", "then", "else"} {
		part, _ := m[keyword].(map[string]any)
		s.declare(part, names, depth-1)
	}
}

// matchesPattern reports whether patternProperties take a key.
func matchesPattern(m map[string]any, key string) bool {
	patterns, _ := m["patternProperties"].(map[string]any)
	for p := range patterns {
		if re, err := regexp.Compile(p); err == nil && re.MatchString(key) {
			return true
		}
	}
	return false
}
