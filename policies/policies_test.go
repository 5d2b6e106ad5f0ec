package policies

import (
	"strings"
	"testing"
)

// A misspelt limit would be lost without a word, and a missing message would leave a failure without one.
func TestRulesSuitTheirQuestions(t *testing.T) {
	asked := map[string]question{"q": {Limits: []string{"height"}, OptionalLimits: []string{"bevel"}, Parts: []string{"height"}}, "table": {Rows: []string{"height", "depth"}, Parts: []string{"height", "depth"}}}
	rule := func(change func(*Rule)) *Rule {
		r := &Rule{Question: "q", Level: Must, Limits: map[string]Limit{"height": {AtMost: "1 mm"}}, Messages: map[string]string{"height": "x"}, Remedies: map[string]string{"height": "x"}}
		change(r)
		return r
	}
	if err := rule(func(*Rule) {}).suits(asked); err != nil {
		t.Error(err)
	}
	for want, change := range map[string]func(*Rule){
		"one of q":                    func(r *Rule) { r.Question = "p" },
		`asks for the limit "height"`: func(r *Rule) { r.Limits = nil },
		`limit "hight"`:               func(r *Rule) { r.Limits["hight"] = Limit{AtMost: "1 mm"} },
		`limit "bevle"`:               func(r *Rule) { r.Exceptions = []Exception{{Limits: map[string]Limit{"bevle": {Flag: true}}}} },
		"no message":                  func(r *Rule) { r.Messages = nil },
		"no remedy":                   func(r *Rule) { r.Remedies = nil },
		"and the rule has 1 rows":     func(r *Rule) { r.Rows = []Row{{Any: []map[string]Limit{{"height": {AtMost: "1 mm"}}}}} },
		"and the rule has 0 rows":     func(r *Rule) { r.Question, r.Limits = "table", nil },
		`limit "hight" in a row`: func(r *Rule) {
			r.Question, r.Limits, r.Rows = "table", nil, []Row{{Any: []map[string]Limit{{"hight": {AtMost: "1 mm"}}}}}
		},
	} {
		if err := rule(change).suits(asked); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("want an error that says %q, got %v", want, err)
		}
	}
}

// The words are owed for what the rows limit, and for no other part.
func TestRowsOweTheirWords(t *testing.T) {
	asked := map[string]question{"table": {Rows: []string{"height", "depth"}, Parts: []string{"height", "depth"}}}
	r := &Rule{Question: "table", Level: Must, Rows: []Row{{Any: []map[string]Limit{{"height": {AtMost: "1 mm"}}}}}, Messages: map[string]string{"height": "x"}, Remedies: map[string]string{"height": "x"}}
	if err := r.suits(asked); err != nil {
		t.Error(err)
	}
	r.Rows[0].Any[0]["depth"] = Limit{AtMost: "1 mm"}
	if err := r.suits(asked); err == nil || !strings.Contains(err.Error(), "no message for part \"depth\"") {
		t.Errorf("got %v", err)
	}
}
