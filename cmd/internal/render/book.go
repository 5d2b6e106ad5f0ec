package render

import (
	"golang.org/x/text/language"
	"golang.org/x/text/language/display"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
)

// standing tells which of the rulebooks are no current law of a publisher: superseded editions, and the user's own.
func (p *page) standing(books []assess.BookVerdict) {
	first := true
	line := func(text string) {
		if first {
			p.heading("RULEBOOKS TO MIND", "")
		}
		first = false
		p.text("    ", text)
	}
	for _, b := range books {
		if b.Superseded != "" {
			line(clean(b.Cite) + ": superseded " + clean(b.Superseded) + ". Ask which edition binds this door.")
		}
		if b.Own != "" {
			line(clean(b.Cite) + ": a rulebook of your own (" + clean(b.Own) + "); nothing of it was checked against a published text here.")
		}
	}
}

// seen says where the text of a rule was seen; of a rulebook that is not built in, only its author says so.
func seen(r *policies.Rule, provenance string) string {
	if r.Rulebook.Own != "" {
		return provenances[provenance] + ", as its author says"
	}
	return provenances[provenance]
}

// textOf tells in which language a text is written, and its title there; English texts go without.
func textOf(b *policies.Rulebook) string {
	if b.Language == "" {
		return ""
	}
	tag, err := language.Parse(b.Language)
	if err != nil {
		return "" // the rulebook was refused
	}
	text := "in " + display.English.Tags().Name(tag) + " (" + display.Self.Name(tag) + ")"
	if b.OwnTitle != "" {
		text += ": " + clean(b.OwnTitle)
	}
	return text
}

// tally counts rules by a word of theirs.
func tally(books []*policies.Rulebook, key func(*policies.Rule) string) map[string]int {
	out := map[string]int{}
	for _, b := range books {
		for _, r := range b.Rules {
			out[key(r)]++
		}
	}
	return out
}
