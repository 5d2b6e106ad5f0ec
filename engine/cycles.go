package engine

import (
	"fmt"
	"math"
	"slices"

	"sillwright/engine/catalogue"
	"sillwright/engine/doubt"
	"sillwright/engine/wear"
	"sillwright/schema/door"
	"sillwright/schema/fact"
)

// putAsked adds how many openings are asked of an option over its life: a whole number, rounded up.
func putAsked(facts fact.Set, d *door.Door) {
	at := []string{}
	for _, p := range []string{d.Duty.CyclesPerDay.Pointer, d.Duty.Life.Pointer} {
		if _, written := d.Document.Root.Lookup(p); written {
			at = append(at, p)
		}
	}
	cycles, known := Asked(d)
	none := d.Duty.CyclesPerDay.Known && d.Duty.CyclesPerDay.Value == 0
	if len(at) == 2 && !none {
		value := map[string]any{}
		if known {
			value["cycles"], value["class"] = int64(math.Ceil(cycles)), classWords(cycles)
		}
		facts["cycles_asked"] = fact.Fact{Value: value, At: at, Formula: "openings a day x 365.25 x years"}
	}
}

// putTested adds how many openings the bottom seals of an option were tested for: a whole number, rounded down.
func putTested(facts fact.Set, d *door.Door, o door.Option, c *catalogue.Catalogue, tested *doubt.Range) {
	if tested == nil {
		return
	}
	value := map[string]any{"cycles": int64(math.Floor(tested.Likely))}
	if _, known := Asked(d); known {
		value["years"] = fmt.Sprintf("%.2g years", wear.Years(tested.Likely, d.Duty.CyclesPerDay.Value))
	}
	seals := []string{}
	for _, f := range o.Fits {
		if entry, ok := c.Seal(f.Seal.Value); f.Edge == "bottom" && ok && entry.Life == tested.Likely && !slices.Contains(seals, f.Seal.Pointer) {
			seals = append(seals, f.Seal.Pointer)
		}
	}
	facts["cycles_tested"] = fact.Fact{Value: value, At: seals, Formula: "from the catalogue, of the bottom seal that was tested for the fewest"}
}

// classWords names the class of EN 12400 that covers so many openings.
func classWords(cycles float64) string {
	class, _, ok := wear.Least(cycles)
	if !ok {
		return "more than class 8 of EN 12400"
	}
	return fmt.Sprintf("class %d of EN 12400 or better", class)
}
