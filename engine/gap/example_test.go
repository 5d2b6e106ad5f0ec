package gap_test

import (
	"fmt"

	"sillwright/engine/air"
	"sillwright/engine/crack"
	"sillwright/engine/gap"
)

// A floor that falls from 1 to 5 mm under a leaf of 40 mm: the flow over the width, and what the mean gap would give.
func ExampleLine_Integrate() {
	wedge, err := gap.New(1, []gap.Reading{{At: 0, Gap: 0.001}, {At: 1, Gap: 0.005}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, dp := range []float64{0.5, 4, 50} {
		bare := func(d float64) float64 { return crack.Slot(d, 0.040, crack.StraightLoss, air.Standard()).Flow(dp) }
		fmt.Printf("%g Pa: %.2f L/s, mean gap %.2f\n", dp, 1e3*wedge.Integrate(bare), 1e3*bare(0.003))
	}
	// Output:
	// 0.5 Pa: 1.25 L/s, mean gap 1.14
	// 4 Pa: 4.90 L/s, mean gap 4.91
	// 50 Pa: 20.56 L/s, mean gap 20.77
}
