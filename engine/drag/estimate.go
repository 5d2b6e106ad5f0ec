package drag

import (
	"sillwright/engine/doubt"
)

// Estimate is the force (N) that takes the seal over the floor: at the latch edge of a leaf that swings, along the
// track of one that slides.
//
//	f(x) = mu N(overlap(x));  swings: F = (1/W) integral of f x dx;  slides: F = integral of f dx
//
// N normal force N/m of the seal, mu friction, x distance from the hinge m, W width m. An even drag gives f W/2 at the
// latch edge.
//
// Band: each input (those of the seal, friction, overlap, and 1/1.5 to 1.5 for what the model leaves out) alone at its
// ends, as doubt.BandOf. Low is 0 where an end loses the floor. A seal that just touches may drag at the high end.
//
// Source: balance of moments about the hinge (exact); N as Brush and Blade. doubt.Range and errors: as Check of the seal and
// of the line, an overlap up to half the free height. Deviations: the leaf is taken at one angle; pressure, closer,
// weight and gaskets are not counted.
func Estimate(seal Seal, on Line) (doubt.Band, error) {
	if err := seal.Check(); err != nil {
		return doubt.Band{}, err
	}
	if err := on.check(seal); err != nil {
		return doubt.Band{}, err
	}
	all := seal.inputs()
	own := all.n
	pull := "pull the fitted door with a spring balance at the latch edge, on this floor, dry and wet"
	if on.Slides {
		pull = "pull the fitted leaf along its track with a spring balance, on this floor, dry and wet"
	}
	all.add("friction", on.Friction, pull)
	all.add("overlap", doubt.Between(-on.Error, 0, on.Error), "measure the gap under the leaf at more places, where the door drags")
	all.add("way the seal bends", leftOut(seal), pull)
	w := meshes.Get().(*[2]mesh)
	defer meshes.Put(w)
	v := all.likely()
	as := seal.strip(v)
	still, moved := &w[0], &w[1]
	still.lay(&on, v[own+1], as.length)
	force := func(v values) float64 {
		m := still
		if v[own+1] != 0 {
			m = moved
			m.lay(&on, v[own+1], as.length)
		}
		s := seal.strip(v)
		return v[own+2] * on.force(m, &s, v[own])
	}
	return band(&all, v, force), nil
}

// PerMetre is the drag per metre (N/m) of the seal at one overlap (m), known within wrong (m) either way, pulled
// across its length. Formula, band, range and errors: as Estimate.
func PerMetre(seal Seal, overlap, wrong float64, friction doubt.Range) (doubt.Band, error) {
	// an even drag f gives f W/2 at the latch edge, which is f at W = 2
	return Estimate(seal, Line{Width: 2, Places: []Place{{0, overlap}}, Error: wrong, Friction: friction})
}

// band moves each input alone to its ends.
func band(all *inputs, v values, force func(values) float64) doubt.Band {
	likely := force(v)
	var effects [maxInputs]doubt.Effect
	for i := range all.n {
		in := &all.of[i]
		at := func(end float64) float64 {
			if end == in.Likely {
				return likely
			}
			v[i] = end
			moved := force(v)
			v[i] = in.Likely
			return moved
		}
		effects[i] = doubt.Effect{Doubt: in.Doubt, Low: at(in.Low), High: at(in.High)}
	}
	return doubt.BandOf(likely, effects[:all.n])
}

// model is the factor on the drag for what fibre.Press leaves out: bristles that lean straight from the root (up to
// 1.5), lips that cannot narrow (4/3), tips that do not trail; filaments and rubber that relax or take a set.
// Engineering judgement, not measured.
var model = doubt.Between(1/1.5, 1, 1.5)

// leftOut is that factor; pull tests hold it already.
func leftOut(seal Seal) doubt.Range {
	if _, ok := seal.(Pulled); ok {
		return doubt.Exactly(1)
	}
	return model
}

const maxInputs = 8

// values of the inputs, in their order
type values [maxInputs]float64

// input is what is not known exactly.
type input struct {
	doubt.Doubt
	doubt.Range
}

// inputs are those of the seal, then friction, the move of the overlap and the model's own factor.
type inputs struct {
	n  int
	of [maxInputs]input
}

func (p *inputs) add(name string, r doubt.Range, settle string) {
	p.of[p.n] = input{doubt.Doubt{Name: name, Settle: settle}, r}
	p.n++
}

func (p *inputs) likely() (v values) {
	for i := range p.n {
		v[i] = p.of[i].Likely
	}
	return v
}
