package render

import (
	"encoding/json"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema"
)

// sarifLog is what tests look at in a log.
type sarifLog struct {
	Version string
	Runs    []struct {
		sarifRun
		Results []sarifResult
	}
}

// logged writes a log, holds it to the schema that OASIS publishes, and to what the text of the standard asks beyond it.
func logged(t *testing.T, c content) sarifLog {
	t.Helper()
	var log sarifLog
	report := listed(t, "sarif", c)
	holds(t, schemaAt(t, "sarif/sarif-schema-2.1.0.json"), report, &log)
	if len(log.Runs) != 1 || log.Runs[0].Results == nil {
		t.Fatalf("no results, which an empty run has too (3.14.23): %s", report)
	}
	run := log.Runs[0]
	seen := map[string]bool{}
	for _, r := range run.Results {
		if rules := run.Tool.Driver.Rules; r.RuleIndex >= len(rules) || rules[r.RuleIndex].ID != r.RuleID {
			t.Errorf("%s has the index %d (3.27.6)", r.RuleID, r.RuleIndex)
		}
		if (r.Kind == "fail") == (r.Level == "none") {
			t.Errorf("%s: kind %s with level %s (3.27.9, 3.27.10)", r.RuleID, r.Kind, r.Level)
		}
		if r.Suppressions == nil {
			t.Errorf("%s: suppressions are null, and not of all results (3.27.23)", r.RuleID)
		}
		if p := r.Prints.DoorRule; seen[p] || !regexp.MustCompile(`^[0-9a-f]{32}$`).MatchString(p) {
			t.Errorf("%s: fingerprint %q", r.RuleID, p)
		}
		seen[r.Prints.DoorRule] = true
		if left := strings.NewReplacer("{{", "", "}}", "").Replace(r.Message.Text); strings.ContainsAny(left, "{}") || strings.Contains(left, "](") {
			t.Errorf("a placeholder (3.11.5) or a link (3.11.6): %s", left)
		}
		for _, line := range strings.Split(r.Message.Text, "\n") {
			if clean(line) != line {
				t.Errorf("does not print: %q", line)
			}
		}
		for _, l := range append(r.Locations, r.Related...) {
			if l.Physical != nil {
				soundURI(t, l.Physical.Artifact)
			}
		}
	}
	return log
}

// soundURI holds a location to RFC 3986, sections 3.3 and 4.2, and to 3.4.4 of the standard.
func soundURI(t *testing.T, a sarifArtifact) {
	t.Helper()
	relative := regexp.MustCompile(`^(?:[A-Za-z0-9._~$&+=@!'()*,;-]|%[0-9A-F]{2})+(?:/(?:[A-Za-z0-9._~$&+=@!'()*,;:-]|%[0-9A-F]{2})+)*$`)
	path, absolute := strings.CutPrefix(a.URI, "file:///")
	if !relative.MatchString(path) || absolute == (a.Base != "") {
		t.Errorf("location %+v", a)
	}
}

func TestSARIFKeepsToTheSchema(t *testing.T) {
	for name, c := range contents(t) {
		t.Run(name, func(t *testing.T) {
			run := logged(t, c).Runs[0]
			invocation := run.Invocations[0]
			var levels []string
			for _, n := range invocation.Notifications {
				levels = append(levels, n.Level+" "+n.Message.Text[:strings.IndexByte(n.Message.Text, ' ')])
			}
			var want []string
			if c.end.Interrupted {
				want = []string{"error The"}
			} else if len(c.problems) > 0 {
				want = []string{"error Not"}
			}
			ok := len(want) == 0
			if len(c.repeated) > 0 {
				want = append(want, "warning A")
			}
			if invocation.Successful != ok || !slices.Equal(levels, want) || invocation.ExitCode != c.end.Code {
				t.Errorf("ended %+v, told as %+v", c.end, invocation)
			}
			counts, _ := run.Properties["summary"].(map[string]any)
			if counts["doors"] != float64(len(c.doors)) || counts["verdicts"] == nil || counts["can_be_ordered"] == nil {
				t.Errorf("summary %v", counts)
			}
			if len(c.doors)+len(c.problems) > 0 && len(run.Results) == 0 {
				t.Error("nothing told")
			}
		})
	}
}

// The name of a file comes back from its URI byte for byte.
func TestSARIFNamesFiles(t *testing.T) {
	for _, name := range []string{"a.yaml", "a b/c#d?e.yaml", "x:y.yaml", "100%.yaml", "%2e.yaml", `q"'<>.yaml`, "\u202eé漢😀.yaml", "\xff\n.yaml", `back\slash.yaml`, "../up.yaml", "--.yaml"} {
		a := artifactOf(name)
		soundURI(t, a)
		u, err := url.Parse(a.URI)
		if err != nil || u.Path != name || u.Scheme != "" || u.RawQuery != "" || u.Fragment != "" {
			t.Errorf("%q: %+v, %v", name, u, err)
		}
	}
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	if a := artifactOf(filepath.Join(here, "a.yaml")); a != (sarifArtifact{"a.yaml", sourceRoot}) {
		t.Errorf("a file below the folder of the run: %+v", a)
	}
	if a := artifactOf("/elsewhere/a b.yaml"); a != (sarifArtifact{URI: "file:///elsewhere/a%20b.yaml"}) {
		t.Errorf("a file elsewhere: %+v", a)
	}
}

// Standard input is no file.
func TestSARIFOfStandardInput(t *testing.T) {
	for _, r := range logged(t, content{doors: []*assess.Result{oneDoor(t, StandardInput, steep(t))}}).Runs[0].Results {
		if len(r.Locations) != 1 || r.Locations[0].Physical != nil || r.Locations[0].Logical[0].FullName != "H-03" || len(r.Related) > 0 {
			t.Errorf("%s: %+v, %+v", r.RuleID, r.Locations, r.Related)
		}
	}
}

// A file that is called as standard input is a file, under a name that is not that of the stream, in every format.
func TestAFileCalledStandardInput(t *testing.T) {
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range []string{"./" + StandardInput, filepath.Join(here, StandardInput), "x/../" + StandardInput, ".//" + StandardInput} {
		if got := fromHere(file); got != "./standard input" {
			t.Errorf("%q: %q", file, got)
		}
	}
	for file, want := range map[string]string{StandardInput: StandardInput, "a/" + StandardInput: "a/" + StandardInput, "./a.yaml": "a.yaml", StandardInput + ".yaml": StandardInput + ".yaml"} {
		if got := fromHere(file); got != want {
			t.Errorf("%q: %q, not %q", file, got, want)
		}
	}
	file, stream := oneDoor(t, "./"+StandardInput, steep(t)), oneDoor(t, StandardInput, steep(t))
	ofStream := logged(t, content{doors: []*assess.Result{stream}}).Runs[0].Results
	for i, r := range logged(t, content{doors: []*assess.Result{file}}).Runs[0].Results {
		if at := r.Locations[0].Physical; at == nil || at.Artifact != (sarifArtifact{"./standard%20input", sourceRoot}) || at.Region == nil {
			t.Errorf("%s: %+v", r.RuleID, r.Locations)
		}
		if r.Prints == ofStream[i].Prints {
			t.Errorf("%s: the file and the stream have one fingerprint", r.RuleID)
		}
	}
	for _, format := range []string{"junit", "github", "markdown"} {
		of := func(r *assess.Result) bool {
			report, _ := reported(t, format, told{results: []*assess.Result{r}}, usual, false)
			return strings.Contains(report, "./standard input")
		}
		if !of(file) || of(stream) {
			t.Errorf("%s does not tell the file from the stream", format)
		}
	}
}

// What is not known must show where kinds are not read, as on GitHub, whose documentation of the SARIF that it supports does
// not name them; pass, notApplicable and review have no level.
func TestSARIFKinds(t *testing.T) {
	unproven := oneDoor(t, "d.yaml", read(t, filepath.Join(root, "examples/unproven-d-01-drawn-but-not-measured.yaml")))
	kinds := map[[3]string]int{}
	count := func(c content) {
		for _, r := range logged(t, c).Runs[0].Results {
			kinds[[3]string{r.Properties["outcome"], r.Kind, r.Level}]++
		}
	}
	count(content{doors: []*assess.Result{oneDoor(t, "h.yaml", steep(t)), unproven}, only: Outcomes, problems: []schema.Problem{{File: "x", Found: "y"}}, repeated: []schema.Problem{{File: "x", Found: "y"}}, notices: []schema.Problem{{File: "x", Found: "y"}}})
	for _, want := range [][3]string{
		{policies.Fail, "fail", "error"}, {policies.Unknown, "fail", "error"}, {policies.Pass, "pass", "none"}, {policies.NotApplicable, "notApplicable", "none"},
		{isCaution, "review", "none"}, {isProblem, "fail", "error"}, {isRepeated, "fail", "error"}, {isNotice, "fail", "warning"},
	} {
		if kinds[want] == 0 {
			t.Errorf("no %v among %v", want, kinds)
		}
	}
	clear(kinds)
	count(content{doors: []*assess.Result{accepting(unproven, policies.Acceptance{Reason: "seen on site", ApprovedBy: "A. Adviser"})}})
	if kinds[[3]string{policies.Unknown, "open", "none"}] == 0 {
		t.Errorf("accepted: %v", kinds)
	}
}

// An accepted finding is suppressed with the reason, and no other is.
func TestSARIFSuppressesWhatIsAccepted(t *testing.T) {
	h03 := oneDoor(t, "h.yaml", steep(t))
	accepted := accepting(h03, policies.Acceptance{Reason: "to be planed in June", ApprovedBy: "A. Adviser", Expires: "2027-06-30"})
	is := map[string]int{}
	for _, r := range logged(t, content{doors: []*assess.Result{accepted}}).Runs[0].Results {
		for _, s := range r.Suppressions {
			if s != (sarifSuppression{"external", "accepted", "Accepted by A. Adviser, until 2027-06-30: to be planed in June."}) || r.Level == "error" {
				t.Errorf("%s: %+v at level %s", r.RuleID, s, r.Level)
			}
		}
		if strings.HasPrefix(r.Message.Text, "H-03, accepted: ") != (len(r.Suppressions) == 1) {
			t.Errorf("%+v", r)
		}
		is[r.Properties["outcome"]] += len(r.Suppressions)
	}
	if is[policies.Fail] == 0 || is[isCaution] > 0 {
		t.Errorf("suppressed: %v", is)
	}
}

// The region of a result is where the offending value stands in the file, whatever characters stand before it.
func TestSARIFPointsToTheValue(t *testing.T) {
	oneByOne(t)
	for _, c := range []struct{ example, rule, value string }{
		{"fails-h-03-inner-bevel-too-steep.yaml", "us-ada-2010/threshold-profile", "{run: 18 mm, rise: -12 mm}"},
		{"fails-o-02-office-door-too-heavy.yaml", "us-ada-2010/opening-force-hinged", "{from: 0 deg, to: 30 deg, force: 31 N}"},
		{"fails-o-02-office-door-too-heavy.yaml", "us-ada-2010/clear-width", "806 mm"},
		{"unproven-d-01-drawn-but-not-measured.yaml", "us-ada-2010/threshold-profile", "{run: unknown, rise: 10 mm}"},
		{"fails-h-03-inner-bevel-too-steep.yaml", "safety/recheck", "H-03"},
	} {
		file, src := example(t, c.example)
		for _, src := range []string{src, "\ufeff# 漢😀é\r\n" + strings.ReplaceAll(src, "\n", "\r\n")} {
			pointsTo(t, oneDoor(t, file, src), src, c.rule, c.value)
		}
	}
	docs, _ := schema.Read("h.yaml", []byte(steep(t)))
	plain := docs[0].Root.Plain().(map[string]any)
	plain["mark"] = "漢😀é"
	src, err := json.Marshal(plain) // one line, the mark before the threshold
	if err != nil {
		t.Fatal(err)
	}
	pointsTo(t, oneDoor(t, "h.json", string(src)), string(src), "us-ada-2010/threshold-profile", `{"rise":"-12 mm","run":"18 mm"}`)
}

func pointsTo(t *testing.T, r *assess.Result, src, rule, value string) {
	t.Helper()
	run := logged(t, content{doors: []*assess.Result{r}}).Runs[0]
	if run.Columns != "unicodeCodePoints" || strings.Join(run.Newlines, "") != "\r\n\n\r" {
		t.Errorf("columns in %s, lines end in %q", run.Columns, run.Newlines)
	}
	for _, result := range run.Results {
		if result.RuleID != rule {
			continue
		}
		at := result.Locations[0]
		if at.Physical.Artifact.URI != r.Door.Document.File || at.Logical[0].FullName != r.Door.Mark {
			t.Errorf("%s of %+v", rule, at)
		}
		if got := textAt(src, *at.Physical.Region); got != value {
			t.Errorf("%s at %q, want %q", rule, got, value)
		}
		return
	}
	t.Errorf("no %s", rule)
}

// textAt is the text of a region on one line, in characters from 1; a byte order mark does not count (3.30.2).
func textAt(src string, at sarifRegion) string {
	lines := strings.Split(strings.TrimPrefix(src, "\ufeff"), "\n")
	if at.StartLine != at.EndLine {
		return "several lines"
	}
	return string([]rune(lines[at.StartLine-1])[at.StartColumn-1 : at.EndColumn-1])
}

// GitHub takes 1024 characters of what a rule says of itself, wants a help text, and takes 20 tags (GitHub documentation,
// SARIF support for code scanning).
func TestSARIFRulesFitGitHub(t *testing.T) {
	books := assessor(t).Policies.Rulebooks
	s := &sarif{o: Options{Rule: assessor(t).Policies.Rule}, index: map[string]int{}}
	for _, b := range books {
		for _, r := range b.Rules {
			s.rule(entry{rule: r.ID})
		}
	}
	for _, id := range []string{inputID, markID, projectID, "seals/of-our-own"} {
		s.rule(entry{rule: id, title: "As told", weight: severe})
	}
	for _, r := range s.rules {
		for _, text := range []string{r.Short.Text, r.Full.Text, r.Help.Text} {
			if text == "" || text != r.Help.Text && len([]rune(text)) > 1024 {
				t.Errorf("%s: %q", r.ID, text)
			}
		}
		if tags, _ := r.Properties["tags"].([]string); len(tags) > 20 || r.Default.Level == "" {
			t.Errorf("%s: %+v", r.ID, r)
		}
	}
	if i := s.index["us-ada-2010/threshold-profile"]; !strings.Contains(s.rules[i].Help.Text, "404.2.5") || s.rules[i].Properties["provenance"] != "read" {
		t.Errorf("%+v", s.rules[i])
	}
}

// A log that is more than GitHub takes is whole, and says so: 25,000 results a run, of which it shows 5,000 (GitHub
// documentation, SARIF support for code scanning).
func TestSARIFWarns(t *testing.T) {
	oneByOne(t)
	for n, want := range map[int]string{5_000: "", 5_001: "shows the 5000 gravest", 25_001: "refuses a SARIF run of more than 25000"} {
		var out strings.Builder
		r, err := newSARIF(&out, Options{})
		if err != nil {
			t.Fatal(err)
		}
		for range n {
			if err := r.Problem(schema.Problem{File: "a.yaml", Found: "nothing"}); err != nil {
				t.Fatal(err)
			}
		}
		if err := r.Close(End{}); err != nil {
			t.Fatal(err)
		}
		got := strings.Join(r.(Warner).Warnings(), "\n")
		if (got == "") != (want == "") || !strings.Contains(got, want) {
			t.Errorf("%d results: %q", n, got)
		}
		var log sarifLog
		if err := json.Unmarshal([]byte(out.String()), &log); err != nil || len(log.Runs[0].Results) != n {
			t.Errorf("%d results: %v", n, err)
		}
	}
}
