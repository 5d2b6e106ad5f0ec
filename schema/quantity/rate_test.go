package quantity

import (
	"math"
	"testing"
)

// Factors: NIST SP 811 (2008), B.8: cubic foot per minute 4.719474E-04 m3/s, square foot 9.290304E-02 m2, foot 3.048E-01 m, inch of
// water (conventional) 2.490889E+02 Pa. Printed pairs, each to its own digits: 0.40 cfm/ft2 and 2.0 L/(s m2) (IECC C402.5);
// 5.0 L/(s m2) and 1.0 cfm/ft2 (ASHRAE 90.1-2007 5.4.3.2 and Minn. R. 1323.0543); 0.10 in of water and 24.9 Pa (IBC 2009 711.5.2).
func TestRates_Published(t *testing.T) {
	perArea := func(text string) float64 {
		v, err := ParseFlowPerArea(text)
		check(t, err)
		return float64(v) / 1e9 / 3600
	} // m/s
	perLength := func(text string) float64 {
		v, err := ParseFlowPerLength(text)
		check(t, err)
		return float64(v) / 1e12 / 3600 // m2/s
	}
	pressure := func(text string) float64 { v, err := ParsePressure(text); check(t, err); return float64(v) / 1e6 }
	for _, c := range []struct{ got, want, within float64 }{
		{perArea("1 cfm/ft2"), 4.719474e-4 / 9.290304e-2, 1e-6},
		{perLength("1 cfm/ft"), 4.719474e-4 / 3.048e-1, 1e-6},
		{perArea("0.40 cfm/ft2"), perArea("2.0 L/(s m2)"), 0.025},
		{perArea("1.0 cfm/ft2"), perArea("5.0 L/(s m2)"), 0.02},
		{pressure("0.10 inH2O"), 24.9, 0.0005},
		{pressure("1 inH2O"), 249.0889, 1e-6},
	} {
		if math.Abs(c.got-c.want) > c.within*c.want {
			t.Errorf("%g, want %g", c.got, c.want)
		}
	}
}

func check(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Error(err)
	}
}

// International yard 1959: 1 cfm/ft2 is a foot a minute, 5.08 L/(s m2) and 18.288 m3/(h m2), without a rest.
func TestRates_Identity(t *testing.T) {
	for _, same := range [][]string{
		{"1 cfm/ft2", "5.08 L/(s m2)", "18.288 m3/(h m2)", "18.288"}, {"1 L/(s·m2)", "3.6 m3/(h·m2)"},
		{"0.015240 m3/(h m2)", "0.01524"},
	} {
		first, err := ParseFlowPerArea(same[0])
		check(t, err)
		for _, text := range same[1:] {
			if got, err := ParseFlowPerArea(text); err != nil || got != first {
				t.Errorf("%s: %d, %v; want %d", text, got, err, first)
			}
		}
	}
	if a, _ := ParseFlowPerLength("1 L/(s m)"); a != 3_600_000_000_000 {
		t.Errorf("1 L/(s m) is %d square micrometres an hour", a)
	}
	if p, _ := ParsePressure("24.9 Pa"); p != 24_900_000 || p.Pa() != "24.9" {
		t.Errorf("24.9 Pa is %d, %s", p, p.Pa())
	}
	for unit, name := range map[string]string{"3 m3/(h·m)": "m3/(h m)", "0.5 cfm/ft2": "cfm/ft2"} {
		if got, ok := RateUnit(unit); !ok || got != name {
			t.Errorf("%s is written in %q, %v; want %s", unit, got, ok, name)
		}
	}
	if got, ok := RateUnit("3 mm"); ok {
		t.Errorf("3 mm is a rate in %s", got)
	}
}

// A rate over an area is none over a length, whatever looks alike: 12.5 m3/(h m) is no 12.5 m3/(h m2).
func TestRates_Refuses(t *testing.T) {
	for _, text := range []string{"12.5 m3/(h m)", "3 m3/h", "1 mm"} {
		if v, err := ParseFlowPerArea(text); err == nil {
			t.Errorf("%s is %d over an area", text, v)
		}
	}
	for _, text := range []string{"50 m3/(h m2)", "3 m3/h"} {
		if v, err := ParseFlowPerLength(text); err == nil {
			t.Errorf("%s is %d over a length", text, v)
		}
	}
	if p, err := ParsePressure("1 psf"); err == nil {
		t.Errorf("1 psf is %d uPa without a rest", p)
	}
}
