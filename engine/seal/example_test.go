package seal_test

import (
	"fmt"
	"math"
	"strings"

	"sillwright/engine/air"
	"sillwright/engine/catalogue"
	"sillwright/engine/crack"
	"sillwright/engine/doubt"
	"sillwright/engine/gap"
	"sillwright/engine/seal"
)

// The tables show what the built-in catalogue predicts: one metre of seal on a level floor, standard air, feet closed, gap read without
// error. A figure is likely (low to high), L/s per metre.

// on is a seal of the built-in catalogue on a floor; "" is a smooth face.
func on(floor, name string) seal.Fitted {
	c, err := catalogue.Generic()
	if err != nil {
		panic(err)
	}
	s, ok := c.Seal(name)
	if !ok {
		panic("no seal " + name)
	}
	f := seal.Fitted{Name: name, Model: s.Model}
	if floor != "" {
		if f.Floor, err = seal.TextureOf(floor); err != nil {
			panic(err)
		}
	}
	return f
}

// set gives a seal its overlap, mm.
func set(f seal.Fitted, overlap float64) seal.Fitted {
	f.Overlap = overlap / 1000
	return f
}

// level is a metre of edge with one gap, mm.
func level(height float64, seals ...seal.Fitted) seal.Edge { return floorOf(1, seals, height) }

// floorOf is an edge of a width (m) with gaps (mm) read at even distances from end to end.
func floorOf(width float64, seals []seal.Fitted, gaps ...float64) seal.Edge {
	var readings []gap.Reading
	for i, g := range gaps {
		readings = append(readings, gap.Reading{At: width * float64(i) / math.Max(float64(len(gaps)-1), 1), Gap: g / 1000})
	}
	line, err := gap.New(width, readings)
	if err != nil {
		panic(err)
	}
	return seal.Edge{Line: line, LeafThickness: 0.040, Seals: seals}
}

type row struct {
	name string
	edge seal.Edge
}

func leakage(e seal.Edge, dp float64) seal.Flow {
	f, err := e.Leakage(dp, air.Standard())
	if err != nil {
		panic(err)
	}
	return f
}

// table prints rows at 4, 10 and 50 Pa.
func table(rows ...row) {
	fmt.Printf("%-25s %-23s %-23s %s\n", "L/s per metre", "4 Pa", "10 Pa", "50 Pa")
	for _, r := range rows {
		cells := make([]string, 0, 3)
		for _, dp := range []float64{4, 10, 50} {
			cells = append(cells, fmt.Sprintf("%-23s", band(leakage(r.edge, dp).Band())))
		}
		fmt.Println(strings.TrimRight(fmt.Sprintf("%-25s %s", r.name, strings.Join(cells, " ")), " "))
	}
}

func band(b doubt.Range) string {
	return fmt.Sprintf("%s (%s to %s)", litres(b.Likely), litres(b.Low), litres(b.High))
}

// litres gives L/s in two figures, from 100 in three.
func litres(q float64) string {
	q *= 1000
	decimals := 0
	for decimals < 4 && q > 0 && q*math.Pow(10, float64(decimals)) < 9.95 {
		decimals++
	}
	return fmt.Sprintf("%.*f", decimals, q)
}

// A bare gap under a leaf of 40 mm, straight and with one bend. Above a quarter of the leaf thickness the band spans slot and orifice.
func ExampleBare() {
	bent := level(3)
	bent.Bends = 1
	table(
		row{"gap 0.5 mm", level(0.5)}, row{"gap 1 mm", level(1)}, row{"gap 3 mm", level(3)}, row{"gap 3 mm, one bend", bent},
		row{"gap 10 mm", level(10)}, row{"gap 28 mm", level(28)},
	)
	// Output:
	// L/s per metre             4 Pa                    10 Pa                   50 Pa
	// gap 0.5 mm                0.057 (0.046 to 0.072)  0.14 (0.11 to 0.18)     0.69 (0.55 to 0.87)
	// gap 1 mm                  0.44 (0.35 to 0.55)     1.0 (0.83 to 1.3)       4.0 (3.2 to 5.1)
	// gap 3 mm                  4.9 (3.9 to 6.2)        8.5 (6.8 to 11)         21 (16 to 26)
	// gap 3 mm, one bend        4.0 (3.2 to 5.0)        6.8 (5.4 to 8.6)        16 (13 to 21)
	// gap 10 mm                 21 (15 to 26)           33 (24 to 41)           74 (54 to 93)
	// gap 28 mm                 45 (36 to 67)           71 (57 to 107)          160 (127 to 239)
}

// A fine brush of 30 mm on tile: a millimetre of daylight costs far more than three millimetres of squash.
func ExampleBrush() {
	brush := on("tile", "brush-fine-30")
	var rows []row
	for _, overlap := range []float64{-3, -1, 0, 1, 3} {
		rows = append(rows, row{fmt.Sprintf("overlap %g mm", overlap), level(30-overlap, set(brush, overlap))})
	}
	table(rows...)
	// Output:
	// L/s per metre             4 Pa                    10 Pa                   50 Pa
	// overlap -3 mm             5.2 (4.1 to 7.4)        8.5 (6.9 to 12)         21 (17 to 31)
	// overlap -1 mm             1.9 (1.5 to 2.6)        3.5 (2.7 to 5.1)        11 (7.6 to 17)
	// overlap 0 mm              0.35 (0.15 to 1.0)      0.86 (0.36 to 2.5)      4.1 (1.7 to 11)
	// overlap 1 mm              0.33 (0.13 to 1.0)      0.83 (0.31 to 2.5)      4.0 (1.6 to 11)
	// overlap 3 mm              0.36 (0.14 to 1.1)      0.88 (0.34 to 2.6)      4.3 (1.7 to 12)
}

// Tufted brushes on tile leak through the channels between their tufts.
func ExampleBrush_tufted() {
	var rows []row
	for _, length := range []float64{50, 100} {
		brush := on("tile", fmt.Sprintf("tufted-%g", length))
		for _, overlap := range []float64{-1, 0, 3} {
			rows = append(rows, row{fmt.Sprintf("%g mm, overlap %g mm", length, overlap), level(length-overlap, set(brush, overlap))})
		}
	}
	table(rows...)
	// Output:
	// L/s per metre             4 Pa                    10 Pa                   50 Pa
	// 50 mm, overlap -1 mm      7.4 (4.8 to 12)         15 (10 to 23)           46 (33 to 69)
	// 50 mm, overlap 0 mm       6.2 (3.8 to 10)         13 (8.2 to 21)          40 (28 to 63)
	// 50 mm, overlap 3 mm       5.8 (3.5 to 9.7)        12 (7.7 to 20)          38 (26 to 61)
	// 100 mm, overlap -1 mm     19 (12 to 29)           36 (24 to 54)           106 (76 to 161)
	// 100 mm, overlap 0 mm      17 (11 to 28)           33 (22 to 52)           98 (70 to 155)
	// 100 mm, overlap 3 mm      17 (11 to 27)           33 (22 to 51)           95 (67 to 146)
}

// A blade of 10 mm in a tufted brush of 50 mm, by where it stands; just touching on tile. The nearer the tips, the wider the channels
// that it closes.
func ExampleBrush_embedded() {
	f := on("tile", "tufted-50-blade-10")
	rows := []row{{"no blade", level(50, on("tile", "tufted-50"))}}
	for _, at := range []struct {
		name  string
		reach float64
	}{{"at the root", 10}, {"at mid height", 30}, {"at the tips", 50}} {
		b := f.Model.(seal.Brush)
		b.Embedded = &seal.Embedded{Height: 0.010, Reach: doubt.Exactly(at.reach / 1000)}
		rows = append(rows, row{at.name, level(50, seal.Fitted{Name: f.Name, Model: b, Floor: f.Floor})})
	}
	table(rows...)
	// Output:
	// L/s per metre             4 Pa                    10 Pa                   50 Pa
	// no blade                  6.2 (3.8 to 10)         13 (8.2 to 21)          40 (28 to 63)
	// at the root               5.3 (3.3 to 8.8)        11 (7.1 to 17)          34 (23 to 53)
	// at mid height             5.0 (3.0 to 8.2)        10 (6.6 to 17)          32 (22 to 51)
	// at the tips               4.6 (2.7 to 7.7)        9.6 (6.1 to 16)         31 (21 to 49)
}

// Blades of 12 mm: the texture of the floor rules them. The band of two or three lips includes that a jet passes straight from one
// to the next.
func ExampleBlade() {
	var rows []row
	for _, floor := range []string{"tile", "stone"} {
		for i, name := range []string{"single", "double", "triple"} {
			rows = append(rows, row{fmt.Sprintf("%d on %s, pressed 1 mm", i+1, floor), level(11, set(on(floor, "blade-"+name+"-12"), 1))})
		}
	}
	rows = append(rows, row{"1 on tile, daylight 1 mm", level(13, set(on("tile", "blade-single-12"), -1))})
	table(rows...)
	// Output:
	// L/s per metre             4 Pa                    10 Pa                   50 Pa
	// 1 on tile, pressed 1 mm   0.093 (0.011 to 0.53)   0.22 (0.027 to 1.0)     0.84 (0.14 to 2.7)
	// 2 on tile, pressed 1 mm   0.048 (0.0054 to 0.32)  0.12 (0.014 to 0.64)    0.48 (0.069 to 1.8)
	// 3 on tile, pressed 1 mm   0.032 (0.0036 to 0.23)  0.078 (0.0091 to 0.48)  0.34 (0.046 to 1.4)
	// 1 on stone, pressed 1 mm  1.5 (0.49 to 3.4)       2.5 (0.93 to 5.5)       5.6 (2.5 to 12)
	// 2 on stone, pressed 1 mm  1.0 (0.29 to 2.4)       1.7 (0.58 to 3.9)       4.0 (1.6 to 8.9)
	// 3 on stone, pressed 1 mm  0.84 (0.21 to 2.0)      1.4 (0.43 to 3.2)       3.2 (1.3 to 7.4)
	// 1 on tile, daylight 1 mm  1.8 (1.4 to 2.8)        2.9 (2.3 to 4.5)        6.6 (5.2 to 10)
}

// A bulb gasket of 8 mm at a stop, made to be pressed 1 to 4 mm. Pressed less, the high end takes it as lifted by what is lacking.
func ExampleGasket() {
	var rows []row
	for _, pressed := range []float64{-1, 0, 0.5, 1, 3} {
		rows = append(rows, row{fmt.Sprintf("pressed %g mm", pressed), level(8-pressed, set(on("", "gasket-bulb-8"), pressed))})
	}
	table(rows...)
	// Output:
	// L/s per metre             4 Pa                    10 Pa                   50 Pa
	// pressed -1 mm             2.7 (1.7 to 4.1)        4.5 (2.9 to 6.7)        11 (6.7 to 15)
	// pressed 0 mm              0.39 (0.026 to 2.3)     0.85 (0.067 to 3.8)     2.7 (0.33 to 8.9)
	// pressed 0.5 mm            0.15 (0.021 to 1.0)     0.36 (0.053 to 1.9)     1.4 (0.27 to 5.1)
	// pressed 1 mm              0.029 (0.0034 to 0.11)  0.073 (0.0086 to 0.26)  0.35 (0.043 to 1.1)
	// pressed 3 mm              0.029 (0.0034 to 0.11)  0.073 (0.0086 to 0.26)  0.35 (0.043 to 1.1)
}

// A drop seal that falls up to 12 mm, on tile. It follows hollows of a millimetre, and ends where its fall does.
func ExampleDropSeal() {
	f := on("tile", "drop-seal-12")
	table(
		row{"gap 6 mm", level(6, f)}, row{"gap 12 mm", level(12, f)}, row{"gap 13 mm", level(13, f)},
		row{"gap 6 mm, hollow of 1 mm", floorOf(1, []seal.Fitted{f}, 6, 7, 6)},
		row{"gap 6 mm, hollow of 3 mm", floorOf(1, []seal.Fitted{f}, 6, 9, 6)},
	)
	// Output:
	// L/s per metre             4 Pa                    10 Pa                   50 Pa
	// gap 6 mm                  0.029 (0.0034 to 0.24)  0.073 (0.0086 to 0.54)  0.35 (0.043 to 2.0)
	// gap 12 mm                 0.029 (0.0034 to 0.24)  0.073 (0.0086 to 0.54)  0.35 (0.043 to 2.0)
	// gap 13 mm                 2.1 (1.5 to 2.8)        3.5 (2.6 to 4.7)        8.4 (6.1 to 11)
	// gap 6 mm, hollow of 1 mm  0.029 (0.0034 to 0.48)  0.073 (0.0086 to 1.0)   0.35 (0.043 to 3.1)
	// gap 6 mm, hollow of 3 mm  1.3 (0.029 to 2.2)      2.3 (0.072 to 3.8)      5.5 (0.34 to 9.0)
}

// Two seals one behind the other in a gap of 10 mm on tile: the tight one rules.
func ExampleEdge_series() {
	brush, falls := on("tile", "brush-fine-15"), on("tile", "drop-seal-12")
	table(
		row{"fine brush", level(10, brush)}, row{"drop seal", level(10, falls)},
		row{"both", level(10, brush, falls)},
		row{"both, brush 1 mm short", level(10, set(brush, -1), falls)},
	)
	// Output:
	// L/s per metre             4 Pa                    10 Pa                   50 Pa
	// fine brush                0.19 (0.091 to 0.57)    0.47 (0.22 to 1.3)      2.2 (1.0 to 5.8)
	// drop seal                 0.029 (0.0034 to 0.24)  0.073 (0.0086 to 0.54)  0.35 (0.043 to 2.0)
	// both                      0.026 (0.0034 to 0.12)  0.063 (0.0085 to 0.29)  0.31 (0.043 to 1.2)
	// both, brush 1 mm short    0.029 (0.0034 to 0.22)  0.072 (0.0086 to 0.51)  0.34 (0.043 to 1.8)
}

// What a gap that was read to half a millimetre does to the band: the seal may have that much less overlap, or more.
func ExampleEdge_readingError() {
	var rows []row
	for _, overlap := range []float64{0, 1} {
		for _, wrong := range []float64{0, 0.5} {
			e := level(30-overlap, set(on("tile", "brush-fine-30"), overlap))
			e.ReadingError = wrong / 1000
			rows = append(rows, row{fmt.Sprintf("overlap %g mm, read to %g", overlap, wrong), e})
		}
	}
	table(rows...)
	// Output:
	// L/s per metre             4 Pa                    10 Pa                   50 Pa
	// overlap 0 mm, read to 0   0.35 (0.15 to 1.0)      0.86 (0.36 to 2.5)      4.1 (1.7 to 11)
	// overlap 0 mm, read to 0.5 0.35 (0.15 to 1.4)      0.86 (0.36 to 3.1)      4.1 (1.7 to 12)
	// overlap 1 mm, read to 0   0.33 (0.13 to 1.0)      0.83 (0.31 to 2.5)      4.0 (1.6 to 11)
	// overlap 1 mm, read to 0.5 0.33 (0.13 to 1.0)      0.83 (0.31 to 2.5)      4.0 (1.6 to 11)
}

// The feet of a fine brush under a leaf of 926 mm with a gap of 28 mm, by the clearance at each foot: whole leaf, 50 Pa.
func ExampleFitted_feet() {
	for _, clearance := range []float64{0, 1, 2, 3, 5} {
		f := set(on("tile", "brush-fine-30"), 2)
		f.Foot = doubt.Exactly(clearance / 1000)
		flow := leakage(floorOf(0.926, []seal.Fitted{f}, 28), 50)
		fmt.Printf("%g mm: %s L/s, of it the feet %s\n", clearance, band(flow.Band()), band(flow.Feet))
	}
	// Output:
	// 0 mm: 3.9 (1.5 to 11) L/s, of it the feet 0 (0 to 0)
	// 1 mm: 4.2 (1.8 to 11) L/s, of it the feet 0.31 (0.31 to 0.41)
	// 2 mm: 4.5 (2.1 to 11) L/s, of it the feet 0.62 (0.61 to 0.81)
	// 3 mm: 4.8 (2.4 to 11) L/s, of it the feet 0.93 (0.92 to 1.2)
	// 5 mm: 5.4 (3.0 to 12) L/s, of it the feet 1.6 (1.5 to 2.0)
}

// A fan test of the seal itself narrows the band from a factor of 2.5 to 15 per cent at the overlap that was tested. Elsewhere the model
// carries it. The readings are made up.
func ExampleTest() {
	law, err := crack.Fit([]float64{10, 25, 50, 100}, []float64{0.00085, 0.0020, 0.0038, 0.0071})
	if err != nil {
		panic(err)
	}
	test := seal.Test{Law: law.Law, Air: air.Standard(), Scatter: seal.TestScatter}
	var rows []row
	for _, overlap := range []float64{0, -1, 3} {
		untested := set(on("", "brush-fine-30"), overlap)
		tested := untested
		tested.Tests = []seal.Test{test}
		rows = append(rows,
			row{fmt.Sprintf("overlap %g mm, untested", overlap), level(30-overlap, untested)},
			row{fmt.Sprintf("overlap %g mm, tested", overlap), level(30-overlap, tested)},
		)
	}
	only := seal.Fitted{Name: "own", Model: seal.Measured{Tests: []seal.Test{test}}}
	table(append(rows, row{"only a test, no model", level(30, only)})...)
	// Output:
	// L/s per metre             4 Pa                    10 Pa                   50 Pa
	// overlap 0 mm, untested    0.34 (0.14 to 1.0)      0.83 (0.34 to 2.5)      4.0 (1.7 to 11)
	// overlap 0 mm, tested      0.34 (0.29 to 0.40)     0.84 (0.71 to 0.99)     3.8 (3.3 to 4.5)
	// overlap -1 mm, untested   1.9 (1.5 to 2.6)        3.5 (2.7 to 5.1)        11 (7.6 to 17)
	// overlap -1 mm, tested     1.9 (1.4 to 2.4)        3.5 (2.7 to 4.5)        10 (8.2 to 13)
	// overlap 3 mm, untested    0.36 (0.14 to 1.1)      0.88 (0.34 to 2.6)      4.3 (1.7 to 12)
	// overlap 3 mm, tested      0.36 (0.25 to 0.47)     0.89 (0.64 to 1.2)      4.1 (3.2 to 5.3)
	// only a test, no model     0.34 (0.29 to 0.40)     0.84 (0.71 to 0.99)     3.8 (3.3 to 4.5)
}

// What it costs to hang a seal 1 mm higher, on tile at 50 Pa: L/s of a leaf of 926 mm. On a level floor the seal just touches. The other
// floor falls by 3 mm and the seal is set 0.5 mm over its widest place: there the brush gains by less squash what it loses by daylight.
func ExampleEdge_Higher() {
	for _, name := range []string{"brush-fine-30", "tufted-50", "blade-single-12"} {
		level := floorOf(0.926, []seal.Fitted{on("tile", name)}, 28)
		falling := floorOf(0.926, []seal.Fitted{set(on("tile", name), 0.5)}, 28, 29, 31)
		for _, e := range []seal.Edge{level, falling} {
			as, raised := leakage(e, 50), leakage(e.Higher(0.001), 50)
			fmt.Printf("%-15s fall %.0f mm: %-20s raised %s\n", name, 1e3*(e.Line.Widest()-e.Line.Narrowest()), band(as.Band()), band(raised.Band()))
		}
	}
	// Output:
	// brush-fine-30   fall 0 mm: 3.8 (1.6 to 10)      raised 9.8 (7.1 to 16)
	// brush-fine-30   fall 3 mm: 3.9 (1.5 to 11)      raised 3.9 (1.6 to 11)
	// tufted-50       fall 0 mm: 36 (25 to 56)        raised 41 (30 to 61)
	// tufted-50       fall 3 mm: 35 (24 to 55)        raised 36 (25 to 55)
	// blade-single-12 fall 0 mm: 0.78 (0.13 to 2.5)   raised 6.1 (4.8 to 9.6)
	// blade-single-12 fall 3 mm: 0.78 (0.13 to 2.5)   raised 1.0 (0.34 to 2.6)
}

// Which path is the largest: a door of 926 by 2040 mm at 50 Pa with gaskets all round, a fine brush with its feet, and a keyhole.
func ExampleTotal() {
	brush := set(on("tile", "brush-fine-30"), 0.5)
	brush.Foot = doubt.Range{Low: 0.0005, Likely: 0.002, High: 0.004}
	bottom := leakage(floorOf(0.926, []seal.Fitted{brush}, 28, 29, 31), 50)
	gasket := []seal.Fitted{set(on("", "gasket-bulb-8"), 2)}
	stops, err1 := seal.Slit{Length: 2*2.040 + 0.926, Gap: 0.006, Depth: 0.040, Seals: gasket}.Leakage(50, air.Standard())
	keyhole, err2 := seal.Hole{Area: 0.5e-4}.Leakage(50, air.Standard())
	if err1 != nil || err2 != nil {
		panic("no flow")
	}
	fmt.Println("bottom ", band(bottom.Band()), "of it the feet", band(bottom.Feet))
	fmt.Println("stops  ", band(stops.Band()))
	fmt.Println("keyhole", band(keyhole.Band()))
	all := seal.Total(bottom, stops, keyhole)
	fmt.Println("door   ", band(all.Range), "L/s, exponent", fmt.Sprintf("%.2f", all.Exponent))
	fmt.Printf("to know more: %s (%s), %.0f per cent of the width of the band\n", all.Largest.Settle, all.Largest.Name, 100*all.Share)
	// Output:
	// bottom  4.5 (2.1 to 11) of it the feet 0.66 (0.16 to 1.4)
	// stops   1.7 (0.22 to 5.5)
	// keyhole 0.28 (0.27 to 0.36)
	// door    6.6 (3.7 to 15) L/s, exponent 0.89
	// to know more: weigh a cut length of the brush, without its carrier (solid fraction), 33 per cent of the width of the band
}
