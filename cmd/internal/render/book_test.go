package render

import (
	"context"
	"strings"
	"testing"

	"sillwright/policies"
)

// Every text that is not in English is told with its language, in both, and its own title; an edition that is no law any more says so
// wherever a clause is told.
func TestTextsOfRulebooks(t *testing.T) {
	p, err := policies.Load(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	foreign, past := 0, 0
	for _, b := range p.Rulebooks {
		text := textOf(b)
		if (b.Language == "") != (text == "") || (b.Language == "") != (b.OwnTitle == "") {
			t.Errorf("%s: language %q, own title %q: %q", b.ID, b.Language, b.OwnTitle, text)
		}
		if text != "" {
			foreign++
			if strings.Contains(text, "Unknown") || strings.Contains(text, "in "+b.Language+" ") || !strings.HasSuffix(text, ": "+b.OwnTitle) {
				t.Errorf("%s: %q", b.ID, text)
			}
		}
		if b.Superseded != "" {
			past++
		}
		if (b.Superseded != "") != strings.HasSuffix(b.Cite, " (superseded)") {
			t.Errorf("%s: superseded %q, cited as %q", b.ID, b.Superseded, b.Cite)
		}
	}
	// France, Germany, Austria, Switzerland, Spain, Portugal, the Netherlands, Poland, Norway, Denmark and Finland.
	if foreign < 11 || past < 3 {
		t.Errorf("%d foreign texts, %d superseded ones", foreign, past)
	}
	if got := textOf(&policies.Rulebook{Language: "fr", OwnTitle: "Arrêté"}); got != "in French (français): Arrêté" {
		t.Errorf("%q", got)
	}
}
