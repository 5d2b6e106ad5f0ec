package seal

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"sillwright/engine/air"
	"sillwright/engine/crack"
	"sillwright/engine/doubt"
	"sillwright/engine/gap"
)

// Fitted is a seal as it is fitted to an edge.
type Fitted struct {
	Name    string // of the seal, for the doubts about it
	Model   Model
	Floor   Texture     // zero: a smooth made face
	Overlap float64     // setting: overlap at the widest reading, m; of no account to a bare gap and a drop seal
	Foot    doubt.Range // clearance between each end of the seal and the jamb, m; zero: the ends are closed, or counted elsewhere
	Tests   []Test      // flow tests of this seal: they calibrate the model
	Worn    gap.Line    // the gap line plus what the seal has lost of its height there; zero: it is as new
}

// Edge is one edge of a leaf with what closes it: no seal, one, or several one behind the other.
type Edge struct {
	Line          gap.Line
	ReadingError  float64 // of the gap, m: the range +- that holds it roughly 95 times in 100
	LeafThickness float64 // m, the depth of a bare gap
	Bends         int     // of a bare gap
	Seals         []Fitted
	Alone         bool // nothing but the seals, as on a rig: the gap under the leaf behind them does not count

	path bool // no bottom edge, but a path elsewhere: its gap is read apart
}

// doubtOfGap is the doubt that the reading error is.
func (e Edge) doubtOfGap() doubt.Doubt {
	if e.path {
		return doubtPathGap
	}
	return doubtReading
}

// Limits of the pressure drop. Air counts as incompressible: 2 % at the upper end.
const (
	MinDrop = 0.1    // Pa
	MaxDrop = 2000.0 // Pa
)

// MostSeals is how many seals may stand on one edge, one behind the other.
const MostSeals = 4

const maxStages = MostSeals + 1 // and the gap under the leaf

// Leakage predicts the flow at a pressure drop dp (Pa).
//
//	a seal:    Q = integral over the width of q(gap(x), overlap(x)) dx + feet,  overlap(x) = Overlap + widest - gap(x)
//	feet:      Cd s (gap at one end + gap at the other) sqrt(2 dp/rho),  s clearance at each foot
//	the edge:  Q_1(dp_1) = Q_2(dp_2) = ... = Q_leaf(dp_leaf),  sum of the drops = dp    (crack.InSeries)
//
// What passes the seals passes under the leaf too, through the bare gap. Where that is wide it takes next to none of the drop; where it is
// narrow, no seal leaks more than the gap without one.
//
// Between two seals the air is taken to move freely along the edge, so that one pressure stands there: what leaks in at a low place of
// the first may leave at a high place of the second. That is the most that can flow. If it could not move along at all, up to 5 per cent
// less would, on a floor that falls by 3 mm (TestCavityBetweenSeals_Identity).
//
// Reading error: the whole gap line moves by +-e while the seal stays where it is set, so a gap that is e larger than
// read has e less overlap: gap + e, overlap - e, and the other way round. That is the honest reading of a setting
// taken from a drawing or a measurement. A seal set just touching by eye at the widest place is
// better than that, but who sets it judges contact no better than a reading. So a seal set just touching with an
// error of 0.5 mm has 0.5 mm of daylight at one end of its band.
//
// Doubts: every parameter of the models, and the reading, is moved to its low and its high end alone; Total makes a band of them. For
// seals in series the others are stood for by the pair that touches their curve at their part of the drop.
//
// Errors: dp outside 0.1..2000 Pa, a model that does not pass its Check, negative reading error, no leaf thickness.
func (e Edge) Leakage(dp float64, a air.Air) (Flow, error) {
	if err := e.check(dp, a); err != nil {
		return Flow{}, err
	}
	w := benches.Get().(*bench)
	defer benches.Put(w)
	w.set(e, dp, a)
	out := Flow{Basis: BasisOrifice, Exponent: 1}
	out.Likely = w.solve(dp)
	for i := range w.stages {
		if i < len(e.Seals) || i == 0 { // behind a seal the gap under the leaf decides nothing
			out.Basis = weaker(out.Basis, w.stages[i].basis())
		}
	}
	if out.Likely > 0 {
		out.Exponent = crack.Series(w.pairs[:len(w.stages)]...).Exponent(dp)
	}
	out.Effects = w.effects(dp, e.doubtOfGap(), e.ReadingError)
	if slices.ContainsFunc(e.Seals, func(s Fitted) bool { return s.Foot.High > 0 }) {
		out.Feet = w.feet(dp, e, out)
	}
	return out, nil
}

// feet is what closing the feet would save. Its band is made of what moves them: their clearance, the discharge coefficient, and
// the reading error over the mean gap at the ends.
func (w *bench) feet(dp float64, e Edge, all Flow) doubt.Range {
	f := Flow{Likely: all.Likely - w.without(dp), Effects: make([]doubt.Effect, 0, 3)}
	for _, effect := range all.Effects {
		if effect.Doubt == doubtFeet || effect.Doubt == doubtHole {
			effect.Low = math.Max(f.Likely+effect.Low-all.Likely, 0)
			effect.High = math.Max(f.Likely+effect.High-all.Likely, 0)
			f.Effects = append(f.Effects, effect)
		}
	}
	if height := (e.Line.At(0) + e.Line.At(e.Line.Width())) / 2; height > 0 && e.ReadingError > 0 {
		off := math.Min(e.ReadingError/height, 1)
		f.Effects = append(f.Effects, doubt.Effect{Doubt: e.doubtOfGap(), Low: f.Likely * (1 - off), High: f.Likely * (1 + off)})
	}
	return f.Band()
}

// Higher is the edge with every seal hung some metres higher: more daylight, or less squash.
func (e Edge) Higher(by float64) Edge {
	e.Seals = slices.Clone(e.Seals)
	for i := range e.Seals {
		e.Seals[i].Overlap -= by
	}
	return e
}

func checkDrop(dp float64) error {
	if !(dp >= MinDrop && dp <= MaxDrop) {
		return fmt.Errorf("pressure drop is %g Pa; allowed is %g to %g Pa", dp, MinDrop, MaxDrop)
	}
	return nil
}

func (e Edge) check(dp float64, a air.Air) error {
	switch {
	case !(e.ReadingError >= 0) || math.IsInf(e.ReadingError, 1):
		return fmt.Errorf("reading error is %g m; it must be 0 or more", e.ReadingError)
	case !(e.Line.Width() > 0):
		return fmt.Errorf("edge has no gap line; make one with gap.New")
	case len(e.Seals) > MostSeals:
		return fmt.Errorf("%d seals on one edge; allowed is up to %d", len(e.Seals), MostSeals)
	}
	if err := doubt.First(
		checkDrop(dp), doubt.Positive("leaf thickness (m)", e.LeafThickness), doubt.Positive("air density (kg/m3)", a.Density),
		doubt.Positive("air viscosity (Pa s)", a.Viscosity), Bare{e.Bends}.Check(),
	); err != nil {
		return err
	}
	for _, s := range e.Seals {
		if err := s.Check(); err != nil {
			return err
		}
	}
	return nil
}

// Check wants a model that passes its own, tests that make sense, an overlap that is a number and a clearance at the feet up to 100 mm.
func (s Fitted) Check() error {
	switch {
	case s.Model == nil:
		return fmt.Errorf("edge has a seal without a model; leave it out for a gap without a seal")
	case math.IsNaN(s.Overlap) || math.IsInf(s.Overlap, 0):
		return fmt.Errorf("overlap is %g m; it must be a number", s.Overlap)
	}
	return doubt.First(checkTests(s.Tests), s.Foot.Check("clearance at the feet (m)", 0, 0.1), s.Model.Check())
}

// bench is the working memory of one edge: kept, so that scoring an option allocates next to nothing.
type bench struct {
	all    [maxStages]stage
	stages []stage // those of all that are at work
	pairs  [maxStages]crack.Law
	own    []crack.Passage
	pieces []gap.Piece
	out    []doubt.Effect
}

var benches = sync.Pool{New: func() any { return &bench{out: make([]doubt.Effect, 0, 32)} }}

func (w *bench) set(e Edge, dp float64, a air.Air) {
	w.pieces = e.Line.AppendPieces(w.pieces[:0])
	as := len(w.pieces) // as the gap is; then with the wear of each seal
	run := Run{
		Narrowest: e.Line.Narrowest(), Ends: [2]float64{e.Line.At(0), e.Line.At(e.Line.Width())},
		Drop: dp, Air: a, LeafThickness: e.LeafThickness,
	}
	stages := len(e.Seals)
	if !e.Alone || stages == 0 {
		stages++ // the gap under the leaf
	}
	w.stages, w.own = w.all[:stages], w.own[:0]
	for i := range w.stages {
		s := Fitted{Model: Bare{e.Bends}}
		if i < len(e.Seals) {
			s = e.Seals[i]
		}
		run.Touching = s.Overlap + e.Line.Widest()
		run.Pieces = w.pieces[:as]
		if s.Worn.Width() > 0 {
			worn := len(w.pieces)
			w.pieces = s.Worn.AppendPieces(w.pieces)
			run.Pieces = w.pieces[worn:]
		}
		w.stages[i].set(s, run)
		w.own = append(w.own, &w.stages[i])
	}
}

// solve finds the likely flow, the part of the drop that each seal takes, and the pairs that stand for them.
func (w *bench) solve(dp float64) float64 {
	n := len(w.stages)
	flow := 0.0
	if n == 1 {
		q, exponent := w.stages[0].At(dp)
		w.pairs[0], flow = crack.Pair(dp, q, exponent), q
	} else {
		flow = crack.InSeries(dp, w.pairs[:n], w.own...)
	}
	for i := range w.stages {
		part := dp / float64(n) // nothing flows: a doubt that opens a stage finds the drop shared
		if n > 1 && flow > 0 {
			part = w.pairs[i].Drop(flow)
		}
		w.stages[i].keep(math.Max(part, 0))
	}
	return flow
}

// without is the likely flow with all feet closed.
func (w *bench) without(dp float64) float64 {
	flow := 0.0
	pairs := w.pairs
	for i := range w.stages {
		q, exponent := w.stages[i].footless()
		pairs[i], flow = crack.Pair(w.stages[i].part, q, exponent), q
	}
	if len(w.stages) == 1 {
		return flow
	}
	return crack.Series(pairs[:len(w.stages)]...).Flow(dp)
}

// effects moves every doubt to both its ends: one that several seals of the edge have in common in all of them at once.
func (w *bench) effects(dp float64, gap doubt.Doubt, reading float64) []doubt.Effect {
	out := w.out[:0]
	for i := range w.stages {
		for k, p := range w.stages[i].params {
			e := doubt.Effect{Doubt: p.Doubt}
			if !p.Shared {
				e.Of = w.stages[i].fitted.Name
			}
			if p.Low == p.High || (i > 0 && slices.ContainsFunc(out, e.Same)) {
				continue
			}
			e.Low = w.moved(dp, i, k, e, func(p doubt.Range) float64 { return p.Low })
			e.High = w.moved(dp, i, k, e, func(p doubt.Range) float64 { return p.High })
			out = append(out, e)
		}
	}
	if reading > 0 {
		out = append(out, doubt.Effect{Doubt: gap, Low: w.shifted(dp, -reading), High: w.shifted(dp, reading)})
	}
	w.out = out
	return slices.Clone(out)
}

// moved is the flow with a doubt at one of its ends in the seal that has it, and in all behind it that share it.
func (w *bench) moved(dp float64, first, k int, e doubt.Effect, end func(doubt.Range) float64) float64 {
	q, n := w.stages[first].moved(k, end(w.stages[first].params[k].Range))
	if len(w.stages) == 1 {
		return q
	}
	pairs := w.pairs
	pairs[first] = crack.Pair(w.stages[first].part, q, n)
	for i := first + 1; i < len(w.stages); i++ {
		s := &w.stages[i]
		k := slices.IndexFunc(s.params, func(p Named) bool { return p.Doubt == e.Doubt && (p.Shared || s.fitted.Name == e.Of) })
		if k >= 0 {
			q, n := s.moved(k, end(s.params[k].Range))
			pairs[i] = crack.Pair(s.part, q, n)
		}
	}
	return crack.Series(pairs[:len(w.stages)]...).Flow(dp)
}

// shifted is the flow with the whole gap line off by some metres.
func (w *bench) shifted(dp, shift float64) float64 {
	pairs := w.pairs
	flow := 0.0
	for i := range w.stages {
		q, n := w.stages[i].shifted(shift)
		pairs[i], flow = crack.Pair(w.stages[i].part, q, n), q
	}
	if len(w.stages) == 1 {
		return flow
	}
	return crack.Series(pairs[:len(w.stages)]...).Flow(dp)
}
