package quantity

import (
	"fmt"
	"math/big"
	"strings"
)

// Slope is an exact slope, rise over run, in lowest terms; run is never zero or less.
type Slope struct{ Rise, Run int64 }

// maxSlope bounds both numbers of a slope, so that they multiply with a limit and stay whole.
const maxSlope = 1_000_000_000

// ParseSlope reads a slope such as "1:50" (rise to run) or "2 %". A bare number is refused: 2 may be either.
func ParseSlope(text string) (Slope, error) {
	trimmed := strings.TrimSpace(text)
	rise, run, parts := strings.Cut(trimmed, ":")
	if !parts {
		run = "100"
		rise, parts = strings.CutSuffix(trimmed, "%")
	}
	rise, run = strings.TrimSpace(rise), strings.TrimSpace(run)
	if s, ok := quickSlope(rise, run); ok && parts {
		return s, nil
	}
	a, okA := parseNumber(rise)
	b, okB := parseNumber(run)
	if !parts || !okA || !okB || b.Sign() <= 0 {
		return Slope{}, &Error{fmt.Sprintf("%q", text), "write " + KindSlope.Allowed()}
	}
	value := new(big.Rat).Quo(a, b)
	if !value.Num().IsInt64() || !value.Denom().IsInt64() || value.Num().Int64() > maxSlope || value.Num().Int64() < -maxSlope || value.Denom().Int64() > maxSlope {
		return Slope{}, &Error{fmt.Sprintf("%q, finer or steeper than can be measured", text), "round it to what can be measured"}
	}
	return Slope{value.Num().Int64(), value.Denom().Int64()}, nil
}
