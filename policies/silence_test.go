package policies

import (
	"context"
	"encoding/json"
	"errors"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/open-policy-agent/opa/v1/ast"

	"sillwright/schema/fact"
)

// trialBook is a rulebook of one rule; tests change a line of it.
const trialBook = `format: sillwright/rulebook/1
id: trial
title: A trial
cite: Trial
edition: "1"
publisher: nobody
jurisdiction: none
systems: [mm]
rules:
  width:
    title: Clear width
    asks: Is it wide enough?
    why: People must pass.
    question: at-least
    fact: clear_width
    subject: door
    level: must
    provenance: practice
    applies: []
    limits: {value: {at_least: 800 mm}}
    exceptions: []
    messages: {value: Too narrow}
    remedies: {value: widen it}
    moves: [widen-opening]
`

// trial loads the trial rulebook, changed, with further modules. It holds no rule against its question, so that a fault
// which slips through is seen to stop the run.
func trial(t *testing.T, changes map[string]string, modules map[string]string) (*Policies, error) {
	t.Helper()
	src := trialBook
	for _, old := range slices.Sorted(maps.Keys(changes)) {
		if strings.Count(src, old) != 1 {
			t.Fatalf("%q stands %d times in the trial rulebook", old, strings.Count(src, old))
		}
		src = strings.Replace(src, old, changes[old], 1)
	}
	book, problems := readRulebook("trial.yaml", []byte(src))
	if len(problems) > 0 {
		return nil, problems[0]
	}
	p := &Policies{rules: map[string]*Rule{}}
	all, err := Modules()
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range modules {
		all[name] = "package sillwright.questions\n\n" + text
	}
	compiler, err := p.ask(all)
	if err != nil {
		t.Fatal(err)
	}
	p.take(book)
	return p, p.prepare(context.Background(), compiler)
}

func trialInput(facts fact.Set) Input {
	return Input{Mark: "T-1", Rulebooks: []Ref{{ID: "trial"}}, Subjects: []fact.Subject{{ID: "door", Kind: "door", Facts: facts}}}
}

func oneFact(name string, value any) fact.Set {
	return fact.Set{name: {Value: value, At: []string{"/" + name}}}
}

const width800 = int64(800_000_000)

func TestTrialBookJudges(t *testing.T) {
	p, err := trial(t, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	for value, want := range map[int64]string{width800: Pass, width800 - 1: Fail} {
		findings, err := p.Judge(context.Background(), trialInput(oneFact("clear_width", value)))
		if err != nil || len(findings) != 1 || findings[0].Outcome != want {
			t.Errorf("%d: %+v, %v; want %s", value, findings, err, want)
		}
	}
	findings, err := p.Judge(context.Background(), trialInput(fact.Set{}))
	if err != nil || len(findings) != 1 || findings[0].Outcome != Unknown || findings[0].Needs[0].Fact != "clear_width" {
		t.Errorf("no fact: %+v, %v", findings, err)
	}
}

// A rule that says nothing, or two things, is a fault and never a pass.
func TestSilenceIsAnError(t *testing.T) {
	wide := oneFact("clear_width", width800)
	for name, c := range map[string]struct {
		changes, modules map[string]string
		facts            fact.Set
	}{
		"a question without its limit":      {changes: map[string]string{"    limits: {value: {at_least: 800 mm}}\n": ""}, facts: wide},
		"a limit of the other sense":        {changes: map[string]string{"at_least": "at_most"}, facts: wide},
		"a limit under another name":        {changes: map[string]string{"limits: {value:": "limits: {valeu:"}, facts: wide},
		"a question without a fact to read": {changes: map[string]string{"    fact: clear_width\n": ""}, facts: wide},
		"a question that gives no checks":   {changes: map[string]string{"at-least": "empty"}, modules: map[string]string{"empty.rego": `answer("empty", _, _) := []`}, facts: wide},
		"a question that is undefined here": {changes: map[string]string{"at-least": "never"}, modules: map[string]string{"never.rego": `answer("never", rule, _) := [{"part": "value", "state": "pass", "at": []}] if rule.id == "other"`}, facts: wide},
		"a profile without its upright limit": {
			changes: map[string]string{"at-least": "change-in-level", "fact: clear_width": "fact: profile", "{value: {at_least: 800 mm}}": `{height: {at_most: 800 mm}, slope: {ratio: "1:2"}}`},
			facts: oneFact("profile", []any{map[string]any{"side": "outer", "height": int64(5), "at": []any{}, "needs": []any{}, "rising": []any{
				map[string]any{"at": "/0", "rise": int64(5), "run": int64(0), "above_floor": int64(5), "above_low": int64(5)},
			}}}),
		},
		"a profile that is a text": {
			changes: map[string]string{"at-least": "change-in-level", "fact: clear_width": "fact: profile", "{value: {at_least: 800 mm}}": `{height: {at_most: 800 mm}, upright: {at_most: 6 mm}, slope: {ratio: "1:2"}}`},
			facts:   oneFact("profile", "level"),
		},
		"slots without their limit": {
			changes: map[string]string{"at-least": "openings", "fact: clear_width": "fact: openings", "    limits: {value: {at_least: 800 mm}}\n": ""},
			facts:   oneFact("openings", []any{map[string]any{"at": "/0", "width": int64(900), "runs": "across"}}),
		},
		"forces without a reading": {
			changes: map[string]string{"at-least": "force-by-angle", "fact: clear_width": "fact: opening_force", "at_least: 800 mm": "at_most: 5 lbf"},
			facts:   oneFact("opening_force", []any{}),
		},
	} {
		t.Run(name, func(t *testing.T) {
			p, err := trial(t, c.changes, c.modules)
			if err != nil {
				t.Fatal(err)
			}
			findings, err := p.Judge(context.Background(), trialInput(c.facts))
			var silence *SilenceError
			if !errors.As(err, &silence) || silence.Rule != "trial/width" || silence.Subject != "door" || silence.Outcomes != 0 {
				t.Fatalf("findings %+v, error %v; want silence of trial/width", findings, err)
			}
		})
	}
}

func TestTwoOutcomesAreAnError(t *testing.T) {
	p, err := trial(t, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	in := trialInput(oneFact("clear_width", width800))
	in.Rulebooks = append(in.Rulebooks, Ref{ID: "trial"})
	var silence *SilenceError
	if findings, err := p.Judge(context.Background(), in); !errors.As(err, &silence) || silence.Outcomes != 2 {
		t.Errorf("findings %+v, error %v", findings, err)
	}
	in.Rulebooks = []Ref{{ID: "no-such-book"}}
	if findings, err := p.Judge(context.Background(), in); err == nil {
		t.Errorf("a rulebook that is not there: %+v", findings)
	}
}

// A fact of the wrong kind is refused before it is judged; and would be silence in Rego.
func TestFactOfTheWrongKind(t *testing.T) {
	p, err := trial(t, map[string]string{"applies: []": "applies: [{fact: fire_rated, in: [false], why: it is fire-rated}]"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, value := range []any{"800", "abc", "", true, nil, 800.0, json.Number("800.5"), []any{}, map[string]any{}} {
		in := trialInput(oneFact("clear_width", value))
		in.Subjects[0].Facts["fire_rated"] = fact.Fact{Value: false}
		if findings, err := p.Judge(context.Background(), in); err == nil || !strings.Contains(err.Error(), "clear_width") {
			t.Errorf("width %#v: %+v, %v", value, findings, err)
		}
		switch value.(type) {
		case float64, json.Number: // numbers, only not exact ones
			continue
		}
		outcomes, err := p.outcomes(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		var silence *SilenceError
		if findings, err := p.findings(in, outcomes); !errors.As(err, &silence) {
			t.Errorf("width %#v in Rego: %+v, %v", value, findings, err)
		}
	}
	for _, value := range []any{"false", "no", 0, nil} {
		in := trialInput(oneFact("fire_rated", value))
		in.Subjects[0].Facts["clear_width"] = fact.Fact{Value: width800}
		if findings, err := p.Judge(context.Background(), in); err == nil || !strings.Contains(err.Error(), "fire_rated") {
			t.Errorf("fire_rated %#v: %+v, %v", value, findings, err)
		}
	}
	for name, wrong := range map[string]any{"work": "newish", "location": true, "profile": nil, "opening_depth": "24 in"} {
		if _, err := p.Judge(context.Background(), trialInput(oneFact(name, wrong))); err == nil {
			t.Errorf("%s %#v is taken", name, wrong)
		}
	}
}

func TestFailedBuiltinIsAnError(t *testing.T) {
	p, err := trial(t, map[string]string{"at-least": "broken"}, map[string]string{"broken.rego": `answer("broken", rule, facts) := [{"part": "value", "state": "pass", "at": []}] if ceil(facts[rule.fact].at) != 5`})
	if err != nil {
		t.Fatal(err)
	}
	findings, err := p.Judge(context.Background(), trialInput(oneFact("clear_width", width800)))
	if err == nil || !strings.Contains(err.Error(), "T-1") || !strings.Contains(err.Error(), "ceil") {
		t.Errorf("findings %+v, error %v", findings, err)
	}
}

func TestAnswerThatIsNoListIsAnError(t *testing.T) {
	p, err := trial(t, map[string]string{"at-least": "lame"}, map[string]string{"lame.rego": `answer("lame", _, _) := "pass"`})
	if err != nil {
		t.Fatal(err)
	}
	if findings, err := p.Judge(context.Background(), trialInput(oneFact("clear_width", width800))); err == nil {
		t.Errorf("findings %+v", findings)
	}
}

func TestTwoAnswersToOneQuestionAreAnError(t *testing.T) {
	p, err := trial(t, nil, map[string]string{"second.rego": `answer("at-least", _, _) := [{"part": "value", "state": "pass", "at": []}]`})
	if err != nil {
		t.Fatal(err)
	}
	if findings, err := p.Judge(context.Background(), trialInput(oneFact("clear_width", width800-1))); err == nil {
		t.Errorf("findings %+v", findings)
	}
}

// A state that is no word of ours is never a pass.
func TestStrangeStateIsNotAPass(t *testing.T) {
	p, err := trial(t, map[string]string{"at-least": "odd"}, map[string]string{"odd.rego": `answer("odd", _, _) := [{"part": "value", "state": "passed", "at": []}]`})
	if err != nil {
		t.Fatal(err)
	}
	findings, err := p.Judge(context.Background(), trialInput(oneFact("clear_width", width800)))
	if err != nil || findings[0].Outcome != Unknown {
		t.Errorf("findings %+v, error %v", findings, err)
	}
}

// The modules use only what is pinned, and what is pinned reaches no network, clock,
// chance or environment.
func TestCapabilities(t *testing.T) {
	src, err := files.ReadFile("capabilities.json")
	if err != nil {
		t.Fatal(err)
	}
	pinned, err := ast.LoadCapabilitiesJSON(strings.NewReader(string(src)))
	if err != nil {
		t.Fatal(err)
	}
	_, compiler := compiled(t)
	for name := range compiler.Required.Builtins {
		b := compiler.Required.Builtins[name]
		if !slices.ContainsFunc(pinned.Builtins, func(p *ast.Builtin) bool { return p.Name == b.Name }) {
			t.Errorf("%s is used and not pinned", b.Name)
		}
	}
	if len(compiler.Required.Builtins) < 10 {
		t.Errorf("only %d built-ins are used; the list is not read right", len(compiler.Required.Builtins))
	}
	for _, b := range pinned.Builtins {
		for _, reach := range []string{"http.", "net.", "opa.", "time.", "rand.", "uuid.", "io.", "crypto.", "rego.", "trace", "print"} {
			if strings.HasPrefix(b.Name, reach) {
				t.Errorf("%s is pinned", b.Name)
			}
		}
		if b.Nondeterministic {
			t.Errorf("%s is pinned and does not give the same twice", b.Name)
		}
	}
	if pinned.AllowNet == nil || len(pinned.AllowNet) > 0 {
		t.Errorf("allow_net is %v; want an empty list: left out, it allows every host", pinned.AllowNet)
	}
}

func TestReachingOutDoesNotCompile(t *testing.T) {
	for _, call := range []string{
		`http.send({"method": "get", "url": "https://example.invalid"})`, `opa.runtime()`, `time.now_ns()`, `rand.intn("x", 5)`,
		`net.lookup_ip_addr("example.invalid")`, `uuid.rfc4122("x")`, `regex.match("a", "a")`, `sprintf("%v", [1])`,
	} {
		t.Run(call, func(t *testing.T) {
			_, err := compile(map[string]string{"reach.rego": "package sillwright.questions\n\nanswer(\"reach\", _, _) := " + call + "\n"})
			name, _, _ := strings.Cut(call, "(")
			if err == nil || !strings.Contains(err.Error(), "undefined function "+name) {
				t.Errorf("error %v", err)
			}
		})
	}
	if _, err := compile(map[string]string{"fine.rego": "package sillwright.questions\n\nanswer(\"fine\", _, _) := max([1, 2])\n"}); err != nil {
		t.Errorf("max is pinned: %v", err)
	}
}
