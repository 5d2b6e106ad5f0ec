package seal

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"sillwright/engine/crack"
	"sillwright/engine/doubt"
	"sillwright/engine/fibre"
)

// Brush is a row of bristles: a continuous fine body, or bundles with open channels between them (Tufts), either with
// an airtight blade embedded or without.
//
//	q = q_bed + q_channels + q_tip
//	q_bed = u H s,  dp = (mu t/K) u + beta rho t u^2,  H = L - max(overlap, 0)    (fibre.Bed)
//	q_channels = f/P integral over H of crack(w(z), t) dz,  w(z) = w0 + c z;  s = 1 - mean w/P (1 and 0 without tufts)
//	q_tip = f E[crack(g, t)],  g ~ Normal(lift - overlap, sd) cut off at 0         (crack.Opening)
//	sd^2 = trim^2 + (0.58 h)^2                 trim scatter of the tips, h residual gap of the floor
//	squash: y = sqrt(y0^2 + y_el(overlap)^2) - y0    (fibre.Lean);  g = 1 + k_s (1 - 2/pi) y/t;  V/g, t g
//	lift: how far the tips rise when the drop bends the bristles (fibre.Lift); left out where it cannot reach 0.15 mm
//
// Bed, channels and tips pass air side by side. z runs from the root. A blade embedded takes its own height, from reach - height to
// reach, out of bed and channels: it is taken as airtight, and no leak along its own edges is known. A gap that scatters evenly
// between 0 and its greatest value 2 h has a standard deviation of 0.58 h, hence the floor's share. Daylight widens the tip gap and
// joins without a step; the bed then keeps its full height. Squash closes the tips but spreads the body, so the flow has
// a shallow minimum just past touching and rises again.
//
// Deviations: where the gap is smaller than the free length the carrier stands higher on the face of the leaf and the leaf
// covers part of the bristles; L - overlap is kept as exposed height, which is conservative. Beyond an overlap
// of L/8 the flow is held: farther on the falling exposed height would win over the spreading body and the model would
// praise a crushed brush, for which there is no evidence. Below a free length of some 18 mm the curve is flat to a few
// per cent from 1 mm of overlap to where it is held, so its minimum means little there. Channels keep their width when the brush
// is squashed. The lift is that of the whole drop, also where another seal takes part of it.
// Source: the parts as cited; their combination is this project's and is not calibrated: with the generic ranges a factor of 2.4 down and 2.7 up.
type Brush struct {
	Length       float64     // L, free bristle length, m
	Diameter     doubt.Range // D, bristle diameter, m
	Thickness    doubt.Range // t, body thickness in the flow direction, m
	Solid        doubt.Range // V, solid volume fraction of the body, of the bundles in a tufted brush
	Permeability doubt.Range // f_K, factor on K: 1 not calibrated
	Inertia      doubt.Range // f_beta, factor on beta: 1 not calibrated
	Trim         doubt.Range // standard deviation of the tip heights, m
	Lean         doubt.Range // y0, sideways lean of the tips at rest, m
	Spread       doubt.Range // k_s, growth of the body with the lean
	Modulus      doubt.Range // E, tensile modulus of a bristle, Pa; zero: its lift is left out
	Tufts        *Tufts      // nil: a continuous body
	Embedded     *Embedded   // nil: none
}

// Tufts are bundles of bristles side by side, with an open channel between two of them that widens from the root as the bundles fan out
// less than their pitch.
type Tufts struct {
	Pitch    doubt.Range // P, from bundle to bundle, m
	RootGap  doubt.Range // w0, width of a channel at the root, m
	Widening doubt.Range // c, growth of the width per metre of length
}

// Embedded is an airtight blade within the bristles.
type Embedded struct {
	Height float64     // m
	Reach  doubt.Range // from the root of the bristles to the tip of the blade, m
}

// Check wants sizes that are positive, a solid fraction of 0.2..0.8 (the range of the permeability law), ranges in order, channels
// narrower than their pitch and a blade within the brush.
func (b Brush) Check() error {
	const least = 0.001 // of a factor
	if err := doubt.Positive("bristle length (m)", b.Length); err != nil {
		return err
	}
	if err := doubt.First(
		b.Diameter.Check("bristle diameter (m)", 0.00001, 0.005),
		b.Thickness.Check("body thickness (m)", 0.0005, 0.1),
		b.Solid.Check("solid fraction", fibre.MinSolidFraction, fibre.MaxSolidFraction),
		b.Permeability.Check("permeability factor", least, 100),
		b.Inertia.Check("inertia factor", 0, 100),
		b.Trim.Check("tip scatter (m)", 0.00001, 0.01),
		b.Lean.Check("lean at rest (m)", 0, b.Length),
		b.Spread.Check("spread under squash", 0, 2),
		b.Modulus.Check("modulus (Pa)", 0, 1e12),
	); err != nil {
		return err
	}
	if b.Modulus.High > 0 && b.Modulus.Low <= 0 {
		return fmt.Errorf("modulus (Pa): range from %g; it must be positive, or left out", b.Modulus.Low)
	}
	if t := b.Tufts; t != nil {
		if err := doubt.First(
			t.Pitch.Check("tuft pitch (m)", 0.0001, 0.1), t.RootGap.Check("channel width at the root (m)", 0, 0.05), t.Widening.Check("channel widening", 0, 1),
		); err != nil {
			return err
		}
		if widest := t.RootGap.High + t.Widening.High*b.Length; widest >= t.Pitch.Low {
			return fmt.Errorf("channels up to %g m wide at the tips do not fit a pitch of %g m", widest, t.Pitch.Low)
		}
	}
	if e := b.Embedded; e != nil {
		return doubt.First(doubt.Positive("height of the embedded blade (m)", e.Height), e.Reach.Check("reach of the embedded blade (m)", e.Height, b.Length))
	}
	return nil
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
	brushModulus
	brushPitch
	brushRootGap
	brushWidening
	brushReach
	brushParameters
)

// Parameters on a floor.
func (b Brush) Parameters(floor Texture, list []Named) []Named {
	tufts, reach := Tufts{}, doubt.Range{}
	if b.Tufts != nil {
		tufts = *b.Tufts
	}
	if b.Embedded != nil {
		reach = b.Embedded.Reach
	}
	ranges := [brushParameters]doubt.Range{
		brushDiameter: b.Diameter, brushThickness: b.Thickness, brushSolid: b.Solid, brushPermeability: b.Permeability,
		brushInertia: b.Inertia, brushTrim: b.Trim, brushFloor: floor.Residual, brushLean: b.Lean, brushSpread: b.Spread,
		brushLoss: anyLoss().Range, brushAccuracy: accuracy().Range, brushModulus: b.Modulus,
		brushPitch: tufts.Pitch, brushRootGap: tufts.RootGap, brushWidening: tufts.Widening, brushReach: reach,
	}
	for k, r := range ranges {
		list = append(list, Named{brushDoubts[k], r})
	}
	return list
}

var brushDoubts = [brushParameters]doubt.Doubt{
	brushDiameter:     doubt.Own("bristle diameter", "measure ten bristles with a micrometer"),
	brushThickness:    doubt.Own("body thickness", "measure the body at mid length with a calliper"),
	brushSolid:        doubt.Own("solid fraction", "weigh a cut length of the brush, without its carrier"),
	brushPermeability: doubt.Own("permeability factor", "test a sample of the brush on a rig with its tips taped over"),
	brushInertia:      doubt.Own("inertia factor", "test a sample of the brush on a rig at two pressures or more"),
	brushTrim:         doubt.Own("tip scatter", "test a sample of the brush on a rig, tips taped over and open"),
	brushFloor:        doubtFloor,
	brushLean:         doubt.Own("lean at rest", "lay the brush on squared paper and read how far the tips lean"),
	brushSpread:       doubt.Own("spread under squash", "test a sample of the brush on a rig, just touching and pressed"),
	brushLoss:         doubtLoss,
	brushAccuracy:     doubtAccuracy,
	brushModulus:      doubt.Own("bristle stiffness", "ask the maker for the filament and its modulus"),
	brushPitch:        doubt.Own("tuft pitch", "count the tufts over half a metre"),
	brushRootGap:      doubt.Own("channels between tufts", "photograph the brush against the light beside a rule"),
	brushWidening:     doubt.Own("widening of the channels", "photograph the brush against the light beside a rule"),
	brushReach:        doubt.Own("place of the embedded blade", "measure from the root of the bristles to the tip of the blade"),
}

const (
	heldPart     = 0.125 // part of the length beyond which more overlap changes nothing
	floorScatter = 0.58  // standard deviation of a floor's depth over its residual gap, 1/sqrt 3
)

// Ways are the body, the channels between tufts and the tips.
func (b Brush) Ways(drop float64) Ways {
	body := uses(brushDiameter, brushThickness, brushSolid, brushPermeability, brushInertia, brushLean, brushSpread)
	tip := uses(brushThickness, brushTrim, brushFloor, brushLoss, brushAccuracy)
	if b.lifts(drop) {
		tip |= uses(brushDiameter, brushSolid, brushModulus, brushPitch, brushRootGap, brushWidening)
	}
	if b.Embedded != nil {
		body |= uses(brushReach)
	}
	if b.Tufts == nil {
		return Ways{2, [maxWays]uint32{body, tip}}
	}
	body |= uses(brushPitch, brushRootGap, brushWidening)
	channels := uses(brushThickness, brushLoss, brushAccuracy, brushPitch, brushRootGap, brushWidening, brushReach)
	return Ways{3, [maxWays]uint32{body, channels, tip}}
}

// Lay lays one of them.
func (b Brush) Lay(way int, x []float64, r *Run, out crack.Bundle) crack.Bundle {
	switch {
	case way == 0:
		return b.bed(x, r, out)
	case way == 1 && b.Tufts != nil:
		return b.channels(x, r, out)
	}
	return b.tips(x, r, out)
}

// leastLift is the lift below which it is left out, m: less than the scatter of the tips, and reached only by the softest and thinnest
// bristles of the ranges together.
const leastLift = 0.00015

// lifts says whether the softest and thinnest of such bristles rise enough to matter.
func (b *Brush) lifts(drop float64) bool {
	share := 1.0
	if t := b.Tufts; t != nil {
		share -= (t.RootGap.High + t.Widening.High*b.Length/2) / t.Pitch.Low
	}
	return b.Modulus.High > 0 && fibre.Lift(drop, b.Length, fibre.Stiffness(b.Modulus.Low, b.Diameter.Low),
		share*fibre.PerMetre(b.Solid.Low, b.Thickness.Low, b.Diameter.Low)) > leastLift
}

// bed lays the body, at the overlaps that stand for the whole run.
func (b *Brush) bed(x []float64, r *Run, out crack.Bundle) crack.Bundle {
	bed := fibre.Bed{
		Solid: x[brushSolid], Diameter: x[brushDiameter], Thickness: x[brushThickness],
		Permeability: x[brushPermeability], Inertia: x[brushInertia],
	}
	overlaps := r.overlaps(heldPart*b.Length, b.Length)
	for i, overlap := range overlaps.at[:overlaps.many] {
		squashed := bed
		if overlap > 0 {
			y := fibre.LeanOf(overlaps.reach[i], x[brushLean])
			squashed = bed.Grown(1 + x[brushSpread]*(1-2/math.Pi)*y/bed.Thickness)
		}
		out = append(out, crack.Share{Law: squashed.Law(r.Air), Extent: overlaps.metres[i] * b.exposed(overlap, x)})
	}
	return out
}

// exposed is the height of body that air can cross, less the width that channels take of it.
func (b *Brush) exposed(overlap float64, x []float64) float64 {
	if b.Embedded == nil && b.Tufts == nil {
		return b.Length - math.Max(overlap, 0)
	}
	sum := 0.0
	per, whole := 0.0, 1.0 // share is whole - per x height
	if b.Tufts != nil {
		per, whole = x[brushWidening]/x[brushPitch], 1-x[brushRootGap]/x[brushPitch]
	}
	for _, part := range b.open(overlap, x) {
		sum += (part[1] - part[0]) * (whole - per*(part[0]+part[1])/2)
	}
	return sum
}

// share is the part of the width that bristles take at a height from the root, beside channels.
func (b *Brush) share(height float64, x []float64) float64 {
	if b.Tufts == nil {
		return 1
	}
	return 1 - (x[brushRootGap]+x[brushWidening]*height)/x[brushPitch]
}

// open gives the stretches from the root that no blade closes.
func (b *Brush) open(overlap float64, x []float64) [2][2]float64 {
	height := b.Length - math.Max(overlap, 0)
	if b.Embedded == nil {
		return [2][2]float64{{0, height}}
	}
	top := math.Min(x[brushReach]-b.Embedded.Height, height)
	return [2][2]float64{{0, top}, {math.Min(x[brushReach], height), height}}
}

// channels lays the channels: over the heights from the root that are exposed all along, then, piece by piece, over those that are
// exposed in a part of its length, which falls evenly as the overlap rises. Gauss-Legendre rules: right to 1e-5.
func (b *Brush) channels(x []float64, r *Run, out crack.Bundle) crack.Bundle {
	held := heldPart * b.Length
	clamp := func(overlap float64) float64 { return math.Min(math.Max(overlap, 0), held) }
	most, metres := 0.0, 0.0
	for _, p := range r.Pieces {
		most = max(most, clamp(r.overlap(p.From)), clamp(r.overlap(p.To)))
		metres += p.Length
	}
	lay := func(z, extent float64) {
		width := x[brushRootGap] + x[brushWidening]*z
		law := crack.Opening(width, x[brushThickness], 0, x[brushLoss], r.Air)
		out = append(out, crack.Share{Law: law, Extent: x[brushAccuracy] / x[brushPitch] * extent})
	}
	for _, part := range b.open(0, x) {
		if low, high := part[0], math.Min(part[1], b.Length-most); high > low {
			for i, at := range channelAt {
				lay(low+(high-low)*at, metres*(high-low)*channelWeight[i])
			}
		}
		for _, p := range r.Pieces {
			from, to := r.overlap(p.From), r.overlap(p.To)
			if from < to {
				from, to = to, from
			}
			steps := [3]float64{b.Length - most, b.Length - clamp(from), b.Length - clamp(to)}
			for k := range 2 { // all of the piece, then a falling part of it; beyond, none
				low, high := math.Max(part[0], steps[k]), math.Min(part[1], steps[k+1])
				if high-low < 1e-9 {
					continue
				}
				for i, at := range shortAt {
					z, exposed := low+(high-low)*at, p.Length
					if k == 1 {
						exposed *= (b.Length - z - to) / (from - to)
					}
					lay(z, exposed*(high-low)*shortWeight[i])
				}
			}
		}
	}
	return out
}

// meanClamped is the mean of min(max(v, 0), most) for v that runs evenly from a to b.
func meanClamped(a, b, most float64) float64 {
	clamp := func(v float64) float64 { return math.Min(math.Max(v, 0), most) }
	if math.Abs(b-a) < 1e-12 {
		return clamp(a)
	}
	area := func(v float64) float64 { // integral of the clamped value from 0 to v
		c := clamp(v)
		return c*c/2 + math.Max(v-most, 0)*most
	}
	return (area(b) - area(a)) / (b - a)
}

var (
	channelAt, channelWeight [3]float64
	shortAt, shortWeight     [2]float64
)

func init() {
	quad.Legendre{}.FixedLocations(channelAt[:], channelWeight[:], 0, 1)
	quad.Legendre{}.FixedLocations(shortAt[:], shortWeight[:], 0, 1)
}
