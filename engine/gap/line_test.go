package gap

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"sillwright/engine/air"
	"sillwright/engine/crack"
)

func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: got %.12g, want %.12g within %g", what, got, want, rel)
	}
}

func line(t *testing.T, width float64, readings ...Reading) Line {
	t.Helper()
	l, err := New(width, readings)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func bare(gap float64) float64 { return crack.Slot(gap, 0.040, 1.5, air.Standard()).Flow(50) }

// A wedge from 1 to 5 mm over 1 m: the mean of the cubed gap is 39 mm3 (closed form (5^4-1)/(4 (5-1))), the cube of the mean
// gap 27 mm3; the mixed law of a crack gives 1.0 % less than its mean gap, independently computed.
func TestWedge_Published(t *testing.T) {
	wedge := line(t, 1, Reading{0, 0.001}, Reading{1, 0.005})
	near(t, "cubed", wedge.Integrate(func(g float64) float64 { return g * g * g }), 39e-9, 1e-12)
	if ratio := wedge.Integrate(bare) / bare(0.003); math.Abs(ratio-0.990) > 0.0005 {
		t.Errorf("wedge against its mean gap: %.4f, want 0.990", ratio)
	}
}

func TestLine_Identity(t *testing.T) {
	l := line(t, 0.9, Reading{0.1, 0.004}, Reading{0.5, 0.001}, Reading{0.8, 0.006})
	for x, want := range map[float64]float64{0: 0.004, 0.1: 0.004, 0.3: 0.0025, 0.5: 0.001, 0.65: 0.0035, 0.8: 0.006, 0.9: 0.006} {
		if got := l.At(x); math.Abs(got-want) > 1e-15 {
			t.Errorf("gap at %g: got %g, want %g", x, got, want)
		}
	}
	if l.Widest() != 0.006 || l.Narrowest() != 0.001 || l.Width() != 0.9 {
		t.Errorf("widest %g narrowest %g width %g", l.Widest(), l.Narrowest(), l.Width())
	}
	got := l.Readings()
	got[0].Gap = 1
	if l.At(0) != 0.004 {
		t.Error("Readings gives away the line's own storage")
	}
	area := l.Integrate(func(g float64) float64 { return g })
	near(t, "area by trapezia", area, 0.1*0.004+0.4*0.0025+0.3*0.0035+0.1*0.006, 1e-14)
	one := line(t, 0.9, Reading{0.4, 0.003})
	near(t, "one reading is a constant gap", one.Integrate(bare), 0.9*bare(0.003), 1e-15)
	split := line(t, 0.9, Reading{0.1, 0.004}, Reading{0.3, 0.0025}, Reading{0.5, 0.001}, Reading{0.8, 0.006})
	near(t, "a reading on the line changes nothing", split.Integrate(bare), l.Integrate(bare), 1e-9)
}

func TestMirror_Identity(t *testing.T) {
	a := line(t, 0.9, Reading{0.1, 0.004}, Reading{0.5, 0.001}, Reading{0.8, 0.006})
	b := line(t, 0.9, Reading{0.1, 0.006}, Reading{0.4, 0.001}, Reading{0.8, 0.004})
	near(t, "mirrored", b.Integrate(bare, 0.003), a.Integrate(bare, 0.003), 1e-12)
}

// Reference: gonum's Gauss-Legendre rule with 400 points on each side of the kink.
func TestIntegrate_Identity(t *testing.T) {
	const contact = 0.0031
	blade := func(g float64) float64 {
		return crack.Slot(0.0002+math.Max(g-contact, 0), 0.0015, 1.5, air.Standard()).Flow(50)
	}
	closing := func(g float64) float64 { return bare(math.Max(g-contact, 0)) }
	for name, tc := range map[string]struct {
		f      func(float64) float64
		kink   float64
		breaks []float64
		a, b   float64
	}{
		"bare from nothing":   {bare, 0.005, nil, 0, 0.010},
		"bare, tall":          {bare, 0.005, nil, 0.002, 0.030},
		"blade over daylight": {blade, contact, []float64{contact}, 0.001, 0.009},
		"slot that opens":     {closing, contact, []float64{contact, 0.001}, 0, 0.020},
	} {
		got := line(t, 1, Reading{0, tc.a}, Reading{1, tc.b}).Integrate(tc.f, tc.breaks...)
		want := (quad.Fixed(tc.f, tc.a, tc.kink, 400, quad.Legendre{}, 0) + quad.Fixed(tc.f, tc.kink, tc.b, 400, quad.Legendre{}, 0)) / (tc.b - tc.a)
		near(t, name, got, want, 1e-7)
	}
}

func TestNewErrors(t *testing.T) {
	for want, tc := range map[string]struct {
		width    float64
		readings []Reading
	}{
		"width is 0 m":                             {0, []Reading{{0, 0.003}}},
		"at least one is needed":                   {0.9, nil},
		"reading 2 is at 1 m; allowed is 0 to the": {0.9, []Reading{{0, 0.003}, {1, 0.003}}},
		"sort the readings":                        {0.9, []Reading{{0.5, 0.003}, {0.2, 0.003}}},
		"reading 2 at 0.5 m does not lie beyond":   {0.9, []Reading{{0.5, 0.003}, {0.5, 0.004}}},
		"gap of -0.001 m":                          {0.9, []Reading{{0, -0.001}}},
		"gap of NaN m":                             {0.9, []Reading{{0, math.NaN()}}},
	} {
		if _, err := New(tc.width, tc.readings); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want %q", err, want)
		}
	}
	if (Line{}).Integrate(bare) != 0 || (Line{}).At(0.1) != 0 {
		t.Error("a line without readings must carry no flow")
	}
}
