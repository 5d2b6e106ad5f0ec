package render

import (
	"fmt"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema"
)

// cutShort is said at the top of a report that is not whole.
const cutShort = "The run was interrupted before all was checked: this report holds what was finished, and is not whole."

// standing is what a door means for a run.
type standing int

const (
	canBeOrdered standing = iota
	letPass               // cannot be ordered yet, and the run lets what is not proven pass
	notProven
	held // complies, and none of its options does
	fails
)

func standingOf(r *assess.Result, o Options) standing {
	switch {
	case r.CanOrder:
		return canBeOrdered
	case o.AllowUnproven && r.MayComply():
		return letPass
	case r.Verdict == assess.Fails:
		return fails
	case r.Held():
		return held
	default:
		return notProven
	}
}

// summed words a door in a line: whether it can be ordered, the rules in the way as Line names them, and what was accepted.
func summed(r *assess.Result, only []string, told []entry) string {
	parts := []string{strings.TrimSuffix(orderLine(r), ".")}
	rules, _ := ruleList(unaccepted(r), only)
	parts = append(parts, rules...)
	return strings.Join(append(parts, letGo(r, told)...), "; ")
}

// letGo names the rules that were let go: by whoever accepted it, and by the project alone.
func letGo(r *assess.Result, told []entry) (parts []string) {
	if names := acceptedRules(told); len(names) > 0 {
		parts = append(parts, "accepted "+strings.Join(names, ", "))
	}
	return append(parts, shouldOnly(r)...)
}

// shouldOnly words what only the project makes a should.
func shouldOnly(r *assess.Result) []string {
	if names := lowered(r); len(names) > 0 {
		return []string{"should only, by the project: " + strings.Join(names, ", ")}
	}
	return nil
}

// unaccepted is a result without the findings that were accepted.
func unaccepted(r *assess.Result) *assess.Result {
	left := func(findings []policies.Finding) []policies.Finding {
		return slices.DeleteFunc(slices.Clone(findings), func(f policies.Finding) bool { return f.Accepted != nil })
	}
	out := *r
	out.Findings, out.Options = left(r.Findings), slices.Clone(r.Options)
	for i := range out.Options {
		out.Options[i].Findings = left(out.Options[i].Findings)
	}
	return &out
}

// acceptedRules names the rules of which something was accepted.
func acceptedRules(told []entry) []string {
	var out []string
	for _, e := range told {
		if e.accepted != nil && !slices.Contains(out, e.rule) {
			out = append(out, e.rule)
		}
	}
	return out
}

// at is where an entry stands: the file, and of its first place line and column.
func (e entry) at() string {
	file := schema.Printable(fromHere(e.file))
	if len(e.places) == 0 {
		return file
	}
	return fmt.Sprintf("%s:%d:%d", file, e.places[0].Start.Line, e.places[0].Start.Column)
}

// lines are the message and the other places, each fit to print.
func (e entry) lines() []string {
	var out []string
	for text := range strings.SplitSeq(e.message, "\n") {
		out = append(out, schema.Printable(text))
	}
	var also []string
	for i, p := range e.places {
		if i > 0 {
			also = append(also, fmt.Sprintf("%d:%d", p.Start.Line, p.Start.Column))
		}
	}
	if len(also) > 0 {
		out = append(out, "Also at "+strings.Join(also, ", ")+".")
	}
	return out
}

// word says of a finding how it came out, and why it does not stand in the way if it does not.
func (e entry) word() string {
	switch {
	case e.accepted != nil:
		return "accepted " + e.kind
	case e.weight == minor:
		return e.kind + ", does not count"
	default:
		return e.kind
	}
}

// bites says whether an entry is a failure, or something unknown, that nobody accepted.
func (e entry) bites() bool {
	return (e.kind == policies.Fail || e.kind == policies.Unknown) && e.accepted == nil
}

// ruled names the rule of an entry, and of a finding how it came out and the subject.
func (e entry) ruled() string {
	if !slices.Contains(Outcomes, e.kind) {
		return e.rule
	}
	return e.word() + ": " + e.rule + ", " + schema.Printable(e.subject)
}
