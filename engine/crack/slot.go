package crack

import (
	"math"

	"sillwright/engine/air"
)

// Entry and exit loss coefficients C of a straight path, likely values.
const (
	StraightLoss = 1.5 // long slot: entry with reattached flow, exit and developing flow
	BendLoss     = 1.0 // each bend adds this
)

// SharpEdge is the discharge coefficient of a sharp-edged slit, pi/(pi+2) = 0.611, from the two-dimensional free
// streamline solution (Kirchhoff; derivation in any hydrodynamics text). Handbooks use 0.6 to 0.65.
const SharpEdge = math.Pi / (math.Pi + 2)

// Slot is the law per metre of a slot between parallel walls:
//
//	A = 12 mu z/d^3      B = rho C/(2 d^2)
//
// d gap m, z length in the flow direction m, c entry and exit loss C (StraightLoss plus BendLoss a bend), mu Pa s,
// rho kg/m3. q in m2/s. d <= 0 is a closed path.
//
// Source: Baker, Sharples & Ward 1987, Building and Environment 22(4), 293-304, text from memory, not verified;
// A is plane Poiseuille flow. Agrees with Gross & Haberman 1989 table 2 (see the tests).
// Range: z/d >= 4 (see Loss below that). The friction term is exact to Re = 2 q rho/mu of about 2300; above, it is
// small beside C (3 mm, 40 mm deep at 50 Pa: Re 2759) and the error is a few per cent. C is known to +-0.2 and the
// flow through bare gaps of doors in place to 20..25 %.
func Slot(d, z, c float64, a air.Air) Law {
	if d <= 0 {
		return closed()
	}
	square := d * d
	return Law{A: 12 * a.Viscosity * z / (square * d), B: a.Density * c / (2 * square)}
}

// Opening is Slot with the loss that suits the ratio z/d: C = Loss(d, z, position) + bends.
// bends is the number of bends on the way (L-shaped 1, rebate 2). position as in Loss.
func Opening(d, z, bends, position float64, a air.Air) Law {
	return Slot(d, z, Loss(d, z, position)+bends*BendLoss, a)
}

// Losses that bound a path without bends. Least loss is most flow.
const (
	longLeast, longMost   = 1.3, 1.7                             // slot: 1.5 +- 0.2
	shortLeast, shortMost = 1 / (0.64 * 0.64), 1 / (0.61 * 0.61) // orifice: Cd 0.64 and 0.61
)

// Depth over gap, z/d, where each loss leaves the value of the slot. The likely loss is the orifice's at a quarter of
// it, the bounds are so at half of it.
const (
	likelyLeaves = 4.0
	leastLeaves  = 1.5
	mostLeaves   = 6.0
)

// Loss is the entry and exit loss C of a straight path of gap d and depth z (m). position says where in the range
// of plausible values: 0 the likely value, -1 the least loss (most flow), +1 the most loss; between, linear.
//
//	slot:     C = 1.5 (1.3 .. 1.7): the jet reattaches and fills the slot;           likely for z/d >= 4
//	orifice:  C = 1/Cd^2, Cd 0.61 (0.61 .. 0.64): the jet leaves without touching;   likely for z/d <= 1
//	between:  C goes smoothly in ln(z/d) from one to the other
//
// The step from C = 1.5 to C = 2.7 is the whole difference of the two laws, as friction keeps its own term. The most loss
// turns from slot to orifice over z/d 6 to 3, the least over 1.5 to 0.75, so that with the allowance for bare gaps in
// place the range spans both laws wherever they compete; and slowly enough (d ln C/d ln d < 2) that a wider
// gap never predicts less flow at any position. Engineering judgement between published ends; for the ends see
// Slot and SharpEdge.
func Loss(d, z, position float64) float64 {
	ratio := z / d
	if ratio >= mostLeaves {
		return StraightLoss + position*(longMost-StraightLoss)
	}
	likely := StraightLoss
	if ratio < likelyLeaves {
		likely += smooth(math.Log(likelyLeaves/ratio)/(2*math.Ln2)) * (shortMost - StraightLoss)
	}
	switch {
	case position > 0:
		most := longMost + smooth(math.Log(mostLeaves/ratio)/math.Ln2)*(shortMost-longMost)
		return likely + position*(most-likely)
	case position < 0:
		least := longLeast + smooth(math.Log(leastLeaves/ratio)/math.Ln2)*(shortLeast-longLeast)
		return likely + position*(likely-least)
	}
	return likely
}

// smooth goes from 0 to 1 with x, level and without curvature at both ends, so that integrals over a gap see no kink.
func smooth(x float64) float64 {
	switch {
	case x <= 0:
		return 0
	case x >= 1:
		return 1
	}
	return x * x * x * (10 + x*(6*x-15))
}

// Orifice is the law of a hole or slit with a discharge coefficient cd, per square metre of opening (use Over):
//
//	dp = rho/2 (q/cd)^2,  that is A = 0, B = rho/(2 cd^2)
//
// q in m/s. Source: Bernoulli with the contraction in cd; sharp edges 0.6..0.65. Range: Reynolds number of the opening above
// some thousands; a small hole at low drop flows less.
func Orifice(cd float64, a air.Air) Law {
	if cd <= 0 {
		return closed()
	}
	return Law{B: a.Density / (2 * cd * cd)}
}

// Discharge is the discharge coefficient of a law per metre with the gap d (m) at the drop dp (Pa):
//
//	Cd = q/(d sqrt(2 dp/rho))
func (l Law) Discharge(d, dp float64, a air.Air) float64 {
	return l.Flow(dp) / (d * math.Sqrt(2*dp/a.Density))
}

// DischargeAt is the same coefficient in terms of the Reynolds number re = rho v D_h/mu, D_h = 2 d, v = q/d:
//
//	1/Cd^2 = 96 z/(D_h re) + C
//
// Source: Etheridge 1977 and Etheridge & Sandberg 1996, from memory, not verified. Algebraically the same as Slot.
func DischargeAt(re, d, z, c float64) float64 {
	return 1 / math.Sqrt(96*z/(2*d*re)+c)
}
