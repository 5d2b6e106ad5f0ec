package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"sillwright/schema"
)

// What is explained in JSON keeps to the published schema, and exits as the check does.
func TestExplanationsKeepToTheirSchema(t *testing.T) {
	alone(t)
	t.Chdir("../..")
	s, err := schema.Named("explanation")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range exampleDoors(t) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			checked := run(t, "check", "--seals", ownSeals, file)
			got := run(t, "explain", "--seals", ownSeals, "--format", "json", file)
			if got.code != checked.code || got.err != "" {
				t.Errorf("exit %d, where check gives %d\n%s", got.code, checked.code, got.err)
			}
			keeps(t, s, got.out)
		})
	}
}

// What an explanation has of a result has one form in both.
func TestExplanationHasFindingsAsResultsHave(t *testing.T) {
	definitions := func(name string) map[string]any {
		src, err := schema.Source(name)
		if err != nil {
			t.Fatal(err)
		}
		var s struct{ Definitions, Properties map[string]any }
		if err := json.Unmarshal(src, &s); err != nil {
			t.Fatal(err)
		}
		s.Definitions["cautions"], s.Definitions["made_by"] = s.Properties["cautions"], s.Properties["made_by"]
		return s.Definitions
	}
	result, explanation := definitions("result"), definitions("explanation")
	for _, name := range []string{"finding", "measure", "place", "source", "cautions", "made_by"} {
		if explanation[name] == nil || !reflect.DeepEqual(result[name], explanation[name]) {
			t.Errorf("%s is not the same in both schemas", name)
		}
	}
}

// A door of ten segments, six options and four rulebooks is explained whole: every rule in the way, and every option.
func TestExplainsALargeDoor(t *testing.T) {
	var b strings.Builder
	b.WriteString("format: sillwright/door/1\nmark: L-10\nrulebooks: [us-ada-2010, uk-adm1-2015, seal-practice, fire-smoke]\n")
	b.WriteString("site: {work: new, floor_finish: fitted}\ndoor: {operation: hinged, location: external, thickness: 44 mm, fire_rated: false, smoke_control: false}\n")
	b.WriteString("leaves: [{id: A, width: 900 mm, gap: {readings: [{at: 0 mm, gap: 9 mm}, {at: 450 mm, gap: 11 mm}, {at: 900 mm, gap: 14 mm}]}}]\n")
	b.WriteString("threshold:\n  leaf_at: 40 mm\n  segments:\n")
	for i := range 10 {
		b.WriteString([]string{"    - {run: 20 mm, rise: 9 mm}\n", "    - {run: 0 mm, rise: -4 mm}\n"}[i%2])
	}
	b.WriteString("options:\n")
	for _, id := range []string{"a", "b", "c", "d", "e", "f"} {
		b.WriteString("  - {id: " + id + ", seal: blade-double-12, set: {overlap: 0 mm}}\n")
	}
	file := filepath.Join(t.TempDir(), "door.yaml")
	if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	got := run(t, "explain", file)
	if got.code != 1 || got.err != "" {
		t.Fatalf("exit %d\n%s", got.code, got.err)
	}
	for _, want := range []string{"WHY IT FAILS", "NOT PROVEN", "WHY NO OPTION COMPLIES", "TO FIND OUT", "us-ada-2010/threshold-profile", "uk-adm1-2015/threshold", "a, b, c, d, e, f: "} {
		if !strings.Contains(got.out, want) {
			t.Errorf("no %q in\n%s", want, got.out)
		}
	}
}
