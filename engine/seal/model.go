// Package seal predicts the air that leaks past door seals, each with a band.
//
// One file a kind: bare gap, brush, blade, gasket, drop seal, measured seal. A kind lists the ways that air takes past it, each as
// quadratic laws with the metres that have them; Edge puts seals one behind the other on the uneven bottom gap, and
// finds what each uncertainty does to the flow; Total adds the paths of a door and turns the uncertainties into a band.
//
// No published measurement of brush-type bottom seals was found. What is here is physics with ranges that are engineering judgement, not
// measured, unless a docstring says otherwise: the results of seals are estimates.
package seal

import (
	"fmt"
	"math"

	"sillwright/engine/air"
	"sillwright/engine/crack"
	"sillwright/engine/gap"
)

// Parameter is an uncertain quantity: its likely value and a range that holds it roughly 95 times in 100.
type Parameter struct{ Low, Base, High float64 }

// Exactly is a parameter without uncertainty.
func Exactly(v float64) Parameter { return Parameter{v, v, v} }

// check wants least <= Low <= Base <= High <= most.
func (p Parameter) check(name string, least, most float64) error {
	if !(p.Low <= p.Base && p.Base <= p.High) {
		return fmt.Errorf("%s: %g, %g, %g is not in order; give low, likely, high", name, p.Low, p.Base, p.High)
	}
	if !(p.Low >= least && p.High <= most) {
		return fmt.Errorf("%s: range %g to %g; allowed is %g to %g", name, p.Low, p.High, least, most)
	}
	return nil
}

// Doubt is something uncertain, in the words of a report, with what would settle it.
type Doubt struct {
	Name   string
	Settle string // what to measure, as an order
	Shared bool   // the same for every path of a door, as the law of a crack is
}

// Named is a parameter with the doubt that it is.
type Named struct {
	Doubt
	Parameter
}

// Run is a seal line as one seal meets it, at a pressure drop.
type Run struct {
	Pieces        []gap.Piece // gaps as read
	Shift         float64     // what the readings are off by, m: every true gap is the read one plus this
	Touching      float64     // true gap at which the seal as set just touches, m
	Narrowest     float64     // as read, m
	Ends          [2]float64  // gap as read at both ends, m
	Drop          float64     // dp, Pa
	Air           air.Air
	LeafThickness float64 // depth of a bare gap in the flow direction, m

	squash overlaps // found once a shift
	tips   *[2]scatteredGaps
}

// overlap is how far the seal is pressed where the gap is read so: > 0 pressed, 0 just touching, < 0 daylight.
func (r *Run) overlap(read float64) float64 { return r.Touching - r.Shift - read }

// sample visits true gaps with the metres that have them, as gap.Piece.Sample; breaks are true gaps.
func (r *Run) sample(breaks []float64, visit func(gap, metres float64)) {
	for _, p := range r.Pieces {
		p.From += r.Shift
		p.To += r.Shift
		p.Sample(breaks, visit)
	}
}

// touched is how many metres have a true gap of at most touching; over the rest, sample visits the gaps.
func (r *Run) touched(touching float64, open func(gap, metres float64)) float64 {
	closed := 0.0
	for _, p := range r.Pieces {
		p.From += r.Shift
		p.To += r.Shift
		low, high := min(p.From, p.To), max(p.From, p.To)
		switch {
		case high <= touching:
			closed += p.Length
			continue
		case low < touching:
			part := p.Length * (touching - low) / (high - low)
			closed += part
			p = gap.Piece{Length: p.Length - part, From: touching, To: high}
		}
		p.Sample([]float64{touching}, open)
	}
	return closed
}

// Way is one of the ways that air takes past a seal, beside the others.
type Way struct {
	Uses uint32 // the parameters that it hangs on, one bit each in their order
	// Lay adds the laws of the way over the whole run to a bundle, for parameter values x.
	Lay func(x []float64, r *Run, b crack.Bundle) crack.Bundle
}

// uses sets the bits of some parameters.
func uses(parameters ...int) uint32 {
	bits := uint32(0)
	for _, p := range parameters {
		bits |= 1 << p
	}
	return bits
}

// Model is a kind of seal.
type Model interface {
	// Check tells what keeps the seal from being computed.
	Check() error
	// Basis says in two words what a prediction rests on.
	Basis() string
	// Parameters lists what is uncertain, on a floor: at most 28. Values for Ways have the same order.
	Parameters(floor Texture) []Named
	// Ways lists the ways for air at a drop (Pa), at most 4.
	Ways(drop float64) []Way
}

// Doubts that several kinds share.
var (
	doubtLoss     = Doubt{"entry and exit loss", "test the fitted door with a fan and a flow meter", true}
	doubtAccuracy = Doubt{"crack law", "test the fitted door with a fan and a flow meter", true}
	doubtFloor    = Doubt{"floor texture", "lay a straight edge on the floor under the seal and feel the hollows with feeler gauges", true}
	doubtReading  = Doubt{"gap reading", "read the gap with feeler gauges or a wedge to 0.1 mm, and write it as reading_error", true}
	doubtPathGap  = Doubt{"gap at a path", "read the gap of each path with feeler gauges to 0.1 mm, and write its error as gap_error", true}
	doubtFeet     = Doubt{"clearance at the feet", "measure the gap between each end of the seal and the jamb", false}
	doubtHole     = Doubt{"discharge coefficient", "test the fitted door with a fan and a flow meter", true}
)

// Bases of a prediction.
const (
	BasisMeasured = "measured seal"
	BasisEstimate = "estimate"
	BasisCrack    = "crack law"
	BasisOrifice  = "orifice"
)

// anyLoss is the position in the range of entry and exit loss, see crack.Loss.
func anyLoss() Named { return Named{doubtLoss, Parameter{-1, 0, 1}} }

// accuracy is a factor on crack flow for what the law leaves out in real doors: 20..25 % either way
// (Gross & Haberman 1989 compared installed doors with their relation to 20 %; seen at second hand).
func accuracy() Named { return Named{doubtAccuracy, Parameter{0.8, 1, 1.25}} }

func positive(name string, v float64) error {
	if !(v > 0) || math.IsInf(v, 1) {
		return fmt.Errorf("%s is %g; it must be positive", name, v)
	}
	return nil
}

func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
