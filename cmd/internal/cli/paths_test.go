package cli

import "testing"

// A path that begins a line of a log begins no command of it.
func TestShown(t *testing.T) {
	for path, want := range map[string]string{
		"a.json": "a.json", "": `""`, ":a": "./:a", "::a": "./::a", "##[a": "./##[a", "#a": "./#a", " ::a": "./ ::a", "\t#a": "./\t#a", "\u00a0:a": "./\u00a0:a", "a::b": "a::b", " a": " a", "/#a": "/#a",
	} {
		if got := shown(path); got != want {
			t.Errorf("%q is shown as %q, want %q", path, got, want)
		}
	}
}
