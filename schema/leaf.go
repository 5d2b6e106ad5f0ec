package schema

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"sort"
	"strings"

	"github.com/santhosh-tekuri/jsonschema/v5"
)

// leaf words one error. What is wrong is told by the keyword, never by the validator's message.
func (c *collector) leaf(e *jsonschema.ValidationError, phrase string) []finding {
	keyword, ofKey := keywordOf(keywordPath(e.KeywordLocation))
	path := keywordPath(e.AbsoluteKeywordLocation)
	var parent map[string]any // the schema that the keyword stands in
	if keyword == notAllowed {
		parent = c.schema.object(path)
	} else if len(path) > 0 {
		parent = c.schema.object(path[:len(path)-1])
	}
	f := c.finding(e, keyword)
	if ofKey {
		c.aimAtKey(&f, e)
	}
	switch keyword {
	case "additionalProperties":
		return c.unknownKeys(f, e, parent)
	case "unevaluatedProperties":
		return []finding{c.unknownKey(f, e.InstanceLocation, parent)}
	case "required":
		return c.missing(f, e, parent)
	case "dependentRequired":
		if len(path) >= 3 {
			key, _ := c.schema.node(path).(string)
			given := path[len(path)-2]
			return []finding{c.missingKey(f, e, c.schema.object(path[:len(path)-3]), key, "because "+tick(given)+" is given")}
		}
	case notAllowed:
		c.aimAtKey(&f, e)
		f.Found, f.Do = "a value that is not allowed here", "Remove it."
		return []finding{f}
	case "uniqueItems":
		c.repeated(&f, e)
		return []finding{f}
	case "enum", "const":
		c.values(&f, e, parent)
		return []finding{f}
	case "type":
		c.kind(&f, e, parent, phrase)
		return []finding{f}
	}
	f.Allowed = c.allowed(keyword, parent, phrase)
	return []finding{f}
}

// aimAtKey moves a finding to the key, for keywords that judge keys.
func (c *collector) aimAtKey(f *finding, e *jsonschema.ValidationError) {
	if _, m := c.lookup(e.InstanceLocation); m != nil {
		f.Span, f.Found = m.KeySpan, "key "+tick(m.Key)
	}
}

// unknownKeys finds the keys that the validator only names in its message.
func (c *collector) unknownKeys(f finding, e *jsonschema.ValidationError, parent map[string]any) []finding {
	n, _ := c.lookup(e.InstanceLocation)
	if n == nil || n.Kind != Object {
		return []finding{f}
	}
	props := known(parent)
	names := sortedKeys(props)
	var list []finding
	for _, m := range n.Members {
		if _, ok := props[m.Key]; ok || matchesPattern(parent, m.Key) {
			continue
		}
		one := f
		path := append(slices.Clip(c.steps(e.InstanceLocation)), step{key: m.Key, isKey: true})
		one.Pointer, one.Field, one.Span = pointerOf(path), fieldOf(path), m.KeySpan
		c.wordUnknown(&one, m.Key, names)
		list = append(list, one)
	}
	return list
}

// unknownKey is the finding of one key that no part of the schema has taken.
func (c *collector) unknownKey(f finding, location string, parent map[string]any) finding {
	if _, m := c.lookup(location); m != nil {
		f.Span = m.KeySpan
		names := map[string]any{}
		c.schema.declare(parent, names, 8)
		_, f.declared = names[m.Key]
		delete(names, m.Key)
		c.wordUnknown(&f, m.Key, sortedKeys(names))
	}
	return f
}

func (c *collector) wordUnknown(f *finding, key string, names []string) {
	f.Found = "unknown key " + tick(key)
	f.Allowed, f.Do = "", c.suggest(key, names)
	switch {
	case f.Do != "":
	case len(names) > 0:
		f.Allowed = "the keys " + listed(names)
	default:
		f.Do = "Remove it."
	}
}

func sortedKeys(m map[string]any) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}

func (c *collector) missing(f finding, e *jsonschema.ValidationError, parent map[string]any) []finding {
	n, _ := c.lookup(e.InstanceLocation)
	required, _ := parent["required"].([]any)
	var list []finding
	for _, r := range required {
		key, _ := r.(string)
		if n == nil || n.Kind != Object || c.member(n, key) != nil {
			continue
		}
		list = append(list, c.missingKey(f, e, parent, key, ""))
	}
	return list
}

// missingKey points at the key of the mapping that lacks a key; of a mapping in a list, at the mapping;
// of the document, at its start.
func (c *collector) missingKey(f finding, e *jsonschema.ValidationError, parent map[string]any, key, why string) finding {
	n, m := c.lookup(e.InstanceLocation)
	switch {
	case m != nil:
		f.Span = m.KeySpan
	case n == c.doc.Root && n != nil:
		f.Span.End = f.Span.Start
	}
	path := append(slices.Clip(c.steps(e.InstanceLocation)), step{key: key, isKey: true})
	f.Field, f.Found, f.Do = fieldOf(path), "no key "+tick(key), "Add "+tick(key)+"."
	if why != "" {
		f.Found += ", which is needed " + why
	}
	property, _ := known(parent)[key].(map[string]any)
	f.Allowed = c.schema.phrase(property, true)
	if values := valuesOf(property); f.Allowed == "" && len(values) > 0 {
		f.Allowed = listed(values)
	}
	return f
}

// repeated points at the second of two equal items.
func (c *collector) repeated(f *finding, e *jsonschema.ValidationError) {
	f.Allowed, f.Do = "each item once", "Remove one of them."
	n, _ := c.lookup(e.InstanceLocation)
	if n == nil {
		return
	}
	said := map[string]int{}
	for i, item := range n.Items {
		text, err := json.Marshal(item.Plain())
		if err != nil {
			continue
		}
		first, twice := said[string(text)]
		if !twice {
			said[string(text)] = i
			continue
		}
		path := append(slices.Clip(c.steps(e.InstanceLocation)), step{index: i})
		f.Pointer, f.Field, f.Span = pointerOf(path), fieldOf(path), item.Span
		f.Found = fmt.Sprintf("%s again, as in item %d", item.show(), first)
		return
	}
}

// valuesOf lists what enum or const of a schema allow, as they are written.
func valuesOf(m map[string]any) []string {
	list, ok := m["enum"].([]any)
	if v, given := m["const"]; given && !ok {
		list = []any{v}
	}
	var values []string
	for _, v := range list {
		if s, ok := v.(string); ok {
			values = append(values, s)
			continue
		}
		if text, err := json.Marshal(v); err == nil {
			values = append(values, string(text))
		}
	}
	return values
}

func (c *collector) values(f *finding, e *jsonschema.ValidationError, parent map[string]any) {
	one := map[string]any{f.keyword: parent[f.keyword]}
	values := valuesOf(one)
	f.Allowed = listed(values)
	if phrase := c.schema.phrase(parent, false); phrase != "" && len(values) > 12 {
		f.Allowed = phrase
	}
	n, m := c.lookup(e.InstanceLocation)
	if n == nil {
		return
	}
	word := n.Text
	if m != nil && f.Span == m.KeySpan {
		word = m.Key
	} else if n.Kind != String {
		for _, v := range values {
			if v == word && v != "" { // 12 for "12", true for "true"
				f.Do = "Put it in quotes: " + quote(word) + "."
			}
		}
		return
	}
	if slices.Contains(values, "true") && truthWord(word) {
		f.Do = "Write true or false, without quotes."
		return
	}
	f.Do = c.suggest(word, values)
}

// truthWord reports whether a text is what people write for true or false.
func truthWord(s string) bool {
	return slices.Contains([]string{"yes", "no", "on", "off", "y", "n", "true", "false"}, strings.ToLower(s))
}

// fits reports whether a text would satisfy the pattern and the list of values beside a type.
func fits(m map[string]any, text string) bool {
	if values := valuesOf(m); len(values) > 0 && !slices.Contains(values, text) {
		return false
	}
	pattern, ok := m["pattern"].(string)
	if !ok {
		return true
	}
	re, err := regexp.Compile(pattern)
	return err == nil && re.MatchString(text)
}

// kind words a value of the wrong kind.
func (c *collector) kind(f *finding, e *jsonschema.ValidationError, parent map[string]any, phrase string) {
	types := typesOf(parent)
	f.Allowed = c.schema.phrase(parent, false)
	if f.Allowed == "" {
		f.Allowed = phrase
	}
	if f.Allowed == "" {
		words := make([]string, len(types))
		for i, t := range types {
			words[i] = typeWords[t]
		}
		f.Allowed = strings.Join(words, " or ")
	}
	n, _ := c.lookup(e.InstanceLocation)
	if n == nil {
		return
	}
	wants := func(t string) bool { return slices.Contains(types, t) }
	switch {
	case n.Kind == String && wants("boolean") && truthWord(n.Text):
		f.Do = "Write true or false, without quotes."
	case n.Kind == String && (wants("number") || wants("integer")) && jsonNumber.MatchString(n.Text):
		f.Do = "Write " + shorten(n.Text) + " without quotes."
	case (n.Kind == Number || n.Kind == Bool) && wants("string") && fits(parent, n.Text):
		f.Do = "Put it in quotes: " + quote(n.Text) + "."
	case n.Kind == Null && n.Span.Start == n.Span.End:
		f.Found = "no value"
	}
}

var typeWords = map[string]string{"object": Object.String(), "array": Array.String(), "string": String.String(), "number": Number.String(),
	"integer": "a whole number", "boolean": Bool.String(), "null": Null.String()}

func typesOf(m map[string]any) []string {
	if t, ok := m["type"].(string); ok {
		return []string{t}
	}
	var types []string
	list, _ := m["type"].([]any)
	for _, t := range list {
		if s, ok := t.(string); ok {
			types = append(types, s)
		}
	}
	return types
}

// allowed words the remaining keywords: the bound that was broken, with the annotation beside it.
func (c *collector) allowed(keyword string, parent map[string]any, phrase string) string {
	if own := c.schema.phrase(parent, true); own != "" {
		phrase = own
	}
	bound := fmt.Sprint(parent[keyword])
	words := map[string]string{
		"minimum": "at least " + bound, "exclusiveMinimum": "more than " + bound,
		"maximum": "at most " + bound, "exclusiveMaximum": "less than " + bound, "multipleOf": "a multiple of " + bound,
		"minLength": "at least " + count(bound, "character"), "maxLength": "at most " + count(bound, "character"),
		"minItems": "at least " + count(bound, "item"), "maxItems": "at most " + count(bound, "item"),
		"minProperties": "at least " + count(bound, "key"), "maxProperties": "at most " + count(bound, "key"),
	}[keyword]
	switch {
	case words != "" && phrase != "":
		return words + " (" + phrase + ")"
	case words != "":
		return words
	case phrase != "":
		return phrase
	}
	switch keyword {
	case "pattern":
		return "text that matches " + bound
	case "format":
		return "text in the format " + bound
	case "contains", "minContains", "maxContains":
		return "a list with an item of the kind that is asked for"
	case "oneOf":
		return "a value that fits exactly one of the alternatives"
	}
	return "something else (" + keyword + ")"
}

func count(n, noun string) string {
	if n == "1" {
		return n + " " + noun
	}
	return n + " " + noun + "s"
}
