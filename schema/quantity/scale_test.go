package quantity

import "testing"

// What a scale writes exactly, with its unit, it reads to the same number.
func TestScales_Identity(t *testing.T) {
	for unit, s := range Scales {
		for _, n := range []int64{0, 1, 12_700_000, 999_999_999, 22_241_108_076_302_500} {
			if back, err := s.Parse(s.Exact(n) + " " + unit); n <= 1_000_000_000 && (err != nil || back != n) || err == nil && back != n {
				t.Errorf("%d %s reads as %d, %v", n, unit, back, err)
			}
		}
		if text := s.In(0, Metric); text != "0 "+unit {
			t.Errorf("nothing in %s is %q", unit, text)
		}
	}
}
