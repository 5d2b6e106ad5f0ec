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
	if x[brushModulus] > 0 {
		lift = fibre.Lift(r.Drop, b.Length, fibre.Stiffness(x[brushModulus], x[brushDiameter]), fibre.PerMetre(x[brushSolid], x[brushThickness], x[brushDiameter]))
	}
	least, most := math.Inf(1), math.Inf(-1)
	for _, p := range r.Pieces {
		a, b := lift-r.overlap(p.From), lift-r.overlap(p.To)
		least, most = min(least, a, b), max(most, a, b)
	}
	low, high := math.Max(least-tails*sd, 0), most+tails*sd
	if high <= low {
		return out
	}
	panels := math.Ceil((high - low) / (panel * sd))
	panels = math.Min(panels, mostPanels)
	width := (high - low) / panels
	for i := 0.0; i < panels; i++ {
		for k, at := range tipAt {
			g := low + width*(i+at)
			metres := 0.0
			for _, p := range r.Pieces {
				metres += p.Length * scattered(g, lift-r.overlap(p.From), lift-r.overlap(p.To), sd)
			}
			law := crack.Opening(g, x[brushThickness], 0, x[brushLoss], r.Air)
			out = append(out, crack.Share{Law: law, Extent: x[brushAccuracy] * metres * width * tipWeight[k]})
		}
	}
	return out
}

const (
	tails      = 5.5
	panel      = 2.5
	mostPanels = 24
)

// scattered is the density at g of gaps scattered by sd about means that run evenly from a to b.
func scattered(g, a, b, sd float64) float64 {
	if d := math.Abs(b - a); d > 0.02*sd {
		return (normal((g-math.Min(a, b))/sd) - normal((g-math.Max(a, b))/sd)) / d
	}
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
