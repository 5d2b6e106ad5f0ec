package drag

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/interp"

	"sillwright/engine/doubt"
)

var pulls = []Pull{{Overlap: 0.001, Force: 2.5, Scatter: 0.1, Friction: 0.3}, {Overlap: 0.003, Force: 4.5, Scatter: 0.2, Friction: 0.3}}

// At a test the drag is what was pulled; between two tests the measured part of the model runs straight, by gonum's interpolation of
// it; beyond them it is held.
func TestPulled_Identity(t *testing.T) {
	model := fine(0.03)
	part := func(p Pull) float64 {
		return p.Force / (0.3 * must[float64](t)(model.Normal(p.Overlap, 0.3)))
	}
	var line interp.PiecewiseLinear
	if err := line.Fit([]float64{0.001, 0.003}, []float64{part(pulls[0]), part(pulls[1])}); err != nil {
		t.Fatal(err)
	}
	seal := Pulled{Model: model, Pulls: pulls}
	for _, overlap := range []float64{0.0004, 0.001, 0.0017, 0.003, 0.006} {
		got := must[doubt.Band](t)(PerMetre(seal, overlap, 0, doubt.Exactly(0.3)))
		near(t, "drag", got.Likely, 0.3*must[float64](t)(model.Normal(overlap, 0.3))*line.Predict(overlap), 1e-9)
		near(t, "low", got.Low, 0.8*got.Likely, 1e-9) // the largest scatter, and nothing else
		near(t, "high", got.High, 1.2*got.Likely, 1e-9)
	}
	if r := must[doubt.Band](t)(PerMetre(seal, 0, 0, doubt.Exactly(0.3))); r.Range != (doubt.Range{}) {
		t.Errorf("just touching: %v", r.Range)
	}
	// Two tests of the model's own drag change nothing but the band.
	own := Pulled{Model: model}
	for _, overlap := range []float64{0.001, 0.004} {
		own.Pulls = append(own.Pulls, Pull{overlap, 0.3 * must[float64](t)(model.Normal(overlap, 0.3)), 0.1, "tile", 0.3})
	}
	on := Line{Width: 0.9, Places: []Place{{0.1, -0.001}, {0.5, 0.002}, {0.8, 0.005}}, Error: 0.0005, Friction: doubt.Between(0.2, 0.3, 0.4)}
	a, b := must[doubt.Band](t)(Estimate(own, on)), must[doubt.Band](t)(Estimate(model, on))
	near(t, "the model's own drag", a.Likely, b.Likely, 1e-9)
	if !(a.High < b.High && a.Low > b.Low) {
		t.Errorf("tested %v, not tested %v", a.Range, b.Range)
	}
}

// Without a model: the torque of a line through (0, 0) and the tests over a wedge, by gonum's quadrature.
func TestPulledAlone_Identity(t *testing.T) {
	const width = 0.9
	on := Line{Width: width, Places: []Place{{0, 0}, {width, 0.003}}, Friction: doubt.Exactly(1)}
	torque := func(x float64) float64 {
		o := 0.003 * x / width
		if o <= 0.001 {
			return 2500 * o * x / width
		}
		return (2.5 + 1000*(o-0.001)) * x / width
	}
	want := quad.Fixed(torque, 0, width/3, 50, quad.Legendre{}, 0) + quad.Fixed(torque, width/3, width, 50, quad.Legendre{}, 0)
	got := must[doubt.Band](t)(Estimate(Pulled{Pulls: pulls}, on))
	near(t, "torque", got.Likely, want, 3e-3) // one rule of seven points runs over the bend at the first test
	// An error of the overlap leads beyond the last test, along the line before it.
	got = must[doubt.Band](t)(PerMetre(Pulled{Pulls: pulls}, 0.003, 0.001, doubt.Exactly(1)))
	near(t, "high", got.High, 4.5*math.Exp(math.Hypot(math.Log(1.2), math.Log(5.5/4.5))), 1e-9)
}

func TestPulledErrors(t *testing.T) {
	with := func(pulls ...Pull) error { return Pulled{Model: fine(0.03), Pulls: pulls}.Check() }
	_, far := PerMetre(Pulled{Pulls: pulls}, 0.0031, 0, doubt.Exactly(1))
	for _, row := range []struct {
		err  error
		want string
	}{
		{with(pulls...), ""},
		{with(), "no pull test"},
		{with(Pull{Overlap: 0.016, Force: 2}), "overlap of a pull test is 0.016 m; allowed is above 0 to 0.015"},
		{Pulled{Pulls: []Pull{{Overlap: 0, Force: 2}}}.Check(), "overlap of a pull test is 0 m"},
		{with(pulls[1], pulls[0]), "in rising order"},
		{with(Pull{Overlap: 0.001}), "drag of a pull test (N/m) is 0"},
		{with(Pull{Overlap: 0.001, Force: 1, Scatter: 1}), "scatter of a pull test is 1"},
		{Pulled{Model: Brush{}, Pulls: pulls}.Check(), "free length of the bristles"},
		{far, "pull tests reach to 0.003 m"},
	} {
		switch {
		case row.want == "" && row.err != nil:
			t.Error(row.err)
		case row.want != "" && (row.err == nil || !strings.Contains(row.err.Error(), row.want)):
			t.Errorf("got %v, want %q", row.err, row.want)
		}
	}
}
