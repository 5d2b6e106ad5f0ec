package house

import (
	"math"
	"strings"
	"testing"

	"sillwright/engine/doubt"
)

func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: got %.9g, want %.9g within %g", what, got, want, rel)
	}
}

// ASHRAE Fundamentals 1997, 25.18, with Cd 1 at 4 Pa, worked for C 1e-3 m3/(s Pa^n), n 0.6, rho 1.2041.
func TestArea_Published(t *testing.T) {
	flow := 1e-3 * math.Pow(4, 0.6)
	near(t, "area at 4 Pa", Area(doubt.Exactly(flow), SmallDrop, 1.2041, SmallCd).Likely, 8.91296661e-4, 1e-7)
}

// An opening of one square metre with the same Cd passes Cd sqrt(2 dp/rho) (Bernoulli), so its area is one.
func TestArea_Identity(t *testing.T) {
	for _, c := range []struct{ drop, cd float64 }{{SmallDrop, SmallCd}, {LargerDrop, LargerCd}} {
		near(t, "area", Area(doubt.Exactly(c.cd*math.Sqrt(2*c.drop/1.2)), c.drop, 1.2, c.cd).Likely, 1, 1e-12)
	}
}

// Sherman's divisor with a climate factor of 18 and a height factor of 0.7: 13.3/(18*0.7*1*1) = 1.06 1/h, a printed example.
func TestMean_Published(t *testing.T) {
	near(t, "mean air change", Mean(doubt.Exactly(13.3), 18*0.7).Likely, 1.06, 5e-3)
	near(t, "a twentieth", Mean(doubt.Exactly(13.3), UsualDivisor).Likely, 0.665, 1e-12)
}

// Passive House: 0.6 1/h at 50 Pa (criteria of the Passive House Institute); in 310 m3 these are 186 m3/h by n50 = Q50/V.
func TestByVolume_Published(t *testing.T) {
	flow, err := ByVolume(310, 0.6)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "flow", 3600*flow, 186, 1e-12)
	near(t, "air change", AirChange(doubt.Exactly(flow), 310).Likely, 0.6, 1e-12)
}

func TestByEnvelope_Identity(t *testing.T) {
	flow, err := ByEnvelope(420, 0.6)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "flow", 3600*flow, 252, 1e-12)
	near(t, "permeability", PerHour(doubt.Exactly(flow), 420).Likely, 0.6, 1e-12)
}

// rho c of air of 1.2041 kg/m3 and 1006 J/(kg K) is 1211.3246 J/(m3 K), 0.336479 Wh/(m3 K): the 0.34 of the tables of heat loss.
func TestConductance_Published(t *testing.T) {
	near(t, "W/K of 1 m3/s", Conductance(doubt.Exactly(1), 1.2041).Likely, 1211.3246, 1e-9)
	near(t, "W/K of 1 m3/h", Conductance(doubt.Exactly(1.0/3600), 1.2041).Likely, 0.34, 0.011)
}

// One W/K over 1000 K d is 24 kWh.
func TestYearly_Identity(t *testing.T) {
	if got := Yearly(doubt.Between(0.5, 1, 2), 1000); got != doubt.Between(12, 24, 48) {
		t.Errorf("got %v", got)
	}
}

// By the power law of ISO 9972 a door of n 1 passes 2/50 of its flow at 50 Pa at 2 Pa, one of n 0.5 a fifth; and whatever n is between,
// a twentieth of the flow at 50 Pa (Persily and Kronvall) lies in the band.
func TestMeanAt_Identity(t *testing.T) {
	at := func(n, dp float64) doubt.Range {
		q := math.Pow(dp/TestDrop, n)
		return doubt.Between(q, q, q)
	}
	for _, c := range []struct{ n, want float64 }{{1, 0.04 * 0.75}, {0.5, 0.2 * 0.75}} {
		near(t, "mean", MeanAt(at(c.n, MeanDrop.Low), at(c.n, MeanDrop.Likely), at(c.n, MeanDrop.High)).Likely, c.want, 1e-12)
	}
	for n := 0.5; n <= 1; n += 0.05 {
		mean := MeanAt(at(n, MeanDrop.Low), at(n, MeanDrop.Likely), at(n, MeanDrop.High))
		if err := mean.Check("mean", 0, 1); err != nil || mean.Low > 0.0501 || mean.High < 0.05 {
			t.Errorf("n %g: %v, %v", n, mean, err)
		}
	}
}

func TestPart_Identity(t *testing.T) {
	if got, ok := Part(doubt.Between(1, 2, 4), 8); !ok || got != doubt.Between(0.125, 0.25, 0.5) {
		t.Errorf("got %v, %v", got, ok)
	}
	if got, ok := Part(doubt.Exactly(1), 0); ok {
		t.Errorf("a part of nothing is %v", got)
	}
}

func TestAllowedRefuses_Identity(t *testing.T) {
	for _, c := range []struct {
		size, rate float64
		says       string
	}{
		{0, 1, "volume is 0; allowed is more than 0"}, {-1, 1, "more than 0"}, {math.NaN(), 1, "more than 0"}, {math.Inf(1), 1, "more than 0"},
		{1, -1, "air change is -1; allowed is 0 or more"}, {1, math.NaN(), "0 or more"}, {1, math.Inf(1), "0 or more"},
	} {
		if _, err := ByVolume(c.size, c.rate); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%g, %g: %v; want %q", c.size, c.rate, err, c.says)
		}
	}
	if flow, err := ByEnvelope(1, 0); err != nil || flow != 0 {
		t.Errorf("nothing allowed: %g, %v", flow, err)
	}
}
