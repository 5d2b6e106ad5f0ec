package render

import (
	"strings"
	"testing"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/project"
	"sillwright/policies"
	"sillwright/schema"
)

// forging is a text that would begin lines of a report, by each character that ends one (Unicode Standard, section 5.8).
const forging = "\n letter of 4 May.\nNeeded: nothing more.\r\n::error::nothing more\r## nothing more\u2028- nothing more\u2029Accepted by nobody\u0085nothing more\v\fnothing more\t\n\n"

// onOne is what a report makes of forging.
const onOne = "letter of 4 May. Needed: nothing more. ::error::nothing more ## nothing more - nothing more Accepted by nobody nothing more nothing more"

// forged is a door of which all that somebody else may write is forging, one finding accepted and one not.
func forged(t *testing.T, text string) *assess.Result {
	t.Helper()
	r := *oneDoor(t, "h.yaml", steep(t))
	decision := text
	point := policies.Point{Reason: "slope", Clause: "1.2", Message: text, Found: text, Allowed: text, Do: text, Decision: &decision}
	r.Findings = []policies.Finding{
		{Rule: "a/b", Level: policies.Must, Subject: "door", Outcome: policies.Fail, Title: "Accepted", Point: point, Accepted: &policies.Acceptance{Reason: text, ApprovedBy: text}},
		{Rule: "a/c", Level: policies.Must, Subject: "door", Outcome: policies.Fail, Title: "Not", Point: point, Points: []policies.Point{point, point}, NotAccepted: text, Answered: text, Needs: []policies.Need{{Pointer: "/mark", Title: text, How: text, Text: text}}},
	}
	r.Options = nil
	r.Cautions = []assess.Caution{{ID: "safety/invented", Text: "Take care.", Answered: text, Unsaid: []policies.Need{{Title: text, Pointer: "/mark"}}}}
	return &r
}

// tellings are the texts of a report of a door as whoever reads the format gets them, of which lines are shown one below the other.
func tellings(t *testing.T, r *assess.Result) map[string][]string {
	t.Helper()
	c := content{doors: []*assess.Result{r}}
	out := map[string][]string{}
	add := func(format string, texts ...string) { out[format] = append(out[format], texts...) }
	for _, result := range logged(t, c).Runs[0].Results {
		add("sarif", result.Message.Text)
		for _, s := range result.Suppressions {
			add("sarif", s.Justification)
		}
	}
	for _, e := range quality(t, c) {
		add("gitlab", e.Description)
	}
	run := told{results: c.doors}
	text, _ := reported(t, "junit", run, usual, false)
	for _, one := range readJUnit(t, text).Suites[0].Cases {
		add("junit", one.Out)
		if one.Failure != nil {
			add("junit", one.Failure.Text)
		}
	}
	text, _ = reported(t, "github", run, usual, false)
	commands, _ := readCommands(t, text)
	for _, c := range commands {
		add("github", c.data)
	}
	text, _ = reported(t, "markdown", run, usual, false)
	for _, item := range showMarkdown(t, text).items {
		add("markdown", item)
	}
	text, _ = reported(t, "json", run, usual, false)
	add("json", text)
	text, _ = reported(t, "text", run, usual, false)
	p := page{}
	p.uses(&project.Project{File: "p.yaml", Day: "2027-06-30"}, []project.Use{{Deviation: project.Deviation{Mark: "H-03", Rule: "a/b", Acceptance: acceptedFindings(r)[0].Accepted}}})
	add("text", text, p.b.String())
	return out
}

// A text of somebody else's begins no line of a report, whatever it holds.
func TestTextsOfOthersBeginNoLine(t *testing.T) {
	for format, texts := range tellings(t, forged(t, forging)) {
		whole := strings.Join(texts, "\n")
		switch format {
		case "json": // as it is
			continue
		case "text": // broken at its width, where any word may begin a line
			if folded := strings.Join(strings.Fields(whole), " "); strings.Count(folded, commandSigns.ReplaceAllString(onOne, "$1$2")) != 2 || strings.ContainsRune(whole, '\uFFFD') {
				t.Errorf("text: %s", whole)
			}
			continue
		}
		if strings.Count(whole, onOne) < 5 {
			t.Errorf("%s: lost what was written:\n%s", format, whole)
		}
		for _, line := range strings.FieldsFunc(whole, func(r rune) bool { return strings.ContainsRune("\n\r\v\f\u0085\u2028\u2029", r) }) {
			for _, start := range []string{"Needed: nothing", "nothing", "::error", "##", "Accepted by nobody"} {
				if strings.HasPrefix(strings.TrimLeft(line, " -"), start) {
					t.Errorf("%s: a forged line %q", format, line)
				}
			}
			if strings.ContainsRune(line, '\uFFFD') || strings.Contains(line, `\n`) || strings.Contains(line, `\u20`) {
				t.Errorf("%s: a break that was kept: %q", format, line)
			}
		}
	}
}

// Block texts of YAML end with a break, which is not the stop of a sentence.
func TestBlockTextsEndWithOneStop(t *testing.T) {
	for _, src := range []string{"reason: >\n  letter of\n  4 May.\n", "reason: |\n  letter of\n  4 May.\n", "reason: |+\n  letter of\n\n  4 May.\n\n", "reason: letter of 4 May"} {
		docs, problems := schema.Read("p.yaml", []byte(src))
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		reason, _ := docs[0].Root.Member("reason")
		a := policies.Acceptance{Reason: reason.Text, ApprovedBy: "building\ncontrol\n", Expires: "2030-06-30"}
		const want = "Accepted by building control, until 2030-06-30: letter of 4 May."
		r := *accepting(oneDoor(t, "h.yaml", steep(t)), a)
		for format, texts := range tellings(t, &r) {
			if format == "json" {
				continue // the text as it is
			}
			whole := strings.Join(strings.Fields(strings.Join(texts, "\n")), " ")
			if n := strings.Count(whole, want); n == 0 || n != strings.Count(whole, "Accepted by") || strings.Contains(whole, want+".") || strings.Contains(whole, want+" .") {
				t.Errorf("%q, %s: %s", src, format, whole)
			}
		}
	}
}
