// Package house tells what the leakage of a door means to the whole house: its part of what a fan test allows, the plain opening that
// would leak as much, and what the air that comes in over a year costs in heat. All of it is indicative: weather, shelter, height and
// the other openings of the house decide how much air comes through a door on any day, and none of them is known here.
package house

import (
	"fmt"
	"math"

	"sillwright/engine/doubt"
)

const (
	// TestDrop is the pressure difference of n50 and q50, Pa (ISO 9972).
	TestDrop = 50.0
	// SmallDrop and LargerDrop are the pressure differences at which leakage areas are stated, Pa.
	SmallDrop, LargerDrop = 4.0, 10.0
	// SmallCd is the discharge coefficient of the area at SmallDrop (ASHRAE Fundamentals and ASTM E779, read on a page that quotes
	// them), LargerCd that of the area at LargerDrop (CAN/CGSB 149.10, from memory, not verified).
	SmallCd, LargerCd = 1.0, 0.611
	// HeatCapacity is the specific heat of air at constant pressure, J/(kg K), of dry air between 0 and 30 C.
	HeatCapacity = 1006.0
	// UsualDivisor is what the air change at 50 Pa is divided by for the mean of a year (Persily and Kronvall 1982, as Sherman 1987
	// tells it, Energy and Buildings 10, 81-86).
	UsualDivisor = 20.0
)

// MeanDrop is the mean pressure difference of a heating season across a door while air comes in by it, Pa: from the 0.5 Pa that
// UsualDivisor comes to at n 0.65 to the 4 Pa of SmallDrop. InwardTime is the part of the season that it comes in, for stack effect
// draws at a door all the time and wind by turns. Engineering judgement, not measured.
var (
	MeanDrop   = doubt.Between(0.5, 2, 4)
	InwardTime = doubt.Between(0.5, 0.75, 1)
)

// ByVolume is the flow at 50 Pa that an air change allows, m3/s:
//
//	Q50 = V n50/3600
//
// volume V m3, more than 0; airChange n50 1/h, 0 or more. Source: the definition of n50 in ISO 9972, n50 = Q50/V.
func ByVolume(volume, airChange float64) (float64, error) {
	return allowed("volume", volume, "air change", airChange)
}

// ByEnvelope is the flow at 50 Pa that a permeability allows, m3/s:
//
//	Q50 = A_E q50/3600
//
// area A_E m2, more than 0; permeability q50 m3/(h m2), 0 or more. Source: the definition of q50 in ISO 9972, q50 = Q50/A_E.
func ByEnvelope(area, permeability float64) (float64, error) {
	return allowed("envelope", area, "permeability", permeability)
}

func allowed(size string, of float64, rate string, per float64) (float64, error) {
	switch {
	case !(of > 0) || math.IsInf(of, 1):
		return 0, fmt.Errorf("%s is %g; allowed is more than 0", size, of)
	case !(per >= 0) || math.IsInf(per, 1):
		return 0, fmt.Errorf("%s is %g; allowed is 0 or more", rate, per)
	}
	return of * per / 3600, nil
}

// AirChange is what a flow comes to in a house, 1/h: 3600 Q/V, flow Q m3/s, volume V m3, more than 0. It turns ByVolume round.
func AirChange(flow doubt.Range, volume float64) doubt.Range { return times(flow, 3600/volume) }

// Area is the plain opening that leaks as much at a pressure difference, m2:
//
//	L = Q sqrt(rho/(2 dp))/Cd
//
// flow Q m3/s at drop dp Pa, more than 0; density rho kg/m3; cd the discharge coefficient, more than 0: the stated area depends on it, so
// say it with the area. Source: the effective leakage area of ASHRAE Fundamentals (1997, 25.18, read on a page that quotes it) with
// Cd 1 at 4 Pa; the equivalent one of CAN/CGSB 149.10 with Cd 0.611 at 10 Pa (from memory, not verified). Deviation: those standards
// carry a fitted power law down to the pressure; here the flow is that of the laws at the pressure itself.
func Area(flow doubt.Range, drop, density, cd float64) doubt.Range {
	return times(flow, math.Sqrt(density/(2*drop))/cd)
}

// Mean is the mean flow of a year by the flow at 50 Pa, m3/s: Q50/divisor.
//
// Source: N = n50/20 (see UsualDivisor), which holds for houses as a whole, whose leaks have n near 0.65; Sherman's divisor is
// C H S L of climate, height, shelter and leakiness. It is an order of magnitude for one
// door, to a factor of two at least either way; the band here is that of the flow at 50 Pa alone.
func Mean(at50 doubt.Range, divisor float64) doubt.Range { return times(at50, 1/divisor) }

// MeanAt is the mean flow of a heating season by the laws of the door itself, m3/s:
//
//	Q = f Q(dp)
//
// f InwardTime, dp MeanDrop: low flow at the lowest drop and least time, likely at the likely, high at the highest. The ends are too
// wide where the errors of flow, drop and time are independent.
func MeanAt(lowest, likely, highest doubt.Range) doubt.Range {
	return doubt.Between(lowest.Low*InwardTime.Low, likely.Likely*InwardTime.Likely, highest.High*InwardTime.High)
}

// Conductance is the heat that air coming in takes for each kelvin between inside and outside, W/K:
//
//	H = rho c Q
//
// density rho kg/m3, c = HeatCapacity, flow Q m3/s. An identity of the heat balance; no heat is won back on the air's way through
// the wall.
func Conductance(flow doubt.Range, density float64) doubt.Range {
	return times(flow, density*HeatCapacity)
}

// Yearly is the heat of a year, kWh: 24 H G/1000, conductance H W/K, degree days G K d. An identity.
func Yearly(conductance doubt.Range, degreeDays float64) doubt.Range {
	return times(conductance, 24*degreeDays/1000)
}

// PerHour is a flow spread over an area or a length, m3/(h m2) or m3/(h m): 3600 Q/size.
func PerHour(flow doubt.Range, size float64) doubt.Range { return times(flow, 3600/size) }

// Part is what a flow is of another: Q/whole. False where the whole is nothing.
func Part(flow doubt.Range, whole float64) (doubt.Range, bool) {
	if !(whole > 0) {
		return doubt.Range{}, false
	}
	return times(flow, 1/whole), true
}

func times(r doubt.Range, by float64) doubt.Range {
	return doubt.Between(r.Low*by, r.Likely*by, r.High*by)
}
