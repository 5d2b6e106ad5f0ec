package render

import (
	"encoding/xml"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/tools"
	"sillwright/policies"
	"sillwright/schema"
)

type junitRead struct {
	Suites []struct {
		Tests    int `xml:"tests,attr"`
		Failures int `xml:"failures,attr"`
		Errors   int `xml:"errors,attr"`
		Skipped  int `xml:"skipped,attr"`
		Cases    []struct {
			Name    string          `xml:"name,attr"`
			Class   string          `xml:"classname,attr"`
			Skipped *junitReadWords `xml:"skipped"`
			Error   *junitReadWords `xml:"error"`
			Failure *junitReadWords `xml:"failure"`
			Out     string          `xml:"system-out"`
		} `xml:"testcase"`
		Out string `xml:"system-out"`
	} `xml:"testsuite"`
}

type junitReadWords struct {
	Type    string `xml:"type,attr"`
	Message string `xml:"message,attr"`
	Text    string `xml:",chardata"`
}

func readJUnit(t *testing.T, text string) junitRead {
	t.Helper()
	var out junitRead
	if err := xml.Unmarshal([]byte(text), &out); err != nil {
		t.Fatal(err)
	}
	if len(out.Suites) != 1 {
		t.Fatalf("%d suites", len(out.Suites))
	}
	return out
}

// Every door is a case that says how it came out, with all that is in the way and every caution in full.
func TestJUnitTellsAll(t *testing.T) {
	run := allTold(t)
	text, _ := reported(t, "junit", run, usual, false)
	suite := readJUnit(t, text).Suites[0]
	var failures, errors, skipped int
	for i, r := range run.results {
		c := suite.Cases[i]
		if c.Name != schema.Printable(r.Door.Mark) || c.Class != schema.Printable(fromHere(r.Door.Document.File)) {
			t.Errorf("%q in %q: case %q in %q", r.Door.Mark, r.Door.Document.File, c.Name, c.Class)
		}
		why := ""
		switch {
		case r.Verdict == assess.Fails && c.Failure != nil && c.Failure.Type == "fails", r.Verdict == assess.Complies && !r.CanOrder && c.Failure != nil && c.Failure.Type == "held":
			failures++
			why = c.Failure.Text
		case r.Verdict == assess.Unproven && c.Error != nil && c.Error.Type == "unproven":
			errors++
			why = c.Error.Text
		case r.CanOrder && c.Failure == nil && c.Error == nil:
			if c.Skipped != nil {
				skipped++
			}
		default:
			t.Errorf("%s, which %s, can be ordered %v: %+v", r.Door.Mark, r.Verdict, r.CanOrder, c)
		}
		holdsFindings(t, r, why, c.Out)
		if strings.HasPrefix(r.Door.Mark, "accepted ") != (c.Skipped != nil) || c.Skipped != nil && !strings.HasPrefix(c.Skipped.Message, "accepted: ") {
			t.Errorf("%s: skipped %+v", r.Door.Mark, c.Skipped)
		}
	}
	rest := suite.Cases[len(run.results):]
	for i, p := range append(slices.Clone(run.problems), run.repeated...) {
		errors++
		kind, title := "input", "Not judged, "
		if i >= len(run.problems) {
			kind, title = "mark", "A mark given twice, "
		}
		if c := rest[i]; c.Error == nil || c.Error.Type != kind || c.Error.Message != p.Error() || !strings.HasPrefix(c.Name, title) {
			t.Errorf("%s: %+v", p.Error(), c)
		}
	}
	if suite.Tests != len(suite.Cases) || suite.Tests != len(run.results)+len(run.problems)+len(run.repeated) || suite.Failures != failures || suite.Errors != errors || suite.Skipped != skipped {
		t.Errorf("counts %d, %d, %d, %d; found %d, %d, %d, %d", suite.Tests, suite.Failures, suite.Errors, suite.Skipped, len(suite.Cases), failures, errors, skipped)
	}
	for _, p := range run.notices {
		if !strings.Contains(suite.Out, p.Error()) {
			t.Errorf("the suite does not say %s", p.Error())
		}
	}
	if strings.ContainsRune(text, '\uFFFD') {
		t.Error("a character was dropped")
	}
}

// holdsFindings looks for all that is in the way of a door in one text, for what is not in another, and there for cautions.
func holdsFindings(t *testing.T, r *assess.Result, why, out string) {
	t.Helper()
	for _, f := range r.Findings {
		if f.Level == policies.Caution || f.Outcome != policies.Fail && f.Outcome != policies.Unknown {
			continue
		}
		where := why
		if r.CanOrder || f.Accepted != nil {
			where = out
		}
		texts := []string{f.Rule, f.Title}
		for _, pt := range f.Points {
			texts = append(texts, pt.Message)
			texts = append(texts, pt.Found)
		}
		for _, n := range f.Needs {
			texts = append(texts, n.How)
		}
		if f.Accepted != nil {
			texts = append(texts, f.Accepted.ApprovedBy, f.Accepted.Expires, strings.TrimSuffix(strings.TrimSpace(f.Accepted.Reason), "."))
		}
		for _, text := range texts {
			if !strings.Contains(where, schema.Printable(strings.Join(strings.Fields(text), " "))) {
				t.Errorf("%q: %s lost %q:\n%s", r.Door.Mark, f.Rule, text, where)
			}
		}
	}
	for _, c := range r.Cautions {
		if strings.Count(out, c.Text) != 1 || !strings.Contains(out, c.ID) {
			t.Errorf("%q: caution %s is not told once in\n%s", r.Door.Mark, c.ID, out)
		}
	}
}

// What is not proven, and may pass in this run, is seen and no failure; a run that was interrupted fails; one of nothing is empty.
func TestJUnitOfSpecialRuns(t *testing.T) {
	examples := exampleResults(t)
	open := slices.DeleteFunc(slices.Clone(examples), func(r *assess.Result) bool {
		return r.Verdict != assess.Unproven || !slices.ContainsFunc(r.Options, func(o assess.Option) bool { return o.Verdict != assess.Fails })
	})
	lenient := usual
	lenient.AllowUnproven = true
	text, _ := reported(t, "junit", told{results: open}, lenient, false)
	suite := readJUnit(t, text).Suites[0]
	if len(open) == 0 || suite.Skipped != len(open) || suite.Errors+suite.Failures != 0 || !strings.HasPrefix(suite.Cases[0].Skipped.Message, "not proven") {
		t.Errorf("of %d unproven doors: %+v", len(open), suite)
	}
	text, _ = reported(t, "junit", told{results: examples[:1]}, usual, true)
	suite = readJUnit(t, text).Suites[0]
	if suite.Errors != 1 || suite.Tests != 2 || suite.Cases[1].Error.Type != "interrupted" || suite.Cases[1].Error.Message != cutShort {
		t.Errorf("interrupted: %+v", suite)
	}
	text, _ = reported(t, "junit", told{}, usual, false)
	if suite = readJUnit(t, text).Suites[0]; suite.Tests != 0 || len(suite.Cases) != 0 {
		t.Errorf("empty: %+v", suite)
	}
}

// The report keeps to the schemas in use: testdata/junit/README.md says which, and where they come from.
func TestJUnitKeepsToSchemas(t *testing.T) {
	xmllint := tools.Need(t, "xmllint")
	valid := func(text string, args ...string) (string, bool) {
		file := filepath.Join(t.TempDir(), "report.xml")
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command(xmllint, append(append([]string{"--noout"}, args...), file)...).CombinedOutput()
		return string(out), err == nil
	}
	jenkins, both := []string{"--schema", "testdata/junit/jenkins-junit.xsd"}, []string{"--relaxng", "testdata/junit/both.rng"}
	skipped := regexp.MustCompile(`<skipped [^>]*>`)
	run := allTold(t)
	whole, _ := reported(t, "junit", run, usual, false)
	interrupted, _ := reported(t, "junit", run, usual, true)
	empty, _ := reported(t, "junit", told{}, usual, false)
	for name, text := range map[string]string{"whole": whole, "interrupted": interrupted, "empty": empty} {
		if out, ok := valid(text, both...); !ok {
			t.Errorf("%s: %s", name, out)
		}
		if out, ok := valid(skipped.ReplaceAllString(text, "<skipped>"), jenkins...); !ok {
			t.Errorf("%s: %s", name, out)
		}
	}
	for old, wrong := range map[string]string{`<failure type="fails"`: "<failure", "<system-err></system-err>": "", `tests="`: `tests="x`, "</system-out>": "</system-out><system-out></system-out>"} {
		if _, ok := valid(strings.Replace(whole, old, wrong, 1), both...); ok {
			t.Errorf("%s for %s is let through", wrong, old)
		}
	}
}
