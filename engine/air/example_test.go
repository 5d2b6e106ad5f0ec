package air_test

import (
	"fmt"

	"sillwright/engine/air"
)

// Air of a winter day at 600 m.
func ExampleAt() {
	pressure, err := air.Pressure(600)
	if err != nil {
		fmt.Println(err)
		return
	}
	cold, err := air.At(-5, pressure)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f Pa, %.3f kg/m3, %.3e Pa s\n", pressure, cold.Density, cold.Viscosity)
	// Output:
	// 94322 Pa, 1.225 kg/m3, 1.691e-05 Pa s
}
