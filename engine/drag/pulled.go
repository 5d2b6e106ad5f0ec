package drag

import (
	"fmt"
	"math"

	"sillwright/engine/doubt"
)

// Pull is a pull test: what it took to drag a length of the seal over a floor, square to its length, pressed by an overlap.
type Pull struct {
	Overlap  float64 // m
	Force    float64 // N/m
	Scatter  float64 // part of the drag by which another piece, or the same floor on another day, may differ
	Floor    string
	Friction float64 // likely of that floor; of no account to a seal without a model
}

// PullScatter is taken for a pull test that does not say how far others differ. Engineering judgement, not measured.
const PullScatter = 0.15

// Pulled is a seal with pull tests, on one floor and in rising order of their overlaps: with a model the tests correct it, without one
// they stand alone. Pressed by o it drags, per metre,
//
//	f(o) = f_model(o) r(o),  r = F_k/f_model(o_k) at test k, straight between tests, held before the first and beyond the last
//	f(o) = straight through (0, 0) and the tests, without a model
//
// f_model = mu N at the likely values of the model and of the friction. Carried to another floor the model's own friction tells the two
// apart, and the Line's friction keeps its range; on the floor of the tests it is theirs, without one.
//
// Band: the scatter and the error of the overlap; what the model does not know is in the tests. Range: overlaps up to half the free
// height of the model, or up to the last test. Source: interpolation; none else. Deviations: a pull across tells nothing of a blade
// that slides along itself; tips that stand against the pull where it turns back are not in a steady pull; a pull on a dry floor says
// nothing of a wet one but by its scatter.
type Pulled struct {
	Model Seal // nil: none
	Pulls []Pull
}

// Check wants a model in range, and tests of 0.01 N/m to 10 kN/m at rising overlaps above 0, to half the height of the model.
func (p Pulled) Check() error {
	if len(p.Pulls) == 0 {
		return fmt.Errorf("no pull test; at least one is needed")
	}
	most := 0.1
	if p.Model != nil {
		if err := p.Model.Check(); err != nil {
			return err
		}
		most = p.Model.Height() / 2
	}
	for i, t := range p.Pulls {
		if !(t.Overlap > 0 && t.Overlap <= most) {
			return fmt.Errorf("overlap of a pull test is %g m; allowed is above 0 to %g", t.Overlap, most)
		}
		if i > 0 && t.Overlap <= p.Pulls[i-1].Overlap {
			return fmt.Errorf("pull tests at overlaps of %g m and %g m; give one an overlap, in rising order", p.Pulls[i-1].Overlap, t.Overlap)
		}
		if err := doubt.First(
			doubt.Exactly(t.Force).Check("drag of a pull test (N/m)", 0.01, 1e4),
			doubt.Exactly(t.Scatter).Check("scatter of a pull test", 0, 0.95),
		); err != nil {
			return err
		}
	}
	return nil
}

// Height is the free height of the model; without one, twice the overlap of the last test.
func (p Pulled) Height() float64 {
	if p.Model != nil {
		return p.Model.Height()
	}
	return 2 * p.Pulls[len(p.Pulls)-1].Overlap
}

// Normal is the likely normal force N (N/m) pressed by overlap (m), at the friction of a pull across: the tests' drag over it.
func (p Pulled) Normal(overlap, friction float64) (float64, error) {
	return normal(p, overlap, friction)
}

func (p Pulled) inputs() inputs {
	most := 0.0
	for _, t := range p.Pulls {
		most = math.Max(most, t.Scatter)
	}
	return inputs{n: 1, of: [maxInputs]input{
		{doubt.Doubt{Name: "scatter of the pull tests", Settle: "pull more pieces of this seal, on this floor, dry and wet"}, doubt.Between(1-most, 1, 1+most)},
	}}
}

func (p Pulled) strip(v values) strip {
	if p.Model == nil {
		return strip{pulls: p.Pulls, factor: v[0], round: true}
	}
	in := p.Model.inputs()
	s := p.Model.strip(in.likely())
	s.pulls, s.factor = p.Pulls, v[0]
	return s
}

// pulled is the normal force of a strip with tests.
func (s *strip) pulled(overlap, friction float64) float64 {
	switch {
	case overlap <= 0:
		return 0
	case s.count == 0:
		return s.factor * s.alone(overlap)
	}
	return s.factor * s.bent(overlap, friction) * s.ratio(overlap)
}

// ratio is r at an overlap.
func (s *strip) ratio(overlap float64) float64 {
	of := func(t Pull) float64 { return t.Force / (t.Friction * s.bent(t.Overlap, t.Friction)) }
	for i, t := range s.pulls {
		switch {
		case overlap > t.Overlap:
		case i == 0:
			return of(t)
		default:
			before := s.pulls[i-1]
			part := (overlap - before.Overlap) / (t.Overlap - before.Overlap)
			return of(before) + part*(of(t)-of(before))
		}
	}
	return of(s.pulls[len(s.pulls)-1])
}

// alone is the drag straight through (0, 0) and the tests; beyond the last, where only an error of the overlap leads, as it rises
// before it.
func (s *strip) alone(overlap float64) float64 {
	before := Pull{}
	for i, t := range s.pulls {
		if overlap <= t.Overlap || i == len(s.pulls)-1 {
			return math.Max(0, before.Force+(overlap-before.Overlap)*(t.Force-before.Force)/(t.Overlap-before.Overlap))
		}
		before = t
	}
	return 0
}
