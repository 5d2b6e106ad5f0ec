package assess

import (
	"slices"

	"sillwright/policies"
)

// Counts says whether a finding counts towards a verdict.
func Counts(f policies.Finding, strict bool) bool { return counts(&f, strict) }

func counts(f *policies.Finding, strict bool) bool {
	return f.Level == policies.Must || (strict && f.Level == policies.Should)
}

// verdict folds findings: any counting fail fails, else any counting unknown is unproven,
// else anything that applied complies.
func verdict(findings []policies.Finding, strict bool) string {
	return fold(findings, strict, func(f *policies.Finding) string { return f.Outcome })
}

// standing is the verdict without what is accepted.
func standing(findings []policies.Finding, strict bool) string {
	return fold(findings, strict, func(f *policies.Finding) string {
		if f.Accepted != nil {
			return policies.Pass
		}
		return f.Outcome
	})
}

// skipped is the outcome of a finding that a verdict leaves out.
const skipped = policies.NotApplicable

func fold(findings []policies.Finding, strict bool, outcome func(*policies.Finding) string) string {
	out := NotApplicable
	for i := range findings {
		f := &findings[i]
		of := outcome(f)
		if !counts(f, strict) {
			if (of == policies.Pass || of == policies.Fail) && f.Level == policies.Should && out == NotApplicable {
				out = Complies // it applied, and nothing counts against it
			}
			continue
		}
		switch of {
		case policies.Fail:
			return Fails
		case policies.Unknown:
			out = Unproven
		case policies.Pass:
			if out == NotApplicable {
				out = Complies
			}
		}
	}
	return out
}

// optionsAsked says whether a rulebook that was asked speaks of an option.
func (r *Result) optionsAsked() bool {
	return slices.ContainsFunc(r.Options, func(o Option) bool {
		return NotApplicable != fold(o.Findings, r.Strict, func(f *policies.Finding) string {
			if r.Always(f.Rulebook) {
				return skipped
			}
			return f.Outcome
		})
	})
}

// bookVerdict is that of a rulebook on the door, and on the best of the options where it
// speaks of them: one that complies is enough.
func (r *Result) bookVerdict(id string) string {
	of := func(findings []policies.Finding) string {
		return fold(findings, r.Strict, func(f *policies.Finding) string {
			if f.Rulebook != id {
				return skipped
			}
			return f.Outcome
		})
	}
	order := []string{Fails, Unproven, Complies, NotApplicable} // worst first
	best := -1
	for _, o := range r.Options {
		best = max(best, slices.Index(order, of(o.Findings)))
	}
	onDoor := slices.Index(order, of(r.Findings))
	if best < 0 {
		return order[onDoor]
	}
	return order[min(onDoor, best)]
}
