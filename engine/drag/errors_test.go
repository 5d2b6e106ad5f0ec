package drag

import (
	"math"
	"strings"
	"testing"

	"sillwright/engine/doubt"
)

func TestErrorsStateTheRange(t *testing.T) {
	mu := doubt.Exactly(0.3)
	brush := func(change func(b *Brush)) error {
		b := fine(0.03)
		change(&b)
		_, err := PerMetre(b, 0.001, 0, mu)
		return err
	}
	blade := func(change func(b *Blade)) error {
		b := wiper(t)
		change(&b)
		_, err := b.Normal(0.001, 0.3)
		return err
	}
	line := func(change func(l *Line)) error {
		l := Line{Width: 0.9, Places: []Place{{0.1, 0.001}, {0.8, 0.002}}, Error: 0.001, Friction: mu}
		change(&l)
		_, err := Estimate(fine(0.03), l)
		return err
	}
	_, soft := Gent(19)
	_, nan := Hardness(math.NaN())
	_, marsh := Friction("marsh", Bristle)
	_, felt := Friction("tile", "felt")
	_, friction := fine(0.03).Normal(0.001, -1)
	for _, row := range []struct {
		err  error
		want string
	}{
		{brush(func(b *Brush) {}), ""},
		{brush(func(b *Brush) { b.Length = -0.03 }), "free length of the bristles (m) is -0.03"},
		{brush(func(b *Brush) { b.Diameter.Low = math.NaN() }), "bristle diameter (m): NaN"},
		{brush(func(b *Brush) { b.Thickness.High = 0.2 }), "allowed is 0.0005 to 0.1"},
		{brush(func(b *Brush) { b.Solid.Likely = 0.2 }), "is not in order; give low, likely, high"},
		{brush(func(b *Brush) { b.Lean.Low = -1 }), "lean of the tips (m): range -1 to 0.01"},
		{brush(func(b *Brush) { b.Modulus = doubt.Exactly(3.3) }), "modulus of the bristles (Pa) is 3.3"},
		{blade(func(b *Blade) {}), ""},
		{blade(func(b *Blade) { b.Length = 0 }), "free height of the blade"},
		{blade(func(b *Blade) { b.Thickness = doubt.Exactly(0.008) }), "allowed is 0.0001 to 0.007"},
		{blade(func(b *Blade) { b.Modulus.High = math.Inf(1) }), "modulus of the blade"},
		{blade(func(b *Blade) { b.Lips = 0 }), "number of lips is 0"},
		{line(func(l *Line) {}), ""},
		{line(func(l *Line) { l.Width = 900 }), "width of the leaf is 900 m; allowed is above 0 to 20"},
		{line(func(l *Line) { l.Width = math.NaN() }), "width of the leaf is NaN"},
		{line(func(l *Line) { l.Error = -1 }), "error of the overlap is -1 m"},
		{line(func(l *Line) { l.Places = nil }), "give at least one"},
		{line(func(l *Line) { l.Places[1].At = 1 }), "place 2 is at 1 m; allowed is 0 to the width, 0.9 m"},
		{line(func(l *Line) { l.Places[1].At = 0.1 }), "place 2 is at 0.1 m, not after"},
		{line(func(l *Line) { l.Places[1].Overlap = 0.02 }), "place 2: overlap is 0.02 m; allowed is up to 0.015 m"},
		{line(func(l *Line) { l.Places[0].Overlap = math.Inf(-1) }), "place 1: overlap is -Inf"},
		{line(func(l *Line) { l.Places[0].Overlap = math.NaN() }), "place 1: overlap is NaN"},
		{line(func(l *Line) { l.Friction = doubt.Range{} }), "friction is 0; allowed is 0.01 to 5"},
		{soft, "hardness is 19 Shore A; allowed is 20 to 80"},
		{nan, "hardness is NaN"},
		{marsh, `floor "marsh" is not known; use one of tile, jointed-tile, timber, vinyl, concrete, stone, carpet, metal, unknown`},
		{felt, `material "felt" is not known; use one of bristle, rubber`},
		{friction, "friction is -1"},
	} {
		switch {
		case row.want == "" && row.err != nil:
			t.Error(row.err)
		case row.want != "" && (row.err == nil || !strings.Contains(row.err.Error(), row.want)):
			t.Errorf("got %v, want %q", row.err, row.want)
		}
	}
}

func TestEstimateAllocatesNothing(t *testing.T) {
	seal, on := sample(t)
	least := math.Inf(1) // what is taken again may have been dropped, as the race detector has it done now and then
	for range 20 {
		least = min(least, testing.AllocsPerRun(1, func() {
			if _, err := Estimate(seal, on); err != nil {
				t.Fatal(err)
			}
		}))
	}
	if least != 0 {
		t.Errorf("%g allocations", least)
	}
}

func sample(t testing.TB) (Seal, Line) {
	t.Helper()
	return fine(0.03), Line{
		Width: 0.9, Error: 0.001, Friction: doubt.Between(0.2, 0.3, 0.4),
		Places: []Place{{0.05, 0.001}, {0.3, 0.002}, {0.6, -0.001}, {0.85, 0.003}},
	}
}

func BenchmarkEstimate(b *testing.B) {
	seal, on := sample(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Estimate(seal, on); err != nil {
			b.Fatal(err)
		}
	}
}

// Normals are those of the seal at each overlap, and their errors those of the first that is out of range.
func TestNormals_Identity(t *testing.T) {
	brush := Brush{
		Length: 0.02, Diameter: doubt.Exactly(0.18e-3), Thickness: doubt.Exactly(5e-3), Solid: doubt.Exactly(0.44),
		Lean: doubt.Exactly(5.3e-3), Modulus: doubt.Exactly(3.3e9),
	}
	overlaps := []float64{-1e-3, 0, 1e-6, 1e-3, 5e-3, 10e-3}
	got := make([]float64, len(overlaps))
	if err := Normals(brush, 0.3, overlaps, got); err != nil {
		t.Fatal(err)
	}
	for i, o := range overlaps {
		if want, err := brush.Normal(o, 0.3); err != nil || got[i] != want {
			t.Errorf("at %g m: %g, alone %g, %v", o, got[i], want, err)
		}
	}
	_, alone := brush.Normal(11e-3, 0.3)
	if err := Normals(brush, 0.3, []float64{1e-3, 11e-3}, got); err == nil || alone == nil || err.Error() != alone.Error() {
		t.Errorf("%v, alone %v", err, alone)
	}
}
