package drag

import (
	"encoding/json"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"sillwright/engine/doubt"
	"sillwright/engine/fibre"
)

// forceOn is the drag of a strip on a line that is moved by a shift.
func forceOn(l Line, s *strip, friction, shift float64) float64 {
	var m mesh
	m.lay(&l, shift, s.length)
	return l.force(&m, s, friction)
}

func likely(s Seal) strip {
	in := s.inputs()
	return s.strip(in.likely())
}

// The force at the latch edge times the width is the whole torque: gonum's quadrature of mu N(overlap(x)) x over each
// straight piece, cut where it starts to touch.
func TestTorque_Identity(t *testing.T) {
	const width, mu = 0.9, 0.3
	places := []Place{{0.1, -0.001}, {0.3, 0.002}, {0.5, 0.0005}, {0.8, -0.002}}
	// ends of the smooth pieces, and the overlap at each
	cuts := []Place{{0.1 + 0.2/3, 0}, {0.3, 0.002}, {0.5, 0.0005}, {0.56, 0}}
	for name, seal := range map[string]Seal{"brush": fine(0.03), "short": fine(0.015), "blade": wiper(t)} {
		s := likely(seal)
		for _, slides := range []bool{false, true} {
			bend := mu
			if _, blade := seal.(Blade); blade && slides {
				bend, s.lean = 0, lipLean*s.length
			}
			want := 0.0
			for i := 1; i < len(cuts); i++ {
				a, b := cuts[i-1], cuts[i]
				want += quad.Fixed(func(x float64) float64 {
					f := mu * s.normal(a.Overlap+(b.Overlap-a.Overlap)*(x-a.At)/(b.At-a.At), bend)
					if slides {
						return f
					}
					return f * x / width
				}, a.At, b.At, 4000, quad.Legendre{}, 0)
			}
			l := Line{Width: width, Places: places, Slides: slides}
			near(t, name, forceOn(l, &s, mu, 0), want, 1e-6)
		}
	}
}

// More places on the same line change nothing; a line held outside its places is the same as one that says so.
func TestLine_Identity(t *testing.T) {
	s := likely(fine(0.03))
	few := Line{Width: 0.9, Places: []Place{{0.2, 0.003}, {0.7, -0.001}}}
	many := Line{Width: 0.9, Places: []Place{{0, 0.003}, {0.2, 0.003}, {0.3, 0.0022}, {0.45, 0.001}, {0.7, -0.001}, {0.9, -0.001}}}
	near(t, "force", forceOn(many, &s, 0.3, 0), forceOn(few, &s, 0.3, 0), 1e-7)
	moved := Line{Width: 0.9, Places: []Place{{0.2, 0.002}, {0.7, -0.002}}}
	near(t, "shift", forceOn(few, &s, 0.3, -0.001), forceOn(moved, &s, 0.3, 0), 1e-12)
}

// A line and its mirror: the two forces at the edge are together the whole drag, as the levers x and W - x are W; and
// pressing at the latch edge costs more than at the hinge.
func TestMirror_Identity(t *testing.T) {
	s := likely(fine(0.03))
	line := Line{Width: 0.9, Places: []Place{{0.1, 0.004}, {0.5, 0.001}, {0.8, -0.001}}}
	mirror := Line{Width: 0.9, Places: []Place{{0.1, -0.001}, {0.4, 0.001}, {0.8, 0.004}}}
	whole := line
	whole.Slides = true
	a, b := forceOn(line, &s, 0.3, 0), forceOn(mirror, &s, 0.3, 0)
	near(t, "both", a+b, forceOn(whole, &s, 0.3, 0), 1e-9)
	if !(b > 2*a) {
		t.Errorf("pressed at the latch edge %g N, at the hinge %g N", b, a)
	}
}

// Drag rises with the overlap, is nothing with daylight, and rises with friction: twice the friction is at most twice
// the drag, as tips that are pulled harder bend further over and press less; with little friction it is twice. Never
// beyond what the friction of Euler's load gives. A blade that slides along its seal is not bent by friction: exactly
// twice.
func TestProperties_Identity(t *testing.T) {
	for name, seal := range map[string]Seal{"brush": fine(0.03), "blade": wiper(t)} {
		s := likely(seal)
		before := 0.0
		for overlap := 1e-4; overlap < seal.Height()/2; overlap += 1e-4 {
			drag := func(mu float64) float64 { return mu * s.normal(overlap, mu) }
			once, twice := drag(0.3), drag(0.6)
			if !(once > before) {
				t.Fatalf("%s: drag does not rise with the overlap at %g m", name, overlap)
			}
			if !(twice > once && twice < 2*once) {
				t.Fatalf("%s at %g m: drag %g, at twice the friction %g", name, overlap, once, twice)
			}
			if euler := 0.3 * s.count * math.Pi * math.Pi / 4 * s.stiffness / (s.length * s.length); once > euler {
				t.Fatalf("%s at %g m: drag %g over the bound %g", name, overlap, once, euler)
			}
			near(t, "little friction", drag(2e-6)/drag(1e-6), 2, 1e-4)
			before = once
		}
		if n, err := normal(seal, 0, 0.3); n != 0 || err != nil {
			t.Errorf("%s that just touches presses %g N/m, %v", name, n, err)
		}
		if n, err := normal(seal, -0.02, 0.3); n != 0 || err != nil {
			t.Errorf("%s over daylight presses %g N/m, %v", name, n, err)
		}
	}
	blade := likely(wiper(t))
	l := Line{Width: 2, Places: []Place{{0, 0.001}}, Slides: true}
	near(t, "along a blade", forceOn(l, &blade, 0.6, 0), 2*forceOn(l, &blade, 0.3, 0), 1e-12)
	two := wiper(t)
	two.Lips = 2
	near(t, "two lips", must[float64](t)(two.Normal(0.001, 0.5)), 2*must[float64](t)(wiper(t).Normal(0.001, 0.5)), 1e-12)
}

// A blade along which the leaf slides, by hand: y_el = L reach(overlap/L), Y^2 = y0^2 + y_el^2 with y0 = 0.15 L, and (Y - y0)/Y of
// pi^2 E b^3/(48 L^2) per metre; nothing at the first touch, and under Euler's load at any overlap.
func TestAlongABlade_Identity(t *testing.T) {
	blade := wiper(t)
	s := likely(blade)
	euler := math.Pi * math.Pi * blade.Modulus.Likely * math.Pow(blade.Thickness.Likely, 3) / (48 * blade.Length * blade.Length)
	for _, overlap := range []float64{1e-9, 0.001, 0.003, 0.006} {
		y0 := 0.15 * blade.Length
		y := math.Hypot(y0, fibre.Reach(blade.Length, overlap))
		l := Line{Width: 2, Places: []Place{{0, overlap}}, Slides: true}
		near(t, "along", forceOn(l, &s, 0.7, 0), 2*0.7*euler*(y-y0)/y, 1e-9)
	}
	l := Line{Width: 1, Places: []Place{{0, 1e-9}}, Slides: true}
	if first := forceOn(l, &s, 1, 0); !(first < 0.001*euler) {
		t.Errorf("at the first touch %g of Euler's %g N/m", first, euler)
	}
	if s.lean != 0 {
		t.Errorf("the strip now leans by %g m across the line too", s.lean)
	}
}

// Without any band but the model's own, the ends are its factor; each more input is combined by the root of the sum of
// the squares of the logarithms.
func TestBand_Identity(t *testing.T) {
	exact := Brush{Length: 0.03, Diameter: doubt.Exactly(0.18e-3), Thickness: doubt.Exactly(0.005), Solid: doubt.Exactly(0.44),
		Lean: doubt.Exactly(0.008), Modulus: doubt.Exactly(3.3e9)}
	r := must[doubt.Band](t)(PerMetre(exact, 0.001, 0, doubt.Exactly(0.3)))
	near(t, "per metre", r.Likely, 0.3*must[float64](t)(exact.Normal(0.001, 0.3)), 1e-9)
	near(t, "low", r.Low, r.Likely/1.5, 1e-9)
	near(t, "high", r.High, r.Likely*1.5, 1e-9)
	if r.Largest.Name != "way the seal bends" || !strings.Contains(r.Largest.Settle, "spring balance at the latch edge") {
		t.Errorf("largest %q, settle %q", r.Largest.Name, r.Largest.Settle)
	}
	exact.Thickness = doubt.Between(0.004, 0.005, 0.006)
	exact.Modulus = doubt.Between(1.3e9, 3.3e9, 5.1e9)
	r = must[doubt.Band](t)(PerMetre(exact, 0.001, 0, doubt.Exactly(0.3)))
	sum := func(ratios ...float64) (s float64) {
		for _, r := range ratios {
			s = math.Hypot(s, math.Log(r))
		}
		return s
	}
	near(t, "more low", r.Low, r.Likely*math.Exp(-sum(1.5, 5.0/4, 3.3/1.3)), 1e-9)
	near(t, "more high", r.High, r.Likely*math.Exp(sum(1.5, 6.0/5, 5.1/3.3)), 1e-9)
	if r.Largest.Name != "modulus of the bristles" || r.Largest.Settle != settlePress {
		t.Errorf("largest %q, settle %q", r.Largest.Name, r.Largest.Settle)
	}
}

// More lean is less drag: an input that lowers the force must still give low <= likely <= high.
func TestBandOrder_Identity(t *testing.T) {
	one := fine(0.03)
	mu := floor(t, "timber", Bristle)
	r := must[doubt.Band](t)(PerMetre(one, 0.001, 0.0005, mu))
	if !(0 < r.Low && r.Low < r.Likely && r.Likely < r.High) {
		t.Errorf("band %g, %g, %g", r.Low, r.Likely, r.High)
	}
	one.Lean = doubt.Exactly(0.008)
	less := must[doubt.Band](t)(PerMetre(one, 0.001, 0.0005, mu))
	if !(less.Low > r.Low && less.High < r.High && less.Likely == r.Likely) {
		t.Errorf("knowing the lean gives %g to %g instead of %g to %g", less.Low, less.High, r.Low, r.High)
	}
	rubs := Line{Width: 0.9, Places: []Place{{0, 0.002}}, Friction: doubt.Between(0.05, 0.3, 0.4), Slides: true}
	if r := must[doubt.Band](t)(Estimate(one, rubs)); r.Largest.Name != "friction" || !strings.Contains(r.Largest.Settle, "along its track") {
		t.Errorf("largest %q, settle %q", r.Largest.Name, r.Largest.Settle)
	}
}

// A seal that just touches may drag, one with daylight beyond its error cannot; and the high end rises without a jump
// from the one to the other.
func TestBandTouch_Identity(t *testing.T) {
	mu := floor(t, "tile", Bristle)
	for name, seal := range map[string]Seal{"brush": fine(0.03), "blade": wiper(t)} {
		at := func(overlap float64) doubt.Band { return must[doubt.Band](t)(PerMetre(seal, overlap, 0.001, mu)) }
		touch, far, pressed := at(0), at(-0.0015), at(0.0005)
		if touch.Low != 0 || touch.Likely != 0 || !(touch.High > 0) || touch.Largest.Name != "overlap" || touch.Largest.Settle == "" {
			t.Errorf("%s touches: %+v", name, touch)
		}
		near(t, "end of the overlap", touch.High, mu.Likely*must[float64](t)(normal(seal, 0.001, mu.Likely)), 1e-9)
		if far != (doubt.Band{}) {
			t.Errorf("%s over daylight: %+v", name, far)
		}
		if pressed.Low != 0 || !(pressed.Likely > 0) || pressed.Largest.Name != "overlap" {
			t.Errorf("%s pressed less than its error: %+v", name, pressed)
		}
		before := 0.0
		for overlap := -0.001; overlap < 0.002; overlap += 1e-5 {
			r := at(overlap)
			if r.High < before*0.9999 {
				t.Fatalf("%s: the high end falls from %g to %g at %g m", name, before, r.High, overlap)
			}
			before = r.High
		}
	}
}

// Every floor that a spec can name has a friction, and an unknown one spans them all.
func TestFriction_Identity(t *testing.T) {
	text := must[[]byte](t)(os.ReadFile("../../schema/door-1.schema.json"))
	var schema struct {
		Definitions struct{ Floor struct{ Enum []string } }
	}
	if err := json.Unmarshal(text, &schema); err != nil {
		t.Fatal(err)
	}
	if words := schema.Definitions.Floor.Enum; len(words) != len(frictions) || !slices.Contains(words, "carpet") {
		t.Errorf("floors of a spec are %q", words)
	}
	for _, of := range []Material{Bristle, Rubber} {
		unknown := floor(t, "unknown", of)
		low, high := math.Inf(1), 0.0
		for _, word := range schema.Definitions.Floor.Enum {
			r := floor(t, word, of)
			if err := r.Check(word, 0.01, maxFriction); err != nil {
				t.Error(err)
			}
			low, high = math.Min(low, r.Low), math.Max(high, r.High)
		}
		if unknown.Low != low || unknown.High != high {
			t.Errorf("%s on an unknown floor is %v, all floors %g to %g", of, unknown, low, high)
		}
	}
	for _, word := range []string{"tile", "timber"} {
		if r := floor(t, word, Bristle); r.Low != 0.2 || r.High != 0.4 {
			t.Errorf("bristles on %s: %v", word, r)
		}
	}
}
