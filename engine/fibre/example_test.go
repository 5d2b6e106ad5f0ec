package fibre_test

import (
	"fmt"

	"sillwright/engine/air"
	"sillwright/engine/fibre"
)

// A body of bristles of 0.18 mm, 5 mm thick, at 50 Pa: how fast air crosses it, by its solid fraction. A few hundredths more or less
// matter more than anything else about a brush.
func ExampleBed_Law() {
	for _, solid := range []float64{0.35, 0.40, 0.44, 0.50} {
		bed := fibre.Bed{Solid: solid, Diameter: 0.00018, Thickness: 0.005, Permeability: 1, Inertia: 1}
		law := bed.Law(air.Standard())
		fmt.Printf("%.2f: %.3f m/s, exponent %.2f\n", solid, law.Flow(50), law.Exponent(50))
	}
	// Output:
	// 0.35: 0.277 m/s, exponent 0.93
	// 0.40: 0.179 m/s, exponent 0.96
	// 0.44: 0.125 m/s, exponent 0.97
	// 0.50: 0.072 m/s, exponent 0.98
}

// How far a drop of 50 Pa lifts the tips of heavy bristles of 0.3 mm: with the seventh power of their length while they bend little.
func ExampleLift() {
	for _, length := range []float64{0.050, 0.100} {
		lift := fibre.Lift(50, length, fibre.Stiffness(3.3e9, 0.0003), fibre.PerMetre(0.42, 0.010, 0.0003))
		fmt.Printf("%.0f mm: %.3f mm\n", 1e3*length, 1e3*lift)
	}
	// Output:
	// 50 mm: 0.003 mm
	// 100 mm: 0.365 mm
}
