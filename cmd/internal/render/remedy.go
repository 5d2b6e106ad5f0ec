package render

import (
	"fmt"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/explain"
	"sillwright/cmd/internal/remedy"
	"sillwright/engine/seal"
	"sillwright/policies"
)

// remedies lists what would make a door comply, each with its proof; or what stands in the way, and what would have to give way.
func (p *page) remedies(a *remedy.Answer) {
	if a == nil {
		return
	}
	p.heading("WHAT WOULD MAKE IT COMPLY", "")
	for i, m := range a.Remedies {
		p.steps(fmt.Sprintf("%2d  ", i+1), m)
		p.text("    ", proof(m))
	}
	if len(a.Remedies) == 0 {
		p.text("    ", nothingFound(a))
	}
	for _, t := range tried(a) {
		p.text("    ", t.what)
		for _, why := range t.why {
			p.text("    - ", why)
		}
	}
	if len(a.Relaxations) > 0 {
		p.text("    ", wouldDo)
	}
	for _, x := range a.Relaxations {
		p.text("    - ", relaxed(x))
	}
	if gives(a) {
		p.text("    ", onlyAuthority)
	}
	if a.Cut {
		p.text("    ", searchCut)
	}
}

const (
	searchCut     = "The search was ended before it had looked everywhere: there may be more."
	wouldDo       = "What would do, if something gave way, the least of it first:"
	onlyAuthority = "Only the authority can let a rule give way; do not count on it, least of all where fire, smoke or escape is concerned."
)

// gives says whether a rule is among what would have to give way.
func gives(a *remedy.Answer) bool {
	return slices.ContainsFunc(a.Relaxations, func(x remedy.Relaxation) bool { return x.Rule != "" })
}

// nothingFound stands where there is no remedy.
func nothingFound(a *remedy.Answer) string {
	if len(a.Tried)+len(a.Relaxations) == 0 {
		return "Nothing fails that a change of the door would settle: it waits for what has to be found out."
	}
	text := "No change that the rules name makes it comply"
	if a.Cut {
		text += ", as far as was looked"
	}
	return text + ". " + plural(a.Spent, "changed spec was", "changed specs were") + " judged."
}

// steps tells a remedy: what to find out first, what to do, in order, and what to look at afterwards.
func (p *page) steps(mark string, m remedy.Remedy) {
	for i, s := range m.Steps {
		letter := ""
		if len(m.Steps) > 1 {
			letter = string(rune('a'+i)) + ". "
		}
		p.text(mark+letter, s.Do)
		mark = "    "
	}
	before, after := around(m)
	for _, text := range before {
		p.text("    Before: ", text)
	}
	for _, text := range after {
		p.text("    After:  ", text)
	}
}

// around is what to do before all steps and after them, each once.
func around(m remedy.Remedy) (before, after []string) {
	once := func(list *[]string, texts []string) {
		for _, text := range texts {
			if !slices.Contains(*list, text) {
				*list = append(*list, text)
			}
		}
	}
	for _, s := range m.Steps {
		once(&before, s.Before)
		once(&after, s.After)
	}
	return before, after
}

// proof says in a sentence what the house says of the changed spec.
func proof(m remedy.Remedy) string {
	if m.Result == nil {
		return ""
	}
	if !m.Complies {
		var open []string
		for _, n := range explain.Needs(m.Result) {
			open = append(open, needWords(n.Title, strings.Join(n.Text, ", "), n.Pointer))
		}
		if len(open) == 0 {
			return "Nothing fails any longer; what is open the authority decides."
		}
		return "Nothing fails any longer; still to be found out: " + strings.Join(open, "; ") + "."
	}
	var books []string
	for _, b := range m.Result.Rulebooks {
		if b.Verdict == assess.Complies {
			books = append(books, b.Cite)
		}
	}
	text := "Proven: with this every rulebook complies: " + strings.Join(books, ", ")
	for _, o := range m.Result.Options {
		if o.ID == m.Option && o.Leakage != nil {
			u := unitOf(m.Result)
			verb := "leaks"
			if o.Leakage.Basis == seal.BasisEstimate {
				verb = "is estimated to leak"
			}
			text += fmt.Sprintf("; option %s %s %s %s at %s", clean(o.ID), verb, strings.Join(strings.Fields(leak(o.Leakage, u)), " "), u.name, atPressure(m.Result))
		}
	}
	return text + "." + unheeded(m)
}

// unheeded tells which rules that only advise fail all the same.
func unheeded(m remedy.Remedy) string {
	var titles []string
	for _, f := range m.Unheeded() {
		if !slices.Contains(titles, f.Title) {
			titles = append(titles, f.Title)
		}
	}
	if len(titles) == 0 {
		return ""
	}
	return " Advice that it does not heed: " + strings.Join(titles, "; ") + "."
}

// attempt is a finding that nothing settles, with the moves that its rule names and why each does not serve.
type attempt struct {
	what string
	why  []string
}

func tried(a *remedy.Answer) []attempt {
	var out []attempt
	for _, t := range a.Tried {
		what := fmt.Sprintf("%s (%s", t.Title, t.Rule)
		if t.Subject != "door" {
			what += ", " + strings.Replace(clean(t.Subject), ":", " ", 1)
		}
		what += "):"
		i := slices.IndexFunc(out, func(o attempt) bool { return o.what == what })
		if i < 0 {
			out, i = append(out, attempt{what: what}), len(out)
		}
		why := strings.TrimSuffix(t.Why, ".") + "."
		if t.Move != "" {
			why = policies.MoveWords[t.Move] + ": " + why
		}
		out[i].why = append(out[i].why, upper(why))
	}
	return out
}

// relaxed words what would have to give way, and what makes the door comply then.
func relaxed(x remedy.Relaxation) string {
	var do []string
	for _, s := range x.Remedy.Steps {
		do = append(do, s.Do)
	}
	if len(do) == 0 {
		do = []string{"nothing else has to change."}
	}
	text := strings.TrimSuffix(x.Gives, ".") + ": " + strings.Join(do, " ")
	switch {
	case x.Remedy.Complies:
		return text + " Proven with that."
	case x.Rule != "" && nothingElse(x):
		return text + " Then nothing else stands in the way."
	}
	return text + " Then nothing fails any longer, and some of it is still to be found out."
}

// nothingElse says whether the rule that would have to give way is all that stands in the way of the changed door.
func nothingElse(x remedy.Relaxation) bool {
	r := x.Remedy.Result
	other := func(f policies.Finding) bool {
		return f.Rule != x.Rule && assess.Counts(f, r.Strict) && f.Accepted == nil && (f.Outcome == policies.Fail || f.Outcome == policies.Unknown)
	}
	if slices.ContainsFunc(r.Findings, other) {
		return false
	}
	return !slices.ContainsFunc(r.Options, func(o assess.Option) bool { return o.ID == x.Remedy.Option && slices.ContainsFunc(o.Findings, other) })
}
