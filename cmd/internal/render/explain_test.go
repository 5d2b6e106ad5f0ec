package render

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/text"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/explain"
	"sillwright/cmd/internal/remedy"
	"sillwright/policies"
	"sillwright/schema"
)

// explained explains a result in every format, and holds each to its page or its schema.
func explained(t *testing.T, r *assess.Result, s explain.Scope, answer *remedy.Answer) (plain, machine, marked string) {
	t.Helper()
	a, err := exampleAssessor()
	if err != nil {
		t.Fatal(err)
	}
	e, err := explain.New(a, r, s)
	if err != nil {
		t.Fatal(err)
	}
	var b [3]strings.Builder
	for _, err := range []error{ExplanationText(&b[0], e, answer, false), ExplanationJSON(&b[1], e, answer, MadeBy{}), ExplanationMarkdown(&b[2], e, answer)} {
		if err != nil {
			t.Fatal(err)
		}
	}
	for line := range strings.Lines(b[0].String()) {
		if columns(strings.TrimSuffix(line, "\n")) > width {
			t.Errorf("%s %v: wider than a page: %s", r.Door.Mark, s, line)
		}
		if strings.ContainsFunc(strings.TrimSuffix(line, "\n"), func(c rune) bool { return !schema.Prints(c) }) {
			t.Errorf("%s %v: does not print: %q", r.Door.Mark, s, line)
		}
	}
	keepsToSchema(t, b[1].String())
	showsOnlyText(t, b[2].String())
	return b[0].String(), b[1].String(), b[2].String()
}

func keepsToSchema(t *testing.T, object string) {
	t.Helper()
	s, err := schema.Named("explanation")
	if err != nil {
		t.Fatal(err)
	}
	docs, problems := schema.Read("explanation.json", []byte(object))
	if len(problems) > 0 || len(docs) != 1 {
		t.Fatalf("no single object: %v", problems)
	}
	for _, p := range schema.Validate(docs[0], s) {
		t.Errorf("breaks its schema: %v", p)
	}
}

// showsOnlyText holds Markdown to what has a place in an explanation: no text of a spec makes a link, a picture or HTML, and none gets
// into a block of code, which holds our drawing.
func showsOnlyText(t *testing.T, report string) {
	t.Helper()
	allowed := "Document Heading Text String Paragraph TextBlock List ListItem CodeSpan FencedCodeBlock "
	src := []byte(report)
	tree := goldmark.New(goldmark.WithExtensions(extension.GFM)).Parser().Parse(text.NewReader(src))
	_ = ast.Walk(tree, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if kind := n.Kind().String(); entering && !strings.Contains(allowed, kind+" ") {
			t.Errorf("the report has a %s, in %q", kind, n.Parent().Kind())
		}
		if block, ok := n.(*ast.FencedCodeBlock); ok && entering && strings.ContainsAny(string(block.Lines().Value(src)), "`<>&") {
			t.Errorf("more than a drawing in a block: %q", block.Lines().Value(src))
		}
		return ast.WalkContinue, nil
	})
}

// Whatever rule came out in whatever way, it can be told of, in every format.
func TestExplainsEveryRule(t *testing.T) {
	told := map[string]bool{}
	for _, r := range exampleResults(t) {
		all := append([]policies.Finding{}, r.Findings...)
		for _, o := range r.Options {
			all = append(all, o.Findings...)
		}
		for _, f := range all {
			if way := f.Rule + f.Outcome; !told[way] {
				told[way] = true
				plain, _, _ := explained(t, r, explain.Scope{Rule: f.Rule}, nil)
				if !strings.Contains(plain, "\nTHE RULE\n") || !strings.Contains(strings.Join(strings.Fields(plain), " "), strings.TrimSpace(outcomeBefore(explain.Asked, explain.Finding{Finding: f}))) {
					t.Errorf("%s of %s does not say %s:\n%s", f.Rule, r.Door.Mark, f.Outcome, plain)
				}
			}
		}
	}
	if len(told) < 100 {
		t.Errorf("only %d ways in which a rule came out", len(told))
	}
}

// Each format has every rule with what it asks, and every line that is drawn.
func TestExplanationsSayTheSame(t *testing.T) {
	drawn := 0
	for _, r := range exampleResults(t) {
		plain, machine, marked := explained(t, r, explain.Scope{}, nil)
		var e explanationJSON
		if err := json.Unmarshal([]byte(machine), &e); err != nil {
			t.Fatal(err)
		}
		for format, out := range map[string]string{"text": plain, "markdown": marked} {
			flat := strings.Join(strings.Fields(strings.ReplaceAll(out, `\`, "")), " ")
			for _, g := range e.Groups {
				for _, rule := range g.Rules {
					if !strings.Contains(flat, rule.ID) || !strings.Contains(flat, rule.Asks) || !strings.Contains(flat, rule.Source) {
						t.Errorf("%s of %s leaves out %s", format, r.Door.Mark, rule.ID)
					}
					if rule.Drawing == nil {
						continue
					}
					for _, line := range rule.Drawing.Lines {
						drawn++
						if !strings.Contains(out, line+"\n") {
							t.Errorf("%s of %s: line %q is not drawn for %s", format, r.Door.Mark, line, rule.ID)
						}
					}
				}
			}
		}
	}
	if drawn < 100 {
		t.Errorf("only %d lines are drawn", drawn)
	}
}

// Marks, titles, files and texts of a spec break out of no format, and accepted deviations and held doors are told as such.
func TestExplanationsOfHostileDoors(t *testing.T) {
	for _, r := range allTold(t).results {
		for _, s := range append([]explain.Scope{{}}, optionScopes(r)...) {
			plain, machine, _ := explained(t, r, s, nil)
			var e struct{ Mark string }
			if err := json.Unmarshal([]byte(machine), &e); err != nil || strings.ToValidUTF8(r.Door.Mark, "\uFFFD") != e.Mark {
				t.Errorf("%q is %q in JSON", r.Door.Mark, e.Mark)
			}
			if strings.HasPrefix(r.Door.Mark, "accepted ") && s == (explain.Scope{}) && (!strings.Contains(plain, "\nACCEPTED") || strings.Contains(plain, "WHY IT FAILS")) {
				t.Errorf("%s is not told as accepted:\n%s", r.Door.Mark, plain)
			}
		}
	}
}

func optionScopes(r *assess.Result) []explain.Scope {
	var out []explain.Scope
	for _, o := range r.Door.Options {
		out = append(out, explain.Scope{Option: o.ID})
	}
	return out
}

// An answer is told with its proof, and without one with what was tried and what would have to give way.
func TestRemediesAreTold(t *testing.T) {
	results := exampleResults(t)
	complies, open := results[0], results[0]
	for _, r := range results {
		if r.CanOrder && len(r.Options) > 0 {
			complies = r
		}
		if r.Verdict == assess.Unproven && len(explain.Needs(r)) > 0 {
			open = r
		}
	}
	steps := []remedy.Step{{Move: "lower-threshold", Do: "Lower the threshold by 5.3 mm, to 12.7 mm.", Before: []string{"Ask the maker."}, After: []string{"Measure again."}, Pointers: []string{"/threshold"}}}
	patch := []remedy.Operation{{Op: "replace", Path: "/threshold/segments/0/rise", Value: json.RawMessage(`"12.7 mm"`)}}
	proven := remedy.Remedy{Steps: steps, Patch: patch, Option: complies.Options[0].ID, Result: complies, Complies: true}
	unproven := remedy.Remedy{Steps: steps, Patch: patch, Result: open}
	found := &remedy.Answer{Remedies: []remedy.Remedy{proven, unproven}, Spent: 3}
	none := &remedy.Answer{
		Tried:       []remedy.Tried{{Rule: "us-ada-2010/threshold-profile", Title: "Threshold height and profile", Subject: "door", Move: "lower-threshold", Why: "/threshold is fixed."}, {Rule: "us-ada-2010/threshold-profile", Title: "Threshold height and profile", Subject: "door", Move: "raise-floor", Why: "the other side fails then."}},
		Relaxations: []remedy.Relaxation{{Gives: "If /threshold were not fixed", Fixed: "/threshold", Remedy: proven}, {Gives: "If this rule allowed 22 mm in place of 15 mm", Rule: "uk-adm1-2015/threshold", Remedy: remedy.Remedy{Result: complies, Complies: true}}},
		Spent:       1, Cut: true,
	}
	for _, c := range []struct {
		answer *remedy.Answer
		want   []string
	}{
		{found, []string{steps[0].Do, "Ask the maker.", "Measure again.", "Proven: with this every rulebook complies: ", "; option " + complies.Options[0].ID + " is estimated to leak ", "Nothing fails any longer; still to be found out: "}},
		{none, []string{
			"as far as was looked", "1 changed spec was judged", "Threshold height and profile (us-ada-2010/threshold-profile):", "- Lower the threshold: /threshold is fixed.", "- Raise the landing, the deck or the floor on one side: the other side fails then.", onlyAuthority,
			"If /threshold were not fixed: " + steps[0].Do + " Proven with that.", "If this rule allowed 22 mm in place of 15 mm: nothing else has to change. Proven with that.", searchCut,
		}},
	} {
		plain, machine, marked := explained(t, results[0], explain.Scope{}, c.answer)
		flat, unescaped := strings.Join(strings.Fields(plain), " "), strings.NewReplacer(`\`, "", "`", "").Replace(marked)
		for _, want := range c.want {
			if !strings.Contains(flat, want) || !strings.Contains(unescaped, want) {
				t.Errorf("no %q in\n%s\nor\n%s", want, plain, marked)
			}
		}
		var e struct {
			Remedies struct{ Found []struct{ Patch []any } }
		}
		if err := json.Unmarshal([]byte(machine), &e); err != nil || len(e.Remedies.Found) != len(c.answer.Remedies) {
			t.Errorf("%v: %s", err, machine)
		}
	}
}
