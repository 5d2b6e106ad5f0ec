package policies

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"
)

// The examples of RFC 7396, appendix A, less the four whose patch is no object: a case's
// change always is one.
func TestMerged_Published(t *testing.T) {
	for _, row := range [][3]string{
		{`{"a":"b"}`, `{"a":"c"}`, `{"a":"c"}`},
		{`{"a":"b"}`, `{"b":"c"}`, `{"a":"b","b":"c"}`},
		{`{"a":"b"}`, `{"a":null}`, `{}`},
		{`{"a":"b","b":"c"}`, `{"a":null}`, `{"b":"c"}`},
		{`{"a":["b"]}`, `{"a":"c"}`, `{"a":"c"}`},
		{`{"a":"c"}`, `{"a":["b"]}`, `{"a":["b"]}`},
		{`{"a":{"b":"c"}}`, `{"a":{"b":"d","c":null}}`, `{"a":{"b":"d"}}`},
		{`{"a":[{"b":"c"}]}`, `{"a":[1]}`, `{"a":[1]}`},
		{`{"e":null}`, `{"a":1}`, `{"e":null,"a":1}`},
		{`[1,2]`, `{"a":"b","c":null}`, `{"a":"b"}`},
		{`{}`, `{"a":{"bb":{"ccc":null}}}`, `{"a":{"bb":{}}}`},
	} {
		var target, patch, want any
		for i, out := range []*any{&target, &patch, &want} {
			if err := json.Unmarshal([]byte(row[i]), out); err != nil {
				t.Fatal(err)
			}
		}
		before, _ := json.Marshal(target)
		if got := merged(target, patch); !reflect.DeepEqual(got, want) {
			t.Errorf("%s with %s gives %v, want %s", row[0], row[1], got, row[2])
		}
		if after, _ := json.Marshal(target); string(after) != string(before) {
			t.Errorf("%s is changed to %s", before, after)
		}
	}
}

// The segments are written out by hand: up the outer side, 60 mm flat, down the inner one.
func TestProfileSegments_Identity(t *testing.T) {
	type s = []any
	for name, c := range map[string]struct {
		profile map[string]string
		want    s
	}{
		"level": {map[string]string{"both": "level"}, s{segment("60 mm", "0 mm")}},
		"lip and bevel, lip inside": {
			map[string]string{"outer": "V6.35 B6.35@1:2", "inner": "V6"},
			s{segment("0 mm", "6.35 mm"), segment("12.7 mm", "6.35 mm"), segment("60 mm", "0 mm"), segment("0 mm", "-6 mm")},
		},
		"the inner side is walked up from its own floor": {
			map[string]string{"outer": "level", "inner": "V6 F10 B3@3:4"},
			s{segment("60 mm", "0 mm"), segment("4 mm", "-3 mm"), segment("10 mm", "0 mm"), segment("0 mm", "-6 mm")},
		},
		"down into a channel and up again": {
			map[string]string{"outer": "V-10 F30 B-2@1:2 V12", "inner": "level"},
			s{segment("0 mm", "-10 mm"), segment("30 mm", "0 mm"), segment("4 mm", "-2 mm"), segment("0 mm", "12 mm"), segment("60 mm", "0 mm")},
		},
		"not known": {
			map[string]string{"both": "V? B6@?"},
			s{segment("0 mm", "unknown"), segment("unknown", "6 mm"), segment("60 mm", "0 mm"), segment("unknown", "-6 mm"), segment("0 mm", "unknown")},
		},
	} {
		got, err := profileSegments(c.profile)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		a, _ := json.Marshal(got)
		b, _ := json.Marshal(c.want)
		if string(a) != string(b) {
			t.Errorf("%s: %s\nwant %s", name, a, b)
		}
	}
}

const trialCases = `format: sillwright/cases/1
rulebook: trial
base: {format: sillwright/door/1, mark: D-1, rulebooks: [trial]}
never: {width: {unknown: it is always given}}
cases:
  - name: "fails: a narrow opening"
    rule: width
    source: common practice, no published source
    profile: {both: V6}
    change: {mark: D-2}
    facts: {clear_width: 800000000.5}
    outcome: fail
  - name: "passes: a wide opening"
    rule: width
    source: common practice, no published source
    outcome: pass
`

func TestReadCases(t *testing.T) {
	file, problems := readCases("trial.cases.yaml", []byte(trialCases))
	if len(problems) > 0 {
		t.Fatal(problems[0])
	}
	if file.Never["trial/width"]["unknown"] != "it is always given" || len(file.Cases) != 2 {
		t.Errorf("%+v", file)
	}
	c := file.Cases[0]
	if c.Rule != "trial/width" || c.Subject != "door" || c.Outcome != Fail || c.Line != 6 || c.Needs != nil {
		t.Errorf("%+v", c)
	}
	var door map[string]any
	if err := json.Unmarshal(c.Door, &door); err != nil {
		t.Fatal(err)
	}
	threshold, _ := door["threshold"].(map[string]any)
	if segments, _ := threshold["segments"].([]any); door["mark"] != "D-2" || len(segments) != 3 {
		t.Errorf("%s", c.Door)
	}
	if c.Facts["clear_width"] != json.Number("800000000.5") || file.Cases[1].Facts != nil || strings.Contains(string(c.Door), "clear_width") {
		t.Errorf("facts %v and %v in %s", c.Facts, file.Cases[1].Facts, c.Door)
	}
	if plain := string(file.Cases[1].Door); !strings.Contains(plain, `"D-1"`) || strings.Contains(plain, "threshold") {
		t.Errorf("the first case's change is in the second: %s", plain)
	}
}

func TestCaseFileIsRefused(t *testing.T) {
	for name, c := range map[string]struct{ old, new, says string }{
		"a key that is not known":             {"    change:", "    chance:", "trial.cases.yaml:10:"},
		"a name that says another outcome":    {`"fails: a narrow`, `"passes: a narrow`, "trial.cases.yaml:6:"},
		"a name without its verdict":          {`"fails: a narrow`, `"a narrow`, "trial.cases.yaml:6:"},
		"a name twice":                        {`"passes: a wide opening"`, `"passes: a wide opening"` + "\n    rule: width\n    source: x\n    outcome: pass\n  - name: \"passes: a wide opening\"", "a second time"},
		"no source":                           {"    source: common practice, no published source\n    profile", "    profile", "source"},
		"an outcome that is not known":        {"outcome: fail", "outcome: maybe", "maybe"},
		"a part of a profile that is unknown": {"both: V6", "both: X6", "trial.cases.yaml:9:"},
		"a bevel without a slope":             {"both: V6", "both: B6", "trial.cases.yaml:9:"},
		"a profile with one side":             {"both: V6", "outer: V6", "trial.cases.yaml:9:"},
		"a profile with a side and both":      {"both: V6", "both: V6, outer: V6", "trial.cases.yaml:9:"},
		"an outcome that is never of no kind": {"{unknown: it is", "{perhaps: it is", "perhaps"},
		"facts without one":                   {"facts: {clear_width: 800000000.5}", "facts: {}", "trial.cases.yaml:11:"},
		"another format":                      {"sillwright/cases/1", "sillwright/cases/2", "trial.cases.yaml:1:"},
	} {
		t.Run(name, func(t *testing.T) {
			if strings.Count(trialCases, c.old) != 1 {
				t.Fatalf("%q stands %d times in the trial cases", c.old, strings.Count(trialCases, c.old))
			}
			_, problems := readCases("trial.cases.yaml", []byte(strings.Replace(trialCases, c.old, c.new, 1)))
			if len(problems) == 0 {
				t.Fatal("it is taken")
			}
			var all strings.Builder
			for _, p := range problems {
				all.WriteString(p.Error() + "\n")
			}
			if !strings.Contains(all.String(), c.says) {
				t.Errorf("%s\nwant %q in it", all.String(), c.says)
			}
		})
	}
	if _, err := Cases("no-such-book"); err == nil {
		t.Error("cases of a rulebook that is not there")
	}
}

// Cases may bring seals that the built-in catalogue lacks, as a catalogue of their own.
func TestCasesBringSeals(t *testing.T) {
	file, problems := readCases("trial.cases.yaml", []byte(strings.Replace(trialCases, "never:", "seals: {mine: {title: mine, like: tufted-50}}\nnever:", 1)))
	if len(problems) > 0 {
		t.Fatal(problems[0])
	}
	if got, want := string(file.Seals), `{"format":"sillwright/seals/1","seals":{"mine":{"like":"tufted-50","title":"mine"}}}`; got != want {
		t.Errorf("seals %s, want %s", got, want)
	}
	if file, _ := readCases("trial.cases.yaml", []byte(trialCases)); file.Seals != nil {
		t.Errorf("seals that nobody brought: %s", file.Seals)
	}
}
