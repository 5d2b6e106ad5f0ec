package assess

import (
	"testing"

	"sillwright/schema"
)

// Every published format but that of a door has its words.
func TestEveryFormatHasItsWords(t *testing.T) {
	for _, name := range schema.Names() {
		if _, ok := words[name]; ok == (name == "door") {
			t.Errorf("format %s: words %q", name, words[name])
		}
	}
}

// A door is never passed over for a slip in its format or its keys.
func TestStranger(t *testing.T) {
	for text, want := range map[string]string{
		"format: sillwright/seals/1\nseals: {}":    "a seal catalogue",
		"format: sillwright/rulebook/1\nid: x":     "a rulebook",
		"services: {web: {image: x}}":              "a document of another kind",
		"name: build\non: push":                    "a document of another kind",
		"- [a, b]":                                 "a list",
		"just a text":                              "text",
		"{}":                                       "a document of another kind",
		"format: sillwright/door/1":                "",
		"format: sillwright/door/2\nthreshold: {}": "",
		"format: silwright/door/1\nthreshold: {}":  "",
		"format: SillWright/Door/1\nthreshold: {}": "",
		"fromat: sillwright/door/1\nthreshold: {}": "",
		"format: sillwright/sealz/1\nseals: {}":    "",
		"mark: D-01":                               "",
		"Mark: D-01":                               "",
		"door: {height: 2 m}":                      "",
		"treshold: {}":                             "",
		"Leafs: []":                                "",
		"rule_books: []":                           "",
		"title: Hall":                              "a document of another kind",
		"$schema: door.schema.json":                "a document of another kind",
		"rulebooks: [us-ada-2010]":                 "",
		"format: sillwright/seals/1\nmark: D-01\nrulebooks: [us-ada-2010]": "",
	} {
		docs, problems := schema.Read("a.yaml", []byte(text+"\n"))
		if len(docs) != 1 || len(problems) > 0 {
			t.Fatalf("%q: %v", text, problems)
		}
		if got, is := Stranger(docs[0]); is != (want != "") || (is && got != want) {
			t.Errorf("%q is %q, %v; want %q", text, got, is, want)
		}
	}
}

// Each key at the top of a door spec makes a door of a document, alone and with a letter missing. The list is that of
// the documented spec, written out.
func TestEveryKeyMakesADoor(t *testing.T) {
	for _, key := range []string{"mark", "rulebooks", "stage", "site", "air", "door", "approach", "leaves", "threshold", "floor", "paths", "duty", "options", "evidence", "targets", "fixed"} {
		for _, written := range []string{key, key[:len(key)-1]} {
			docs, problems := schema.Read("a.yaml", []byte(written+": {}\n"))
			if len(docs) != 1 || len(problems) > 0 {
				t.Fatalf("%s: %v", written, problems)
			}
			if what, is := Stranger(docs[0]); is {
				t.Errorf("a document with %s is %s", written, what)
			}
		}
	}
}
