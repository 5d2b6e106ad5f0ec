package drag

import (
	"fmt"
	"strings"

	"sillwright/engine/doubt"
)

// Material is what rubs on the floor.
type Material string

// The materials of bottom seals.
const (
	Bristle Material = "bristle" // nylon or polypropylene
	Rubber  Material = "rubber"  // and other soft blades
)

const maxFriction = 5

// frictions by floor. From memory, not verified (no good table was found): nylon or polypropylene 0.2..0.4 on smooth
// tile and timber, 0.3..0.6 on concrete; rubber on tile 0.6..1.0 dry and 0.3..0.6 wet. All others, and every likely
// value, are engineering judgement, not measured: rubber spans wet and dry on each floor that can be wet, and carpet
// lets tips catch in its pile.
var frictions = []struct {
	floor           string
	bristle, rubber doubt.Range
}{
	{"tile", doubt.Between(0.2, 0.3, 0.4), doubt.Between(0.3, 0.7, 1.0)},
	{"jointed-tile", doubt.Between(0.2, 0.3, 0.5), doubt.Between(0.3, 0.7, 1.0)},
	{"timber", doubt.Between(0.2, 0.3, 0.4), doubt.Between(0.3, 0.7, 1.0)},
	{"vinyl", doubt.Between(0.2, 0.3, 0.5), doubt.Between(0.3, 0.8, 1.2)},
	{"concrete", doubt.Between(0.3, 0.45, 0.6), doubt.Between(0.3, 0.7, 1.0)},
	{"stone", doubt.Between(0.2, 0.35, 0.6), doubt.Between(0.3, 0.7, 1.0)},
	{"carpet", doubt.Between(0.3, 0.5, 1.0), doubt.Between(0.4, 0.8, 1.5)},
	{"metal", doubt.Between(0.15, 0.25, 0.4), doubt.Between(0.3, 0.7, 1.0)},
	{"unknown", doubt.Between(0.15, 0.35, 1.0), doubt.Between(0.3, 0.7, 1.5)},
}

// Friction is the range of the coefficient of sliding friction of a material on a floor: force along the floor over the
// normal force. An unknown floor spans all.
//
// Source: from memory, not verified, in part engineering judgement, not measured (see the table). Error: a floor or
// material that is not known. Deviations: no rise at the start of a movement, no speed, no dirt.
func Friction(floor string, of Material) (doubt.Range, error) {
	for _, f := range frictions {
		switch {
		case f.floor != floor:
		case of == Bristle:
			return f.bristle, nil
		case of == Rubber:
			return f.rubber, nil
		default:
			return doubt.Range{}, fmt.Errorf("material %q is not known; use one of %s, %s", of, Bristle, Rubber)
		}
	}
	words := make([]string, 0, len(frictions))
	for _, f := range frictions {
		words = append(words, f.floor)
	}
	return doubt.Range{}, fmt.Errorf("floor %q is not known; use one of %s", floor, strings.Join(words, ", "))
}
