// Package seal predicts the air that leaks past door seals, each with a band.
//
// One file a kind: bare gap, brush, blade, gasket. A kind gives the flow per metre at one place; Edge integrates it
// over the uneven bottom gap and turns the plausible ranges of its parameters into a band.
//
// No published measurement of brush-type bottom seals was found. What is here is physics with ranges that are engineering judgement, not
// measured, unless a docstring says otherwise: the results of seals are estimates.
package seal

import (
	"fmt"
	"math"

	"sillwright/engine/air"
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

// Named is a parameter with the words that explain it in a report.
type Named struct {
	Name string
	Parameter
}

// Place is one place along a seal.
type Place struct {
	Gap     float64 // bottom gap, m
	Overlap float64 // free height of the seal less the gap, m: > 0 pressed, 0 just touching, < 0 daylight
}

// Condition is what a whole edge shares.
type Condition struct {
	Drop          float64 // dp, Pa
	Air           air.Air
	LeafThickness float64 // depth of a bare gap in the flow direction, m
}

// Model is a kind of seal.
type Model interface {
	// Check tells what keeps the seal from being computed.
	Check() error
	// Basis says in two words what a prediction rests on.
	Basis() string
	// Parameters lists what is uncertain, on a floor. Values for FlowPerMetre have the same order.
	Parameters(floor Texture) []Named
	// Kinks lists the overlaps at which the flow has a kink.
	Kinks() []float64
	// FlowPerMetre is the flow at one place, m2/s, for parameter values x.
	FlowPerMetre(x []float64, at Place, in Condition) float64
}

// Words for the uncertainties that several kinds share.
const (
	nameLoss     = "entry and exit loss"
	nameAccuracy = "crack law"
	nameFloor    = "floor texture"
	nameReading  = "gap reading"
)

// Bases of a prediction.
const (
	BasisEstimate = "estimate"
	BasisCrack    = "crack law"
	BasisOrifice  = "orifice"
)

// anyLoss is the position in the range of entry and exit loss, see crack.Loss.
func anyLoss() Named { return Named{nameLoss, Parameter{-1, 0, 1}} }

// accuracy is a factor on crack flow for what the law leaves out in real doors: 20..25 % either way
// (Gross & Haberman 1989 compared installed doors with their relation to 20 %; seen at second hand).
func accuracy() Named { return Named{nameAccuracy, Parameter{0.8, 1, 1.25}} }

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
