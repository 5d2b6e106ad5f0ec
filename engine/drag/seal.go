// Package drag estimates how hard a bottom seal drags on the floor: per metre, and at the latch edge of the leaf, with
// a band. Every result is an estimate: no drag of a seal on a floor was found published in full.
package drag

import (
	"fmt"
	"math"

	"sillwright/engine/doubt"
	"sillwright/engine/fibre"
)

// Seal is a bottom seal that bends where the floor presses it: a Brush or a Blade, or either Pulled.
type Seal interface {
	// Check tells what is out of range.
	Check() error
	// Height is the free height (m), from the carrier to the tips.
	Height() float64
	// Normal is the likely normal force N (N/m), pressed by overlap (m), at the friction of the pull.
	Normal(overlap, friction float64) (float64, error)
	inputs() inputs
	strip(v values) strip
}

// Brush is a strip of parallel bristles.
//
//	N = n P,  n = V t/(pi D^2/4),  P as fibre.Press with E I = E pi D^4/64
//
// N normal force N/m, t body thickness, V solid fraction, D bristle diameter. Lean is how far the tips stand off the
// root line when nothing touches them: crimp, lay and set together. Deviations: as fibre.Press, and every bristle is
// taken to have the same length and lean; a trimmed brush is close to that, a worn one is not. Wet nylon is softer:
// modulus has to span it.
type Brush struct {
	Length    float64     // free length L, m
	Diameter  doubt.Range // m
	Thickness doubt.Range // of the body in the direction of the pull, m
	Solid     doubt.Range // solid volume fraction
	Lean      doubt.Range // m
	Modulus   doubt.Range // tensile modulus of the bristle E, Pa
}

// Check wants a length of 1 to 200 mm, a diameter of 0.01 to 5 mm, a body of 0.5 to 100 mm, a solid fraction of 0.01
// to 0.8 (over all of the body: tufts have gaps), a lean of 0 to the length and a modulus of 0.01 to 100 GPa.
func (b Brush) Check() error {
	return doubt.First(
		doubt.Exactly(b.Length).Check("free length of the bristles (m)", 0.001, 0.2),
		b.Diameter.Check("bristle diameter (m)", 0.00001, 0.005),
		b.Thickness.Check("thickness of the brush (m)", 0.0005, 0.1),
		b.Solid.Check("solid fraction of the brush", 0.01, 0.8),
		b.Lean.Check("lean of the tips (m)", 0, b.Length),
		b.Modulus.Check("modulus of the bristles (Pa)", 1e7, 1e11),
	)
}

// Height is the free length.
func (b Brush) Height() float64 { return b.Length }

// Normal is the likely normal force N (N/m) of the brush pressed by overlap (m), at the friction of the pull.
func (b Brush) Normal(overlap, friction float64) (float64, error) {
	return normal(b, overlap, friction)
}

const settlePress = "press a measured length of the seal onto a scale by its overlap and read the force"

func (b Brush) inputs() inputs {
	return inputs{n: 5, of: [maxInputs]input{
		{doubt.Doubt{Name: "bristle diameter", Settle: "measure ten bristles with a micrometer"}, b.Diameter},
		{doubt.Doubt{Name: "thickness of the brush", Settle: "measure the thickness of the brush near the floor with a caliper"}, b.Thickness},
		{doubt.Doubt{Name: "solid fraction", Settle: "count the bristles in 10 mm of the brush"}, b.Solid},
		{doubt.Doubt{Name: "lean of the tips", Settle: "look along the brush and measure how far the tips stand off the line of the roots"}, b.Lean},
		{doubt.Doubt{Name: "modulus of the bristles", Settle: settlePress}, b.Modulus},
	}}
}

func (b Brush) strip(v values) strip {
	return strip{
		count: fibre.PerMetre(v[2], v[1], v[0]), stiffness: fibre.Stiffness(v[4], v[0]),
		length: b.Length, lean: v[3], round: true,
	}
}

// Blade is one or more flexible lips, one behind the other, each pressed by the same overlap.
//
//	N = lips P,  P as fibre.Press with E I' = E b^3/12 per metre and no lean
//
// N normal force N/m, b thickness, E modulus (Gent for rubber). A lip pressed by an overlap bends sideways by y, near
// sqrt(5 L overlap/3) as a cantilever loses 3/5 y^2/L of its height, and its root holds 3 E I' y/L^2 = N (y + mu (L -
// overlap)). So N depends on friction. That is right for much friction, and 22 % high without, where pi^2/4 stands for
// 3 (Euler); fibre.Press is right at both ends.
//
// Source: strip cantilever, exact for small bending. doubt.Range and error: as fibre.Press, overlap to half the height; 10 %
// low at 0.14 L. Deviations: a long strip cannot narrow as it bends, which makes rubber up to 4/3 stiffer, and rubber
// relaxes under a lasting load, which makes it softer: both within the band of the modulus. A lip that leans, folds,
// sticks or stutters is not covered. On a leaf that slides along its seal, friction does not bend the lip; there it is taken to lean
// by y0 = 0.15 L at rest, without which Euler's load from the first touch would be its likely force, which is a bound:
//
//	P/Pcr = (Y - y0)/Y
//
// y0 is engineering judgement, not measured; how far a real lip stands from it is within the factor for what the model leaves out.
type Blade struct {
	Length    float64     // free height L, m
	Thickness doubt.Range // b, m
	Modulus   doubt.Range // E, Pa
	Lips      int
}

// lipLean is y0/L of a lip along which a leaf slides: engineering judgement, not measured.
const lipLean = 0.15

// Check wants a height of 1 to 100 mm, a thickness of 0.1 to 20 mm and no more than half the height, a modulus of 0.1
// MPa to 10 GPa and 1 to 10 lips.
func (b Blade) Check() error {
	return doubt.First(
		doubt.Exactly(b.Length).Check("free height of the blade (m)", 0.001, 0.1),
		b.Thickness.Check("thickness of the blade (m)", 0.0001, math.Min(0.02, b.Length/2)),
		b.Modulus.Check("modulus of the blade (Pa)", 1e5, 1e10),
		doubt.Exactly(float64(b.Lips)).Check("number of lips", 1, 10),
	)
}

// Height is the free height.
func (b Blade) Height() float64 { return b.Length }

// Normal is the likely normal force N (N/m) of the lips pressed by overlap (m), at the friction of a pull across them.
func (b Blade) Normal(overlap, friction float64) (float64, error) {
	return normal(b, overlap, friction)
}

func (b Blade) inputs() inputs {
	return inputs{n: 2, of: [maxInputs]input{
		{doubt.Doubt{Name: "thickness of the blade", Settle: "measure the thickness of the blade with a caliper"}, b.Thickness},
		{doubt.Doubt{Name: "modulus of the blade", Settle: settlePress}, b.Modulus},
	}}
}

func (b Blade) strip(v values) strip {
	return strip{count: float64(b.Lips), stiffness: bending(v[1], v[0]), length: b.Length}
}

// bending is the stiffness of a strip per metre of its length (N m): E b^3/12.
func bending(modulus, thickness float64) float64 {
	return modulus * thickness * thickness * thickness / 12
}

// strip is what a seal comes to for the floor: count per metre of cantilevers of one stiffness.
type strip struct {
	count, stiffness, length, lean float64
	round                          bool // bends alike in every direction

	pulls  []Pull // tests that correct it; where count is 0 they stand alone
	factor float64
}

// normal force, N/m
func (s *strip) normal(overlap, friction float64) float64 {
	if len(s.pulls) > 0 {
		return s.pulled(overlap, friction)
	}
	return s.bent(overlap, friction)
}

// bent is the normal force by the model, N/m.
func (s *strip) bent(overlap, friction float64) float64 {
	return s.count * fibre.Press(s.stiffness, s.length, overlap, s.lean, friction)
}

func normal(seal Seal, overlap, friction float64) (float64, error) {
	var one [1]float64
	err := Normals(seal, friction, []float64{overlap}, one[:])
	return one[0], err
}

// Normals gives the likely normal force N (N/m) at each of some overlaps (m), as Seal.Normal.
func Normals(seal Seal, friction float64, overlaps, out []float64) error {
	wrong := seal.Check()
	for _, o := range overlaps {
		if err := doubt.First(wrong, checkOverlap(seal, o), doubt.Exactly(friction).Check("friction", 0, maxFriction)); err != nil {
			return err
		}
	}
	in := seal.inputs()
	s := seal.strip(in.likely())
	for i, o := range overlaps {
		out[i] = s.normal(o, friction)
	}
	return nil
}

// checkOverlap wants an overlap that fibre.Press reaches; daylight may be as wide as it is.
func checkOverlap(seal Seal, overlap float64) error {
	most := seal.Height() / 2
	if p, ok := seal.(Pulled); ok && p.Model == nil && overlap > most {
		return fmt.Errorf("overlap is %g m; pull tests reach to %g m: pull it pressed further, or set the seal higher", overlap, most)
	}
	if !(overlap <= most) || math.IsInf(overlap, 0) {
		return fmt.Errorf("overlap is %g m; allowed is up to %g m, half the free height of the seal: "+
			"set the seal higher or choose a longer one", overlap, most)
	}
	return nil
}
