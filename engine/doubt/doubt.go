// Package doubt carries what is uncertain: quantities with their ranges, what would settle each, and how the doubts about a result
// make its band.
package doubt

import (
	"fmt"
	"math"
)

// Range is a quantity with the range that is likely to hold it, roughly 95 times in 100: an input as it is judged, or a result with
// its band.
type Range struct{ Low, Likely, High float64 }

// Exactly is a quantity without uncertainty.
func Exactly(v float64) Range { return Range{v, v, v} }

// Between is a quantity with its range.
func Between(low, likely, high float64) Range { return Range{low, likely, high} }

// Check wants least <= Low <= Likely <= High <= most, of a quantity of a name.
func (r Range) Check(name string, least, most float64) error {
	if !(r.Low <= r.Likely && r.Likely <= r.High) {
		return fmt.Errorf("%s: %g, %g, %g is not in order; give low, likely, high", name, r.Low, r.Likely, r.High)
	}
	if r.Low == r.High && !(r.Low >= least && r.High <= most) {
		return fmt.Errorf("%s is %g; allowed is %g to %g", name, r.Low, least, most)
	}
	if !(r.Low >= least && r.High <= most) {
		return fmt.Errorf("%s: range %g to %g; allowed is %g to %g", name, r.Low, r.High, least, most)
	}
	return nil
}

// Plus adds two quantities whose errors go the same way.
func (r Range) Plus(s Range) Range { return Range{r.Low + s.Low, r.Likely + s.Likely, r.High + s.High} }

// Doubt is something uncertain, in the words of a report, with what would settle it.
type Doubt struct {
	Name   string
	Settle string // what to measure, as an order
	Shared bool   // the same wherever it acts, as the law of a crack is
}

// Own is a doubt about one thing, a seal; settle says what to measure.
func Own(name, settle string) Doubt { return Doubt{Name: name, Settle: settle} }

// Common is a doubt that is the same wherever it acts.
func Common(name, settle string) Doubt { return Doubt{Name: name, Settle: settle, Shared: true} }

// Reading is the doubt that the error of a gap reading is.
var Reading = Common("gap reading", "read the gap with feeler gauges or a wedge to 0.1 mm, and write it as reading_error")

// Effect is what one doubt does to a result.
type Effect struct {
	Doubt
	Of        string  // what the doubt is about, a seal; empty for one that is shared
	Low, High float64 // the result with the quantity at its low and at its high end
}

// Same says whether two effects are those of one doubt.
func (e Effect) Same(f Effect) bool { return e.Doubt == f.Doubt && e.Of == f.Of }

// About names the doubt, and the seal that it is about.
func (e Effect) About() string {
	if e.Of == "" {
		return e.Name
	}
	return e.Name + " of " + e.Of
}

// Band is a result with its band, and the doubt that widens it most.
type Band struct {
	Range
	Largest Effect  // zero when nothing widens it
	Share   float64 // part of the squared width of the band that is Largest's, 0..1
}

// BandOf makes the band of a result of likely value v, 0 or more, from what each doubt alone does to it:
//
//	High = v exp(sqrt(sum over k of max(ln(v_k/v), 0)^2));  Low the same with what lowers it
//
// v_k the result with doubt k at one of its ends. It takes doubts for independent and effects for multiplicative; what two do together
// beyond that, and an extreme between the ends, are missed. Where v is 0 the results at the ends are combined in the same way, and
// Low is 0. An end below 0 counts as 0.
func BandOf(v float64, effects []Effect) Band {
	b := Band{}
	up, down, most := 0.0, 0.0, 0.0
	for _, e := range effects {
		u, d := max(e.Low, e.High, v), max(min(e.Low, e.High, v), 0)
		if v > 0 {
			u, d = math.Log(u/v), math.Log(d/v)
		}
		up += u * u
		down += d * d
		if reach := u*u + d*d; reach > most {
			most, b.Largest = reach, e
		}
	}
	if v == 0 {
		b.Range = Range{High: math.Sqrt(up)}
	} else {
		b.Range = Range{v * math.Exp(-math.Sqrt(down)), v, v * math.Exp(math.Sqrt(up))}
	}
	switch {
	case math.IsInf(most, 1):
		b.Share = 1
	case most > 0:
		b.Share = most / (up + down)
	}
	return b
}

// First is the first of some errors; nil when none is.
func First(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// Positive wants a finite number above 0.
func Positive(name string, v float64) error {
	if !(v > 0) || math.IsInf(v, 1) {
		return fmt.Errorf("%s is %g; it must be positive", name, v)
	}
	return nil
}
