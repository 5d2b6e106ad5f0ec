package assess

import (
	"slices"
	"strings"

	"sillwright/schema"
)

// words name what a document of ours is when it is no door spec, by the name of its schema.
var words = map[string]string{
	"cases": "the cases of a rulebook", "input": "what the rules get of a door", "problem": "a problem of an input", "result": "the result of a door",
	"rulebook": "a rulebook", "seals": "a seal catalogue", "summary": "the summary of a run",
}

// doorKeys are the keys by which a door is known whatever its format says.
var doorKeys = []string{"mark", "rulebooks", "door"}

// OtherFormat names what a document is that has another format of ours. One that has the keys of a door all
// the same, and does not keep to the format that it claims, is a door with the wrong format.
func OtherFormat(doc schema.Document) (what string, is bool) {
	format, _ := doc.Root.Member("format")
	if format == nil {
		return "", false
	}
	name, ours := strings.CutPrefix(format.Text, "sillwright/")
	name, _, _ = strings.Cut(name, "/")
	what = words[name]
	if !ours || what == "" {
		return "", false
	}
	if !hasDoorKey(doc.Root) {
		return what, true
	}
	s, err := schema.Named(name)
	return what, err == nil && len(schema.Validate(doc, s)) == 0
}

// Stranger names what a document is that nobody would take for a door: another format of ours, or no format of
// ours and no key of a door. A misspelt format or key is no stranger: it must be told.
func Stranger(doc schema.Document) (what string, is bool) {
	if what, is := OtherFormat(doc); is {
		return what, true
	}
	if doc.Root.Kind != schema.Object {
		return doc.Root.Kind.String(), true
	}
	if hasDoorKey(doc.Root) {
		return "", false
	}
	for _, m := range doc.Root.Members {
		if strings.HasPrefix(strings.ToLower(m.Value.Text), "sillwright/") || schema.Nearest(m.Value.Text, []string{"sillwright/door/1"}) != "" {
			return "", false
		}
	}
	return "a document of another kind", true
}

func hasDoorKey(root *schema.Node) bool {
	return slices.ContainsFunc(root.Members, func(m schema.Member) bool {
		return slices.ContainsFunc(doorKeys, func(key string) bool { return strings.EqualFold(key, m.Key) })
	})
}
