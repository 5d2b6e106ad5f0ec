package readings

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"sillwright/schema/quantity"
)

func read(t *testing.T, text string) *File {
	t.Helper()
	f, problems := Read("rig.csv", []byte(text))
	if len(problems) > 0 {
		t.Fatalf("%q: %v", text, problems)
	}
	return f
}

const whole = `# A rig test, with all that can be said
# title: fine brush, touching
# seal: brush-15
# like: brush-fine-15
# length: 2 m
# overlap: 0.5 mm
# floor: tile
# direction: depressurised
# temperature inside: 21 C
# temperature outside: 50 F
# barometric pressure: 1002.5 hPa
# zero pressure before: 0.2 Pa
# zero pressure after: -0.1 Pa
# flow error: 3 %
# pressure error: 0.5 Pa
# method: iso-9972
# from: "invented", rig 2
# note: one
# note: two: with a colon

pressure (Pa), flow (L/s), blank (m3/h), fan (rpm)
10, 1.02, 0.36, 900
2e1,1.63 ,0.72,
`

func TestWhole(t *testing.T) {
	f := read(t, whole)
	if !slices.Equal(f.Drops, []float64{10, 20}) || math.Abs(f.Flows[1]-1.63e-3) > 1e-15 || math.Abs(f.Blanks[1]-2e-4) > 1e-15 {
		t.Errorf("%v, %v, %v", f.Drops, f.Flows, f.Blanks)
	}
	if f.Title != "fine brush, touching" || f.Seal != "brush-15" || f.Like != "brush-fine-15" || f.Floor != "tile" || f.Direction != Depressurise || f.Method != "iso-9972" || f.From != `"invented", rig 2` {
		t.Errorf("%+v", f)
	}
	if f.Length != 2*quantity.Metre || f.Overlap != quantity.Millimetre/2 || !f.HasOverlap || f.FlowUnit != "L/s" || f.PressureUnit != "Pa" {
		t.Errorf("%+v", f)
	}
	for want, got := range map[float64]Given{21: f.Inside, 10: f.Outside, 100250: f.Barometric, 0.2: f.Zero[0], -0.1: f.Zero[1], 0.03: f.FlowError, 0.5: f.PressureError} {
		if !got.Known || math.Abs(got.Value-want) > 1e-9 {
			t.Errorf("got %+v, want %g", got, want)
		}
	}
	if f.Temperature.Known || f.Altitude.Known || f.PressurePart.Known || !slices.Equal(f.Ignored, []string{"fan (rpm)"}) {
		t.Errorf("%+v", f)
	}
	if p := f.Problem("", 1, "x", "y", "z"); p.Error() != "rig.csv:23:1: reading 2: found x; allowed: y; z" {
		t.Error(p)
	}
	if p := f.Problem("overlap", 1, "x", "y", "z"); p.Error() != "rig.csv:6:12: overlap: found x; allowed: y; z" {
		t.Error(p)
	}
	if p := f.Problem("altitude", -1, "x", "y", "z"); p.Error() != "rig.csv:21:1: found x; allowed: y; z" {
		t.Error(p)
	}
}

// Units by the exact factors of their definitions: 1 psf = 47.880259 Pa, 1 cfm = 0.47194745 L/s (GNU units), 1 inH2O = 249.08891 Pa by convention.
func TestUnits_Published(t *testing.T) {
	for _, tc := range []struct {
		header     string
		drop, flow float64
		unit       string
	}{
		{"pressure (Pa), flow (L/s)", 1, 1e-3, "L/s"},
		{"Pressure [kPa],FLOW [m³/h]", 1000, 1 / 3600.0, "m3/h"},
		{"dp (psf), air flow (CFM)", 47.880259, 0.47194745e-3, "cfm"},
		{"pressure_difference (inH2O), flow (m3/s)", 249.08891, 1, "m3/s"},
		{"  flow (l/s)  ,  pressure (Pa) ", 1, 1e-3, "L/s"},
	} {
		f := read(t, tc.header+"\n1,1\n2,2\n")
		if math.Abs(f.Drops[0]/tc.drop-1) > 1e-7 || math.Abs(f.Flows[0]/tc.flow-1) > 1e-7 || f.FlowUnit != tc.unit {
			t.Errorf("%s: %g Pa, %g m3/s, %s", tc.header, f.Drops[0], f.Flows[0], f.FlowUnit)
		}
	}
}

// What spreadsheets and editors make of a file changes nothing that is read.
func TestDialects(t *testing.T) {
	plain := read(t, "# length: 900 mm\npressure (Pa),flow (L/s)\n10,1.25\n20,2.5\n")
	for name, text := range map[string]string{
		"mark":           "\xef\xbb\xbf# length: 900 mm\npressure (Pa),flow (L/s)\n10,1.25\n20,2.5\n",
		"CR LF":          "# length: 900 mm\r\npressure (Pa),flow (L/s)\r\n10,1.25\r\n20,2.5\r\n",
		"CR":             "# length: 900 mm\rpressure (Pa),flow (L/s)\r10,1.25\r20,2.5\r",
		"no last break":  "# length: 900 mm\npressure (Pa),flow (L/s)\n10,1.25\n20,2.5",
		"semicolons":     "# length: 900 mm\npressure (Pa);flow (L/s)\n10;1.25\n20;2.5\n",
		"decimal commas": "# length: 900 mm\npressure (Pa);flow (L/s)\n10;1,25\n20,0;2,5\n",
		"tabs":           "# length: 900 mm\npressure (Pa)\tflow (L/s)\n10\t1.25\n20\t2.5\n",
		"quotes":         "\"# length: 900 mm\",\n\"pressure (Pa)\",\"flow (L/s)\"\n\"10\",\"1.25\"\n20,2.5\n",
		"empty cells":    "# length: 900 mm,,,\npressure (Pa),flow (L/s),,\n10,1.25,,\n,,,\n20,2.5,,\n",
		"blanks":         "\n  # LENGTH :  900 mm  \n\n pressure (Pa) , flow (L/s) \n 10 , 1.25 \n\n 20 , +2.5 \n\n",
		"remark":         "# a remark\n# length: 900 mm\npressure (Pa),flow (L/s)\n# another\n10,1.25\n20,2.5\n# the end",
	} {
		f, problems := Read("rig.csv", []byte(text))
		if len(problems) > 0 {
			t.Errorf("%s: %v", name, problems)
			continue
		}
		if !slices.Equal(f.Drops, plain.Drops) || !slices.Equal(f.Flows, plain.Flows) || f.Length != plain.Length || len(f.Ignored) > 0 {
			t.Errorf("%s: %+v", name, f)
		}
	}
}

const head = "pressure (Pa), flow (L/s)\n"

// wrong are files that are refused, with what is said of each.
var wrong = []struct{ name, text, want string }{
	{"empty", "", "1:1: found an empty file"},
	{"blank", "\xef\xbb\xbf \r\n", "1:1: found an empty file"},
	{"remarks only", "# a\n# b\n", "1:1: found no header and no readings"},
	{"no readings", "# a\n" + head, "2:1: found a header and no readings"},
	{"xlsx", "PK\x03\x04xxxx", "1:1: found an XLSX workbook"},
	{"xls", "\xd0\xcf\x11\xe0xxxx", "found an old XLS file"},
	{"pdf", "%PDF-1.7", "found a PDF file"},
	{"utf-16", "\xff\xfep\x00", "found text in UTF-16"},
	{"latin-1", "pressure (Pa), flow (m\xb3/h)\n1,2\n", "1:23: found the byte 0xb3 at byte 22"},
	{"nul", head + "1,\x002\n", "2:3: found the character U+0000 at byte 28, which does not print"},
	{"escape", head + "1,2\x1b[31m\n", "2:4: found the character U+001B"},
	{"turned text", "# title: a\u202eb\n" + head + "1,2\n", "1:11: found the character U+202E at byte 10"},
	{"no unit", "pressure (Pa), flow\n1,2\n", "1:16: flow: found a column of flow without a unit; allowed: flow (L/s), or in one of L/s, m3/h, m3/s, cfm"},
	{"empty unit", "pressure (), flow (L/s)\n1,2\n", "1:1: pressure: found a column of pressure without a unit"},
	{"unknown unit", "pressure (bar), flow (L/s)\n1,2\n", `1:1: pressure: found unit "bar" of pressure; allowed: one of Pa, kPa, psf, inH2O`},
	{"other unit", "pressure (L/s), flow (Pa)\n1,2\n", `found unit "L/s" of pressure`},
	{"unit with a number", "pressure (Pa), flow (2 L/s)\n1,2\n", `found unit "2 L/s" of flow`},
	{"offset unit", "pressure (C), flow (L/s)\n1,2\n", `found unit "C" of pressure`},
	{"misspelt column", "presure (Pa), flow (L/s)\n1,2\n", "1:1: found a header without pressure: \"presure (Pa), flow (L/s)\"; allowed: columns of pressure and flow with their units in brackets, as in `pressure (Pa), flow (L/s)` (did you mean `pressure`?)"},
	{"no header", "10,1\n20,2\n", `1:1: found a header without pressure: "10,1"`},
	{"column twice", "pressure (Pa), flow (L/s), flow (m3/h)\n1,2,3\n", "1:28: flow: found a second column of flow"},
	{"decimal comma", head + "10,1,02\n", "2:6: found 3 values under 2 names; allowed: one each; write decimal points and not commas, or part the columns by semicolons"},
	{"decimal comma and point", "pressure (Pa);flow (L/s)\n10;1,02\n20;1.5\n", `2:4: flow: found "1,02"`},
	{"thousands", "pressure (Pa);flow (L/s)\n10;1,020,000\n", `found "1,020,000"`},
	{"comma in tabs", "pressure (Pa)\tflow (L/s)\n10\t1,02\n", `2:4: flow: found "1,02"; allowed: a number such as 12.5 or 1.2e-3, its unit in the header; write a decimal point`},
	{"too many", "pressure (Pa);flow (L/s)\n10;1;2\n", "found 3 values under 2 names; allowed: one each; give each reading"},
	{"missing flow", head + "10\n", "2:1: flow: found a reading without flow"},
	{"missing pressure", head + ",3\n", "2:1: pressure: found a reading without pressure"},
	{"missing blank", "pressure (Pa), flow (L/s), blank (L/s)\n1,2,\n", "blank: found a reading without blank"},
	{"nan", head + "10,NaN\n", `2:4: flow: found "NaN"; allowed: a number such as 12.5`},
	{"inf", head + "Inf,1\n", `2:1: pressure: found "Inf"`},
	{"hex", head + "0x10,1\n", `found "0x10"`},
	{"underscore", head + "1_0,1\n", `found "1_0"`},
	{"exponent alone", head + "10,e\n", `found "e"`},
	{"two points", head + "10,1.2.3\n", `found "1.2.3"`},
	{"overflow", head + "10,1e999\n", "check the number"},
	{"far", head + "10,1e12\n", "check the number"},
	{"unit in a cell", head + "10,1.2 L/s\n", `found "1.2 L/s"`},
	{"long", head + "10," + strings.Repeat("1", 100) + "\n", "write it with fewer figures"},
	{"quotes", head + "10,\"1\n", "found quotes that do not pair"},
	{"quote inside", head + "10,1\"2\n", "found quotes that do not pair"},
	{"unknown key", "# lenght: 1 m\n" + head + "1,2\n", "1:3: found key \"lenght\"; allowed: one of title, seal, like, from, blank, method, floor, direction, length, overlap, temperature, temperature inside, temperature outside, altitude, barometric pressure, zero pressure before, zero pressure after, flow error, pressure error, note (did you mean `length`?)"},
	{"key twice", "# length: 1 m\n# Length: 2 m\n" + head + "1,2\n", `2:3: length: found key "length" a second time`},
	{"no value", "# length:\n" + head + "1,2\n", "1:3: length: found no value"},
	{"wrong kind", "# length: 5 kg\n" + head + "1,2\n", `1:11: length: found "5 kg", which is a mass`},
	{"comma in a key", "# length: 0,9 m\n" + head + "1,2\n", `1:11: length: found "0,9 m"`},
	{"no length", "# length: 0 mm\n" + head + "1,2\n", "1:11: length: found 0 mm; allowed: more than 0 mm"},
	{"floor", "# floor: til\n" + head + "1,2\n", "1:10: floor: found \"til\"; allowed: one of smooth, tile"},
	{"direction", "# direction: up\n" + head + "1,2\n", `1:14: direction: found "up"; allowed: one of pressurise, depressurise`},
	{"error without per cent", "# flow error: 3\n" + head + "1,2\n", `1:15: flow error: found "3"; allowed: 0 % to 50 %`},
	{"error of less than nothing", "# pressure error: -1 Pa\n" + head + "1,2\n", `pressure error: found "-1 Pa"; allowed: 0 Pa or more`},
	{"one side", "# temperature inside: 20 C\n" + head + "1,2\n", "temperature inside: found temperature inside without temperature outside"},
	{"both temperatures", "# temperature: 20 C\n# temperature inside: 20 C\n# temperature outside: 20 C\n" + head + "1,2\n", "temperature: found temperature beside temperature inside"},
	{"height and barometer", "# altitude: 300 m\n# barometric pressure: 101.3 kPa\n" + head + "1,2\n", "altitude: found altitude beside barometric pressure"},
	{"blank elsewhere", "# blank: ../../etc/passwd\n" + head + "1,2\n", `blank: found "../../etc/passwd"; allowed: the name of a file in the same folder`},
	{"blank twice", "# blank: rig.csv\npressure (Pa), flow (L/s), blank (L/s)\n1,2,1\n", "blank: found a blank test beside a column of blank flows"},
	{"long text", "# title: " + strings.Repeat("x", 300) + "\n" + head + "1,2\n", "title: found a text of more than the usual length"},
}

func TestProblems(t *testing.T) {
	for _, tc := range wrong {
		f, problems := Read("rig.csv", []byte(tc.text))
		if f != nil || len(problems) == 0 {
			t.Errorf("%s: read", tc.name)
			continue
		}
		var all []string
		for _, p := range problems {
			all = append(all, p.Error())
			if p.Found == "" || p.Allowed == "" && p.Do == "" || p.Span.Start.Line < 1 || p.Span.Start.Column < 1 {
				t.Errorf("%s: a part is missing: %+v", tc.name, p)
			}
		}
		if said := strings.Join(all, "\n"); !strings.Contains(said, tc.want) {
			t.Errorf("%s:\n got %s\nwant %s", tc.name, said, tc.want)
		}
	}
}

// A file that is wrong everywhere names the first faults, and ends.
func TestManyProblems(t *testing.T) {
	_, problems := Read("rig.csv", []byte("pressure (Pa), flow (L/s)\n"+strings.Repeat("x,y\n", 50_000)))
	if len(problems) != maxProblems+1 || !strings.Contains(problems[maxProblems].Error(), "more problems") {
		t.Errorf("%d problems: %v", len(problems), problems[len(problems)-1])
	}
}

// Size has its limits.
func TestTooLarge(t *testing.T) {
	for want, text := range map[string]string{
		"more than 10000 readings": "pressure (Pa), flow (L/s)\n" + strings.Repeat("1,2\n", MaxReadings+1),
		"more than 4 MB":           strings.Repeat("#\n", MaxBytes/2+1),
	} {
		if _, problems := Read("rig.csv", []byte(text)); len(problems) == 0 || !strings.Contains(problems[0].Error(), want) {
			t.Errorf("%v, want %s", problems, want)
		}
	}
	if f := read(t, "pressure (Pa), flow (L/s)\n"+strings.Repeat("1,2\n", MaxReadings)); len(f.Drops) != MaxReadings {
		t.Errorf("%d readings", len(f.Drops))
	}
}

// Whatever the bytes, it ends with readings or with problems that have a place, and readings are numbers.
func FuzzRead(f *testing.F) {
	f.Add([]byte(whole))
	for _, s := range []string{"", "# a", "\"#,\"\n", "pressure (Pa);flow (L/s)\n1;\"2\n3\"\n", "pressure (Pa)\tflow (cfm)\n1\t2", "#:\n", "# :x\n", "\"# length: 1 m\";;\npressure(kPa),flow(m3/h)\n1,2\n", "pressure (,flow )(\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		file, problems := Read("f.csv", src)
		if (file == nil) == (len(problems) == 0) {
			t.Fatalf("%v, %v", file, problems)
		}
		for _, p := range problems {
			if p.Span.Start.Line < 1 || p.Span.Start.Column < 1 || strings.Contains(p.Error(), "\n") {
				t.Fatalf("%+v", p)
			}
		}
		if file == nil {
			return
		}
		if len(file.Drops) == 0 || len(file.Drops) != len(file.Flows) || len(file.Drops) != len(file.Spans) || file.Blanks != nil && len(file.Blanks) != len(file.Drops) {
			t.Fatalf("%+v", file)
		}
		for i := range file.Drops {
			if sum := file.Drops[i] + file.Flows[i]; math.IsNaN(sum) || math.IsInf(sum, 0) {
				t.Fatal(fmt.Sprint(file.Drops[i], file.Flows[i]))
			}
		}
	})
}
