package render

import (
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema"
)

// quality writes a report and holds it to the form that GitLab documents, with no byte order mark, and its fingerprints
// unique (GitLab documentation, Code Quality, "Implement a custom tool" and "Merge request widget").
func quality(t *testing.T, c content) []qualityJSON {
	t.Helper()
	var list []qualityJSON
	report := listed(t, "gitlab", c)
	holds(t, schemaAt(t, "gitlab/code-quality.schema.json"), report, &list)
	if report[0] != '[' {
		t.Errorf("begins with %q", report[0])
	}
	seen := map[string]bool{}
	for _, e := range list {
		if seen[e.Print] || !regexp.MustCompile(`^[0-9a-f]{32}$`).MatchString(e.Print) {
			t.Errorf("%s: fingerprint %q", e.Check, e.Print)
		}
		seen[e.Print] = true
		if clean(e.Description) != e.Description {
			t.Errorf("does not print: %q", e.Description)
		}
	}
	return list
}

func TestCodeQualityKeepsToItsForm(t *testing.T) {
	for name, c := range contents(t) {
		t.Run(name, func(t *testing.T) {
			list := quality(t, c)
			if told := len(list) > 0; told != (len(c.doors)+len(c.problems)+len(c.repeated) > 0 || c.end.Interrupted) {
				t.Errorf("%d entries", len(list))
			}
			last := ""
			if len(list) > 0 {
				last = list[len(list)-1].Check + " " + list[len(list)-1].Severity
			}
			if (last == "sillwright/interrupted blocker") != c.end.Interrupted {
				t.Errorf("ended %+v, last is %q", c.end, last)
			}
		})
	}
	if got := string(listed(t, "gitlab", content{})); got != "[]\n" {
		t.Errorf("nothing to tell: %q", got)
	}
}

func TestCodeQualitySeverity(t *testing.T) {
	h03, file := oneDoor(t, "./h.yaml", steep(t)), "examples/unproven-d-01-drawn-but-not-measured.yaml"
	unproven := oneDoor(t, file, read(t, filepath.Join(root, file)))
	accepted := accepting(oneDoor(t, "accepted.yaml", steep(t)), policies.Acceptance{Reason: "to be planed", ApprovedBy: "A. Adviser"})
	list := quality(t, content{
		doors:    []*assess.Result{h03, unproven, accepted},
		problems: []schema.Problem{{File: "gone.yaml", Found: "no such file"}}, repeated: []schema.Problem{{File: "k2.json", Pointer: "/mark", Field: "mark", Found: "K-2 a second time"}}, notices: []schema.Problem{{File: "project.yaml", Found: "what is over"}},
	})
	for _, want := range []qualityJSON{
		{Check: "us-ada-2010/threshold-profile", Severity: "critical", Location: qualityPlace{"h.yaml", qualityLines{46, 46}, &qualityPositions{qualityPosition{46, 7}, qualityPosition{46, 33}}}, Description: "H-03: "},
		{Check: "us-ada-2010/threshold-profile", Severity: "major", Location: qualityPlace{Path: file, Lines: qualityLines{19, 19}}, Description: "D-01, not proven: "},
		{Check: "us-ada-2010/threshold-profile", Severity: "info", Location: qualityPlace{Path: "accepted.yaml", Lines: qualityLines{46, 46}}, Description: "H-03, accepted: "},
		{Check: "safety/recheck", Severity: "info", Location: qualityPlace{Path: "h.yaml", Lines: qualityLines{4, 4}}, Description: "H-03: Caution: recheck. "},
		{Check: "sillwright/input", Severity: "blocker", Location: qualityPlace{Path: "gone.yaml", Lines: qualityLines{1, 1}}, Description: "gone.yaml: found no such file"},
		{Check: "sillwright/mark", Severity: "critical", Location: qualityPlace{Path: "k2.json", Lines: qualityLines{1, 1}}, Description: "k2.json: mark: found K-2 a second time"},
		{Check: "sillwright/project", Severity: "minor", Location: qualityPlace{Path: "project.yaml", Lines: qualityLines{1, 1}}, Description: "project.yaml: found what is over"},
	} {
		found := false
		for _, e := range list {
			found = found || e.Check == want.Check && e.Severity == want.Severity && samePlace(e.Location, want.Location) && strings.HasPrefix(e.Description, want.Description)
		}
		if !found {
			t.Errorf("no %+v", want)
		}
	}
}

// samePlace compares places, columns only where they are wanted; the lines are told twice alike.
func samePlace(got, want qualityPlace) bool {
	if p := got.Positions; p != nil && (p.Begin.Line != got.Lines.Begin || p.End.Line != got.Lines.End) {
		return false
	}
	return got.Path == want.Path && got.Lines == want.Lines && (want.Positions == nil || reflect.DeepEqual(got.Positions, want.Positions))
}

// A path is relative, whatever was named: that is all that the documentation asks of it. A colon makes none absolute where names have
// no drives, so it stands as the file is called.
func TestCodeQualityPath(t *testing.T) {
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for file, want := range map[string]string{
		"./a/b.yaml": "a/b.yaml", filepath.Join(here, "a.yaml"): "a.yaml", filepath.Join(filepath.Dir(here), "a.yaml"): "../a.yaml",
		StandardInput: "standard input", "./" + StandardInput: "standard input", "": ".", "C:x.json": "C:x.json", "C:/x.json": "C:/x.json", "a b%20c.json": "a b%20c.json",
	} {
		if got := qualityPath(file); got != want {
			t.Errorf("%q: %q, want %q", file, got, want)
		}
		if file != "" {
			quality(t, content{problems: []schema.Problem{{File: file, Found: "nothing"}}})
		}
	}
}
