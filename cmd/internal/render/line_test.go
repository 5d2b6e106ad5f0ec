package render

import (
	"testing"

	"sillwright/policies"
)

// A rule is named with what tells most: of a fail the clause, of what is unknown the reason, and the level where it
// does not count.
func TestRuleName(t *testing.T) {
	for _, c := range []struct {
		outcome, level, clause, reason string
		strict                         bool
		want                           string
	}{
		{policies.Fail, policies.Must, "303.3", "slope", false, "x/y (303.3)"},
		{policies.Fail, policies.Must, "", "slope", false, "x/y (slope)"},
		{policies.Fail, policies.Must, "", "value", false, "x/y"},
		{policies.Fail, policies.Should, "", "value", false, "x/y (should)"},
		{policies.Fail, policies.Should, "1.2", "value", true, "x/y (1.2)"},
		{policies.Unknown, policies.Must, "303.3", "not-known", false, "x/y (not-known)"},
		{policies.Unknown, policies.Should, "303.3", "", false, "x/y (303.3, should)"},
		{policies.NotApplicable, policies.Must, "", "not-applicable", false, "x/y"},
		{policies.Pass, policies.Must, "404.2.3", "", false, "x/y (404.2.3)"},
	} {
		f := policies.Finding{Rule: "x/y", Outcome: c.outcome, Level: c.level, Point: policies.Point{Clause: c.clause, Reason: c.reason}}
		if got := ruleName(f, c.strict); got != c.want {
			t.Errorf("%+v: %s", c, got)
		}
	}
}
