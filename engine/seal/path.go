package seal

import (
	"fmt"

	"sillwright/engine/air"
	"sillwright/engine/crack"
	"sillwright/engine/gap"
)

// Path is a bare gap of constant width elsewhere on a door: head, hinge side, meeting stiles.
type Path struct {
	Length   float64 // m
	Gap      float64 // m
	Depth    float64 // length of the gap in the flow direction, m
	Bends    int     // bends on the way: 0 straight, 1 L-shaped, 2 rebated
	GapError float64 // +- m, as ReadingError of Edge
}

// Leakage at a drop dp (Pa): the crack law with C = 1.5 + bends and its band, as Bare.
func (p Path) Leakage(dp float64, a air.Air) (Result, error) {
	line, err := gap.New(p.Length, []gap.Reading{{Gap: p.Gap}})
	if err != nil {
		return Result{}, fmt.Errorf("path: %w", err)
	}
	return Edge{Line: line, ReadingError: p.GapError, LeafThickness: p.Depth, Model: Bare{Bends: p.Bends}}.Leakage(dp, a)
}

// Gasketed is a length of frame closed by a gasket that is pressed.
type Gasketed struct {
	Length float64 // m
	Gasket Gasket
}

// Leakage at a drop dp (Pa), as Gasket on a smooth made face.
func (g Gasketed) Leakage(dp float64, a air.Air) (Result, error) {
	line, err := gap.New(g.Length, []gap.Reading{{}})
	if err != nil {
		return Result{}, fmt.Errorf("gasketed length: %w", err)
	}
	e := Edge{Line: line, LeafThickness: g.Gasket.Contact.Base, Model: g.Gasket}
	return e.Leakage(dp, a)
}

// Hole is an opening of known area: corner, keyhole, letter plate.
type Hole struct{ Area float64 } // m2

// Leakage at a drop dp (Pa): Q = Cd A sqrt(2 dp/rho), Cd 0.611 (0.60..0.65), exponent 0.5. Source and range: crack.Orifice.
func (h Hole) Leakage(dp float64, a air.Air) (Result, error) {
	if !(dp >= MinDrop && dp <= MaxDrop) {
		return Result{}, fmt.Errorf("pressure drop is %g Pa; allowed is %g to %g Pa", dp, MinDrop, MaxDrop)
	}
	if err := first(positive("hole area (m2)", h.Area), positive("air density (kg/m3)", a.Density)); err != nil {
		return Result{}, err
	}
	flow := func(cd float64) float64 { return crack.Orifice(cd, a).Over(h.Area).Flow(dp) }
	return Result{
		Band:     Band{Low: flow(0.60), Likely: flow(crack.SharpEdge), High: flow(0.65)},
		Exponent: 0.5, Basis: BasisOrifice, Largest: "discharge coefficient",
	}, nil
}
