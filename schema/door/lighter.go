package door

import (
	"fmt"

	"sillwright/schema"
	"sillwright/schema/quantity"
)

// Two readings of one door by hand, with a spring gauge, are taken to differ by this much at most: by the part of the greater, or by
// the force where that is more. Engineering judgement, not measured.
const (
	againPart  = 10
	againForce = quantity.Newton
)

// again is the least that a second reading of a force may be.
func again(f quantity.Force) quantity.Force { return f - max(f/againPart, againForce) }

// lighter reports forces of an option below those of the door alone, which no seal can make. Where the readings with the seals cover
// the angles of one of the door, one of them holds its greatest.
func (r *reader) lighter(d *Door) {
	for _, o := range d.Options {
		for _, own := range d.Leaf.OpeningForce.Bands {
			best, ok := covering(own, o.OpeningForce.Bands)
			if !ok || !own.Force.Known || best.Force.Value >= again(own.Force.Value) {
				continue
			}
			at := cursor{at: &spot{pointer: best.Pointer + "/force"}, d: r}
			at.problem(
				fmt.Sprintf("%s N with the seals from %s to %s deg, where the door alone takes %s N (%s)", best.Force.Value.N(), best.From.Deg(), best.To.Deg(), own.Force.Value.N(), schema.Field(own.Pointer)),
				fmt.Sprintf("%s N or more: a seal makes no door lighter, and a second reading is taken to be lower by a tenth or by 1 N at most", again(own.Force.Value).N()),
				"check both numbers; if the closer or the hinges were eased in between, read the door alone again, on the same leaf",
			)
		}
	}
}

// covering is the greatest of the readings within the angles of another; false where they leave a part of it out, or one of them is
// not known.
func covering(own ForceBand, list []ForceBand) (best ForceBand, ok bool) {
	reached := own.From
	for _, b := range list { // in order of their angles
		if b.To < own.From || b.From > own.To || (own.From < own.To && b.From < b.To && !own.overlaps(b)) {
			continue
		}
		if !b.Force.Known {
			return best, false
		}
		if b.From <= reached {
			reached = max(reached, b.To)
			ok = ok || reached >= own.To
		}
		if best.Pointer == "" || b.Force.Value > best.Force.Value {
			best = b
		}
	}
	return best, ok
}
