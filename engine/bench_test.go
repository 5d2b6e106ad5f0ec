package engine

import (
	"fmt"
	"strings"
	"testing"

	"sillwright/schema/fact"
)

// A leaf with its head, hinge and latch gasketed and a letter plate, three readings, a swing of two angles.
const scored = `
door: {operation: hinged, thickness: 40 mm}
floor: {under_seal: tile, swept: tile}
leaves:
  - {id: A, width: 926 mm, gap: {readings: [{at: 0 mm, gap: 28 mm}, {at: 463 mm, gap: 29 mm}, {at: 926 mm, gap: 31 mm}], reading_error: 0.5 mm}}
paths:
  - {path: head, length: 926 mm, gap: 5 mm, seal: gasket-bulb-8}
  - {path: hinge, length: 2040 mm, gap: 5 mm, seal: gasket-bulb-8}
  - {path: latch, length: 2040 mm, gap: 5 mm, seal: gasket-bulb-8}
  - {path: letter-plate, area: 1 cm2}
options: [{id: x, %s}]
`

// One option with its leakage and band, its contacts and its drag. One core of an Intel Xeon, Go 1.26:
//
//	2026-11-26  us: bare 5, fine brush 24, tufted 31, with blade 32, two blades 11, drop seal 10, brush and drop seal in series 31
func BenchmarkOption(b *testing.B) {
	for _, option := range []string{
		"seal: none", "seal: brush-fine-30, set: {overlap: 0 mm}", "seal: tufted-50, set: {overlap: 0 mm}", "seal: tufted-50-blade-10, set: {overlap: 0 mm}",
		"seal: blade-double-12, set: {overlap: 0 mm}", "seal: drop-seal-12",
		"fits: [{edge: bottom, order: 1, seal: brush-fine-30, set: {overlap: 0 mm}}, {edge: bottom, order: 2, seal: drop-seal-12}]",
	} {
		d, c := read(b, fmt.Sprintf(scored, option)), generic(b)
		shared := newScoring(d, c)
		if o := shared.option(d.Options[0]); o.Leakage == nil {
			b.Fatal(o.Missing)
		}
		b.Run(option, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				shared.option(d.Options[0])
			}
		})
	}
}

// What is left of an option after the life that is asked. One core of an Intel Xeon, Go 1.26:
//
//	2026-11-26  us: fine brush 61, tufted 71, two blades 51, drop seal 2
func BenchmarkWorn(b *testing.B) {
	const swing = "swing: [{angle: 45 deg, gap: 28 mm}, {angle: 90 deg, gap: 28 mm}], reading_error"
	for _, option := range []string{
		"seal: brush-fine-30, set: {overlap: 0 mm}", "seal: tufted-50, set: {overlap: 0 mm}", "seal: blade-double-12, set: {overlap: 0 mm}", "seal: drop-seal-12",
	} {
		src := strings.Replace(fmt.Sprintf(scored, option), "reading_error", swing, 1) + "duty: {cycles_per_day: 40, life: 10 years}\n"
		d, c := read(b, src), generic(b)
		shared := newScoring(d, c)
		o := shared.option(d.Options[0])
		if o.Worn() == nil || o.Worn().Leakage == nil {
			b.Fatalf("%+v", o.Worn())
		}
		b.Run(option, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				shared.worn(d.Options[0], o.Leakage, o.Missing)
			}
		})
	}
}

// What an option leaks at the pressures of published tests, which is computed only where a rule asks for it. One core of an AMD EPYC, Go
// 1.26:
//
//	2026-11-26  us: bare 34, fine brush 119, drop seal 57
func BenchmarkRates(b *testing.B) {
	for _, option := range []string{"seal: none", "seal: brush-fine-30, set: {overlap: 0 mm}", "seal: drop-seal-12"} {
		d, c := read(b, fmt.Sprintf(scored, option)), generic(b)
		b.Run(option, func(b *testing.B) {
			at := newScoring(d, c).atPressures()
			for b.Loop() {
				putRates(fact.Set{}, at, d.Options[0])
			}
		})
	}
}

// A whole door of four options as rules read it, and with what is left of each after its life. One core of an Intel Xeon, Go 1.26:
//
//	2026-11-26  us: 117 as rules read it, 240 with what is left
func BenchmarkMeasure(b *testing.B) {
	option := "seal: brush-fine-30, set: {overlap: 0 mm}}, {id: y, seal: blade-double-12, set: {overlap: 0 mm}}, {id: z, seal: drop-seal-12}, {id: none, seal: none"
	const swing = "swing: [{angle: 45 deg, gap: 28 mm}, {angle: 90 deg, gap: 28 mm}], reading_error"
	d, c := read(b, strings.Replace(fmt.Sprintf(scored, option), "reading_error", swing, 1)+"duty: {cycles_per_day: 40, life: 10 years}\n"), generic(b)
	for _, late := range []bool{false, true} {
		b.Run(fmt.Sprintf("late=%v", late), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				for _, o := range Measure(d, c).Options {
					if late {
						o.Worn()
					}
				}
			}
		})
	}
}
