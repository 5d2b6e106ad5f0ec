package seal

import "sillwright/engine/doubt"

// Generic seals as the built-in catalogue has them, for the tests of the models.

func fineBrush(length float64) Brush {
	return Brush{
		Length:       length,
		Diameter:     doubt.Between(0.00015, 0.00018, 0.00020),
		Thickness:    doubt.Between(0.004, 0.005, 0.006),
		Solid:        doubt.Between(0.35, 0.44, 0.50),
		Permeability: doubt.Between(0.5, 1, 2),
		Inertia:      doubt.Between(0.5, 1, 2),
		Trim:         doubt.Between(0.00014, 0.00022, 0.00044),
		Lean:         doubt.Between(3.0/30*length, 8.0/30*length, 10.0/30*length),
		Spread:       doubt.Between(0.1, 0.195, 0.3),
		Modulus:      doubt.Between(1.3e9, 3.3e9, 5.1e9),
	}
}

func lips(count int) Blade {
	return Blade{Lips: count, Residual: doubt.Between(0.0001, 0.0002, 0.0004), Contact: doubt.Between(0.001, 0.0015, 0.003)}
}

func bulb() Gasket {
	return Gasket{Residual: doubt.Between(0.0001, 0.0002, 0.0003), Contact: doubt.Between(0.003, 0.005, 0.008)}
}

func tufted(length float64, blade bool) Brush {
	b := fineBrush(length)
	b.Diameter = doubt.Between(0.00025, 0.00030, 0.00050)
	b.Thickness = doubt.Between(0.008, 0.010, 0.014)
	b.Solid = doubt.Between(0.35, 0.42, 0.50)
	b.Tufts = &Tufts{Pitch: doubt.Between(0.006, 0.008, 0.010), RootGap: doubt.Between(0.00055, 0.00068, 0.00080), Widening: doubt.Between(0.005, 0.0068, 0.009)}
	if blade {
		b.Embedded = &Embedded{Height: 0.010, Reach: doubt.Exactly(0.025)}
	}
	return b
}

// rebated is the bulb with its working range.
func rebated() Gasket {
	g := bulb()
	g.Least = 0.001
	return g
}

func drop() DropSeal {
	return DropSeal{Fall: 0.012, Follow: doubt.Between(0.0005, 0.001, 0.003), Residual: doubt.Between(0.0001, 0.0002, 0.0004), Contact: doubt.Between(0.003, 0.005, 0.008)}
}
