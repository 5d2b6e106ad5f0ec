package policies

import (
	"fmt"
	"slices"
	"strings"

	"sillwright/schema"
)

// variant is what is asked for where a spec names a rulebook without the variant that decides whether a rule is for its door.
const variant = "variant"

// variants holds that a rule names variants which its rulebook has.
func (f *faults) variants() {
	r := f.rule
	for i, v := range r.Variants {
		if !slices.Contains(r.Rulebook.Variants, v) {
			f.value(place{"variants", i}, fmt.Sprintf("variant %q", v), schema.Choices(v, r.Rulebook.Variants), "name a variant of the rulebook, or add it there")
		}
	}
	if n := len(r.Rulebook.Variants); n > 0 && len(r.Variants) == n {
		f.key(place{"variants"}, "every variant of the rulebook", "some of them, or none for all", "take the list out")
	}
}

// brought holds that the rulebooks which are judged along are there.
func (p *Policies) brought(b *Rulebook) []schema.Problem {
	var out []schema.Problem
	for i, id := range b.Brings {
		if other, ok := p.Rulebook(id); !ok || other == b || other.Always {
			out = append(out, b.doc.Problem(schema.Pointer("brings", i), fmt.Sprintf("rulebook %q", id), schema.Choices(id, slices.DeleteFunc(p.IDs(), func(o string) bool { return o == b.ID })), "name another rulebook that a spec may name"))
		}
	}
	return out
}

// elsewhere says why a rule of some variants does not apply.
func (r *Rule) elsewhere() string {
	return "it is a rule of " + strings.Join(r.Variants, ", ")
}

// needsVariant asks for the variant.
func (r *Rule) needsVariant() Need {
	return Need{
		Fact: variant, Pointer: "/rulebooks", Title: "which variant of " + r.Rulebook.ID + " applies",
		How: "ask which of " + strings.Join(r.Rulebook.Variants, ", ") + " the permission or the contract names, and write it beside the rulebook: {id: " + r.Rulebook.ID + ", variant: " + r.Rulebook.Variants[0] + "}",
	}
}
