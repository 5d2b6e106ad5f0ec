package assess

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"sync"

	"sillwright/schema"
)

// ProjectFile names a project file.
const ProjectFile = "a project file"

// words name what a document of ours is when it is no door spec, by the name of its schema.
var words = map[string]string{
	"cases": "the cases of a rulebook", "comparison": "two options of a door, compared", "explanation": "the explanation of a door", "fit": "a fit of flow readings", "input": "what the rules get of a door",
	"problem": "a problem of an input", "project": ProjectFile, "result": "the result of a door",
	"rulebook": "a rulebook", "seals": "a seal catalogue", "summary": "the summary of a run",
}

// doorKeys are the keys by which a door is known whatever its format says: those of its schema but for the ones
// that documents of every kind have.
var doorKeys = sync.OnceValue(func() []string {
	var door struct{ Properties map[string]any }
	src, err := schema.Source("door")
	if err == nil {
		err = json.Unmarshal(src, &door)
	}
	if err != nil {
		panic(fmt.Sprintf("the built-in schema of a door: %v", err))
	}
	var out []string
	for key := range door.Properties {
		if !slices.Contains([]string{"format", "$schema", "title"}, key) {
			out = append(out, key)
		}
	}
	slices.Sort(out)
	return out
})

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
// ours and no key of a door, nor one that is a slip away from it. A misspelt format or key is no stranger: it must
// be told, even where it is a chance likeness, for a door that is passed over looks like a door that complies.
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
		return schema.Nearest(m.Key, doorKeys()) != ""
	})
}
