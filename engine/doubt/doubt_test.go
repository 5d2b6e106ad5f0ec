package doubt

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-12*math.Max(math.Abs(want), 1)) {
		t.Errorf("%s: got %.15g, want %.15g", what, got, want)
	}
}

// Equal independent factors of 2 either way combine to 2^sqrt(2).
func TestBandOf_Identity(t *testing.T) {
	effects := []Effect{
		{Doubt: Doubt{Name: "a"}, Low: 1.5, High: 6}, {Doubt: Doubt{Name: "b"}, Low: 6, High: 1.5}, {Doubt: Doubt{Name: "c"}, Low: 3, High: 3},
	}
	b := BandOf(3, effects)
	near(t, "high", b.High, 3*math.Pow(2, math.Sqrt2))
	near(t, "low", b.Low, 3/math.Pow(2, math.Sqrt2))
	near(t, "share", b.Share, 0.5)
	if b.Likely != 3 || b.Largest != effects[0] {
		t.Errorf("%+v", b)
	}
	if b := BandOf(3, nil); b != (Band{Range: Exactly(3)}) {
		t.Errorf("without doubts %+v", b)
	}
	both := BandOf(3, []Effect{{Low: 4, High: 6}}) // higher at both ends
	near(t, "no low end", both.Low, 3)
	near(t, "the farther end", both.High, 6)
	closed := BandOf(3, []Effect{{Low: -1, High: 3}, {Low: 2, High: 4}})
	if closed.Low != 0 || closed.Share != 1 || closed.Largest.Low != -1 {
		t.Errorf("one that closes it %+v", closed)
	}
	nothing := BandOf(0, []Effect{{Low: 0, High: 3}, {Low: 0, High: 4}})
	near(t, "from nothing", nothing.High, 5)
	if nothing.Low != 0 || nothing.Likely != 0 || nothing.Largest.High != 4 {
		t.Errorf("from nothing %+v", nothing)
	}
}

func TestRange(t *testing.T) {
	for _, c := range []struct {
		r  Range
		ok bool
	}{{Exactly(1), true}, {Range{0, 0, 2}, true}, {Range{-0.1, 0, 1}, false}, {Range{0, 1, 2.1}, false}, {Range{1, 0, 2}, false}, {Range{0, 2, 1}, false}, {Exactly(math.NaN()), false}} {
		if err := c.r.Check("x", 0, 2); (err == nil) != c.ok {
			t.Errorf("%v: %v", c.r, err)
		}
	}
	if got := (Range{1, 2, 3}).Plus(Range{10, 20, 30}); got != (Range{11, 22, 33}) {
		t.Errorf("sum %v", got)
	}
	if Positive("x", 0) == nil || Positive("x", math.Inf(1)) == nil || Positive("x", math.NaN()) == nil || Positive("x", 1e-300) != nil {
		t.Error("what is positive")
	}
	if First(nil, nil) != nil || First(nil, Positive("x", -1), nil) == nil {
		t.Error("the first error")
	}
}
