package flowtest

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"sillwright/engine/air"
	"sillwright/engine/catalogue"
	"sillwright/engine/crack"
	"sillwright/engine/fit"
	"sillwright/engine/seal"
	"sillwright/schema/readings"
)

func read(t testing.TB, name, text string) *readings.File {
	t.Helper()
	f, problems := readings.Read(name, []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return f
}

func tested(t testing.TB, name, text string) *Test {
	t.Helper()
	out, problems := New(read(t, name, text), nil, "")
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return out
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: got %.12g, want %.12g", what, got, want)
	}
}

// table is readings that follow a law, flows in a unit.
func table(law crack.Law, per float64, unit string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "pressure (Pa), flow (%s)\n", unit)
	for _, dp := range []float64{10, 20, 30, 40, 50, 60} {
		fmt.Fprintf(&b, "%g, %.12g\n", dp, per*law.Flow(dp))
	}
	return b.String()
}

var standard = air.Standard()

// The same readings in other units are the same fit.
func TestUnits_Identity(t *testing.T) {
	law := crack.Slot(0.001, 0.03, 1.5, standard)
	first := tested(t, "a", table(law, 1000, "L/s"))
	for unit, per := range map[string]float64{"m3/h": 3600, "m3/s": 1, "cfm": 60 / 0.028316846592} {
		other := tested(t, "b", table(law, per, unit))
		near(t, unit+", C", other.Result.Power.C, first.Result.Power.C, 1e-9)
		near(t, unit+", n", other.Result.Power.N, first.Result.Power.N, 1e-9)
		near(t, unit+", high n", other.Result.Power.Exponent().High, first.Result.Power.Exponent().High, 1e-9)
		near(t, unit+", A", other.Result.Pair.A, first.Result.Pair.A, 1e-9)
	}
}

// Air of both sides, by the direction; that of a barometer, of a height, and what is taken where one of them is not said.
func TestAir_Identity(t *testing.T) {
	law := table(crack.Slot(0.001, 0.03, 1.5, standard), 1000, "L/s")
	state := func(temperature, pressure float64) air.Air {
		a, err := air.At(temperature, pressure)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	high, err := air.Pressure(1000)
	if err != nil {
		t.Fatal(err)
	}
	for keys, want := range map[string]*fit.Conditions{
		"": nil,
		"# temperature: 30 C\n# barometric pressure: 950 hPa\n": {Metered: state(30, 95000), Sample: state(30, 95000)},
		"# temperature: 86 F\n# barometric pressure: 95 kPa\n":  {Metered: state(30, 95000), Sample: state(30, 95000)},
		"# temperature: 30 C\n# altitude: 1000 m\n":             {Metered: state(30, high), Sample: state(30, high)},
		"# altitude: 1000 m\n":                                  {Metered: state(20, high), Sample: state(20, high)},
		"# temperature: 5 C\n":                                  {Metered: state(5, 101325), Sample: state(5, 101325)},
		"# temperature inside: 20 C\n# temperature outside: 5 C\n# direction: pressurise\n# barometric pressure: 101325 Pa\n":   {Metered: state(5, 101325), Sample: state(20, 101325)},
		"# temperature inside: 20 C\n# temperature outside: 5 C\n# direction: depressurise\n# barometric pressure: 101325 Pa\n": {Metered: state(20, 101325), Sample: state(5, 101325)},
	} {
		got := tested(t, "a", keys+law)
		if (got.Conditions == nil) != (want == nil) || want != nil && *got.Conditions != *want {
			t.Errorf("%q: %+v", keys, got.Conditions)
		}
		if (got.Corrected == nil) != (want == nil) {
			t.Errorf("%q: corrected %v", keys, got.Corrected)
		}
		whole := strings.Contains(keys, "arometric") || keys == "" || strings.Contains(keys, "# temperature: 30 C\n# altitude")
		if warned := len(got.Warnings) > 0; warned == whole {
			t.Errorf("%q: %+v", keys, got.Warnings)
		}
	}
}

func TestProblemsOfATest(t *testing.T) {
	law := table(crack.Slot(0.001, 0.03, 1.5, standard), 1000, "L/s")
	for keys, want := range map[string]string{
		"# altitude: 9000 m\n":                                                              "a.csv:1:13: altitude: found altitude is 9000 m; allowed is -500 to 5500 m",
		"# temperature: 20 C\n# barometric pressure: 10 kPa\n":                              "a.csv:2:24: barometric pressure: found air pressure is 10000 Pa",
		"# temperature inside: 90 C\n# temperature outside: 5 C\n# direction: pressurise\n": "a.csv:1:23: temperature inside: found air temperature is 90 C",
		"# temperature inside: 9 C\n# temperature outside: 95 C\n# direction: pressurise\n": "a.csv:2:24: temperature outside: found air temperature is 95 C",
		"# method: iso\n": "a.csv:1:11: method: found method \"iso\"; allowed: one of astm-e779, iso-9972, en-1026",
	} {
		_, problems := New(read(t, "a.csv", keys+law), nil, "")
		if len(problems) != 1 || !strings.Contains(problems[0].Error(), want) {
			t.Errorf("%q: %v, want %s", keys, problems, want)
		}
	}
	down := tested(t, "a.csv", "# direction: pressurise\npressure (Pa), flow (L/s)\n-10, -1\n-20, -1.6\n-30, -2.1\n-40, -2.5\n-50, -2.9\n")
	if len(down.Warnings) != 1 || down.Warnings[0].ID != "direction" || !down.Result.Turned {
		t.Errorf("%+v", down.Warnings)
	}
}

// catalogueOf writes an entry and loads it beside the generic seals.
func catalogueOf(t *testing.T, e Entry, tests ...*Test) *catalogue.Seal {
	t.Helper()
	known, err := catalogue.Generic()
	if err != nil {
		t.Fatal(err)
	}
	out, notes, problems := e.YAML(tests, known)
	if len(problems) > 0 || len(notes) == 0 {
		t.Fatal(problems, notes)
	}
	fresh, err := catalogue.Generic()
	if err != nil {
		t.Fatal(err)
	}
	if problems := fresh.Add("entry.yaml", out); len(problems) > 0 {
		t.Fatalf("%v of\n%s", problems, out)
	}
	s, ok := fresh.Seal(e.Name)
	if !ok {
		t.Fatalf("no %s in\n%s", e.Name, out)
	}
	return s
}

// What was fitted is what the catalogue reads: a metre, in standard air, with its overlap, floor, pressures and scatter; tests of one overlap are
// one.
func TestEntry_Identity(t *testing.T) {
	thin, err := air.At(35, 90000)
	if err != nil {
		t.Fatal(err)
	}
	law := crack.Slot(0.0008, 0.03, 1.5, thin)
	head := func(overlap string) string {
		return "# title: a brush: tested\n# length: 2 m\n# temperature: 35 C\n# barometric pressure: 90 kPa\n# from: a rig, \"two\" # 3\n# like: brush-fine-15\n# floor: stone\n# overlap: " + overlap + "\n"
	}
	a := tested(t, "a.csv", head("0.5 mm")+table(law.Over(2), 1000, "L/s")) // two metres
	b := tested(t, "b.csv", head("0.5 mm")+table(law.Over(2*1.05), 1000, "L/s"))
	c := tested(t, "c.csv", head("-1 mm")+table(law.Over(8), 3600, "m3/h"))
	s := catalogueOf(t, Entry{Name: "mine"}, a, b, c)
	if s.Title != "a brush: tested" || len(s.Tests) != 2 {
		t.Fatalf("%+v", s)
	}
	open, shut := s.Tests[0], s.Tests[1]
	if open.Overlap != -0.001 || shut.Overlap != 0.0005 || shut.Floor.Name != "stone" || shut.Drops != [2]float64{10, 60} || shut.Air != standard || open.Scatter != seal.TestScatter {
		t.Errorf("%+v, %+v", open, shut)
	}
	want := law.In(thin, standard)
	near(t, "open", open.Law.Flow(50), want.Over(4).Flow(50), 1e-5)
	near(t, "shut", shut.Law.Flow(50), math.Sqrt(want.Flow(50)*want.Over(1.05).Flow(50)), 1e-5)
	near(t, "scatter of two that differ by 5 per cent", shut.Scatter, 1-math.Exp(-12.706*math.Log(1.05)/math.Sqrt2*math.Sqrt(1.5)), 2e-3)
	if from := s.From["tests/0"]; !strings.Contains(from, "a.csv") && !strings.Contains(from, "c.csv") || !strings.Contains(from, `a rig, "two" # 3`) {
		t.Errorf("from %q", from)
	}
}

// Readings that are written into a catalogue, and the same readings fitted, are one test.
func TestSameAsReadingsOfACatalogue_Identity(t *testing.T) {
	fitted := catalogueOf(t, Entry{Name: "mine", Like: "brush-fine-15"}, tested(t, "a.csv", "# length: 1 m\n# overlap: 0 mm\n# temperature: 30 C\n# altitude: 500 m\npressure (Pa), flow (L/s)\n10, 0.42\n25, 0.92\n50, 1.6\n"))
	c, err := catalogue.Generic()
	if err != nil {
		t.Fatal(err)
	}
	if problems := c.Add("own.yaml", []byte("format: sillwright/seals/1\nseals:\n  own: {title: own, like: brush-fine-15, tests: [{overlap: 0 mm, length: 1 m, air: {temperature: 30 C, altitude: 500 m}, readings: [{pressure: 10 Pa, flow: 0.42 L/s}, {pressure: 25 Pa, flow: 0.92 L/s}, {pressure: 50 Pa, flow: 1.6 L/s}], from: x}]}\n")); len(problems) > 0 {
		t.Fatal(problems)
	}
	own, _ := c.Seal("own")
	written := own.Tests[0].Law.In(own.Tests[0].Air, standard)
	near(t, "A", fitted.Tests[0].Law.A, written.A, 1e-5)
	near(t, "B", fitted.Tests[0].Law.B, written.B, 1e-5)
	if fitted.Tests[0].Drops != own.Tests[0].Drops || fitted.Tests[0].Scatter < own.Tests[0].Scatter {
		t.Errorf("%+v, %+v", fitted.Tests[0], own.Tests[0])
	}
}

func TestEntryProblems(t *testing.T) {
	law := crack.Slot(0.0008, 0.03, 1.5, standard)
	one := func(name, keys string, k float64) *Test {
		return tested(t, name, keys+table(law.Over(1/k), 1000, "L/s"))
	}
	const whole = "# length: 1 m\n# overlap: 0 mm\n"
	for _, tc := range []struct {
		want  string
		like  string
		tests []*Test
	}{
		{"found no overlap", "brush-fine-15", []*Test{one("a.csv", "# length: 1 m\n", 1)}},
		{"found no length of the seal", "brush-fine-15", []*Test{one("a.csv", "# overlap: 0 mm\n", 1)}},
		{"found no word of what the seal is like", "", []*Test{one("a.csv", whole, 1)}},
		{"like: found like \"tufted-50\" beside \"brush-fine-15\" of a.csv", "", []*Test{one("a.csv", whole+"# like: brush-fine-15\n", 1), one("b.csv", whole+"# like: tufted-50\n", 1)}},
		{"tests by which another piece may pass less than 5 %", "brush-fine-15", []*Test{one("a.csv", whole, 1), one("b.csv", whole, 2)}},
		{"two tests at an overlap of 0 mm", "brush-fine-15", []*Test{one("a.csv", whole, 1), one("b.csv", whole+"# floor: stone\n", 1)}},
		{"tests of a bare gap", "none", []*Test{one("a.csv", whole, 1)}},
		{"a third of what such a slit lets pass", "brush-fine-15", []*Test{one("a.csv", "# length: 1 m\n# overlap: -9 mm\n", 100)}},
	} {
		known, err := catalogue.Generic()
		if err != nil {
			t.Fatal(err)
		}
		out, _, problems := Entry{Name: "mine", Like: tc.like}.YAML(tc.tests, known)
		if out != nil || len(problems) == 0 || !strings.Contains(fmt.Sprint(problems), tc.want) {
			t.Errorf("%v, want %s", problems, tc.want)
		}
	}
}

// The way of the command: read, fit, and what it warns of. At most 10 ms for 1,000 readings.
//
// One core of an AMD EPYC, Go 1.26, ms:
//
//	2026-11-26  1.5
func BenchmarkFit1000(b *testing.B) {
	random := rand.New(rand.NewPCG(1, 2))
	var text strings.Builder
	text.WriteString("# length: 1 m\n# temperature: 21 C\n# altitude: 200 m\npressure (Pa), flow (L/s), blank (L/s)\n")
	for i := range 1000 {
		dp := 10 + 0.07*float64(i)
		fmt.Fprintf(&text, "%.2f, %.4f, %.4f\n", dp, 0.24*math.Pow(dp, 0.65)*math.Exp(0.02*random.NormFloat64()), 0.01*math.Pow(dp, 0.6))
	}
	src := []byte(text.String())
	b.ReportAllocs()
	for b.Loop() {
		f, problems := readings.Read("a.csv", src)
		if len(problems) > 0 {
			b.Fatal(problems)
		}
		if _, problems := New(f, nil, ""); len(problems) > 0 {
			b.Fatal(problems)
		}
	}
}
