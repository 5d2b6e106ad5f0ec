package door

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"sillwright/schema"
	"sillwright/schema/fact"
)

// The words of a fact are those that the door schema lets a spec write.
func TestFactWordsAreTheSchemasWords(t *testing.T) {
	src, err := schema.Source("door")
	if err != nil {
		t.Fatal(err)
	}
	var root map[string]any
	if err := json.Unmarshal(src, &root); err != nil {
		t.Fatal(err)
	}
	for _, name := range fact.Names() {
		d, _ := fact.Describe(name)
		if d.Kind != fact.Word || name == "floor_finish" || name == "use" { // a word or a thickness in the spec; derived from how the door opens
			continue
		}
		node := root
		for part := range strings.SplitSeq(strings.TrimPrefix(strings.ReplaceAll(d.Pointer, "{side}", "inside"), "/"), "/") {
			node, _ = node["properties"].(map[string]any)[part].(map[string]any)
			if ref, ok := node["$ref"].(string); ok {
				node, _ = root["definitions"].(map[string]any)[strings.TrimPrefix(ref, "#/definitions/")].(map[string]any)
			}
		}
		var words []string
		for _, w := range node["enum"].([]any) {
			if w != "unknown" {
				words = append(words, w.(string))
			}
		}
		if !slices.Equal(words, d.Words) {
			t.Errorf("fact %s has the words %v, its schema %v", name, d.Words, words)
		}
	}
}
