package main

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"sillwright/schema"
)

// fits are readings of every kind that is told differently.
var fits = map[string]string{
	"plain":     "pressure (Pa), flow (L/s)\n10, 1.02\n20, 1.63\n30, 2.09\n40, 2.51\n50, 2.88\n",
	"few":       "pressure (kPa), flow (m3/h), fan (rpm)\n0.01, 1, 300\n0.02, 1.7, 400\n0.03, 2.2, 500\n",
	"all keys":  "# title: t\n# seal: s\n# like: brush-fine-15\n# from: f\n# floor: tile\n# direction: depressurise\n# length: 900 mm\n# overlap: -1 mm\n# temperature inside: 20 C\n# temperature outside: 2 C\n# altitude: 1 km\n# zero pressure before: 1 Pa\n# zero pressure after: -1 Pa\n# flow error: 5 %\n# pressure error: 1 %\npressure (psf), flow (cfm), blank (cfm)\n0.2, 2, 0.1\n0.4, 3.1, 0.2\n0.8, 5, 0.3\n1.2, 6.2, 0.4\n1.6, 7.4, 0.5\n",
	"orifice":   "# length: 1 m\npressure (inH2O), flow (m3/s)\n0.04, 0.010\n0.08, 0.0141\n0.16, 0.0199\n0.32, 0.0281\n0.64, 0.0397\n",
	"laminar":   "pressure (Pa), flow (L/s)\n10, 1.01\n20, 1.99\n40, 4.02\n80, 7.99\n",
	"tight rig": "pressure (Pa), flow (L/s), blank (L/s)\n10, 1.02, 0\n20, 1.63, 0\n30, 2.09, 0\n40, 2.51, 0\n50, 2.88, 0\n",
	"slip":      "pressure (Pa), flow (L/s)\n10, 1.02\n20, 1.63\n30, 2.09\n40, 3.51\n50, 2.88\n60, 3.21\n70, 3.55\n80, 3.83\n",
	"long":      "# title: " + strings.Repeat("very ", 39) + "long\n# from: " + strings.Repeat("x", 390) + "\npressure (Pa), flow (L/s)\n10, 1.02\n20, 1.63\n30, 2.09\n40, 2.51\n50, 2.88\n",
}

// Every fit keeps to its schema in JSON and to the page in text, and both tell the same.
func TestFitsKeepToTheirSchema(t *testing.T) {
	form, err := schema.Named("fit")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	for name, text := range fits {
		if name == "all keys" {
			text = strings.Replace(text, "1 km", "1000 m", 1)
		}
		file := strings.ReplaceAll(name, " ", "-") + ".csv"
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		got := run(t, "fit", "--format", "json", file)
		if got.code != 0 || got.err != "" {
			t.Errorf("%s: exit %d, %s", name, got.code, got.err)
			continue
		}
		keeps(t, form, got.out)
		page := run(t, "fit", file)
		if page.code != 0 || !strings.Contains(page.out, "CAUTIONS") {
			t.Errorf("%s: exit %d, %s", name, page.code, page.err)
		}
		for line := range strings.Lines(page.out) {
			if wide := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); wide > 100 {
				t.Errorf("%s: %d columns: %s", name, wide, line)
			}
		}
		var r struct{ Warnings []struct{ Found string } }
		if err := json.Unmarshal([]byte(got.out), &r); err != nil {
			t.Fatal(err)
		}
		for _, w := range r.Warnings {
			if !strings.Contains(strings.Join(strings.Fields(page.out), " "), w.Found) {
				t.Errorf("%s: the page does not tell %q", name, w.Found)
			}
		}
	}
	for name, held := range map[string]any{"orifice": "viscous", "plain": nil} {
		var r struct{ Pair struct{ Held any } }
		if err := json.Unmarshal([]byte(run(t, "fit", "--format", "json", name+".csv").out), &r); err != nil || r.Pair.Held != held {
			t.Errorf("%s: held %v, %v", name, r.Pair.Held, err)
		}
	}
}

// The example tests are fitted without a word against them, and each says that it is invented.
func TestExampleReadings(t *testing.T) {
	t.Chdir("../..")
	files, err := filepath.Glob("examples/rig/*.csv")
	if err != nil || len(files) < 5 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		src, err := os.ReadFile(file)
		if err != nil || !strings.Contains(string(src), "# note: invented for the example") {
			t.Errorf("%s does not say that it is invented; %v", file, err)
		}
		if got := run(t, "fit", file); got.code != 0 || got.err != "" || strings.Contains(got.out, "WARNINGS") {
			t.Errorf("%s: exit %d, %s%s", file, got.code, got.err, got.out)
		}
	}
}

// Readings in other units are the same result in them: 1 L/s is 3.6 m3/h, and the limits go with it.
func TestFitUnits_Identity(t *testing.T) {
	t.Chdir(t.TempDir())
	type result struct {
		Coefficient float64 `json:"coefficient"`
		Low         float64 `json:"coefficient_low"`
		Exponent    float64
		Unit        string `json:"coefficient_unit"`
	}
	fitted := func(text string) (r result) {
		if err := os.WriteFile("a.csv", []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal([]byte(run(t, "fit", "--format", "json", "a.csv").out), &r); err != nil {
			t.Fatal(err)
		}
		return r
	}
	a := fitted("pressure (Pa), flow (L/s)\n10, 1\n20, 1.6\n40, 2.5\n50, 2.9\n")
	b := fitted("flow (m3/h), pressure (kPa)\n3.6, 0.01\n10.44, 0.05\n5.76, 0.02\n9, 0.04\n")
	for what, pair := range map[string][2]float64{"C": {b.Coefficient, 3.6 * a.Coefficient}, "low C": {b.Low, 3.6 * a.Low}, "n": {b.Exponent, a.Exponent}} {
		if math.Abs(pair[0]/pair[1]-1) > 1e-8 {
			t.Errorf("%s: got %g, want %g", what, pair[0], pair[1])
		}
	}
	if a.Unit != "L/(s Pa^n)" || b.Unit != "m3/(h Pa^n)" {
		t.Errorf("%q, %q", a.Unit, b.Unit)
	}
}
