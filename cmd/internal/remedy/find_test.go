package remedy

import (
	"context"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"sillwright/cmd/internal/assess"
)

// found looks for the remedies of an example with some of it changed.
func found(t *testing.T, mark string, change func(spec map[string]any)) *Answer {
	t.Helper()
	a, err := assess.New(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	spec := exampleOf(t, mark)
	change(spec)
	text, err := json.Marshal(spec)
	if err != nil {
		t.Fatal(err)
	}
	answer, err := Find(context.Background(), a, assessed(t, a, text), Scope{})
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range answer.Relaxations {
		if r.Remedy.Result == nil || r.Gives == "" {
			t.Errorf("a relaxation without a proof or words: %+v", r)
		}
	}
	return answer
}

func unchanged(map[string]any) {}

// moved are the moves of a remedy.
func (m Remedy) moved() string {
	var out []string
	for _, s := range m.Steps {
		out = append(out, s.Move)
	}
	return strings.Join(out, " ")
}

func TestFind_SmallestFirst(t *testing.T) {
	answer := found(t, "H-03", unchanged)
	var moves []string
	for _, m := range answer.Remedies {
		moves = append(moves, m.moved())
		if !m.Complies || m.Option != "brush-touching" {
			t.Errorf("%s: complies %v, option %s", m.moved(), m.Complies, m.Option)
		}
	}
	if want := []string{"lengthen-bevel", "lower-threshold", "move-step-down"}; !slices.Equal(moves, want) {
		t.Fatalf("%v, want %v", moves, want)
	}
	// 303.3: 12 mm at 1:2 are 24 mm; 9 mm are what 18 mm carry at 1:2; and so is the rest above a lip of 3 mm.
	for i, want := range []string{"24 mm long", "to 9 mm", "lip of 3 mm"} {
		if do := answer.Remedies[i].Steps[0].Do; !strings.Contains(do, want) {
			t.Errorf("%q does not say %q", do, want)
		}
	}
}

func TestFind_BetweenInchAndMillimetre(t *testing.T) {
	answer := found(t, "S-01", unchanged)
	if len(answer.Remedies) == 0 || !strings.Contains(answer.Remedies[0].Steps[0].Do, "by 0.2 mm, to 12.7 mm") {
		t.Errorf("a plate of 12.9 mm, of which 1/2 in passes: %+v", answer.Remedies)
	}
}

// What is written in inches is changed in inches.
func TestFind_InTheUnitsOfTheSpec(t *testing.T) {
	answer := found(t, "K-01", func(s map[string]any) {
		at(s, "door")["clear_width"] = map[string]any{"face_to_stop": "31 5/8 in"}
		at(s, "door")["projections"] = []any{}
	})
	if len(answer.Remedies) == 0 || string(answer.Remedies[0].Patch[0].Value) != `"32 in"` {
		t.Errorf("%+v", answer.Remedies)
	}
}

func TestFind_WhatIsFixedStays(t *testing.T) {
	answer := found(t, "H-03", func(s map[string]any) { s["fixed"] = []any{"/threshold"} })
	if len(answer.Remedies) > 0 {
		t.Errorf("a remedy of a fixed threshold: %s", answer.Remedies[0].moved())
	}
	if len(answer.Relaxations) == 0 || answer.Relaxations[0].Fixed != "/threshold" || !answer.Relaxations[0].Remedy.Complies {
		t.Errorf("%+v", answer.Relaxations)
	}
	if !slices.ContainsFunc(answer.Tried, func(x Tried) bool { return strings.Contains(x.Why, "`/threshold` may not be changed") }) {
		t.Errorf("%+v", answer.Tried)
	}
	// With one bevel fixed the other ways are open.
	answer = found(t, "H-03", func(s map[string]any) { s["fixed"] = []any{"/threshold/segments/3/run"} })
	if len(answer.Remedies) == 0 || answer.Remedies[0].moved() == "lengthen-bevel" {
		t.Errorf("%+v", answer.Remedies)
	}
}

// Options are looked at one by one, and what is fixed is so by its place in the user's spec.
func TestFind_FixedOptionStays(t *testing.T) {
	short := func(fixed ...any) func(map[string]any) {
		return func(s map[string]any) {
			at(s, "threshold")["segments"] = []any{}
			delete(at(s, "threshold"), "leaf_at")
			s["options"] = []any{
				map[string]any{"id": "first", "seal": "brush-fine-30", "mount": map[string]any{"on": "underside"}, "set": map[string]any{"overlap": "-2 mm"}},
				map[string]any{"id": "second", "seal": "brush-fine-30", "mount": map[string]any{"on": "underside"}, "set": map[string]any{"overlap": "-2 mm"}},
			}
			s["fixed"] = fixed
		}
	}
	for _, c := range []struct {
		fixed []any
		want  string
	}{{[]any{"/options/0"}, "second"}, {[]any{"/options/1"}, "first"}, {[]any{"/options/0/set", "/options/0/seal"}, "second"}} {
		answer := found(t, "H-03", short(c.fixed...))
		if len(answer.Remedies) == 0 {
			t.Errorf("%v: %+v", c.fixed, answer.Tried)
		}
		for _, m := range answer.Remedies {
			if m.Option != c.want {
				t.Errorf("%v: option %s is changed: %s", c.fixed, m.Option, raw(m.Patch))
			}
		}
	}
	if answer := found(t, "H-03", short("/options")); len(answer.Remedies) > 0 {
		t.Errorf("%s", raw(answer.Remedies[0].Patch))
	}
}

// A stronger closer opens harder with every option's seals, of which readings say otherwise: such a spec is no door, and no error.
func TestFind_WhatIsNoDoorBesideOthersIsNotGiven(t *testing.T) {
	a := assessor(t, nil)
	spec := exampleOf(t, "L-01")
	at(spec, "door")["closing_force"] = "1 N"
	at(spec, "site")["pressure"] = map[string]any{"from": "-6 Pa", "to": "6 Pa"}
	for _, o := range items(spec, "options") {
		o["opening_force"] = []any{map[string]any{"from": "0 deg", "to": "90 deg", "force": "21.6 N"}}
	}
	text, err := json.Marshal(spec)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Find(context.Background(), a, assessed(t, a, text), Scope{}); err != nil {
		t.Error(err)
	}
}

func TestFind_FireDoorsAreLeftAlone(t *testing.T) {
	heavy := func(s map[string]any) {
		at(s, "door")["fire_rated"] = true
		at(s, "door", "clear_width")["face_to_stop"] = "850 mm"
		at(s, "door", "clear_width")["least"] = "850 mm"
		at(s, "door")["projections"] = []any{}
		s["paths"] = []any{}
		s["options"] = []any{map[string]any{"id": "bare", "seal": "none"}}
		s["rulebooks"] = []any{"us-ca-cbc-2022"}
		for _, band := range items(at(s, "door"), "opening_force") {
			band["force"] = "70 N" // 15 lbf is the most at a fire door there
		}
	}
	answer := found(t, "O-02", heavy)
	if len(answer.Remedies) > 0 || len(answer.Relaxations) == 0 || answer.Relaxations[0].Answer != "safety/fire-door" {
		t.Errorf("%+v %+v", answer.Remedies, answer.Relaxations)
	}
	answer = found(t, "O-02", func(s map[string]any) {
		heavy(s)
		at(s, "site")["answers"] = map[string]any{"safety/fire-door": map[string]any{"value": true, "evidence": "letter of the door's maker, agreed by the fire authority"}}
	})
	if len(answer.Remedies) == 0 || !strings.HasPrefix(answer.Remedies[0].moved(), "ease-door") {
		t.Errorf("%+v %+v", answer.Remedies, answer.Tried)
	}
	for _, m := range answer.Remedies {
		if len(m.Steps[0].Before) == 0 || !strings.Contains(m.Steps[0].Before[0], "maker") {
			t.Errorf("no word of the maker: %+v", m.Steps[0])
		}
	}
}

func TestFind_WeatherStepStays(t *testing.T) {
	answer := found(t, "G-01", unchanged)
	if len(answer.Remedies) > 0 || len(answer.Relaxations) == 0 || answer.Relaxations[0].Answer != "safety/level-water" || !answer.Relaxations[0].Remedy.Complies {
		t.Errorf("%+v %+v", answer.Remedies, answer.Relaxations)
	}
	answer = found(t, "G-01", func(s map[string]any) {
		at(s, "site")["answers"] = map[string]any{"safety/level-water": map[string]any{"value": true, "evidence": "drained channel along the landing, by the designer's drawing"}}
	})
	if len(answer.Remedies) == 0 || answer.Remedies[0].moved() != "lower-threshold" || !strings.Contains(answer.Remedies[0].Steps[0].Do, "to 12.7 mm") {
		t.Errorf("%+v", answer.Remedies)
	}
}

// Approved Documents M and B pull apart at the door to the garage, unless its floor may be laid otherwise.
func TestFind_TwoRulebooksThatConflict(t *testing.T) {
	answer := found(t, "E-01", func(s map[string]any) { s["fixed"] = []any{"/approach/outside"} })
	if len(answer.Remedies) > 0 {
		t.Errorf("%s", answer.Remedies[0].moved())
	}
	rules := map[string]bool{}
	for _, r := range answer.Relaxations {
		rules[r.Rule] = true
	}
	if !rules["uk-adm1-2015/threshold"] || !rules["uk-adb1-2019/garage-threshold"] {
		t.Errorf("%+v", answer.Relaxations)
	}
}

// A floor that varies 5 mm: no seal of the built-in catalogue is known to follow it.
func TestFind_FloorThatNoSealFollows(t *testing.T) {
	answer := found(t, "T-01", unchanged)
	if len(answer.Remedies) == 0 {
		t.Fatalf("%+v", answer.Tried)
	}
	for _, m := range answer.Remedies {
		if !m.Complies || m.moved() == "change-seal" || m.moved() == "set-seal" {
			t.Errorf("%s: complies %v", m.moved(), m.Complies)
		}
	}
}

func TestFind_NothingToChange(t *testing.T) {
	for _, mark := range []string{"H-01", "D-01", "F-01"} { // complies; waits for measurements; waits for evidence
		answer := found(t, mark, unchanged)
		if len(answer.Remedies)+len(answer.Relaxations)+len(answer.Tried) > 0 {
			t.Errorf("%s: %+v", mark, answer)
		}
	}
}
