package engine

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"sillwright/schema/quantity"
)

// autoSpec has a leaf over a floor that falls by 2 mm, and a swing 1 mm tighter than its widest gap.
const autoSpec = `
door: {operation: hinged, height: 2040 mm, thickness: 40 mm}
floor: {under_seal: tile, swept: tile}
leaves:
  - {id: A, width: 900 mm, gap: {readings: [{at: 0 mm, gap: 8 mm}, {at: 450 mm, gap: 9 mm}, {at: 900 mm, gap: 10 mm}], swing: [{angle: 90 deg, gap: 9 mm}], reading_error: 0.5 mm}}
options:
  - {id: x, %s}
`

func offered(t *testing.T, option string) []Offer {
	t.Helper()
	return Measure(read(t, fmt.Sprintf(autoSpec, option)), generic(t)).Options[0].Offers
}

func overlapsOf(offers []Offer) []quantity.Length {
	var out []quantity.Length
	for _, o := range offers {
		out = append(out, o.Overlap)
	}
	return out
}

// Both ends of what a seal can follow are offered, and something beyond each, in rising order, each once; no more than is quickly judged.
func TestOffersReachBothEndsOfTheRange(t *testing.T) {
	mm := quantity.Length(quantity.Millimetre)
	for option, ends := range map[string][2]quantity.Length{ // least, most - 2 mm that the gap varies
		"seal: brush-fine-15, set: auto":                                    {0, mm},
		"seal: brush-fine-15, set: {auto: true, now: -2 mm}":                {0, mm},
		"seal: blade-double-12, set: auto":                                  {0, mm},
		"seal: gasket-v-8, set: auto":                                       {mm, 3 * mm},
		"seal: tufted-50, set: auto":                                        {0, 25*mm/4 - 2*mm}, // no range: an eighth of its length
		"fits: [{edge: bottom, seal: brush-fine-20, set: auto}]":            {0, mm},
		"fits: [{edge: bottom, seal: gasket-bulb-8, set: auto}]":            {mm, 2 * mm},
		"fits: [{edge: bottom, leaf: A, seal: blade-single-12, set: auto}]": {0, mm},
	} {
		got := overlapsOf(offered(t, option))
		if len(got) < 5 || len(got) > mostSteps+6 || !slices.IsSorted(got) || len(slices.Compact(slices.Clone(got))) != len(got) {
			t.Errorf("%s: %v", option, got)
			continue
		}
		for _, want := range []quantity.Length{0, ends[0], ends[1]} {
			if !slices.Contains(got, want) {
				t.Errorf("%s: %v without %v", option, got, want)
			}
		}
		if got[0] >= ends[0] || got[len(got)-1] <= ends[1] {
			t.Errorf("%s: %v goes not beyond %v", option, got, ends)
		}
	}
}

// A floor that varies more than the seal follows: both ends are offered in the wrong order, so that rules can say which of them fails where.
func TestOffersOverAFloorThatVariesTooMuch(t *testing.T) {
	spec := strings.Replace(fmt.Sprintf(autoSpec, "seal: brush-fine-15, set: auto"), "at: 900 mm, gap: 10 mm", "at: 900 mm, gap: 13 mm", 1)
	got := overlapsOf(Measure(read(t, spec), generic(t)).Options[0].Offers)
	for _, want := range []quantity.Length{0, -2 * quantity.Millimetre} { // 3 mm that it is made for, less 5 mm
		if !slices.Contains(got, want) {
			t.Errorf("%v without %v", got, want)
		}
	}
	spec = strings.Replace(fmt.Sprintf(autoSpec, "seal: brush-fine-15, set: auto"), "at: 900 mm, gap: 10 mm", "at: 900 mm, gap: 90 mm", 1)
	if got := Measure(read(t, spec), generic(t)).Options[0].Offers; len(got) == 0 || len(got) > mostSteps+6 {
		t.Errorf("%d settings over a floor that varies 82 mm", len(got))
	}
	for _, at := range got {
		if at+2*quantity.Millimetre >= 15*quantity.Millimetre {
			t.Errorf("a setting of %v presses the brush by its whole length", at)
		}
	}
}

// In inches the steps are sixty-fourths.
func TestOffersInInches(t *testing.T) {
	spec := strings.NewReplacer("900 mm", "36 in", "450 mm", "18 in", "2040 mm", "80 in", "40 mm", "1 3/4 in", "0.5 mm", "1/64 in").Replace(fmt.Sprintf(autoSpec, "seal: brush-fine-15, set: auto"))
	got := overlapsOf(Measure(read(t, spec), generic(t)).Options[0].Offers)
	if !slices.Contains(got, quantity.Inch/64) || !slices.Contains(got, quantity.Inch/32) || slices.Contains(got, quantity.Millimetre/2) {
		t.Errorf("%v", got)
	}
}

// Nothing is offered where nothing is to be set, or where the gap is not known.
func TestNothingIsOffered(t *testing.T) {
	for _, option := range []string{
		"seal: none, set: auto", "seal: drop-seal-12, set: auto", "seal: brush-fine-15", "seal: brush-fine-15, set: unknown", "seal: brush-fine-15, set: {overlap: 0 mm}",
		"fits: [{edge: bottom, seal: unknown, set: auto}]", "fits: [{edge: head, seal: gasket-bulb-8, set: auto}]",
	} {
		if got := offered(t, option); got != nil {
			t.Errorf("%s: %d settings", option, len(got))
		}
	}
	spec := strings.Replace(fmt.Sprintf(autoSpec, "seal: brush-fine-15, set: auto"), "leaves:", "leaves:\n  - {id: B, width: 900 mm}", 1)
	spec = strings.Replace(spec, "hinged", "pair", 1)
	o := Measure(read(t, spec), generic(t)).Options[0]
	if o.Offers != nil || o.Set != nil || len(o.Missing) == 0 {
		t.Errorf("a leaf without readings: %d settings, set %v, missing %v", len(o.Offers), o.Set, o.Missing)
	}
}

// An offer is what the same overlap written in the spec gives.
func TestAnOfferIsTheSettingWritten_Identity(t *testing.T) {
	for _, seal := range []string{"brush-fine-15", "blade-double-12", "tufted-50-blade-10", "gasket-bulb-8"} {
		for _, offer := range offered(t, "seal: "+seal+", set: auto") {
			written := Measure(read(t, fmt.Sprintf(autoSpec, "seal: "+seal+", set: {overlap: "+offer.Overlap.MM()+" mm}")), generic(t)).Options[0]
			if *offer.Set != *written.Set || *offer.InRange != *written.InRange {
				t.Errorf("%s at %v: set %v, in range %v", seal, offer.Overlap, *offer.Set, *offer.InRange)
			}
			if offer.Leakage.Range != written.Leakage.Range {
				t.Errorf("%s at %v: leaks %v, written %v", seal, offer.Overlap, offer.Leakage.Range, written.Leakage.Range)
			}
		}
	}
}

// Of two seals the first is offered while the other just touches; set, the other is next.
func TestTwoSealsAreSetOneAfterTheOther(t *testing.T) {
	d := read(t, fmt.Sprintf(autoSpec, "fits: [{edge: bottom, order: 1, seal: brush-fine-15, set: auto}, {edge: bottom, order: 2, seal: gasket-v-8, set: auto}]"))
	c := generic(t)
	fits := func(o Offer) (out []quantity.Length) {
		for _, f := range o.Spec.Fits {
			out = append(out, f.Overlap.Value)
		}
		return out
	}
	first := Measure(d, c).Options[0].Offers
	if i := Unset(d.Options[0], c); i != 0 || len(first) == 0 || fits(first[0])[1] != quantity.Millimetre {
		t.Fatalf("first %d, others %v", i, fits(first[0]))
	}
	d = Set(d, 0, 0, quantity.Millimetre/2)
	second := Measure(d, c).Options[0].Offers
	if i := Unset(d.Options[0], c); i != 1 || len(second) == 0 || fits(second[0])[0] != quantity.Millimetre/2 {
		t.Fatalf("then %d, %v", i, fits(second[0]))
	}
	d = Set(d, 0, 1, quantity.Millimetre)
	if m := Measure(d, c); Unset(d.Options[0], c) != -1 || m.Options[0].Offers != nil || m.Options[0].Leakage == nil {
		t.Errorf("both set: %v", m.Options[0].Missing)
	}
}

// Of a seal of which only tests are known what was tested is offered, and a drop seal's fall is told.
func TestFallOfADropSeal(t *testing.T) {
	o := Measure(read(t, fmt.Sprintf(autoSpec, "seal: drop-seal-12, set: auto")), generic(t)).Options[0]
	if len(o.Falls) != 1 || o.Falls[0].Widest.Gap != 10*quantity.Millimetre || o.Falls[0].Widest.At != 900*quantity.Millimetre || o.Falls[0].Most != 12*quantity.Millimetre {
		t.Errorf("%+v", o.Falls)
	}
	if o := Measure(read(t, fmt.Sprintf(autoSpec, "seal: drop-seal-12")), generic(t)).Options[0]; o.Falls != nil {
		t.Errorf("nobody asked: %+v", o.Falls)
	}
}

// Facts and all settings of an option whose seal is to be set. 2 shared cores, 2026-11-26: 0.4 ms.
func BenchmarkOffers(b *testing.B) {
	for _, option := range []string{"seal: brush-fine-30, set: auto", "seal: tufted-50, set: auto", "seal: blade-double-12, set: auto"} {
		d, c := read(b, fmt.Sprintf(autoSpec, option)), generic(b)
		shared := newScoring(d, c)
		b.Run(option, func(b *testing.B) {
			n := 0
			for b.Loop() {
				n = len(shared.offers(d.Options[0], 0))
			}
			b.ReportMetric(float64(n), "settings")
		})
	}
}
