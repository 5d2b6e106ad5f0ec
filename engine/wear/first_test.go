package wear

import (
	"math"
	"math/rand/v2"
	"testing"

	"sillwright/engine/doubt"
)

// wearing is a seal of any rate between some that lose next to nothing and some that wear away.
func wearing(r *rand.Rand) Seal {
	k := math.Exp(-32 + 8*r.Float64())
	s := worn(func(o float64) float64 { return 8000 * max(o, 0) }, k)
	s.Rate, s.Recovery = doubt.Between(k/30, k, k*30), doubt.Between(0.75, 0.92, 0.97)
	return s
}

// Of some places the first that leaves the floor is the one that leaves it first by itself, to the cycle; of two that do so at once, the
// one that is named first.
func TestFirst_Identity(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	left := 0
	for range 300 {
		course := must[*Course](t)(wearing(r).Over(146100))
		var places []Place
		for range 2 + r.IntN(5) {
			rest := 1e-5 + 2e-3*r.Float64()
			overlaps := []float64{rest, 3e-3 * r.Float64(), 2e-3 * r.Float64()}
			places = append(places, Place{Rest: rest, Sweep: Swept(r.Float64(), []float64{0, 0.8, math.Pi / 2}, overlaps)})
		}
		places = append(places, places[0])
		losses := make([]doubt.Range, len(places))
		want, first := doubt.Exactly(math.Inf(1)), -1
		for i, p := range places {
			losses[i] = must[doubt.Band](t)(course.Loss(p)).Range
			when := must[doubt.Range](t)(course.Leaves(p))
			if first < 0 || when.Likely < want.Likely || when.Likely == want.Likely && when.Low < want.Low {
				want, first = when, i
			}
		}
		if at, when := course.First(places, losses); at != first || when != want {
			t.Fatalf("place %d after %v, by themselves place %d after %v", at, when, first, want)
		}
		if !math.IsInf(want.Low, 1) {
			left++
		}
	}
	if left < 50 || left > 290 {
		t.Errorf("%d of 300 left the floor", left)
	}
	if at, when := must[*Course](t)(wearing(r).Over(1)).First(nil, nil); at != -1 || !math.IsInf(when.Low, 1) {
		t.Errorf("of no place: %d, %v", at, when)
	}
}

// The ends of a band that need not be computed whole lie on the side of a loss that those of the whole band lie on.
func TestBandAgainstALoss_Identity(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 500 {
		course := must[*Course](t)(wearing(r).Over(math.Exp(12 * r.Float64())))
		p := Place{Rest: 1e-3, Sweep: Swept(r.Float64(), []float64{0, math.Pi / 2}, []float64{1e-3, 2e-3 * r.Float64()})}
		b := course.loss(p)
		for _, floor := range []float64{p.floor(), 1e-3 * r.Float64()} {
			if got := course.surelyOn(p, floor); got != (b.High < floor) {
				t.Fatalf("high end of %v against %g: %v", b.Range, floor, got)
			}
			if got := course.perhapsOn(p, floor); got != (b.Low < floor) {
				t.Fatalf("low end of %v against %g: %v", b.Range, floor, got)
			}
		}
	}
}
