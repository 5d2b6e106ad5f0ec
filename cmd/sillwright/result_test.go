package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"sillwright/schema"
)

const halfKnown = `format: sillwright/door/1
mark: R-01
rulebooks: [seal-practice]
door: {operation: hinged, location: internal, thickness: 40 mm}
leaves:
  - id: A
    width: 900 mm
    gap:
      readings: [{at: 0 mm, gap: 9 mm}, {at: 900 mm, gap: 9 mm}]
      swing: [{angle: 90 deg, gap: 8 mm}, {angle: 45 deg, readings: [{at: 0 mm, gap: 9 mm}]}]
      reading_error: 0 mm
paths: [{path: letter-plate, area: 1 cm2}]
options:
  - {id: unset, seal: brush-fine-15}
  - {id: brush, seal: brush-fine-15, set: {overlap: 0 mm}}
  - {id: bare, seal: none}
`

// What is not known is null in JSON, what is known is told with its band, and both keep to the schema.
func TestWhatIsNotKnownIsNull(t *testing.T) {
	file := filepath.Join(t.TempDir(), "door.yaml")
	if err := os.WriteFile(file, []byte(halfKnown), 0o644); err != nil {
		t.Fatal(err)
	}
	result, err := schema.Named("result")
	if err != nil {
		t.Fatal(err)
	}
	out := run(t, "check", "--format", "json", file).out
	keeps(t, result, out)
	var r struct{ Options []map[string]any }
	if err := json.Unmarshal([]byte(out), &r); err != nil {
		t.Fatal(err)
	}
	options := map[any]map[string]any{}
	for _, o := range r.Options {
		options[o["id"]] = o
	}
	for id, want := range map[string]string{
		"unset": "leakage drag pressure latching tolerance_mm life_cycles life_end house",
		"brush": "life_cycles life_end house pressure latching leakage.paths.1.feet contact.0.angles.1.places.0.at_mm",
		"bare":  "tolerance_mm life_cycles life_end house pressure latching leakage.raised_1mm leakage.doubt.of leakage.paths.0.feet leakage.paths.1.feet",
	} {
		if got := strings.Join(nulls(options[id], ""), " "); !sameWords(got, want) {
			t.Errorf("%s: null are %s; want %s", id, got, want)
		}
	}
}

// nulls gives the paths of what is null, but of rank and reason, which only complying options have.
func nulls(v any, at string) []string {
	var out []string
	switch v := v.(type) {
	case nil:
		return []string{at}
	case map[string]any:
		for key, value := range v {
			if key != "rank" && key != "reason" && key != "findings" {
				out = append(out, nulls(value, strings.TrimPrefix(at+"."+key, "."))...)
			}
		}
	case []any:
		for i, value := range v {
			out = append(out, nulls(value, at+"."+string(rune('0'+i)))...)
		}
	}
	return out
}

func sameWords(a, b string) bool {
	count := map[string]int{}
	for _, w := range strings.Fields(a) {
		count[w]++
	}
	for _, w := range strings.Fields(b) {
		count[w]--
	}
	for _, n := range count {
		if n != 0 {
			return false
		}
	}
	return true
}

// No line of a report is wider than a page.
func TestReportsKeepToThePage(t *testing.T) {
	alone(t)
	t.Chdir("../..")
	for _, file := range exampleDoors(t) {
		for line := range strings.Lines(run(t, "check", "--seals", ownSeals, file).out) {
			if wide := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); wide > 100 {
				t.Errorf("%s: %d columns: %s", file, wide, line)
			}
		}
	}
}
