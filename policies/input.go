package policies

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"

	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// Answer settles a question that a rule left open.
type Answer struct {
	Value    bool   `json:"value"`
	Evidence string `json:"evidence"`
}

// Input is what the policies get.
type Input struct {
	Format    string            `json:"format"` // sillwright/input/1
	Mark      string            `json:"mark"`
	Rulebooks []Ref             `json:"rulebooks"`
	Answers   map[string]Answer `json:"answers"`
	Subjects  []fact.Subject    `json:"subjects"`
	System    quantity.System   `json:"-"` // what the texts are written in
	Worded    []string          `json:"-"` // the outcomes that are put in words, besides what bounds a quantity and cautions; nil: all
}

// check refuses facts of the wrong kind: Rego orders every text above every number, and
// a word that is no word of its fact would read as "does not apply".
func (in Input) check() error {
	for _, s := range in.Subjects {
		for _, name := range slices.Sorted(maps.Keys(s.Facts)) {
			if d, ok := fact.Describe(name); ok && !fits(d, s.Facts[name].Value) {
				return fmt.Errorf("judging %s: fact %s of %s is %v (%T), not a %s. This is a fault of what measured it, and nothing was judged", in.Mark, name, s.ID, s.Facts[name].Value, s.Facts[name].Value, d.Kind)
			}
		}
	}
	return nil
}

func fits(d fact.Description, value any) bool {
	switch d.Kind {
	case fact.Word:
		word, ok := value.(string)
		return ok && slices.Contains(d.Words, word)
	case fact.Truth:
		_, ok := value.(bool)
		return ok
	case fact.Length, fact.Force, fact.Angle, fact.Area, fact.Date:
		if n, ok := value.(json.Number); ok {
			_, err := n.Int64()
			return err == nil
		}
		_, ok := value.(int64)
		return ok
	default:
		return value != nil
	}
}
