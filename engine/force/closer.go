// Package force holds what moves a leaf beside its seals: the closer, and the pressure of the air on it. Forces are in newtons at a
// lever from the hinge, as a spring gauge at the latch edge reads them.
package force

import (
	"fmt"

	"sillwright/engine/doubt"
)

// closer is a row of EN 1154:1996, table 1: moments in N m of a closer of a power size.
type closer struct {
	shutLeast, shutMost float64 // closing, 0 to 4 degrees
	elsewhere           float64 // closing, least at any other angle
	openMost            float64 // opening, 0 to 60 degrees
	efficiency          float64 // least, closing over opening moment, 0 to 4 degrees
}

// closers are the power sizes 1 to 7. From memory, not verified: the text could not be read, only its leaf widths and test masses at second
// hand. The columns agree: each greatest opening moment is the greatest closing moment over the least efficiency.
var closers = [...]closer{
	{9, 13, 2, 26, 0.50},
	{13, 18, 3, 36, 0.50},
	{18, 26, 4, 47, 0.55},
	{26, 37, 6, 62, 0.60},
	{37, 54, 8, 83, 0.65},
	{54, 87, 11, 134, 0.65},
	{87, 140, 18, 215, 0.65},
}

// Angles (degrees) at which the table of EN 1154 changes: closing moments are of the last Shut degrees or of the others, and opening
// moments are bounded up to Bounded.
const (
	Shut    = 4.0
	Bounded = 60.0
)

// Opening is the force (N) with which a closer of a power size resists opening at a lever (m) from the hinge, over the angles from
// closed to Bounded; shut: within the first Shut degrees.
//
//	low = least closing moment/lever;  high = greatest opening moment/lever;  likely = sqrt(low high)
//
// A closer takes at least as much to open as it gives back. From Bounded on the table states no greatest moment, as a closer may check
// the leaf there: only low holds.
//
// Source: EN 1154:1996, table 1, from memory, not verified (see closers); likely is engineering judgement, not measured. Range: size
// 1..7, lever above 0 to 5 m, else an error. Deviations: hinges, gaskets, latch and weight are not counted, so that a door may be
// heavier; the closer is taken to be set to the size that is said.
func Opening(size int, lever float64, shut bool) (doubt.Range, error) {
	c, err := of(size, lever)
	if err != nil {
		return doubt.Range{}, err
	}
	least := c.elsewhere
	if shut {
		least = c.shutLeast
	}
	return between(least, c.openMost, lever), nil
}

// Closing is the force (N) with which a closer of a power size shuts the leaf over its last Shut degrees at a lever (m) from the hinge:
// low and high as the least and the greatest closing moment over the lever, likely between them as in Opening, from which source,
// range, errors and deviations are.
func Closing(size int, lever float64) (doubt.Range, error) {
	c, err := of(size, lever)
	if err != nil {
		return doubt.Range{}, err
	}
	return between(c.shutLeast, c.shutMost, lever), nil
}

func of(size int, lever float64) (closer, error) {
	if size < 1 || size > len(closers) {
		return closer{}, fmt.Errorf("power size of the closer is %d; allowed is 1 to %d", size, len(closers))
	}
	if !(lever > 0 && lever <= mostSize) {
		return closer{}, fmt.Errorf("lever is %g m; allowed is above 0 to %g", lever, mostSize)
	}
	return closers[size-1], nil
}
