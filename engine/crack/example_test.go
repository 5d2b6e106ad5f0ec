package crack_test

import (
	"fmt"

	"sillwright/engine/air"
	"sillwright/engine/crack"
)

// Slots under a leaf of 40 mm at 50 Pa: laminar when narrow, an orifice when wide.
func ExampleSlot() {
	for _, mm := range []float64{0.2, 0.5, 1, 3, 10} {
		law := crack.Slot(mm/1000, 0.040, crack.StraightLoss, air.Standard())
		fmt.Printf("%g mm: %.3g L/s per metre, exponent %.2f\n", mm, 1e3*law.Flow(50), law.Exponent(50))
	}
	// Output:
	// 0.2 mm: 0.0459 L/s per metre, exponent 1.00
	// 0.5 mm: 0.693 L/s per metre, exponent 0.97
	// 1 mm: 4.05 L/s per metre, exponent 0.77
	// 3 mm: 20.8 L/s per metre, exponent 0.54
	// 10 mm: 73.9 L/s per metre, exponent 0.50
}

// The loss of a straight path goes from slot to orifice where the gap nears the depth: least, likely, most loss.
func ExampleLoss() {
	for _, mm := range []float64{5, 10, 20, 28, 40} {
		fmt.Printf("%g mm under 40 mm: %.2f %.2f %.2f\n", mm, crack.Loss(mm/1000, 0.040, -1), crack.Loss(mm/1000, 0.040, 0), crack.Loss(mm/1000, 0.040, 1))
	}
	// Output:
	// 5 mm under 40 mm: 1.30 1.50 1.70
	// 10 mm under 40 mm: 1.30 1.50 2.35
	// 20 mm under 40 mm: 1.30 2.09 2.69
	// 28 mm under 40 mm: 1.30 2.56 2.69
	// 40 mm under 40 mm: 2.05 2.69 2.69
}

// Two slots one behind the other, unlike each other: which part of the drop each takes.
func ExampleInSeries() {
	tight, wide := crack.Slot(0.0005, 0.010, crack.StraightLoss, air.Standard()), crack.Slot(0.002, 0.040, crack.StraightLoss, air.Standard())
	var pairs [2]crack.Law
	flow := crack.InSeries(50, pairs[:], tight, wide)
	fmt.Printf("%.2f L/s per metre: %.1f Pa over the tight one, %.1f Pa over the wide one\n", 1e3*flow, tight.Drop(flow), wide.Drop(flow))
	// Output:
	// 1.93 L/s per metre: 47.1 Pa over the tight one, 2.9 Pa over the wide one
}
