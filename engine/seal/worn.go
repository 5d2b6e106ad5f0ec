package seal

import (
	"fmt"

	"sillwright/engine/air"
	"sillwright/engine/gap"
)

// Likely is the likely flow of the edge (m3/s) at a drop (Pa), without its band: see Leakage.
func (e Edge) Likely(dp float64, a air.Air) (float64, error) {
	if err := e.check(dp, a); err != nil {
		return 0, err
	}
	w := benches.Get().(*bench)
	defer benches.Put(w)
	w.set(e, dp, a)
	return w.solve(dp), nil
}

// Wear is the seal after it has lost some height (m) at places of a line. A seal that is shorter by w there is the same seal over a
// gap that is wider by w: its carrier stays where it was set.
//
//	overlap(x) = Overlap + widest - gap(x) - loss(x),  loss straight between the places, held beyond them
//
// Its feet stay as they were; the gap under the leaf too. Deviation: worn tips are taken to be as even as new ones, a shorter brush as
// open as the new one. Not for a drop seal, which follows the floor. Error: as many losses as places are due, none below 0.
func (s Fitted) Wear(line gap.Line, at, losses []float64) (Fitted, error) {
	if len(at) != len(losses) {
		return s, fmt.Errorf("%d places and %d losses of height; give one a place", len(at), len(losses))
	}
	readings := make([]gap.Reading, len(at))
	for i, x := range at {
		if !(losses[i] >= 0) {
			return s, fmt.Errorf("loss of height at %g m is %g m; it must be 0 or more", x, losses[i])
		}
		readings[i] = gap.Reading{At: x, Gap: line.At(x) + losses[i]}
	}
	worn, err := gap.New(line.Width(), readings)
	s.Worn = worn
	return s, err
}
