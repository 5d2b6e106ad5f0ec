package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/cli"
	"sillwright/policies"
	"sillwright/schema"
)

// Doors that raise the cautions: one outside and one inside that say so, a fire door in California, one that says nothing, one that
// names no variant of its rulebooks, one whose spec answers.
var cautiousDoors = map[string]string{
	"outside.yaml": `format: sillwright/door/1
mark: C-01
rulebooks: [us-ada-2010]
site: {open_flue: true}
door: {location: external, powered: automatic, fire_rated: true, smoke_control: true, escape_route: true}
threshold: {segments: [{run: 0 mm, rise: 6 mm}, {run: 90 mm, rise: 0 mm}, {run: 0 mm, rise: -6 mm}]}
options: [{id: bare, seal: none}]
`,
	"inside.yaml": `format: sillwright/door/1
mark: C-02
rulebooks: [seal-practice]
options: [{id: bare, seal: none}]
door: {location: internal, powered: none, fire_rated: false, smoke_control: false}
`,
	"variants.yaml": `format: sillwright/door/1
mark: C-06
rulebooks: [air-leakage, fire-smoke]
door: {location: external, operation: hinged, fire_rated: true, smoke_control: true}
`,
	"california.yaml": `format: sillwright/door/1
mark: C-05
rulebooks: [us-ca-cbc-2022]
door: {operation: hinged, location: internal, powered: none, fire_rated: true}
`,
	"elsewhere.yaml": `format: sillwright/door/1
mark: C-07
rulebooks: [at-b1600, au-ncc-2022, ca-bc-2024, ca-nbc-2020, ch-sia500-2009, de-18040-2010, es-dbsua-2022, fi-access-2017, fr-access-2026, hk-bpr, ie-tgdm-2010, nl-bb-2012, nz-d1-2011, pl-wt-2022, pt-dl163-2006]
`,
	"unsaid.yaml": `format: sillwright/door/1
mark: C-03
rulebooks: [us-ada-2010]
`,
	"answered.yaml": `format: sillwright/door/1
mark: C-04
rulebooks: [us-ada-2010]
site: {open_flue: true, answers: {safety/combustion-air: {value: true, evidence: "air supply proved on site"}}}
`,
}

// cautionsOf judges a spec and gives its cautions.
func cautionsOf(t *testing.T, a *assess.Assessor, spec string) []assess.Caution {
	t.Helper()
	docs, problems := schema.Read("door.yaml", []byte(spec))
	if len(problems) > 0 || len(docs) != 1 {
		t.Fatal(problems)
	}
	d, problems := a.Decode(docs[0])
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	r, err := a.Assess(context.Background(), d)
	if err != nil {
		t.Fatal(err)
	}
	return r.Cautions
}

// No caution of any door is lost in any output format of any command.
func TestNoFormatLosesACaution(t *testing.T) {
	alone(t)
	a, err := assess.New(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	raised := map[string]bool{}
	for name, spec := range cautiousDoors {
		file := filepath.Join(dir, name)
		if err := os.WriteFile(file, []byte(spec), 0o644); err != nil {
			t.Fatal(err)
		}
		cautions := cautionsOf(t, a, spec)
		for _, c := range cautions {
			raised[c.ID] = true
			if !strings.Contains(c.Text, " Ask "+c.Ask.Whom+": "+c.Ask.What) || !strings.HasSuffix(c.Ask.What, "?") {
				t.Errorf("%s does not say whom to ask what: %s", c.ID, c.Text)
			}
		}
		for command, formats := range cli.Formats {
			for _, format := range formats {
				out := run(t, command, "--format", format, file).out
				for _, c := range cautions {
					if lost := missing(t, command+" "+format, out, c); lost != "" {
						t.Errorf("%s of %s as %s loses %s of %s:\n%s", command, name, format, lost, c.ID, out)
					}
				}
			}
		}
	}
	for _, book := range a.Policies.Rulebooks {
		for _, r := range book.Rules {
			if r.Level == policies.Caution && !raised[r.ID] {
				t.Errorf("no door here raises %s", r.ID)
			}
		}
	}
}

// missing says what an output leaves out of a caution. A format that is not known here has to be added.
func missing(t *testing.T, kind, out string, c assess.Caution) string {
	t.Helper()
	name := strings.TrimPrefix(c.ID, "safety/") // others by their whole id
	first, rest, _ := strings.Cut(out, "\n")
	flat := func(s string) string { return strings.Join(strings.Fields(s), " ") }
	switch kind {
	case "check text", "explain text":
		if !strings.Contains(flat(out), flat(c.Text)) {
			return "the text"
		}
	case "lint text":
		if _, names, _ := strings.Cut(first, " ! "); !slices.Contains(strings.FieldsFunc(names, func(r rune) bool { return strings.ContainsRune(", ?", r) }), name) {
			return "the name in the line"
		}
		if strings.Count(rest, c.Text) != 1 {
			return "the text in the summary, once"
		}
	case "check json", "explain json", "lint json":
		for i, line := range strings.Split(strings.TrimSpace(out), "\n") {
			if !holdsCaution(t, line, c) {
				return "the text in line " + string(rune('1'+i))
			}
		}
	case "lint sarif", "lint gitlab":
		var report struct {
			Runs []struct {
				Results []struct {
					RuleID  string
					Message struct{ Text string }
				}
			}
		}
		var list []struct {
			Check       string `json:"check_name"`
			Description string
		}
		into := any(&report)
		if kind == "lint gitlab" {
			into = &list
		}
		if err := json.Unmarshal([]byte(out), into); err != nil {
			t.Fatal(err)
		}
		told := 0
		for _, r := range report.Runs {
			for _, result := range r.Results {
				if result.RuleID == c.ID && strings.Contains(result.Message.Text, c.Text) {
					told++
				}
			}
		}
		for _, e := range list {
			if e.Check == c.ID && strings.Contains(e.Description, c.Text) {
				told++
			}
		}
		if told != 1 {
			return "a result of its own"
		}
	case "lint junit":
		_, after, _ := strings.Cut(out, "<testcase")
		door, _, _ := strings.Cut(after, "</testcase>")
		if strings.Count(door, c.Text) != 1 || !strings.Contains(door, name) {
			return "the text with the door, once"
		}
	case "lint github":
		_, names, _ := strings.Cut(out, "::Cautions: ")
		names, rest, _ := strings.Cut(names, "\n")
		names, _, _ = strings.Cut(names, ". ")
		if !slices.Contains(strings.FieldsFunc(names, func(r rune) bool { return strings.ContainsRune(", ?", r) }), name) {
			return "the name in a notice"
		}
		if strings.Count(rest, c.Text) != 1 {
			return "the text in the summary, once"
		}
	case "explain markdown":
		_, after, _ := strings.Cut(strings.NewReplacer("\\", "", "`", "").Replace(out), "\n## Cautions\n")
		if !strings.Contains(after, "\n- "+name+": ") || strings.Count(after, c.Text) != 1 {
			return "the text at the end, once, with its name"
		}
	case "lint markdown":
		plain := strings.NewReplacer("\\", "", "`", "").Replace(out)
		before, after, _ := strings.Cut(plain, "\n## Cautions\n")
		if !strings.Contains(before, "| "+name) && !strings.Contains(before, ", "+name) {
			return "the name in the row"
		}
		if strings.Count(after, c.Text) != 1 {
			return "the text at the end, once"
		}
	default:
		t.Fatalf("say here how %s shows a caution", kind)
	}
	return ""
}

// holdsCaution looks for a caution in a result or a summary.
func holdsCaution(t *testing.T, line string, c assess.Caution) bool {
	t.Helper()
	var object struct {
		Cautions []struct{ ID, Text, Because string } `json:"cautions"`
	}
	if err := json.NewDecoder(bytes.NewBufferString(line)).Decode(&object); err != nil {
		t.Fatal(err)
	}
	for _, got := range object.Cautions {
		if got.ID == c.ID && got.Text == c.Text && got.Because == c.Because {
			return true
		}
	}
	return false
}
