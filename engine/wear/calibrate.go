package wear

import (
	"fmt"
	"math"

	"sillwright/engine/doubt"
)

// Test is a life test of a seal: what it lost at the latch edge of a leaf that opened to 90 degrees and closed again.
type Test struct {
	Loss    float64 // of height, m
	Cycles  float64
	Overlap float64 // that it was set to over a level floor, m
	Width   float64 // of the leaf, m
	Floor   string
}

// Check wants a loss of 0 or more and less than the overlap, cycles, a width up to 20 m.
func (t Test) Check() error {
	switch {
	case !(t.Overlap > 0) || t.Overlap > 0.1:
		return fmt.Errorf("overlap of a life test is %g m; allowed is above 0 to 0.1", t.Overlap)
	case !(t.Loss >= 0 && t.Loss < t.Overlap):
		return fmt.Errorf("a seal that lost %g m with an overlap of %g m; it must be less than the overlap: a seal that left the floor says no more than that", t.Loss, t.Overlap)
	case !(t.Width > 0) || t.Width > 20:
		return fmt.Errorf("width of the leaf of a life test is %g m; allowed is above 0 to 20", t.Width)
	}
	return doubt.Positive("cycles of a life test", t.Cycles)
}

// What a life test leaves open, as factors on the wear rate. Engineering judgement, not measured.
const (
	testScatter = 1.5 // another piece, on the same floor
	otherFloor  = 3.0 // another floor than that of the test
)

// Calibrated is the seal with the wear rate, and the recovery where the set alone is more than was lost, that explain a life test.
// changes is how much faster than the floor of the test the floor of the door wears it, by the likely rates of Rate; same says that
// it is the same floor.
//
//	k such that Loss at x = W, level floor, after the cycles of the test is the loss of the test, R likely
//
// The factor on the force falls out, since the same force serves test and door. Source: engineering judgement, not measured. Error: as
// Check, and a loss that no wear rate up to 1e-6 m2/N explains.
func (s Seal) Calibrated(t Test, changes float64, same bool) (Seal, error) {
	if err := doubt.First(t.Check(), s.Check()); err != nil {
		return Seal{}, err
	}
	s.Factor = doubt.Exactly(1)
	at := Place{Rest: t.Overlap, Sweep: []Stretch{{t.Overlap, math.Pi * t.Width}}}
	course := s.over(t.Cycles)
	loss := func(k float64) float64 {
		v := course.ends[likely]
		v.rate = k
		one := sets{n: 1, of: [mostSets]values{v}}
		course.after(at, &one)
		return one.losses[0]
	}
	if set := loss(0); s.Force == nil || t.Loss <= set {
		settled := -math.Expm1(-t.Cycles / s.settling().Likely)
		r := math.Max(1-t.Loss/(t.Overlap*settled), 0)
		s.Recovery = doubt.Between(math.Max(0, 1-(1-r)*testScatter), r, 1-(1-r)/testScatter)
		s.Rate = doubt.Exactly(0)
		return s, nil
	}
	low, high := 1e-20, 1e-6
	if loss(high) < t.Loss {
		return Seal{}, fmt.Errorf("a loss of %g m after %g cycles is more than any wear explains; check its units", t.Loss, t.Cycles)
	}
	for range 60 {
		mid := math.Sqrt(low * high)
		if loss(mid) < t.Loss {
			low = mid
		} else {
			high = mid
		}
	}
	k, off := math.Sqrt(low*high)*changes, testScatter
	if !same {
		off = math.Exp(math.Hypot(math.Log(testScatter), math.Log(otherFloor)))
	}
	s.Rate = doubt.Between(k/off, k, math.Min(k*off, 1e-6))
	return s, nil
}
