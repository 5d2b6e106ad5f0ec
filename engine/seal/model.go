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
	"sillwright/engine/air"
	"sillwright/engine/crack"
	"sillwright/engine/doubt"
	"sillwright/engine/gap"
)

// Named is a parameter with the doubt that it is.
type Named struct {
	doubt.Doubt
	doubt.Range
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

// Ways are the ways that air takes past a seal, side by side.
type Ways struct {
	Many int
	Uses [maxWays]uint32 // by way: the parameters that it hangs on, one bit each in their order
}

// maxWays is that of a seal with its feet.
const maxWays = 5

// one is a single way.
func one(uses uint32) Ways { return Ways{1, [maxWays]uint32{uses}} }

// add is another way.
func (w *Ways) add(uses uint32) { w.Uses[w.Many], w.Many = uses, w.Many+1 }

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
	// Parameters adds what is uncertain, on a floor, to a list: at most 28. Values for Ways have the same order.
	Parameters(floor Texture, list []Named) []Named
	// Ways lists the ways for air at a drop (Pa), at most 4.
	Ways(drop float64) Ways
	// Lay adds the laws of one of the ways over the whole run to a bundle, for parameter values x.
	Lay(way int, x []float64, r *Run, b crack.Bundle) crack.Bundle
}

// Doubts that several kinds share.
var (
	doubtLoss     = doubt.Common("entry and exit loss", "test the fitted door with a fan and a flow meter")
	doubtAccuracy = doubt.Common("crack law", "test the fitted door with a fan and a flow meter")
	doubtFloor    = doubt.Common("floor texture", "name the floor under the seal, or test a sample of the seal on such a floor and give its readings with the seal")
	doubtReading  = doubt.Reading
	doubtPathGap  = doubt.Common("gap at a path", "read the gap of each path with feeler gauges to 0.1 mm, and write its error as gap_error")
	doubtFeet     = doubt.Own("clearance at the feet", "measure the gap between each end of the seal and the jamb")
	doubtHole     = doubt.Common("discharge coefficient", "test the fitted door with a fan and a flow meter")
)

// Bases of a prediction.
const (
	BasisMeasured = "measured seal"
	BasisEstimate = "estimate"
	BasisCrack    = "crack law"
	BasisOrifice  = "orifice"
)

// anyLoss is the position in the range of entry and exit loss, see crack.Loss.
func anyLoss() Named { return Named{doubtLoss, doubt.Between(-1, 0, 1)} }

// accuracy is a factor on crack flow for what the law leaves out in real doors: 20..25 % either way
// (Gross & Haberman 1989 compared installed doors with their relation to 20 %; seen at second hand).
func accuracy() Named { return Named{doubtAccuracy, doubt.Between(0.8, 1, 1.25)} }
