package crack

import "math"

// Passage is a flow path that can be solved both ways. Law is one, Bundle is one.
type Passage interface {
	Flow(dp float64) float64 // flow at a drop dp (Pa)
	Drop(q float64) float64  // drop (Pa) at a flow q
}

// Bundle is a set of paths side by side: the same drop, flows added.
type Bundle []Law

// Flow is the sum of the flows at dp (Pa).
func (b Bundle) Flow(dp float64) float64 {
	sum := 0.0
	for _, l := range b {
		sum += l.Flow(dp)
	}
	return sum
}

// Drop is the drop (Pa) at which the bundle passes q. Every path alone would need at least that drop for q, so the
// smallest of those bounds it; bisection below, to rounding.
func (b Bundle) Drop(q float64) float64 {
	if q < 0 {
		return -b.Drop(-q)
	}
	high := math.Inf(1)
	for _, l := range b {
		high = math.Min(high, l.Drop(q))
	}
	if math.IsInf(high, 1) || high == 0 {
		return high
	}
	return bisect(high, func(dp float64) bool { return b.Flow(dp) < q })
}

// InSeries is the flow through passages one after the other at a whole drop dp (Pa): the q with sum dp_i(q) = dp.
// Every dp_i rises with q, so bisection below the smallest of the single flows finds it, to rounding. For laws alone
// Series is exact and faster. No passage gives +Inf.
func InSeries(dp float64, passages ...Passage) float64 {
	if dp < 0 {
		return -InSeries(-dp, passages...)
	}
	high := math.Inf(1)
	for _, p := range passages {
		high = math.Min(high, p.Flow(dp))
	}
	if math.IsInf(high, 1) || high <= 0 {
		return high
	}
	return bisect(high, func(q float64) bool {
		sum := 0.0
		for _, p := range passages {
			sum += p.Drop(q)
		}
		return sum < dp
	})
}

// bisect finds the largest x in 0..high for which tooSmall holds, to the spacing of float64.
func bisect(high float64, tooSmall func(float64) bool) float64 {
	low := 0.0
	for range 200 {
		mid := low + (high-low)/2
		if mid == low || mid == high {
			break
		}
		if tooSmall(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}
