package seal

import (
	"fmt"
	"math"

	"sillwright/engine/air"
	"sillwright/engine/gap"
)

// Band is a flow (m3/s) with the range that is likely to hold it.
type Band struct{ Low, Likely, High float64 }

// Sum adds bands of paths that leak side by side. Ends add to ends: the errors are taken to go the same way, which is
// the widest that the sum can be, and fair for paths predicted by one law.
func Sum(bands ...Band) Band {
	var s Band
	for _, b := range bands {
		s.Low += b.Low
		s.Likely += b.Likely
		s.High += b.High
	}
	return s
}

// Result is the leakage of one path.
type Result struct {
	Band
	Exponent float64 // local exponent d ln Q/d ln dp of the likely flow, 0.5..1
	Basis    string  // what the prediction rests on: BasisCrack, BasisOrifice or BasisEstimate
	Largest  string  // what contributes most to the band; empty when nothing does
}

// Edge is one edge of a leaf with what closes it.
type Edge struct {
	Line          gap.Line
	ReadingError  float64 // of the gap, m: the range +- that holds it roughly 95 times in 100
	LeafThickness float64 // m
	Overlap       float64 // setting: overlap at the widest reading, m
	Model         Model
	Floor         Texture // zero: a smooth made face
}

// Limits of the pressure drop. Air counts as incompressible: 2 % at the upper end.
const (
	MinDrop = 0.1    // Pa
	MaxDrop = 2000.0 // Pa
)

// Leakage predicts the flow at a pressure drop dp (Pa).
//
//	Q = integral over the width of q(gap(x), overlap(x)) dx,  overlap(x) = Overlap + widest - gap(x)
//
// Reading error: the whole gap line moves by +-e while the seal stays where it is set, so a gap that is e larger than
// read has e less overlap: gap + e, overlap - e, and the other way round. That is the honest reading of a setting
// taken from a drawing or a measurement. A seal set just touching by eye at the widest place is
// better than that, but who sets it judges contact no better than a reading. So a seal set just touching with an
// error of 0.5 mm has 0.5 mm of daylight at one end of its band.
//
// Band: every parameter of the model, and the reading, is moved to its low and its high end alone. The logarithms of the flow
// ratios are combined by root of the sum of squares, those that raise the flow for High, those that lower
// it for Low. It takes the parameters for independent and the effects for multiplicative; what two do together beyond that, and a
// minimum between the ends, are missed. If the likely flow is 0, the flows at the ends are combined instead.
//
// Errors: dp outside 0.1..2000 Pa, a model that does not pass its Check, negative reading error, no leaf thickness.
func (e Edge) Leakage(dp float64, a air.Air) (Result, error) {
	if err := e.check(dp, a); err != nil {
		return Result{}, err
	}
	params := e.Model.Parameters(e.Floor)
	kinks := e.Model.Kinks()
	x := make([]float64, len(params))
	for i, p := range params {
		x[i] = p.Base
	}
	s := spread{likely: e.flow(x, kinks, 0, dp, a)}
	for i, p := range params {
		if p.Low == p.High {
			continue
		}
		x[i] = p.Low
		low := e.flow(x, kinks, 0, dp, a)
		x[i] = p.High
		high := e.flow(x, kinks, 0, dp, a)
		x[i] = p.Base
		s.add(p.Name, low, high)
	}
	if e.ReadingError > 0 {
		s.add(nameReading, e.flow(x, kinks, -e.ReadingError, dp, a), e.flow(x, kinks, e.ReadingError, dp, a))
	}
	const h = 1e-3
	exponent := 1.0 // the limit of a path that closes
	if s.likely > 0 {
		exponent = math.Log(e.flow(x, kinks, 0, dp*(1+h), a)/e.flow(x, kinks, 0, dp*(1-h), a)) / math.Log((1+h)/(1-h))
	}
	return Result{Band: s.band(), Exponent: exponent, Basis: e.Model.Basis(), Largest: s.largest}, nil
}

// flow is the whole flow for parameter values x and a gap line that is off by shift.
func (e Edge) flow(x, kinks []float64, shift, dp float64, a air.Air) float64 {
	in := Condition{Drop: dp, Air: a, LeafThickness: e.LeafThickness}
	touching := e.Overlap - shift + e.Line.Widest() // the gap as read at which the seal just touches
	var buffer [4]float64
	breaks := append(buffer[:0], -shift) // the gap as read that is really closed
	for _, k := range kinks {
		breaks = append(breaks, touching-k)
	}
	return e.Line.Integrate(func(read float64) float64 {
		return e.Model.FlowPerMetre(x, Place{Gap: math.Max(read+shift, 0), Overlap: touching - read}, in)
	}, breaks...)
}

func (e Edge) check(dp float64, a air.Air) error {
	switch {
	case !(dp >= MinDrop && dp <= MaxDrop):
		return fmt.Errorf("pressure drop is %g Pa; allowed is %g to %g Pa", dp, MinDrop, MaxDrop)
	case e.Model == nil:
		return fmt.Errorf("edge has no seal model; use Bare for a gap without a seal")
	case !(e.ReadingError >= 0) || math.IsInf(e.ReadingError, 1):
		return fmt.Errorf("reading error is %g m; it must be 0 or more", e.ReadingError)
	case math.IsNaN(e.Overlap) || math.IsInf(e.Overlap, 0):
		return fmt.Errorf("overlap is %g m; it must be a number", e.Overlap)
	case !(e.Line.Width() > 0):
		return fmt.Errorf("edge has no gap line; make one with gap.New")
	}
	return first(
		positive("leaf thickness (m)", e.LeafThickness),
		positive("air density (kg/m3)", a.Density),
		positive("air viscosity (Pa s)", a.Viscosity),
		e.Model.Check(),
	)
}

// spread gathers what each uncertainty does to a flow.
type spread struct {
	likely   float64
	up, down float64 // sums of squares: of log ratios, or of flows when the likely flow is 0
	most     float64
	largest  string
}

func (s *spread) add(name string, flows ...float64) {
	up, down := 0.0, 0.0
	for _, f := range flows {
		d := f
		if s.likely > 0 {
			d = math.Log(f / s.likely)
		}
		up, down = math.Max(up, d), math.Min(down, d)
	}
	s.up += up * up
	s.down += down * down
	if reach := math.Max(up, -down); reach > s.most {
		s.most, s.largest = reach, name
	}
}

func (s *spread) band() Band {
	if s.likely == 0 {
		return Band{High: math.Sqrt(s.up)}
	}
	return Band{Low: s.likely * math.Exp(-math.Sqrt(s.down)), Likely: s.likely, High: s.likely * math.Exp(math.Sqrt(s.up))}
}
