package force

import (
	"fmt"
	"math"

	"sillwright/engine/doubt"
)

// mostSize (m) is more than a leaf that swings is wide or high.
const mostSize = 5.0

// mostPressure (Pa) is far beyond wind and fans at a door.
const mostPressure = 5000.0

// Pressure is the force (N) at a lever from the hinge that holds an even pressure difference on a closed leaf that swings:
//
//	F = dp W H W/2/lever
//
// dp Pa, W width and H height m, lever m from the hinge axis: W at the latch edge, where F = dp W H/2; W - d at a knob d from that
// edge, where it is the pressure term of the ASHRAE form for stair pressurisation, W A dp/(2 (W - d)). Its sign is that of dp.
//
// Source: balance of moments about the hinge (exact). Range: dp within 5000 Pa either way, W and H above 0 to 5 m, lever above 0 to W,
// else an error. Deviations: the pressure is the same all over the leaf and stands while the leaf is closed; once it opens a crack the
// pressure falls by as much as the rooms allow, which is not predicted. The stop is taken to leave the whole area to the pressure.
func Pressure(dp, width, height, lever float64) (float64, error) {
	switch {
	case !(math.Abs(dp) <= mostPressure):
		return 0, fmt.Errorf("pressure is %g Pa; allowed is %g to %g", dp, -mostPressure, mostPressure)
	case !(width > 0 && width <= mostSize && height > 0 && height <= mostSize):
		return 0, fmt.Errorf("leaf is %g x %g m; allowed is above 0 to %g", width, height, mostSize)
	case !(lever > 0 && lever <= width):
		return 0, fmt.Errorf("lever is %g m; allowed is above 0 to the width, %g m", lever, width)
	}
	return dp * width * height * width / 2 / lever, nil
}

// between is a band of forces of two moments over a lever, with their geometric mean.
func between(least, most, lever float64) doubt.Range {
	return doubt.Between(least/lever, math.Sqrt(least*most)/lever, most/lever)
}
