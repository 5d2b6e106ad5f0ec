package seal

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"sillwright/engine/crack"
	"sillwright/engine/fibre"
)

// tips lays the gaps under the bristle tips of a whole run.
//
// At a place the gap is scattered normally about lift - overlap. Over the run the scattered gaps have the density
//
//	metres(g) = sum over pieces of length (F((g - m1)/sd) - F((g - m2)/sd))/(m2 - m1)
//
// F the normal distribution, m1 and m2 the means at both ends of a piece: the normal density averaged over means that run evenly
// from one to the other (exact). So one integral over g serves the whole width: Gauss-Legendre with 6 points on panels of at most
// 2.5 sd from the smallest gap of note, 0 or more, to the largest. Relative error: 1e-4 while the tips matter (see the tests).
func (b Brush) tips(x []float64, r *Run, out crack.Bundle) crack.Bundle {
	floor := floorScatter * x[brushFloor]
	sd := math.Sqrt(x[brushTrim]*x[brushTrim] + floor*floor)
	lift := 0.0
	if b.lifts(r.Drop) {
		perMetre := fibre.PerMetre(x[brushSolid], x[brushThickness], x[brushDiameter]) * b.share(b.Length/2, x)
		lift = fibre.Lift(r.Drop, b.Length, fibre.Stiffness(x[brushModulus], x[brushDiameter]), perMetre)
	}
	gaps := r.scatteredGaps(sd, lift)
	for i, g := range gaps.at {
		law := crack.Opening(g, x[brushThickness], 0, x[brushLoss], r.Air)
		out = append(out, crack.Share{Law: law, Extent: x[brushAccuracy] * gaps.metres[i]})
	}
	return out
}

// scatteredGaps are gaps under tips with the metres that have them, for one scatter, lift and shift.
type scatteredGaps struct {
	sd, lift, shift float64
	at, metres      []float64
}

// scatteredGaps finds them. Those of the likely values serve again for every parameter that leaves the gaps alone.
func (r *Run) scatteredGaps(sd, lift float64) *scatteredGaps {
	if r.tips == nil {
		r.tips = new([2]scatteredGaps)
	}
	likely, now := &r.tips[0], &r.tips[1]
	if len(likely.at) > 0 && likely.sd == sd && likely.lift == lift && likely.shift == r.Shift {
		return likely
	}
	if len(likely.at) == 0 {
		now = likely
	}
	now.sd, now.lift, now.shift, now.at, now.metres = sd, lift, r.Shift, now.at[:0], now.metres[:0]
	least, most := math.Inf(1), math.Inf(-1)
	for _, p := range r.Pieces {
		a, b := lift-r.overlap(p.From), lift-r.overlap(p.To)
		least, most = min(least, a, b), max(most, a, b)
	}
	low, high := math.Max(least-tails*sd, 0), most+tails*sd
	if high <= low {
		return now
	}
	panels := math.Min(math.Ceil((high-low)/(panel*sd)), mostPanels)
	width := (high - low) / panels
	for i := 0.0; i < panels; i++ {
		for k, at := range tipAt {
			g := low + width*(i+at)
			now.at = append(now.at, g)
			now.metres = append(now.metres, width*tipWeight[k]*r.density(g, sd, lift))
		}
	}
	return now
}

// density is the metres of line a metre of gap that have the gap g under the tips.
func (r *Run) density(g, sd, lift float64) float64 {
	sum, end, below := 0.0, math.NaN(), 0.0 // below: part of the tips under g, where the mean gap is end
	for _, p := range r.Pieces {
		a, b := lift-r.overlap(p.From), lift-r.overlap(p.To)
		if math.Abs(b-a) <= alike*sd {
			sum += p.Length * scattered(g, a, b, sd)
			continue
		}
		if a != end {
			below = normal((g - a) / sd)
		}
		before := below
		end, below = b, normal((g-b)/sd)
		sum += p.Length * (before - below) / (b - a)
	}
	return sum
}

const (
	tails      = 5.5
	panel      = 2.5
	mostPanels = 24
	alike      = 0.02 // means that differ by less, in parts of sd, are taken as one
)

// scattered is the density at g of gaps scattered by sd about a mean between a and b.
func scattered(g, a, b, sd float64) float64 {
	z := (g - (a+b)/2) / sd
	return math.Exp(-z*z/2) / (sd * math.Sqrt(2*math.Pi))
}

// normal is the normal distribution F(z), from a table with cubic interpolation: right to 1e-10.
func normal(z float64) float64 {
	at := (z + normalReach) * normalCells
	switch {
	case at <= 0:
		return 0
	case at >= 2*normalReach*normalCells:
		return 1
	}
	i := int(at)
	t := at - float64(i)
	n, m := &normalTable[i], &normalTable[i+1]
	d := m.value - n.value
	return n.value + t*(n.slope+t*(3*d-2*n.slope-m.slope+t*(n.slope+m.slope-2*d)))
}

const (
	normalReach = 6.5 // beyond it F is 0 or 1 to 4e-11
	normalCells = 64  // a unit of z
)

var normalTable = func() (table [2*normalReach*normalCells + 1]struct{ value, slope float64 }) {
	for i := range table {
		z := float64(i)/normalCells - normalReach
		table[i].value = math.Erfc(-z/math.Sqrt2) / 2
		table[i].slope = math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) / normalCells
	}
	return table
}()

var tipAt, tipWeight = func() (at, weight [6]float64) {
	quad.Legendre{}.FixedLocations(at[:], weight[:], 0, 1)
	return at, weight
}()
