package drag_test

import (
	"fmt"

	"sillwright/engine/doubt"
	"sillwright/engine/drag"
)

// The drag of a fine brush of 30 mm on tile, N per metre, by how far it is pressed.
func ExamplePerMetre() {
	brush := drag.Brush{
		Length: 0.030, Diameter: doubt.Between(0.00015, 0.00018, 0.00020),
		Thickness: doubt.Between(0.004, 0.005, 0.006), Solid: doubt.Between(0.35, 0.44, 0.50),
		Lean: doubt.Between(0.003, 0.008, 0.010), Modulus: doubt.Between(1.3e9, 3.3e9, 5.1e9),
	}
	friction, err := drag.Friction("tile", drag.Bristle)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, overlap := range []float64{0, 0.001, 0.003} {
		r, err := drag.PerMetre(brush, overlap, 0, friction)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.0f mm: %.1f (%.1f to %.1f)\n", 1e3*overlap, r.Likely, r.Low, r.High)
	}
	// Output:
	// 0 mm: 0.0 (0.0 to 0.0)
	// 1 mm: 1.8 (0.5 to 4.9)
	// 3 mm: 3.6 (1.1 to 8.4)
}
