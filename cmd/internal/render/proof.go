package render

import (
	"fmt"
	"io"
	"strings"

	"sillwright/policies"
)

// BookProof is what a rulebook's cases said of it.
type BookProof struct {
	Book           *policies.Rulebook
	Tried          int
	Wrong, Lacking []string // cases that came out otherwise, and outcomes that no case shows
}

// Holds says whether all came out as it should, and nothing is lacking.
func (b BookProof) Holds() bool { return len(b.Wrong)+len(b.Lacking) == 0 }

// Proofs tells what the cases of rulebooks said of them.
func Proofs(w io.Writer, proofs []BookProof) error {
	p := &page{}
	for i, b := range proofs {
		if i > 0 {
			p.blank()
		}
		said := "holds"
		if !b.Holds() {
			said = "does not hold"
		}
		p.sides("", b.Book.ID+"  "+b.Book.Title, said, "")
		p.text("  ", fmt.Sprintf("%s, %s, of which %s out as expected.", plural(len(b.Book.Rules), "rule", "rules"), plural(b.Tried, "case", "cases"), cameOut(b.Tried-len(b.Wrong))))
		for _, line := range append(b.Wrong, b.Lacking...) {
			for i, part := range strings.Split(line, "\n") {
				p.text(map[bool]string{true: "  ", false: "    "}[i == 0], clean(part))
			}
		}
	}
	return p.flush(w)
}

func cameOut(n int) string {
	if n == 1 {
		return "1 comes"
	}
	return fmt.Sprintf("%d come", n)
}
