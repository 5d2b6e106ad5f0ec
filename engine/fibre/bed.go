package fibre

import (
	"fmt"

	"sillwright/engine/air"
	"sillwright/engine/crack"
)

// Bed is a body of parallel bristles that air crosses.
type Bed struct {
	Solid        float64 // V, solid volume fraction
	Diameter     float64 // D, bristle diameter, m
	Thickness    float64 // t, body thickness in the flow direction, m
	Permeability float64 // f_K, calibration factor on K; 1 when not calibrated
	Inertia      float64 // f_beta, calibration factor on beta; 1 when not calibrated
}

// Check tells what keeps a bed from being computed: solid fraction outside 0.2..0.8 or a size or factor that is
// not positive.
func (b Bed) Check() error {
	if err := check(Hexagonal, b.Solid, b.Diameter); err != nil {
		return err
	}
	for _, v := range []struct {
		name  string
		value float64
	}{{"body thickness", b.Thickness}, {"permeability factor", b.Permeability}} {
		if !(v.value > 0) {
			return fmt.Errorf("%s is %g; it must be positive", v.name, v.value)
		}
	}
	if !(b.Inertia >= 0) {
		return fmt.Errorf("inertia factor is %g; it must not be negative", b.Inertia)
	}
	return nil
}

// Law relates the drop across the body to the face velocity u (m/s), which is also the flow per metre of
// door and per metre of exposed bristle height:
//
//	dp = (mu t/K) u + beta rho t u^2,  K = f_K K_hex(V, D/2),  beta = f_beta 1.16 V/((1-V)^3 D)
//
// Darcy's law with an inertial term (Forchheimer); K and beta as Transverse and Inertia. Flow is taken straight through a body of
// constant thickness; ends and the spread of the body from root to tip are in the factors.
// Not checked here, as this is the innermost loop: call Check once. V beyond touching fibres gives a closed path.
func (b Bed) Law(a air.Air) crack.Law {
	k := b.Permeability * transverse(Hexagonal, b.Solid, b.Diameter/2)
	return crack.Law{
		A: a.Viscosity * b.Thickness / k,
		B: b.Inertia * inertia(b.Solid, b.Diameter) * a.Density * b.Thickness,
	}
}

// Grown is the bed after its body has spread by a factor g >= 1 in the flow direction with all its fibres kept:
// V/g, t g.
func (b Bed) Grown(g float64) Bed {
	b.Solid /= g
	b.Thickness *= g
	return b
}
