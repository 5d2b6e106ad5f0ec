package render

import (
	"fmt"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/cmd/internal/explain"
	"sillwright/engine"
	"sillwright/policies"
	"sillwright/schema/fact"
)

// pairing is the wording of two options as if there were no others.
func pairing(c *explain.Comparison) wording {
	w := wordingOf(c.Result)
	w.options = c.Lead.Pair
	return w
}

// ahead says in a sentence which of two options is ahead and on what ground, or that it is too close to call and what would settle it.
func ahead(c *explain.Comparison) string {
	w := pairing(c)
	first, second := w.options[0], w.options[1]
	var text string
	switch {
	case c.Lead.By == explain.ByVerdict:
		return byVerdict(c)
	case c.Lead.Ahead != "":
		text = clean(first.ID) + " is ahead of " + clean(second.ID) + ": " + w.leading() + "."
	case c.A.Standing == assess.Fails:
		return fmt.Sprintf("Neither is ahead, for both fail: %s by %s; %s by %s%s.", clean(c.A.ID), inTheWayOf(c, c.A), clean(c.B.ID), inTheWayOf(c, c.B), leaksToo(c))
	case c.A.Standing == assess.Unproven:
		text = fmt.Sprintf("Neither is ahead, for neither is proven: %s for %s; %s for %s; %s%s.", clean(c.A.ID), inTheWayOf(c, c.A), clean(c.B.ID), inTheWayOf(c, c.B), w.ifProven(), needed(c))
	case first.Rank == 0:
		text = "Too close to call, for nothing that they are ranked by is known of either" + needed(c) + "."
		if slices.Contains(w.order, engine.ByLeakage) {
			text = "Too close to call, for the leakage of neither is known" + needed(c) + "."
		}
	default:
		text = "Too close to call: " + level("", first, w.order) + "." + w.settles()
		if how := settling(c); how != "" && !strings.Contains(text, how) {
			text += " To settle it: " + how + "."
		}
	}
	if c.Lead.Other {
		text += fmt.Sprintf(" Among all options of the door %s has place %d, and %s place %d.", clean(c.A.ID), c.A.Rank, clean(c.B.ID), c.B.Rank)
	}
	return text
}

// leading says on what ground the first of two stands ahead of the second.
func (w wording) leading() string {
	first, second := w.options[0], w.options[1]
	if second.Rank > 0 {
		return w.ground(first)
	}
	if slices.Contains(w.order, engine.ByLeakage) {
		return "its leakage is known, and that of " + clean(second.ID) + " is not"
	}
	return "of " + clean(second.ID) + " nothing is known that they are ranked by"
}

// ifProven says how two options would stand of which neither is proven.
func (w wording) ifProven() string {
	first, second := w.options[0], w.options[1]
	known := false // that one is not known counts for nothing yet: who proves it will know it
	if by := first.Reason.By; first.Rank < second.Rank {
		_, own := by.Of(first.Option)
		_, other := by.Of(second.Option)
		known = own && other
	}
	if !known {
		return "as far as is known nothing parts them"
	}
	return "if both were, " + clean(first.ID) + " would be ahead: " + w.leading()
}

// byVerdict says what the better of two verdicts rests on.
func byVerdict(c *explain.Comparison) string {
	front, behind := c.A, c.B
	if c.Lead.Ahead == c.B.ID {
		front, behind = behind, front
	}
	own := "it complies"
	switch {
	case front.ByAcceptance():
		own = "what it does not meet is accepted (" + rulesOf(front, func(f policies.Finding) bool { return f.Accepted != nil }) + ")"
	case front.Verdict == assess.Unproven:
		own = "it is not proven, for " + inTheWayOf(c, front) + ", and may still comply"
	}
	other := "fails, by " + inTheWayOf(c, behind)
	switch {
	case behind.ByAcceptance():
		other = "has deviations that are accepted (" + rulesOf(behind, func(f policies.Finding) bool { return f.Accepted != nil }) + ")"
	case behind.Verdict == assess.Unproven:
		other = "is not proven, for " + inTheWayOf(c, behind)
	}
	return clean(front.ID) + " is ahead: " + own + ", and " + clean(behind.ID) + " " + other + leaksToo(c) + needed(c) + "."
}

// leaksToo adds how far the two leak apart.
func leaksToo(c *explain.Comparison) string {
	switch {
	case c.Leakage == nil:
		return ""
	case c.Leakage.Low == 0 && c.Leakage.High == 0:
		return "; both leak the same"
	}
	return "; " + leaksMore(clean(c.Leakage.Of), clean(c.Leakage.Than), c.Leakage.Difference, unitOf(c.Result))
}

// needed says what comes first of what would settle what is not proven.
func needed(c *explain.Comparison) string {
	how := settling(c)
	if how == "" {
		return ""
	}
	return "; to settle it: " + how
}

// settling is what would settle what is not proven, or what would part two that are too close to call; "" where nothing is known that
// would.
func settling(c *explain.Comparison) string {
	w := pairing(c)
	first, second := w.options[0], w.options[1]
	switch {
	case len(c.Lead.Needs) > 0 && c.Lead.Needs[0].Fact == "": // the rule that askedAs it is named
		return oneLine(clean(c.Lead.Needs[0].How))
	case len(c.Lead.Needs) > 0:
		return oneLine(clean(c.Lead.Needs[0].Title + ", " + c.Lead.Needs[0].How))
	case c.Lead.Ahead != "" || c.A.Standing == assess.Fails || first.Rank == 0 && second.Rank == 0:
		return ""
	case slices.Contains(first.Near, second.ID) && c.Leakage.Largest.Name != "":
		return c.Leakage.Largest.Settle
	}
	for _, by := range w.order {
		if _, ok := by.Of(first.Option); !ok && askedAs[by] != "" {
			d, _ := fact.Describe(askedAs[by])
			return d.Measure
		}
	}
	return ""
}

// askedAs names the facts by which what options are ranked by is asked for.
var askedAs = map[engine.Criterion]string{engine.ByForce: "opening_force_sealed", engine.ByLife: "cycles_tested"}

// inTheWayOf names what keeps an option from complying: what fails, or where nothing does what is not known.
func inTheWayOf(c *explain.Comparison, o assess.Option) string {
	for _, outcome := range []string{policies.Fail, policies.Unknown} {
		text := rulesOf(o, func(f policies.Finding) bool {
			return f.Outcome == outcome && f.Accepted == nil && assess.Counts(f, c.Result.Strict)
		})
		if text != "" {
			return text
		}
	}
	return "no rule that speaks of it"
}

// rulesOf names the rules of some findings.
func rulesOf(o assess.Option, some func(policies.Finding) bool) string {
	var names []string
	for _, f := range o.Findings {
		if some(f) && !slices.Contains(names, f.Title) {
			names = append(names, f.Title)
		}
	}
	if more := len(names) - mostRules; more > 0 {
		names = append(names[:mostRules], fmt.Sprintf("%d more", more))
	}
	return strings.Join(names, " and ")
}
