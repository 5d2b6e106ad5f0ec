package seal

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"sillwright/engine/air"
	"sillwright/engine/crack"
	"sillwright/engine/doubt"
	"sillwright/engine/gap"
)

func kinds() map[string]Model {
	return map[string]Model{
		"bare": Bare{}, "brush": fineBrush(0.030), "blade": lips(1), "blades": lips(3), "gasket": bulb(), "gasket by range": rebated(), "drop seal": drop(),
		"tufted": tufted(0.050, false), "long tufted": tufted(0.100, false), "tufted with blade": tufted(0.050, true),
	}
}

func TestRisesWithPressure_Identity(t *testing.T) {
	tile := floor(t, "tile")
	for name, m := range kinds() {
		for _, overlap := range []float64{-0.002, 0, 0.002} {
			before, last := Result{}, 0.0
			for _, dp := range []float64{1, 4, 10, 50, 75, 300} {
				r := leak(t, flat(t, 0.9, 0.028, overlap, m, tile), dp)
				if !(r.Likely > before.Likely && r.Low > before.Low && r.High > before.High) {
					t.Errorf("%s, overlap %g: %g Pa gives %v after %v", name, overlap, dp, r.Range, before.Range)
				}
				if !(r.Exponent >= 0.5-1e-9 && r.Exponent <= 1+1e-9) {
					t.Errorf("%s, overlap %g, %g Pa: exponent %g", name, overlap, dp, r.Exponent)
				}
				if last > 0 && name != "long tufted" { // of which the drop lifts the tips; elsewhere the mean exponent between two pressures lies near the local ones
					n := math.Log(r.Likely/before.Likely) / math.Log(dp/last)
					if !(n > math.Min(r.Exponent, before.Exponent)-0.01 && n < math.Max(r.Exponent, before.Exponent)+0.01) {
						t.Errorf("%s: exponent %g between pressures, %g and %g at them", name, n, before.Exponent, r.Exponent)
					}
				}
				before, last = r, dp
			}
		}
	}
}

func TestRisesWithGap_Identity(t *testing.T) {
	tile := floor(t, "tile")
	for name, m := range kinds() {
		before := 0.0
		for i := range 60 {
			d := 0.0002 * float64(i) // bare: gap; seals: daylight
			e := flat(t, 0.9, 0.030, -d, m, tile)
			switch name {
			case "bare":
				e = flat(t, 0.9, d+0.0001, 0, m, tile)
			case "drop seal": // beyond its fall
				e = flat(t, 0.9, 0.012+d, 0, m, tile)
			}
			q := leak(t, e, 50).Likely
			if !(q > before) {
				t.Errorf("%s: %g m more daylight leaks %g after %g", name, d, q, before)
			}
			before = q
		}
	}
}

func TestFallsWithDensityAndLips_Identity(t *testing.T) {
	tile := floor(t, "tile")
	before := math.Inf(1)
	for v := 0.25; v < 0.75; v += 0.05 {
		b := fineBrush(0.030)
		b.Solid = doubt.Exactly(v)
		q := leak(t, flat(t, 0.9, 0.029, 0.001, b, tile), 50).Likely
		if !(q < before) {
			t.Errorf("solid fraction %g leaks %g after %g", v, q, before)
		}
		before = q
	}
	before = math.Inf(1)
	for n := 1; n <= 5; n++ {
		q := leak(t, flat(t, 0.9, 0.012, 0.001, lips(n), tile), 50).Likely
		if !(q < before) {
			t.Errorf("%d lips leak %g after %g", n, q, before)
		}
		before = q
	}
}

func TestWidth_Identity(t *testing.T) {
	tile := floor(t, "tile")
	for name, m := range kinds() {
		one := leak(t, flat(t, 0.6, 0.028, 0.001, m, tile), 50)
		two := leak(t, flat(t, 1.2, 0.028, 0.001, m, tile), 50)
		near(t, name+" low", two.Low, 2*one.Low, 1e-12)
		near(t, name+" likely", two.Likely, 2*one.Likely, 1e-12)
		near(t, name+" high", two.High, 2*one.High, 1e-12)
	}
}

func TestMirror_Identity(t *testing.T) {
	for name, m := range kinds() {
		edge := func(readings ...gap.Reading) Edge {
			e := fitted(Edge{Line: line(t, 0.9, readings...), ReadingError: 0.0005, LeafThickness: 0.04}, m, -0.0007, floor(t, "concrete"))
			for i := range e.Seals {
				e.Seals[i].Foot = doubt.Between(0.001, 0.002, 0.003)
			}
			return e
		}
		a := leak(t, edge(gap.Reading{At: 0, Gap: 0.028}, gap.Reading{At: 0.3, Gap: 0.029}, gap.Reading{At: 0.8, Gap: 0.031}), 50)
		b := leak(t, edge(gap.Reading{At: 0.1, Gap: 0.031}, gap.Reading{At: 0.6, Gap: 0.029}, gap.Reading{At: 0.9, Gap: 0.028}), 50)
		near(t, name+" low", b.Low, a.Low, 1e-12)
		near(t, name+" likely", b.Likely, a.Likely, 1e-12)
		near(t, name+" high", b.High, a.High, 1e-12)
	}
}

// Overlaps at which a kind has a kink.
func kinksOf(m Model) []float64 {
	switch m := m.(type) {
	case Brush:
		return []float64{0, heldPart * m.Length}
	case Gasket:
		return []float64{0, m.Least}
	case Bare:
		return nil
	}
	return []float64{0}
}

func TestContactIsContinuous_Identity(t *testing.T) {
	tile := floor(t, "tile")
	for name, m := range kinds() {
		for _, kink := range kinksOf(m) {
			a := leak(t, flat(t, 1, 0.028, kink-1e-10, m, tile), 50)
			b := leak(t, flat(t, 1, 0.028, kink+1e-10, m, tile), 50)
			near(t, fmt.Sprintf("%s likely at %g", name, kink), a.Likely, b.Likely, 1e-5)
			near(t, fmt.Sprintf("%s high at %g", name, kink), a.High, b.High, 1e-5)
		}
	}
}

// The heart of the setting advice: least flow lies just past touching, 1 mm of daylight costs far more than 3 mm of squash.
func TestBestBrushSetting_Identity(t *testing.T) {
	tile := floor(t, "tile")
	for _, length := range []float64{0.020, 0.030, 0.050} {
		flow := func(overlap float64) float64 {
			return leak(t, flat(t, 1, length-overlap, overlap, fineBrush(length), tile), 50).Likely
		}
		best, at := math.Inf(1), 0.0
		for o := -0.002; o <= length/4; o += 0.00005 {
			if q := flow(o); q < best {
				best, at = q, o
			}
		}
		if !(at > 0 && at < 0.001) {
			t.Errorf("%g m brush: best overlap %g m", length, at)
		}
		if touching := flow(0); !(flow(-0.001)-touching > 3*(flow(0.003)-touching)) {
			t.Errorf("%g m brush: daylight %g, touching %g, squashed %g", length, flow(-0.001), touching, flow(0.003))
		}
		if q := flow(length / 8); flow(length/4) != q || flow(length/3) != q {
			t.Errorf("%g m brush: flow is not held beyond L/8", length)
		}
	}
}

// A seal set just touching with a reading error of 0.5 mm: the high end holds 0.5 mm of daylight.
func TestReadingError_Identity(t *testing.T) {
	tile := floor(t, "tile")
	for _, m := range []Model{fineBrush(0.030), lips(1), bulb()} {
		e := flat(t, 1, 0.028, 0, m, tile)
		e.ReadingError = 0.0005
		open := leak(t, flat(t, 1, 0.0285, -0.0005, m, tile), 50).Likely
		if r := leak(t, e, 50); r.High < open {
			t.Errorf("%T: high end %g is below the flow %g with 0.5 mm of daylight", m, r.High, open)
		}
	}
	deep := flat(t, 1, 0.012, 0.003, lips(1), tile)
	sure := leak(t, deep, 50)
	deep.ReadingError = 0.0005
	if r := leak(t, deep, 50); r.Range != sure.Range {
		t.Errorf("a blade pressed by 3 mm minds a reading error of 0.5 mm: %v, %v", r, sure)
	}
	bare := flat(t, 1, 0.002, 0, Bare{}, Texture{})
	bare.ReadingError = 0.003
	if r := leak(t, bare, 50); r.Low != 0 || r.Largest.Name != "gap reading" {
		t.Errorf("a gap that may be closed: %+v", r)
	}
	closed := flat(t, 1, 0, 0, Bare{}, Texture{})
	closed.ReadingError = 0.001
	r, open := leak(t, closed, 50), leak(t, flat(t, 1, 0.001, 0, Bare{}, Texture{}), 50)
	if r.Likely != 0 || r.Exponent != 1 {
		t.Errorf("a closed gap: %+v", r)
	}
	near(t, "a closed gap that may be open", r.High, open.Likely, 1e-12)
}

// Reference: gonum's rule with 20 points on each of 300 stretches of the width, each place on its own as a flat edge.
func TestEdge_Identity(t *testing.T) {
	tile := floor(t, "tile")
	for name, m := range kinds() {
		for _, overlap := range []float64{-0.002, 0, 0.003} {
			uneven := line(t, 1, gap.Reading{At: 0, Gap: 0.024}, gap.Reading{At: 1, Gap: 0.031})
			e := fitted(Edge{Line: uneven, LeafThickness: 0.040}, m, overlap, tile)
			want := 0.0
			for i := range 300 {
				want += quad.Fixed(func(s float64) float64 {
					g := uneven.At(s)
					return single(t, m, tile, g, overlap+0.031-g, 0.024)
				}, float64(i)/300, float64(i+1)/300, 8, quad.Legendre{}, 0)
			}
			near(t, fmt.Sprintf("%s, overlap %g", name, overlap), leak(t, e, 50).Likely, want, 3e-5)
		}
	}
}

// single is the flow per metre at one place.
func single(t *testing.T, m Model, on Texture, height, overlap, narrowest float64) float64 {
	t.Helper()
	run := Run{Pieces: []gap.Piece{{Length: 1, From: height, To: height}}, Touching: height + overlap, Narrowest: narrowest, Drop: 50, Air: air.Standard(), LeafThickness: 0.040}
	var x []float64
	for _, p := range m.Parameters(on, nil) {
		x = append(x, p.Likely)
	}
	var b crack.Bundle
	for way := range m.Ways(50).Many {
		b = m.Lay(way, x, &run, b)
	}
	return b.Flow(50)
}

// Equal independent factors of 2 either way must combine to 2^sqrt(2).
func TestTotal_Identity(t *testing.T) {
	f := Flow{Likely: 3, Exponent: 0.6, Effects: []doubt.Effect{
		{Doubt: doubt.Doubt{Name: "a"}, Low: 1.5, High: 6}, {Doubt: doubt.Doubt{Name: "b"}, Low: 6, High: 1.5}, {Doubt: doubt.Doubt{Name: "c"}, Low: 3, High: 3},
	}}
	b := Total(f)
	near(t, "high", b.High, 3*math.Pow(2, math.Sqrt2), 1e-12)
	near(t, "low", b.Low, 3/math.Pow(2, math.Sqrt2), 1e-12)
	near(t, "share", b.Share, 0.5, 1e-12)
	if b.Largest.Name != "a" || b.Largest.High != 6 {
		t.Errorf("largest %+v", b.Largest)
	}
	// What two paths share moves them together; what they do not share partly cancels.
	shared := Flow{Likely: 3, Exponent: 0.6, Effects: []doubt.Effect{{Doubt: doubt.Doubt{Name: "a"}, Low: 1.5, High: 6}}}
	own := Flow{Likely: 3, Exponent: 1, Effects: []doubt.Effect{{Doubt: doubt.Doubt{Name: "a"}, Of: "another", Low: 1.5, High: 6}}}
	near(t, "shared", Total(shared, shared).High, 12, 1e-12)
	near(t, "not shared", Total(shared, own).High, 6*math.Exp(math.Sqrt2*math.Log(1.5)), 1e-12)
	near(t, "exponent of a sum", Total(shared, own).Exponent, 0.8, 1e-12)
	exact := flat(t, 1, 0, 0, Gasket{Residual: doubt.Exactly(0.0002), Contact: doubt.Exactly(0.005)}, Texture{})
	if r := leak(t, exact, 50); !(r.High/r.Likely < 1.27 && r.Largest.Name == "crack law") {
		t.Errorf("a gasket known exactly keeps only the law's own uncertainty: %+v", r)
	}
}

func TestErrors(t *testing.T) {
	tile := floor(t, "tile")
	good := flat(t, 1, 0.028, 0, fineBrush(0.030), tile)
	change := func(f func(e *Edge)) Edge {
		e := good
		e.Seals = append([]Fitted(nil), good.Seals...)
		f(&e)
		return e
	}
	dense := fineBrush(0.030)
	dense.Solid.High = 0.85
	mixed := fineBrush(0.030)
	mixed.Diameter = doubt.Between(0.0003, 0.0002, 0.0004)
	for want, tc := range map[string]struct {
		edge Edge
		dp   float64
	}{
		"allowed is 0.1 to 2000 Pa":             {good, 0},
		"edge has a seal without a model":       {change(func(e *Edge) { e.Seals[0].Model = nil }), 50},
		"reading error is -0.001 m":             {change(func(e *Edge) { e.ReadingError = -0.001 }), 50},
		"overlap is NaN m":                      {change(func(e *Edge) { e.Seals[0].Overlap = math.NaN() }), 50},
		"5 seals on one edge":                   {change(func(e *Edge) { e.Seals = make([]Fitted, 5) }), 50},
		"clearance at the feet (m) is -1":       {change(func(e *Edge) { e.Seals[0].Foot = doubt.Exactly(-1) }), 50},
		"edge has no gap line":                  {change(func(e *Edge) { e.Line = gap.Line{} }), 50},
		"leaf thickness (m) is 0":               {change(func(e *Edge) { e.LeafThickness = 0 }), 50},
		"solid fraction: range 0.35 to 0.85":    {change(func(e *Edge) { e.Seals[0].Model = dense }), 50},
		"bristle diameter (m): 0.0003, 0.0002,": {change(func(e *Edge) { e.Seals[0].Model = mixed }), 50},
		"number of lips is 0":                   {change(func(e *Edge) { e.Seals[0].Model = lips(0) }), 50},
		"number of bends":                       {change(func(e *Edge) { e.Bends = -1 }), 50},
	} {
		if _, err := tc.edge.Leakage(tc.dp, air.Standard()); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want %q", err, want)
		}
	}
	_, dark := good.Leakage(50, air.Air{})
	_, hole := Hole{}.Leakage(50, air.Standard())
	_, path := Slit{Length: 0, Gap: 0.002, Depth: 0.04}.Leakage(50, air.Standard())
	_, gasketed := Slit{Length: -1, Depth: 0.04, Seals: []Fitted{{Model: bulb()}}}.Leakage(50, air.Standard())
	_, word := TextureOf("marsh")
	for want, err := range map[string]error{
		"air density": dark, "hole area (m2) is 0": hole, "path: width is 0 m": path, "path: width is -1 m": gasketed,
		`floor "marsh" is not known; use one of tile, jointed-tile, timber`: word,
	} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want %q", err, want)
		}
	}
}

func TestTextures_Identity(t *testing.T) {
	for _, f := range Textures {
		if err := f.Residual.Check(f.Name, 0.00005, 0.01); err != nil {
			t.Error(err)
		}
	}
	unknown := floor(t, "unknown").Residual
	if !(unknown.Low <= floor(t, "tile").Residual.Low && unknown.High >= floor(t, "stone").Residual.High) {
		t.Error("an unknown floor must span the hard floors")
	}
}

func TestPaths_Identity(t *testing.T) {
	a := air.Standard()
	g, err := Slit{Length: 2, Gap: 0.005, Depth: 0.04, Seals: []Fitted{{Model: bulb(), Overlap: 0.003}}}.Leakage(50, a)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "length of gasket", g.Likely, leak(t, flat(t, 2, 0.005, 0.002, bulb(), Texture{}), 50).Likely, 1e-3) // before a gap of 5 mm
	straight, err1 := Slit{Length: 1, Gap: 0.002, Depth: 0.04}.Leakage(50, a)
	bent, err2 := Slit{Length: 1, Gap: 0.002, Depth: 0.04, Bends: 2}.Leakage(50, a)
	wide, err3 := Slit{Length: 1, Gap: 0.002, Depth: 0.04, GapError: 0.0005}.Leakage(50, a)
	if err1 != nil || err2 != nil || err3 != nil {
		t.Fatal(err1, err2, err3)
	}
	if !(bent.Likely < straight.Likely) || !(wide.Band().High > straight.Band().High && wide.Band().Low < straight.Band().Low) {
		t.Errorf("straight %v, bent %v, with an error %v", straight.Band(), bent.Band(), wide.Band())
	}
	near(t, "parallel adds", Total(straight, bent).Likely, straight.Likely+bent.Likely, 1e-15)
}

// Regression only: these numbers have no source outside this project.
func TestEdge_Pinned(t *testing.T) {
	for name, want := range pinned {
		r := leak(t, uneven(t, kinds()[name], 3), 50)
		near(t, name+" low", r.Low, want.Low, 1e-5)
		near(t, name+" likely", r.Likely, want.Likely, 1e-5)
		near(t, name+" high", r.High, want.High, 1e-5)
	}
}

var pinned = map[string]doubt.Range{
	"bare":   doubt.Between(1.22446e-01, 1.53243e-01, 2.29105e-01),
	"blade":  doubt.Between(1.26902e-04, 7.75442e-04, 2.45728e-03),
	"blades": doubt.Between(4.23742e-05, 3.17874e-04, 1.33550e-03),
	"brush":  doubt.Between(1.52607e-03, 3.88473e-03, 1.06544e-02),
	"gasket": doubt.Between(3.99821e-05, 3.21857e-04, 1.81531e-03),
}

// uneven is a leaf of 926 mm with a falling floor, read at 3 places or at more.
func uneven(t testing.TB, m Model, readings int) Edge {
	t.Helper()
	places := []gap.Reading{{At: 0, Gap: 0.028}, {At: 0.463, Gap: 0.029}, {At: 0.926, Gap: 0.031}}
	if readings > 3 {
		places = nil
		for i := range readings {
			places = append(places, gap.Reading{At: 0.926 * float64(i) / float64(readings-1), Gap: 0.028 + 0.003*math.Abs(math.Sin(float64(i)))})
		}
	}
	return fitted(Edge{Line: line(t, 0.926, places...), ReadingError: 0.0005, LeafThickness: 0.040}, m, 0.0005, floor(t, "tile"))
}

// With feet and the gap under the leaf; one core of an AMD EPYC, Go 1.26, us for 3 readings:
//
//	2026-11-25  each place by itself, no feet, no leaf: brush 88
//	2026-11-25  bare 1.9, brush 12.6, tufted 19.5, tufted with blade 20.2, blades 3.8, gasket 3.7, drop seal 5.7
//	            20 readings: bare 14, brush 36, tufted 67, blades 17, drop seal 39
func BenchmarkEdge(b *testing.B) {
	for _, n := range []int{3, 20} {
		for _, name := range []string{"bare", "brush", "tufted", "tufted with blade", "blades", "gasket", "drop seal"} {
			e := uneven(b, kinds()[name], n)
			e.Alone = false
			for i := range e.Seals {
				e.Seals[i].Foot = doubt.Between(0.0005, 0.002, 0.004)
			}
			b.Run(fmt.Sprintf("%s/%d", name, n), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if _, err := e.Leakage(50, air.Standard()); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
