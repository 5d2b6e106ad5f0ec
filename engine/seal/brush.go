package seal

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"sillwright/engine/crack"
	"sillwright/engine/fibre"
)

// Brush is a continuous fine brush: a body of bristles without gaps between bundles.
//
//	q = q_bed + q_tip
//	q_bed = u H,  dp = (mu t/K) u + beta rho t u^2,  H = L - max(overlap, 0)      (fibre.Bed)
//	q_tip = f E[crack(g, t)],  g ~ Normal(-overlap, sd) cut off at 0               (crack.Opening)
//	sd^2 = trim^2 + (0.58 h)^2                 trim scatter of the tips, h residual gap of the floor
//	squash: y = sqrt(y0^2 + y_el(overlap)^2) - y0    (fibre.Lean);  g = 1 + k_s (1 - 2/pi) y/t;  V/g, t g
//
// Bed and tip pass air side by side. A gap that scatters evenly between 0 and its greatest value 2 h has a standard deviation of
// 0.58 h, hence the floor's share. Daylight widens the tip gap and joins without a step; the bed then keeps
// its full height. Squash closes the tips but spreads the body, so the flow has a shallow minimum just past
// touching and rises again.
//
// Deviations: where the gap is smaller than the free length the carrier stands higher on the face of the leaf and the leaf
// covers part of the bristles; L - overlap is kept as exposed height, which is conservative. Beyond an overlap
// of L/8 the flow is held: farther on the falling exposed height would win over the spreading body and the model would
// praise a crushed brush, for which there is no evidence. Below a free length of some 18 mm the curve is flat to a few
// per cent from 1 mm of overlap to where it is held, so its minimum means little there.
// Source: the parts as cited; their combination is this project's and is not calibrated: with the generic ranges a factor of 2.4 down and 2.7 up.
type Brush struct {
	Length       float64   // L, free bristle length, m
	Diameter     Parameter // D, bristle diameter, m
	Thickness    Parameter // t, body thickness in the flow direction, m
	Solid        Parameter // V, solid volume fraction of the body
	Permeability Parameter // f_K, factor on K: 1 not calibrated
	Inertia      Parameter // f_beta, factor on beta: 1 not calibrated
	Trim         Parameter // standard deviation of the tip heights, m
	Lean         Parameter // y0, sideways lean of the tips at rest, m
	Spread       Parameter // k_s, growth of the body with the lean
}

// Check wants sizes that are positive, a solid fraction of 0.2..0.8 (the range of the permeability law), and ranges in order.
func (b Brush) Check() error {
	tiny := math.SmallestNonzeroFloat64
	if err := positive("bristle length (m)", b.Length); err != nil {
		return err
	}
	return first(
		b.Diameter.check("bristle diameter (m)", 0.00001, 0.005),
		b.Thickness.check("body thickness (m)", 0.0005, 0.1),
		b.Solid.check("solid fraction", fibre.MinSolidFraction, fibre.MaxSolidFraction),
		b.Permeability.check("permeability factor", tiny, 100),
		b.Inertia.check("inertia factor", 0, 100),
		b.Trim.check("tip scatter (m)", 0.00001, 0.01),
		b.Lean.check("lean at rest (m)", 0, b.Length),
		b.Spread.check("spread under squash", 0, 2),
	)
}

// Basis is an estimate.
func (b Brush) Basis() string { return BasisEstimate }

// order of the parameter values
const (
	brushDiameter = iota
	brushThickness
	brushSolid
	brushPermeability
	brushInertia
	brushTrim
	brushFloor
	brushLean
	brushSpread
	brushLoss
	brushAccuracy
)

// Parameters on a floor.
func (b Brush) Parameters(floor Texture) []Named {
	return []Named{
		brushDiameter:     {"bristle diameter", b.Diameter},
		brushThickness:    {"body thickness", b.Thickness},
		brushSolid:        {"solid fraction", b.Solid},
		brushPermeability: {"permeability factor", b.Permeability},
		brushInertia:      {"inertia factor", b.Inertia},
		brushTrim:         {"tip scatter", b.Trim},
		brushFloor:        {nameFloor, floor.Residual},
		brushLean:         {"lean at rest", b.Lean},
		brushSpread:       {"spread under squash", b.Spread},
		brushLoss:         anyLoss(),
		brushAccuracy:     accuracy(),
	}
}

const (
	heldPart     = 0.125 // part of the length beyond which more overlap changes nothing
	floorScatter = 0.58  // standard deviation of a floor's depth over its residual gap, 1/sqrt 3
)

// Kinks is where the bristles touch and where the squash is held.
func (b Brush) Kinks() []float64 { return []float64{0, heldPart * b.Length} }

// FlowPerMetre is the flow through and under the brush at a place.
func (b Brush) FlowPerMetre(x []float64, at Place, in Condition) float64 {
	overlap := math.Min(at.Overlap, heldPart*b.Length)
	bed := fibre.Bed{
		Solid: x[brushSolid], Diameter: x[brushDiameter], Thickness: x[brushThickness],
		Permeability: x[brushPermeability], Inertia: x[brushInertia],
	}
	exposed := b.Length
	if overlap > 0 {
		exposed -= overlap
		y := fibre.Lean(b.Length, overlap, x[brushLean])
		bed = bed.Grown(1 + x[brushSpread]*(1-2/math.Pi)*y/bed.Thickness)
	}
	floor := floorScatter * x[brushFloor]
	sd := math.Sqrt(x[brushTrim]*x[brushTrim] + floor*floor)
	tip := overNormal(-overlap, sd, func(gap float64) float64 {
		return crack.Opening(gap, x[brushThickness], 0, x[brushLoss], in.Air).Flow(in.Drop)
	})
	return bed.Law(in.Air).Flow(in.Drop)*exposed + x[brushAccuracy]*tip
}

// overNormal is E[f(g); g > 0] for g ~ Normal(mean, sd): Gauss-Legendre with 16 points over the part of mean +- 5.5 sd
// above 0. Relative error below 1e-4 for crack laws while the tips matter (mean > -2 sd); farther below 0 what is cut off
// is nothing beside the bed.
func overNormal(mean, sd float64, f func(float64) float64) float64 {
	high := mean + tails*sd
	if high <= 0 {
		return 0
	}
	low := math.Max(mean-tails*sd, 0)
	sum := 0.0
	for i, at := range tipAt {
		g := low + (high-low)*at
		z := (g - mean) / sd
		sum += tipWeight[i] * math.Exp(-z*z/2) * f(g)
	}
	return sum * (high - low) / (sd * math.Sqrt(2*math.Pi))
}

const tails = 5.5

var tipAt, tipWeight = func() (at, weight [16]float64) {
	quad.Legendre{}.FixedLocations(at[:], weight[:], 0, 1)
	return at, weight
}()
