package wear

import (
	"math"

	"sillwright/engine/doubt"
)

// Leaves is after how many cycles a place leaves the floor that it rests on: Low is the soonest, High the latest of the band of Loss;
// infinite where it does not within those of the course. A seal that has daylight, or just touches, when it is new leaves at once.
//
// Found by halving, to a thousandth of the cycles. Errors: as Loss.
func (c *Course) Leaves(p Place) (doubt.Range, error) {
	last, err := c.Loss(p)
	if err != nil || p.Rest <= 0 {
		return doubt.Range{}, err
	}
	_, when := c.First([]Place{p}, []doubt.Range{last.Range})
	return when, nil
}

// First is which of some places leaves the floor first, likely or, of those that do so alike, by the high end of their losses; the first
// of several. when is after how many cycles, as Leaves. losses are those of the places by Loss; all must rest on the floor when new. -1:
// no place.
func (c *Course) First(places []Place, losses []doubt.Range) (at int, when doubt.Range) {
	at, when = -1, doubt.Exactly(math.Inf(1))
	for i := len(places) - 1; i >= 0; i-- { // the latch edge, which wears most, before all
		p, floor := places[i], places[i].floor()
		likely := c.leaves(losses[i].Likely < floor, when.Likely, func(at *Course) bool { return at.lost(p, likely)[0] < floor })
		if likely > when.Likely {
			continue
		}
		bound := math.Inf(1)
		if likely == when.Likely {
			bound = when.Low
		}
		low := c.leaves(losses[i].High < floor, bound, func(at *Course) bool { return at.surelyOn(p, floor) })
		if low > bound {
			continue
		}
		at, when.Low, when.Likely = i, low, likely
	}
	if at >= 0 {
		p, floor := places[at], places[at].floor()
		when.High = c.leaves(losses[at].Low < floor, math.Inf(1), func(at *Course) bool { return at.perhapsOn(p, floor) })
	}
	return at, when
}

// leaves finds by halving when a place leaves the floor: infinite where it is on it at last, or still so after bound.
func (c *Course) leaves(atLast bool, bound float64, on func(*Course) bool) float64 {
	if atLast {
		return math.Inf(1)
	}
	low, high, at := 0.0, c.cycles, *c
	for high-low > c.cycles/1000 {
		mid := (low + high) / 2
		if at.reach(mid); !on(&at) {
			high = mid
			continue
		}
		if low = mid; low >= bound {
			return math.Inf(1)
		}
	}
	return high
}

// touching is the part of its overlap with which a seal still counts as on the floor: wear that limits itself comes as near as one likes.
const touching = 1e-6

// floor is the loss with which it leaves the floor.
func (p Place) floor() float64 { return p.Rest * (1 - touching) }

// clear is how far one loss must lie from the floor to settle on which side an end of the band lies that it bounds: far more than the
// band is rounded by.
const clear = 1e-9

// surelyOn says whether the high end of the band stays below a loss. It is no less than any loss of its own.
func (c *Course) surelyOn(p Place, floor float64) bool {
	if p.Error > 0 || !c.seal.rubs(p) {
		return c.loss(p).High < floor
	}
	high := c.lost(p, likely, quick, fast)
	if max(high[0], high[1], high[2]) > floor*(1+clear) {
		return false
	}
	low := c.lost(p, loose, slow)
	return band(p, []float64{high[0], low[0], high[1], low[1], high[2]}, true).High < floor
}

// perhapsOn says whether the low end does. It is no more than any loss of its own.
func (c *Course) perhapsOn(p Place, floor float64) bool {
	if p.Error > 0 || !c.seal.rubs(p) {
		return c.loss(p).Low < floor
	}
	low := c.lost(p, likely, loose, slow)
	if min(low[0], low[1], low[2]) < floor*(1-clear) {
		return true
	}
	high := c.lost(p, quick, fast)
	return band(p, []float64{low[0], low[1], high[0], low[2], high[1]}, true).Low < floor
}

// lost are the losses by some of the ends.
func (c *Course) lost(p Place, ends ...int) [mostSets]float64 {
	var some sets
	for _, k := range ends {
		some.add(c.ends[k])
	}
	c.after(p, &some)
	return some.losses
}
