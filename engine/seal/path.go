package seal

import (
	"fmt"

	"sillwright/engine/air"
	"sillwright/engine/crack"
	"sillwright/engine/doubt"
	"sillwright/engine/gap"
)

// Slit is a gap of constant width elsewhere on a door: head, hinge side, meeting stiles, the bed of a plate.
type Slit struct {
	Length   float64 // m
	Gap      float64 // m
	Depth    float64 // length of the gap in the flow direction, m
	Bends    int     // bends on the way: 0 straight, 1 L-shaped, 2 rebated
	GapError float64 // +- m, as ReadingError of Edge
	Seals    []Fitted
	Alone    bool // as of Edge: where the gap behind the seals is not known
}

// Leakage at a drop dp (Pa): the crack law with C = 1.5 + bends and its band, as Bare, or what its seals let pass.
func (s Slit) Leakage(dp float64, a air.Air) (Flow, error) {
	line, err := gap.New(s.Length, []gap.Reading{{Gap: s.Gap}})
	if err != nil {
		return Flow{}, fmt.Errorf("path: %w", err)
	}
	return Edge{Line: line, ReadingError: s.GapError, LeafThickness: s.Depth, Bends: s.Bends, Seals: s.Seals, Alone: s.Alone, path: true}.Leakage(dp, a)
}

// Hole is an opening of known area: corner, keyhole, letter plate.
type Hole struct{ Area float64 } // m2

// dischargeRange is that of a sharp edge, 0.611, down to 0.60, and up to a hole as deep as it is wide or more, whose jet reattaches:
// short tubes have some 0.8 (from memory, not verified).
var dischargeRange = doubt.Between(0.60, crack.SharpEdge, 0.80)

// Leakage at a drop dp (Pa): Q = Cd A sqrt(2 dp/rho), Cd 0.611 (0.60..0.80), exponent 0.5. Source and range: crack.Orifice. A hole
// so small that friction counts flows less.
func (h Hole) Leakage(dp float64, a air.Air) (Flow, error) {
	if err := doubt.First(checkDrop(dp), doubt.Positive("hole area (m2)", h.Area), doubt.Positive("air density (kg/m3)", a.Density)); err != nil {
		return Flow{}, err
	}
	flow := func(cd float64) float64 { return crack.Orifice(cd, a).Over(h.Area).Flow(dp) }
	return Flow{
		Likely: flow(dischargeRange.Likely), Exponent: 0.5, Basis: BasisOrifice,
		Effects: []doubt.Effect{{Doubt: doubtHole, Low: flow(dischargeRange.Low), High: flow(dischargeRange.High)}},
	}, nil
}
