package seal

import (
	"fmt"
	"math"
	"testing"

	"sillwright/engine/air"
	"sillwright/engine/crack"
	"sillwright/engine/doubt"
	"sillwright/engine/gap"
)

// Two blades one behind the other on one floor: its texture is low, or high, under both of them at once. Moved under one alone and added,
// the low end goes below no flow at all, and the high end misses that each lip hides what the other would let pass.
func TestSharedDoubtInSeries_Identity(t *testing.T) {

	for _, name := range []string{"tile", "stone"} {
		on := func(under Texture) Edge {
			e := flat(t, 1, 0.010, 0.002, lips(1), under)
			e.Seals = append(e.Seals, e.Seals[0])
			e.Seals[1].Name = "other"
			return e
		}
		r, texture := leak(t, on(floor(t, name)), 50), floor(t, name).Residual
		if r.Low <= 0 || r.Largest.Name != doubtFloor.Name {
			t.Errorf("%s: band %v, largest %q", name, r.Range, r.Largest.Name)
		}
		near(t, name+", low end", r.Largest.Low, leak(t, on(Texture{name, doubt.Exactly(texture.Low)}), 50).Likely, 0.05)
		near(t, name+", high end", r.Largest.High, leak(t, on(Texture{name, doubt.Exactly(texture.High)}), 50).Likely, 0.05)
	}
}

// Two tests that both find the same part of what the model says: between them it is that part too, and never more than at either.
func TestBetweenAgreeingTests_Identity(t *testing.T) {

	m := fineBrush(0.030)
	for _, factor := range []float64{0.3, 0.5, 0.7, 1.5} {
		open, touching := test(t, m, -0.001, factor, 0.1), test(t, m, 0, factor, 0.1)
		for _, overlap := range []float64{-0.00075, -0.0005, -0.00025} {
			e := func() Edge { return flat(t, 1, 0.030-overlap, overlap, m, Texture{}) }
			got := tested(t, e(), open, touching).Likely
			near(t, fmt.Sprintf("%g of the model, overlap %g m", factor, overlap), got, factor*leak(t, e(), 50).Likely, 0.05)
			if most := open.Law.Flow(50); got > most {
				t.Errorf("%g of the model: %g with an overlap of %g m, %g with less", factor, got, overlap, most)
			}
		}
	}
}

// The overlap of a drop seal is of no account, that of its tests neither: it finds the floor by itself, tested or not.
func TestTestedDropSeal_Identity(t *testing.T) {

	e := fitted(Edge{
		Line: line(t, 1, gap.Reading{At: 0, Gap: 0.006}, gap.Reading{At: 1, Gap: 0.007}), LeafThickness: 0.04,
	}, drop(), 0, Texture{})
	law := func(overlap, factor float64) Test {
		f, err := flat(t, 1, 0.006, 0, drop(), Texture{}).Leakage(50, air.Standard())
		if err != nil {
			t.Fatal(err)
		}
		out := test(t, drop(), overlap, 1, 0.1)
		out.Law.A, out.Law.B = 50/(factor*f.Likely), 0
		return out
	}
	e.Seals[0].Tests = []Test{law(0, 1), law(0.002, 2)}
	near(t, "raised by a millimetre", leak(t, e.Higher(0.001), 50).Likely, leak(t, e, 50).Likely, 1e-12)
}

// The floor reaches the tip of the embedded blade, where less of the channels is left to expose.
func TestBladeAtTheTips_Identity(t *testing.T) {

	b := tufted(0.050, false)
	b.Modulus, b.Embedded = doubt.Range{}, &Embedded{Height: 0.010, Reach: doubt.Exactly(0.0495)}
	l := line(t, 1, gap.Reading{At: 0, Gap: 0.050}, gap.Reading{At: 1, Gap: 0.049})
	sum := 0.0
	const parts = 400
	for i := range parts {
		g := l.At((float64(i) + 0.5) / parts)
		sum += single(t, b, Texture{}, g, 0.050-g, 0.049) / parts
	}
	got := leak(t, fitted(Edge{Line: l, LeafThickness: 0.04}, b, 0, Texture{}), 50).Likely
	t.Logf("whole %.6g, places summed %.6g, off by %.1e", got, sum, math.Abs(got/sum-1))
	near(t, "a floor that falls by 1 mm", got, sum, 1e-4)
}

// Bundles stand in a part of the width only, and channels take the rest: as many bristles bear the drop as a continuous body of their
// mean solid fraction has, which is how package catalogue counts them for their drag. So 100 mm bend by 9.2 mm at 50 Pa, not by 8.0.
func TestTuftedBristlesPerMetre_Identity(t *testing.T) {

	b := tufted(0.100, false)
	share := 1 - (b.Tufts.RootGap.Likely+b.Tufts.Widening.Likely*b.Length/2)/b.Tufts.Pitch.Likely
	body := b
	body.Tufts, body.Solid = nil, doubt.Exactly(b.Solid.Likely*share)
	tips := func(b Brush) float64 {
		run := Run{Pieces: []gap.Piece{{Length: 1}}, Drop: 50, Air: air.Standard(), LeafThickness: 0.040}
		var x []float64
		for _, p := range b.Parameters(Texture{}, nil) {
			x = append(x, p.Likely)
		}
		return crack.Bundle(b.tips(x, &run, nil)).Flow(50)
	}
	near(t, "under the tips", tips(b), tips(body), 1e-9)
}
