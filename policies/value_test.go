package policies

import (
	"encoding/json"
	"math"
	"strconv"
	"testing"
)

// Two figures, the ends of a band rounded outwards: by hand.
func TestSignificant(t *testing.T) {
	for _, c := range []struct {
		v     float64
		round func(float64) float64
		want  string
	}{
		{3.7, math.Round, "3.7"}, {3.7, math.Ceil, "3.7"}, {3.701, math.Ceil, "3.8"}, {3.799, math.Floor, "3.7"},
		{9.96, math.Round, "10"}, {9.96, math.Floor, "9.9"}, {9.91, math.Ceil, "10"}, {0.0631, math.Floor, "0.063"},
		{157.2, math.Round, "160"}, {151, math.Ceil, "160"}, {12.01, math.Ceil, "13"}, {0, math.Ceil, "0"},
	} {
		if got := Significant(c.v, c.round); got != c.want {
			t.Errorf("%v: %s, want %s", c.v, got, c.want)
		}
	}
}

// A slope never prints gentler than it is.
func TestSlopeWords(t *testing.T) {
	for want, pair := range map[string][2]int64{"1:2": {1, 2}, "1:1.99": {1000, 1999}, "1:1.5": {12, 18}, "upright": {6, 0}, "1:0.75": {4, 3}} {
		v := value{"ratio": []any{json.Number(strconv.FormatInt(pair[0], 10)), json.Number(strconv.FormatInt(pair[1], 10))}}
		if got := v.words("mm"); got != want {
			t.Errorf("%v: %s, want %s", pair, got, want)
		}
	}
}
