package assess

import (
	"fmt"
	"slices"
	"strings"

	"sillwright/policies"
)

// Caution is what no rule can settle.
type Caution struct {
	ID       string
	Text     string // what to take care of, and whom to ask what
	Because  string
	Ask      policies.Ask
	Unsaid   []policies.Need // facts that would tell whether it applies
	Answered string          // what the spec's answer to it rests on; an answered caution is still shown
}

// rank puts what can hurt people before what costs money.
func rank(caution string) int {
	if strings.HasPrefix(caution, "safety/") {
		return 0
	}
	return 1
}

func (r *Result) caution(p *policies.Policies, f policies.Finding) {
	if f.Outcome == policies.NotApplicable {
		return
	}
	if slices.ContainsFunc(r.Cautions, func(c Caution) bool { return c.ID == f.Rule }) {
		return // said of another option
	}
	rule, _ := p.Rule(f.Rule)
	text, measures := rule.Messages["value"], rule.Question != cautionQuestion
	if measures && f.Outcome == policies.Pass {
		return // it is met
	}
	if measures {
		text = measured(f)
	}
	if rule.Provenance == "memory" && !strings.Contains(text, "from memory") {
		text += " From memory, not verified."
	}
	r.Cautions = append(r.Cautions, Caution{ID: f.Rule, Text: text + " Ask " + rule.Ask.Whom + ": " + rule.Ask.What, Because: rule.Why, Ask: rule.Ask, Unsaid: f.Needs, Answered: f.Answered})
}

// cautionQuestion is the question of a caution that no fact can settle.
const cautionQuestion = "caution"

// measured words a caution that compares a value, because nobody has verified its limit.
func measured(f policies.Finding) string {
	cite := f.Cite
	if f.Clause != "" {
		cite += ", " + f.Clause
	}
	switch {
	case f.Outcome == policies.Fail && f.Found != "" && f.Allowed != "":
		return fmt.Sprintf("%s: found %s, against %s (%s).", f.Message, f.Found, f.Allowed, cite)
	case f.Outcome == policies.Fail:
		return fmt.Sprintf("%s (%s).", f.Message, cite)
	}
	return fmt.Sprintf("%s: not known whether it is met (%s).", f.Title, cite)
}
