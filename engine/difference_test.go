package engine

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"sillwright/engine/doubt"
)

func crackLaw(low, high float64) doubt.Effect {
	return doubt.Effect{Doubt: doubt.Common("crack law", "test the door"), Low: low, High: high}
}

func ownDoubt(of string, low, high float64) doubt.Effect {
	return doubt.Effect{Doubt: doubt.Own("seal", "test it"), Of: of, Low: low, High: high}
}

// By hand, L/s.
func TestBelow(t *testing.T) {
	for name, c := range map[string]struct {
		a, b            Option
		low, high       float64
		overlap, surely bool
		largest         string
		share           float64
	}{
		// 80 +- 30 goes through both, and the difference is 40 +- 5.
		"a shared path": {doubted("a", 80, crackLaw(50, 110)), doubted("b", 120, crackLaw(90, 150), ownDoubt("b", 115, 125)),
			35, 45, true, true, "b", 1},
		// The same, each with a path of its own.
		"nothing shared": {doubted("a", 80, ownDoubt("a", 50, 110)), doubted("b", 120, ownDoubt("b", 78, 162)),
			40 - math.Hypot(30, 42), 40 + math.Hypot(30, 42), true, false, "b", 42. * 42 / (42*42 + 30*30)},
		// One doubt moves both the other way: 40 - (30 + 20).
		"a shared doubt that moves one up and one down": {doubted("a", 80, crackLaw(50, 110)), doubted("b", 120, crackLaw(140, 100)),
			-10, 90, true, false, "", 1},
		"one that moves both, the one more": {doubted("a", 80, crackLaw(50, 110)), doubted("b", 120, crackLaw(60, 180)),
			10, 70, true, true, "", 1},
		"of the same seal": {doubted("a", 10, ownDoubt("brush", 5, 20)), doubted("b", 12, ownDoubt("brush", 6, 24)),
			1, 4, true, true, "brush", 1},
		// 15 +- 14: in doubt, for the bands of each one's own reach 90 from below and 85 from above.
		"own bands that just overlap": {doubted("a", 80, ownDoubt("a", 70, 90)), doubted("b", 95, ownDoubt("b", 85, 105)),
			15 - math.Hypot(10, 10), 15 + math.Hypot(10, 10), true, false, "a", 0.5},
		"nothing in doubt": {doubted("a", 1), doubted("b", 2), 1, 1, false, true, "", 0},
		"the same":         {doubted("a", 10, ownDoubt("brush", 5, 20)), doubted("b", 10, ownDoubt("brush", 5, 20)), 0, 0, true, false, "", 0},
		// Each of two doubts halves or doubles b: its band holds factors, 30 / 2^sqrt(2), the difference sums.
		"bands apart": {doubted("a", 11, ownDoubt("a", 10.9, 11.1)), doubted("b", 30, ownDoubt("b", 15, 60), crackLaw(15, 60)),
			19 - math.Sqrt(0.01+450), 19 + math.Sqrt(0.01+1800), false, true, "b", 225 / 450.01},
	} {
		d := c.a.Leakage.Below(c.b.Leakage)
		near := func(got, want float64) bool { return math.Abs(got-want) < 1e-9 }
		if !near(d.Low, c.low) || !near(d.High, c.high) || !near(d.Likely, c.b.Leakage.Likely-c.a.Leakage.Likely) ||
			d.Largest.Of != c.largest || !near(d.Share, c.share) {
			t.Errorf("%s: %+v; want %g to %g, largest of %q, %g", name, d, c.low, c.high, c.largest, c.share)
		}
		if overlap := c.a.Leakage.High >= c.b.Leakage.Low; overlap != c.overlap {
			t.Errorf("%s: bands overlap %v", name, overlap)
		}
		if c.a.Leakage.SurelyBelow(c.b.Leakage) != c.surely || c.b.Leakage.SurelyBelow(c.a.Leakage) {
			t.Errorf("%s: surely below %v, the other way round %v", name, !c.surely, c.b.Leakage.SurelyBelow(c.a.Leakage))
		}
	}
}

// Two options may sum in another order what it holds in common; that difference is none.
func TestBelowIsNotOfTheArithmetic(t *testing.T) {
	first := 0.1
	a, b := doubted("a", first+0.2), doubted("b", 0.3)
	if a.Leakage.Likely == b.Leakage.Likely || b.Leakage.SurelyBelow(a.Leakage) {
		t.Errorf("%g below %g", b.Leakage.Likely, a.Leakage.Likely)
	}
}

// randomLeakage has paths that are open in all options and a seal of its own, of a few kinds, all with round figures.
func randomLeakage(r *rand.Rand, id string) Option {
	likely := float64(4 + r.IntN(12))
	around := func() (low, high float64) { return likely - float64(r.IntN(4)), likely + float64(r.IntN(6)) }
	var effects []doubt.Effect
	if r.IntN(2) > 0 {
		effects = append(effects, crackLaw(around()))
	}
	if r.IntN(2) > 0 {
		low, high := around()
		effects = append(effects, doubt.Effect{Doubt: doubt.Common("floor texture", "feel it"), Low: high, High: low})
	}
	low, high := around()
	return doubted(id, likely, append(effects, ownDoubt(string(rune('p'+r.IntN(5))), low, high))...)
}

// What holds of all differences: D(a,b) is -D(b,a), and being below beyond doubt is transitive, by the triangle inequality. Bands that
// lie apart are parted, and options that share nothing are parted only so.
func TestBelow_Identity(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	chains, apart, shared := 0, 0, 0
	for range 50000 {
		a, b, c := randomLeakage(r, "a").Leakage, randomLeakage(r, "b").Leakage, randomLeakage(r, "c").Leakage
		ab, ba, bc, ac := a.Below(b), b.Below(a), b.Below(c), a.Below(c)
		if math.Abs(ab.Low+ba.High) > 1e-9 || math.Abs(ab.High+ba.Low) > 1e-9 || ab.Likely != -ba.Likely || math.Abs(ab.Share-ba.Share) > 1e-9 && ab.Likely != 0 {
			t.Fatalf("%+v and %+v", ab, ba)
		}
		if a.SurelyBelow(b) && b.SurelyBelow(a) {
			t.Fatalf("each below the other: %+v, %+v", a.Result, b.Result)
		}
		if ab.Low > 1e-9 && bc.Low > 1e-9 {
			chains++
			if ac.Low < ab.Low+bc.Low-1e-9 {
				t.Fatalf("%g and %g make %g", ab.Low, bc.Low, ac.Low)
			}
		}
		if a.High < b.Low {
			apart++
			if !a.SurelyBelow(b) {
				t.Fatalf("bands apart, and not parted: %+v, %+v", a.Range, b.Range)
			}
		} else if a.SurelyBelow(b) {
			shared++
			if !slices.ContainsFunc(a.Effects, func(e doubt.Effect) bool { _, ok := same(e, b.Effects); return ok }) && ab.apart <= 0 {
				t.Fatalf("nothing shared, bands overlap, and parted: %+v, %+v", a.Range, b.Range)
			}
		}
	}
	if min(chains, apart, shared) < 400 {
		t.Errorf("%d chains, %d apart, %d parted by what they share", chains, apart, shared)
	}
}

// scattered is the flow of a door as the sum of its paths, each with factors exp(reach z) of its doubts.
type scattered []struct {
	likely float64
	reach  [scatterDoubts]float64
}

const scatterDoubts = 16

func (s scattered) flow(z [scatterDoubts]float64) float64 {
	sum := 0.0
	for _, p := range s {
		e := 0.0
		for k, u := range p.reach {
			e += u * z[k]
		}
		sum += p.likely * math.Exp(e)
	}
	return sum
}

func (s scattered) option() Option {
	var effects []doubt.Effect
	for k := range scatterDoubts {
		var low, high [scatterDoubts]float64
		low[k], high[k] = -1, 1
		effects = append(effects, ownDoubt(string(rune('a'+k)), s.flow(low), s.flow(high)))
	}
	return doubted("", s.flow([scatterDoubts]float64{}), effects...)
}

// Pairs of doors with a path that both share and one of each, whose doubts are log-normal (range: 95 of 100) and scatter at once, some
// in both. Of those whose difference is just beyond doubt: how often is the order wrong? 2.5 of 100 are meant.
func TestDifferenceScatter_Pinned(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	var wrong []float64
	for len(wrong) < 150 {
		open := scattered{{likely: math.Exp(1.5 * r.NormFloat64())}}[0]
		open.reach[0], open.reach[1], open.reach[3] = r.Float64()/2, r.Float64()/2, r.Float64()
		var doors [2]scattered
		for i := range doors {
			own := scattered{{likely: math.Exp(r.NormFloat64())}}[0]
			for k := range 1 + r.IntN(4) {
				own.reach[4+6*i+k] = r.Float64()
			}
			for k := range 3 {
				own.reach[k] = float64(r.IntN(2)) * r.Float64() / 2
			}
			doors[i] = scattered{own, open}
		}
		d := doors[0].option().Leakage.Below(doors[1].option().Leakage)
		if d.Low <= 0 || d.Low > d.Likely/10 {
			continue
		}
		const scatters = 4000
		bad := 0.0
		for range scatters {
			var z [scatterDoubts]float64
			for k := range z {
				z[k] = r.NormFloat64() / 1.96
			}
			if doors[1].flow(z) <= doors[0].flow(z) {
				bad++
			}
		}
		wrong = append(wrong, 100*bad/scatters)
	}
	slices.Sort(wrong)
	if median, worst := wrong[len(wrong)/2], wrong[len(wrong)-1]; median > 1 || worst > 7 || worst < 2 {
		t.Errorf("wrong in %.2g of 100 by the median, %.2g at worst", median, worst)
	}
}
