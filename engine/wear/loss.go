package wear

import (
	"math"
	"slices"

	"sillwright/engine/doubt"
)

// Seal is what wears.
type Seal struct {
	Area     float64     // A, solid area on the floor per metre, m2/m: V t of a brush, lips x thickness of blades
	Force    Force       // N': nothing where it does not touch, never less for more overlap; nil: nothing rubs
	Factor   doubt.Range // that the force may be off by; zero: 1
	Rate     doubt.Range // k, m2/N
	Recovery doubt.Range // R
	Settling doubt.Range // N_s, cycles; zero: as this package judges it
}

// Force is how hard a seal presses on the floor.
type Force interface {
	// Over is the sum over a sweep of N'(overlap + off - gone) (N/m) times the way that is slid there, N; off and gone in m.
	Over(sweep []Stretch, off, gone float64) float64
}

// Stretch is a part of the way that a place of the seal rubs over in one cycle.
type Stretch struct {
	Overlap float64 // of the new seal there, m
	Slides  float64 // m
}

// Place is one place of a seal.
type Place struct {
	Rest  float64   // overlap of the new seal, door closed, m; less than 0 is daylight
	Sweep []Stretch // none: it does not rub
	Error float64   // by which all its overlaps may be off together, m
}

// top is the largest overlap that the place ever has, off by some m, and 0 at least.
func (p Place) top(off float64) float64 {
	top := math.Max(p.Rest+off, 0)
	for _, s := range p.Sweep {
		top = math.Max(top, s.Overlap+off)
	}
	return top
}

// slides says whether it moves over the floor at all: the hinge edge of a leaf does not.
func (p Place) slides() bool {
	return slices.ContainsFunc(p.Sweep, func(s Stretch) bool { return s.Slides != 0 })
}

// Swept is the way of a place x (m) from the hinge of a leaf that opens to an angle (rad) and closes again, through floors at which
// the seal has some overlaps, at even parts of the angle or not: at[i] is the angle of overlaps[i], the first is 0.
//
//	slides 2 x angle in all (pi x for 90 degrees), each overlap standing for half the way to its neighbours (trapezoidal rule)
func Swept(x float64, at, overlaps []float64) []Stretch {
	out := make([]Stretch, len(at))
	for i := range at {
		before, after := at[max(i-1, 0)], at[min(i+1, len(at)-1)]
		out[i] = Stretch{overlaps[i], x * (after - before)}
	}
	return out
}

// Doubts about the height that is lost.
var (
	doubtRate = doubt.Own("wear on the floor", "have the seal tested for life on such a floor, with its grit, and give the height that it lost: worn, in a catalogue of your own")
	doubtSet  = doubt.Own("set", "press a piece of the seal for some weeks, measure what it does not spring back, and give recovery in a catalogue of your own")
)

// Loss is the height (m) that the seal has lost at a place after some cycles.
//
//	loss = S(N) + w(N),  S = (1 - R) max(o, 0) (1 - exp(-N/N_s))
//	dw/dN = (k/A) sum over the sweep of N'(o_j - S - w) s_j,  w(0) = 0
//
// S set, w wear, o overlap of the new seal at rest (door closed) m, o_j along the sweep m, s_j way slid there in one cycle m, N cycles,
// R recovery, N_s cycles of settling, k specific wear rate m2/N, N' normal force N/m, A solid area per metre m2/m. Force falls as the
// seal wears, and where it touches nowhere along its sweep it wears no more: loss <= the largest overlap that it has.
//
// Source: Archard 1953, dV/ds = k F, over A for tips that wear square (from memory, not verified); set as an exponential approach
// is engineering judgement, not measured. Range: overlaps up to half the height, as N'. Band: k with the factor on N', and R with
// N_s, and the error of the overlaps, each alone at its ends (doubt.BandOf); never beyond that largest overlap. Errors: as Check. Computed in 24 steps, each of
// which is exact where N' goes with the overlap (relative error below 1 per cent where it is constant, see the tests).
//
// Deviations: bristles splay, break and fall out; tips wear to a bevel and not square; rubber tears and hardens; grit, water, ice and
// cleaning change k; the leaf sags. None is counted.
func (s Seal) Loss(p Place, cycles float64) (doubt.Band, error) {
	c, err := s.Over(cycles)
	if err != nil {
		return doubt.Band{}, err
	}
	return c.Loss(p)
}

// values of what is uncertain
type values struct{ rate, recovery, settling, off float64 }

// rubs says whether the seal wears at a place at all.
func (s *Seal) rubs(p Place) bool { return s.Force != nil && len(p.Sweep) > 0 }

func (s *Seal) settling() doubt.Range {
	if s.Settling == (doubt.Range{}) {
		return settling
	}
	return s.Settling
}

// ends of the wear rate with what the force may be off by: both are factors on the wear.
func (s *Seal) ends() (slow, fast float64) {
	if s.Rate.Likely <= 0 || s.Factor.Low <= 0 {
		return s.Rate.Low, s.Rate.High
	}
	down := math.Hypot(math.Log(s.Rate.Likely/math.Max(s.Rate.Low, s.Rate.Likely/1e9)), math.Log(s.Factor.Low))
	up := math.Hypot(math.Log(s.Rate.High/s.Rate.Likely), math.Log(s.Factor.High))
	return s.Rate.Likely * math.Exp(-down), s.Rate.Likely * math.Exp(up)
}

// Check wants an area up to 1 m2/m, a recovery of 0 to 1, a settling of 1 cycle or more and a wear rate of 0 or more.
func (s Seal) Check() error {
	if s.Force != nil {
		if err := doubt.First(doubt.Exactly(s.Area).Check("solid area of the seal (m2/m)", 1e-6, 1), s.Rate.Check("wear rate (m2/N)", 0, 1e-6)); err != nil {
			return err
		}
	}
	return doubt.First(s.Recovery.Check("recovery", 0, 1), s.settling().Check("cycles of settling", 1, 1e9))
}
