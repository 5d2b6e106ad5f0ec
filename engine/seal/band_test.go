package seal

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distmv"
	"gonum.org/v1/gonum/stat/distuv"
	"gonum.org/v1/gonum/stat/samplemv"

	"sillwright/engine/air"
	"sillwright/engine/doubt"
)

// Reference for the band: scrambled Halton points (Owen; gonum) of all parameters at once. The range of each holds 95 of 100 of a
// normal, or for positive quantities log-normal, spread on each side of its likely value; the ends of the band are to be the points
// below which 2.5 and 97.5 of 100 flows lie.
func TestBand_Identity(t *testing.T) {
	low, high := spreadOf{}, spreadOf{}
	for _, name := range sorted(kinds()) {
		for _, overlap := range []float64{-0.002, -0.0005, 0, 0.001, 0.003} {
			for _, floorName := range []string{"tile", "stone"} {
				e := uneven(t, kinds()[name], 3)
				for i := range e.Seals {
					e.Seals[i].Overlap, e.Seals[i].Floor, e.Seals[i].Foot = overlap, floor(t, floorName), doubt.Between(0.0005, 0.002, 0.004)
				}
				for _, behind := range []Model{nil, lips(2), fineBrush(0.030), drop()} {
					what := fmt.Sprintf("%s at %g m on %s with %T", name, overlap, floorName, behind)
					both := e
					if behind != nil {
						if floorName == "stone" || len(e.Seals) == 0 || overlap == -0.0005 {
							continue // fewer, for time
						}
						both.Seals = append(slices.Clone(e.Seals), Fitted{Name: "behind", Model: behind, Floor: floor(t, floorName), Overlap: overlap, Foot: e.Seals[0].Foot})
					}
					r := leak(t, both, 50)
					from, to := sampled(t, both, 2048)
					low.note(what, r.Low/from)
					high.note(what, r.High/to)
				}
			}
		}
	}
	t.Logf("low end over reference: %.3f (%s) to %.3f (%s)", low.least, low.leastAt, low.most, low.mostAt)
	t.Logf("high end over reference: %.3f (%s) to %.3f (%s)", high.least, high.leastAt, high.most, high.mostAt)
	if low.least < 0.90 || low.most > 1.35 || high.least < 0.90 || high.most > 1.20 {
		t.Error("the band is farther from its reference than the docstring of Total says")
	}
}

func sorted(m map[string]Model) []string {
	var out []string
	for name := range m {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

type spreadOf struct {
	least, most     float64
	leastAt, mostAt string
}

func (s *spreadOf) note(at string, v float64) {
	if s.least == 0 || v < s.least {
		s.least, s.leastAt = v, at
	}
	if v > s.most {
		s.most, s.mostAt = v, at
	}
}

// sampled gives the flows below which 2.5 and 97.5 of 100 lie, solved anew for every point. What seals share has one value in all.
func sampled(t *testing.T, e Edge, points int) (low, high float64) {
	t.Helper()
	w := new(bench)
	w.set(e, 50, air.Standard())
	var doubts []Named // one a column
	column := make([][]int, len(w.stages))
	for i := range w.stages {
		for _, p := range w.stages[i].params {
			k := slices.IndexFunc(doubts, func(d Named) bool { return d.Doubt == p.Doubt && p.Shared })
			if k < 0 {
				k, doubts = len(doubts), append(doubts, p)
			}
			column[i] = append(column[i], k)
		}
	}
	many := len(doubts) + 1
	batch := mat.NewDense(points, many, nil)
	samplemv.Halton{Kind: samplemv.Owen, Q: distmv.NewUnitUniform(many, nil), Src: rand.NewPCG(1, 2)}.Sample(batch)
	flows := make([]float64, points)
	for i := range flows {
		for k := range w.stages {
			s := &w.stages[k]
			for j, c := range column[k] {
				s.x[j] = quantile(batch.At(i, c), s.params[j].Range)
			}
			s.run.Shift = quantile(batch.At(i, many-1), doubt.Between(-e.ReadingError, 0, e.ReadingError))
			s.base = s.base[:0]
			for j := range s.ways.Many {
				s.base = s.lay(j, &s.run, s.base)
				s.ends[j] = len(s.base)
			}
		}
		flows[i] = w.solve(50)
	}
	slices.Sort(flows)
	return flows[points*25/1000], flows[points*975/1000]
}

func quantile(u float64, p doubt.Range) float64 {
	z := distuv.UnitNormal.Quantile(u) / 1.96
	end := p.High
	if z < 0 {
		z, end = -z, p.Low
	}
	z = math.Min(z, 1.3) // beyond it a solid fraction would leave the range of its law
	if p.Low > 0 {
		return p.Likely * math.Pow(end/p.Likely, z)
	}
	return p.Likely + z*(end-p.Likely)
}
