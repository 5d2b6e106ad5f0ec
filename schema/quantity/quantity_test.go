package quantity

import (
	"math"
	"strings"
	"testing"
)

// Conversion factors: international yard and pound agreement 1959 (inch, pound),
// standard gravity 9.80665 m/s2 (3rd CGPM 1901); GNU units 2.22 for psf, cfm, lbf.
func TestParse_Published(t *testing.T) {
	lengths := map[string]Length{
		"1/64 in": 396_875, "1/2 in": 12_700_000, "12.7 mm": 12_700_000, "12.7": 12_700_000, "0.0127 m": 12_700_000, "1.27 cm": 12_700_000,
		"7/16 in": 11_112_500, "1 1/2 in": 38_100_000, "32 in": 812_800_000, "1 ft": 304_800_000, "-12 mm": -12_000_000, "0 mm": 0, "3/4 inches": 19_050_000,
		"0.000001 mm": 1,
	}
	for text, want := range lengths {
		if got, err := ParseLength(text); err != nil || got != want {
			t.Errorf("ParseLength(%q) = %d, %v; want %d", text, got, err, want)
		}
	}
	forces := map[string]Force{"22.2 N": 22_200_000_000_000_000, "5 lbf": 22_241_108_076_302_500, "5": 5_000_000_000_000_000, "0.01 lbf": 44_482_216_152_605, "1 kgf": 9_806_650_000_000_000}
	for text, want := range forces {
		if got, err := ParseForce(text); err != nil || got != want {
			t.Errorf("ParseForce(%q) = %d, %v; want %d", text, got, err, want)
		}
	}
	areas := map[string]Area{"76 cm2": 7_600_000_000_000_000, "7600 mm2": 7_600_000_000_000_000, "1 in2": 645_160_000_000_000, "76": 7_600_000_000_000_000, "0.0076 m2": 7_600_000_000_000_000}
	for text, want := range areas {
		if got, err := ParseArea(text); err != nil || got != want {
			t.Errorf("ParseArea(%q) = %d, %v; want %d", text, got, err, want)
		}
	}
	si := []struct {
		kind Kind
		text string
		want float64
	}{
		{KindPressure, "1.57 psf", 75.172007}, {KindFlow, "0.5 cfm", 0.23597372e-3}, {KindFlow, "36 m3/h", 0.01}, {KindArea, "12 cm2", 0.0012},
		{KindAirChange, "0.6 1/h", 0.6}, {KindAirChange, "0.6 /h", 0.6}, {KindAirChange, "0.6/h", 0.6}, {KindDegreeDays, "2900 K d", 2900}, {KindDegreeDays, "5400 F d", 3000}, {KindShare, "10 %", 0.1}, {KindArea, "100 ft2", 9.290304}, {KindTemperature, "68 F", 20}, {KindTemperature, "20 C", 20}, {KindDuration, "10 years", 10}, {KindPressure, "50", 50},
	}
	for _, c := range si {
		if got, err := ParseSI(c.kind, c.text); err != nil || math.Abs(got-c.want) > 1e-6*math.Abs(c.want) {
			t.Errorf("ParseSI(%s, %q) = %v, %v; want %v", c.kind, c.text, got, err, c.want)
		}
	}
}

// A 0 before other figures says nothing; in other places it marks an octal number.
func TestParse_LeadingZeros(t *testing.T) {
	for zeros, plain := range map[string]string{
		"011/64 in": "11/64 in", "09/64 in": "9/64 in", "1 011/064 in": "1 11/64 in", "1/08 in": "1/8 in", "-07/010 in": "-7/10 in",
		"0/8 in": "0 in", "00/08 in": "0 in", "1 0/8 in": "1 in", "010 mm": "10 mm", "012.50 mm": "12.5 mm", "0000000000011/64 in": "11/64 in",
	} {
		got, err := ParseLength(zeros)
		want, wrong := ParseLength(plain)
		if err != nil || wrong != nil || got != want {
			t.Errorf("%s reads as %s mm, %v; want %s mm, %v", zeros, got.MM(), err, want.MM(), wrong)
		}
	}
	if s, err := ParseSlope("1:012"); err != nil || s != (Slope{1, 12}) {
		t.Errorf("1:012 reads as %v, %v", s, err)
	}
}

func TestParse_Refuses(t *testing.T) {
	cases := map[string]string{
		"5 kg": "a mass", "5 N": "a force", "13 furlong": `unit "furlong"`, "": "write a length", "mm": "write a length", "1/0 in": "write a length",
		"1/2/3 in": "write a length", "1.5 1/2 in": "write a length", "0.0000001 mm": "finer than a nanometre", "1/3 mm": "finer than a nanometre",
		"9999999999999 m": "far beyond", "1e3 mm": `unit "e3 mm"`, "--1 mm": "write a length", "12,7 mm": "decimal point", "NaN": "write a length", "0x10 mm": `unit "x10 mm"`,
		strings.Repeat("9", 5000) + " mm": "write a length", ". mm": "write a length", "- mm": "write a length",
	}
	for text, want := range cases {
		_, err := ParseLength(text)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("ParseLength(%.40q): error %v; want it to say %q", text, err, want)
		}
	}
	if _, err := ParseForce("5 lb"); err == nil || !strings.Contains(err.Error(), "5 lbf") {
		t.Errorf("5 lb must point to lbf: %v", err)
	}
}

func TestFormat_Identity(t *testing.T) {
	for _, text := range []string{"12.7", "6.35", "0", "-12", "0.396875", "2040"} {
		l, err := ParseLength(text)
		if err != nil || l.MM() != text {
			t.Errorf("%q reads and prints as %q (%v)", text, l.MM(), err)
		}
	}
	inches := map[Length]string{12_700_000: "1/2", 19_050_000: "3/4", 396_875: "1/64", 38_100_000: "1 1/2", 812_800_000: "32", 13_000_000: "0.512", -12_700_000: "-1/2"}
	for l, want := range inches {
		if l.Inches() != want {
			t.Errorf("%d nm = %s in, want %s", l, l.Inches(), want)
		}
	}
	if a := 76 * 100 * SquareMillimetre; a.CM2() != "76" || a.In(Metric) != "76 cm2" || a.In(Imperial) != "11.78 in2" {
		t.Errorf("76 cm2 prints as %s, %s and %s", a.CM2(), a.In(Metric), a.In(Imperial))
	}
	if got := (5 * PoundForce).Lbf(); got != "5" {
		t.Errorf("5 lbf prints as %s", got)
	}
	if got := (22_200_000_000_000_000 * Femtonewton).N(); got != "22.2" {
		t.Errorf("22.2 N prints as %s", got)
	}
	for mm, want := range map[Length]string{0: "0.0", 500_000: "+0.5", -2_500_000: "-2.5", -10_000: "0.0"} {
		if got := mm.Signed(1); got != want {
			t.Errorf("Signed(%d) = %s, want %s", mm, got, want)
		}
	}
}

func FuzzParseLength(f *testing.F) {
	for _, s := range []string{"13 mm", "1/2 in", "1 1/2 in", "-", "5 kg", "1/h", "٣ mm"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		l, err := ParseLength(s)
		if err == nil {
			again, err := ParseLength(l.MM() + " mm")
			if err != nil || again != l {
				t.Errorf("%q -> %s mm -> %d, %v", s, l.MM(), again, err)
			}
		}
	})
}
