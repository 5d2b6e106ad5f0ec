package render

import (
	"fmt"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/explain"
	"sillwright/cmd/internal/remedy"
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
		p.text("    ", t)
	}
	for _, x := range a.Relaxations {
		p.text("  - ", relaxed(x))
	}
	if a.Cut {
		p.text("    ", searchCut)
	}
}

const searchCut = "The search was ended before it had looked everywhere: there may be more."

// nothingFound stands where there is no remedy.
func nothingFound(a *remedy.Answer) string {
	text := "No change that the rules name makes it comply"
	if a.Cut {
		text += ", as far as was looked"
	}
	return text + ". " + plural(a.Spent, "changed spec was", "changed specs were") + " judged."
}

func (p *page) steps(mark string, m remedy.Remedy) {
	for _, s := range m.Steps {
		p.text(mark, s.Do)
		mark = "    "
		for _, b := range s.Before {
			p.text("    Before: ", b)
		}
		for _, after := range s.After {
			p.text("    After:  ", after)
		}
	}
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
			text += fmt.Sprintf("; option %s leaks %s %s at %s", clean(o.ID), strings.Join(strings.Fields(leak(o.Leakage, u)), " "), u.name, atPressure(m.Result))
		}
	}
	return text + "."
}

// tried says, for each finding that nothing settles, what was tried and why that does not serve.
func tried(a *remedy.Answer) []string {
	var out []string
	last := ""
	for _, t := range a.Tried {
		what := t.Why
		if t.Move != "" {
			what = t.Move + ": " + t.Why
		}
		if who := t.Rule + ", " + t.Subject; who != last {
			last = who
			out = append(out, who+": "+what)
			continue
		}
		out[len(out)-1] += " " + what
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
	if x.Remedy.Complies {
		return text + " Proven with that."
	}
	return text + " Then nothing fails any longer, and some of it is still to be found out."
}
