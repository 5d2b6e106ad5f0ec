package quantity

import (
	"math"
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"
)

// sameAsParse holds what is read in whole numbers of 64 bits against exact fractions, for every kind; it says whether
// anything was read so.
func sameAsParse(t *testing.T, text string) bool {
	t.Helper()
	read := false
	for kind := range kinds {
		value, err := parse(kind, text)
		var w written
		if !w.read(text) {
			continue
		}
		if n, ok := w.exact(quickUnits[kind], int64(maxLength)); ok {
			if read = true; err != nil || !value.IsInt() || value.Num().Int64() != n || !value.Num().IsInt64() || n > int64(maxLength) || n < -int64(maxLength) {
				t.Errorf("%q as %s is %d, exactly %v, %v", text, kind, n, value, err)
			}
		}
		if f, ok := w.float(quickUnits[kind]); ok {
			read = true
			if err != nil {
				t.Errorf("%q as %s is %g, exactly %v", text, kind, f, err)
				continue
			}
			if want, _ := value.Float64(); math.Float64bits(want) != math.Float64bits(f) || math.Abs(want) > 1e12 {
				t.Errorf("%q as %s is %g, exactly %g", text, kind, f, want)
			}
		}
	}
	rise, run, ok := strings.Cut(text, ":")
	s, quickly := quickSlope(rise, run)
	if !ok || !quickly {
		return read
	}
	a, okA := parseNumber(rise)
	b, okB := parseNumber(run)
	if !okA || !okB || b.Sign() <= 0 {
		t.Fatalf("%q is the slope %v, exactly none", text, s)
	}
	if want := a.Quo(a, b); want.Cmp(big.NewRat(s.Rise, s.Run)) != 0 || want.Num().Int64() != s.Rise || want.Denom().Int64() != s.Run || max(s.Rise, -s.Rise, s.Run) > maxSlope {
		t.Errorf("%q is the slope %v, exactly %v", text, s, want)
	}
	return true
}

var hardTexts = []string{"", "-", "0", "-0", "-0.0 mm", "+5 mm", "5 mm ", "5  mm", "5mm", "5", "5.", ".5", "1.5.5", "1/2 in", "1 1/2 in", "1 1/2\"", "-1 1/2 in", "1/0 in", "1 1/0", "1 2", "1 2 in", "1/2/3", "1/h", "21/h", "1 1/h",
	"0.6 1/h", "0.6 /h", "1/2 1/h", "0.6/h", "1 1/2/h", "- 5 mm", "5 lb", "5 kg", "5,5 mm", "100000 m", "100000.000000001 m", "100001 m", "0.0000001 mm", "0.000000001 mm", "4.9999999 mm", "999999999.999999999 lbf", "0.01 lbf", "5.25 lbf",
	"011/64 in", "09/64 in", "1 011/64 in", "1/08 in", "1:50", "-1:50", "0:5", "1:0", "1:-5", "1/3:1/7", "2:4", "999999999:1.000000001", "1 mm:2", "50 °", "50 °C", "68 F", "-40 F", "5 m³/h", "5\tmm", "5\u00a0mm", "5 mm\n", "123456789012 mm", "000000000001 mm", "1 %", "8 cfm", "0.1 psf", "3 m2", "4 ft2", "310 m3", "2900 K d", "2900 Kd", "10 year"}

func TestQuick_Identity(t *testing.T) {
	read := 0
	for _, text := range hardTexts {
		if sameAsParse(t, text) {
			read++
		}
	}
	names := []string{"", "kg", "m3/(h m2)"}
	for name := range units {
		names = append(names, name)
	}
	for name := range aliases {
		names = append(names, name)
	}
	r := rand.New(rand.NewPCG(5, 5))
	for range 60000 {
		var b strings.Builder
		b.WriteString([]string{"", "", "", "-", "+"}[r.IntN(5)])
		for range 1 + r.IntN(4) {
			b.WriteString([]string{"1", "0", "25", "7.3", "12.7", "999999", "/", " ", ".", ":", "1/64", "000"}[r.IntN(12)])
		}
		b.WriteString([]string{"", " "}[r.IntN(2)] + names[r.IntN(len(names))])
		if sameAsParse(t, b.String()) {
			read++
		}
	}
	if read < 10000 {
		t.Errorf("only %d were read quickly", read)
	}
}

func FuzzQuick(f *testing.F) {
	for _, s := range hardTexts {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) { sameAsParse(t, text) })
}

func TestIsLength_Identity(t *testing.T) {
	for _, text := range append(hardTexts, "m", "in", "unknown", "inside", " 5 mm", "\"", "1 ft") {
		if _, err := ParseLength(text); IsLength(text) != (err == nil) {
			t.Errorf("%q: %v, but %v", text, IsLength(text), err)
		}
	}
}
