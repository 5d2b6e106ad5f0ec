package render

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
)

// Outcomes are those of a finding, in the order in which a line lists them.
var Outcomes = []string{policies.Fail, policies.Unknown, policies.Pass, policies.NotApplicable}

// mostRules is how many rules a line names.
const mostRules = 3

// Line writes a result on one line of a log: the verdict first, or HELD where the door complies and no option does, or ACCEPTED where it
// can be ordered only because of an accepted deviation; then mark and place, the rules with the outcomes asked for, how many options
// comply, and every caution by name.
func Line(w io.Writer, r *assess.Result, only []string, colour bool) error {
	var parts []string
	if r.Held() {
		parts = append(parts, "no option complies")
	}
	rules, at := ruleList(r, only)
	parts = append(parts, rules...)
	parts = append(parts, shouldOnly(r)...)
	if len(r.Options) > 0 {
		parts = append(parts, optionsLeft(r))
	}
	if len(parts) == 0 {
		parts = []string{strings.TrimSuffix(orderLine(r), ".")}
	}
	verdict, style := strings.ToUpper(r.Verdict), verdictStyle[r.Verdict]
	switch {
	case r.Held():
		verdict, style = "HELD", amber // a door that cannot be ordered must not read as one that can
	case r.ByAcceptance():
		verdict, style = "ACCEPTED", amber // nor one that is not met as one that is
	}
	text := fmt.Sprintf("%*s%s %s:%d: %s%s", len(assess.Complies)+1-len(verdict), "", r.Door.Mark, r.Door.Document.File, at, strings.Join(parts, "; "), cautionNames(r))
	p := &page{colour: colour}
	_, err := io.WriteString(w, p.style(style, verdict)+clean(text)+"\n") // one write: nobody sees half a line
	return err
}

// ruleList words the first rules with each outcome, and gives the line of the spec where the first of them bites. What is accepted
// stands behind what is in the way, and first where nothing is.
func ruleList(r *assess.Result, only []string) (parts []string, at int) {
	at = r.Door.Document.Root.Span.Start.Line
	listed, more := 0, 0
	list := func(word string, findings []*policies.Finding) {
		var names []string
		for _, f := range findings {
			if listed == mostRules {
				more++
				continue
			}
			if listed == 0 {
				if len(f.Places) > 0 {
					at = spanOf(r, f.Places[0]).Start.Line
				}
			}
			listed++
			names = append(names, ruleName(*f, r.Strict))
		}
		if len(names) > 0 {
			parts = append(parts, word+" "+strings.Join(names, ", "))
		}
	}
	var accepted []*policies.Finding
	rest := map[string][]*policies.Finding{}
	for _, outcome := range Outcomes {
		if !slices.Contains(only, outcome) {
			continue
		}
		for _, f := range withOutcome(r, outcome) {
			if f.Accepted != nil {
				accepted = append(accepted, f)
			} else {
				rest[outcome] = append(rest[outcome], f)
			}
		}
	}
	if r.ByAcceptance() {
		list("accepted", accepted)
		accepted = nil
	}
	for _, outcome := range Outcomes {
		if outcome == policies.Pass {
			list("accepted", accepted)
		}
		list(outcome, rest[outcome])
	}
	if more > 0 {
		parts = append(parts, fmt.Sprintf("%d more", more))
	}
	return parts, at
}

// withOutcome gives a finding of each rule with an outcome, those that count first: of the door and its leaves, and
// of its options where none of them complies, for then they stand in the way too. Of a rule that is accepted here and not
// there it gives the one that is not. Cautions stand apart.
func withOutcome(r *assess.Result, outcome string) []*policies.Finding {
	var counting, others []*policies.Finding
	seen := func(rule string) bool {
		is := func(f *policies.Finding) bool { return f.Rule == rule }
		return slices.ContainsFunc(counting, is) || slices.ContainsFunc(others, is)
	}
	take := func(findings []policies.Finding, accepted bool) {
		for i := range findings {
			f := &findings[i]
			switch {
			case f.Outcome != outcome || f.Level == policies.Caution || (f.Accepted != nil) != accepted || seen(f.Rule):
			case assess.Counts(*f, r.Strict):
				counting = append(counting, f)
			default:
				others = append(others, f)
			}
		}
	}
	for _, accepted := range []bool{false, true} {
		take(r.Findings, accepted)
		for _, o := range r.InTheWay() {
			take(o.Findings, accepted)
		}
	}
	return append(counting, others...)
}

// ruleName is the id of a finding's rule with the clause of what fails, or the reason.
func ruleName(f policies.Finding, strict bool) string {
	because := []string{f.Clause, f.Reason}
	if f.Outcome == policies.Unknown {
		slices.Reverse(because)
	}
	// A rule with one part calls it value, which tells a reader nothing.
	because = slices.DeleteFunc(because, func(s string) bool { return s == "" || s == "value" || s == f.Outcome })
	because = because[:min(1, len(because))]
	if !assess.Counts(f, strict) {
		because = append(because, f.Level)
	}
	if len(because) == 0 {
		return f.Rule
	}
	return f.Rule + " (" + strings.Join(because, ", ") + ")"
}

// cautionNames lists every caution, with ? where the spec does not say whether it applies.
func cautionNames(r *assess.Result) string {
	var names []string
	for _, c := range r.Cautions {
		name := cautionName(r, c)
		if len(c.Unsaid) > 0 {
			name += "?"
		}
		names = append(names, name)
	}
	if len(names) == 0 {
		return ""
	}
	return " ! " + strings.Join(names, ", ")
}

// cautionName is the slug of a caution that runs unasked, or the id of one that a rulebook adds.
func cautionName(r *assess.Result, c assess.Caution) string {
	if book, slug, _ := strings.Cut(c.ID, "/"); r.Always(book) {
		return slug
	}
	return c.ID
}

func complying(r *assess.Result) int {
	n := 0
	for _, o := range r.Options {
		if o.Verdict == assess.Complies {
			n++
		}
	}
	return n
}
