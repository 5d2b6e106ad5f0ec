package remedy

import (
	"context"
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"testing"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
)

// TestFind_EveryRule holds that every rule that binds or advises has a failing case whose remedy is found and proven, or says why no
// change of the door settles it. The failing cases are those of the rulebooks, with their sources.
func TestFind_EveryRule(t *testing.T) {
	for _, book := range policiesOf(t).Rulebooks {
		t.Run(book.ID, func(t *testing.T) {
			t.Parallel()
			file, err := policies.Cases(book.ID)
			if err != nil {
				t.Fatal(err)
			}
			a := assessor(t, file.Seals)
			for _, rule := range book.Rules {
				if rule.Level == policies.Caution {
					continue
				}
				if why := mended(t, a, file, rule); why != "" {
					t.Errorf("%s: %s", rule.ID, why)
				}
			}
		})
	}
}

// mended says what is wrong where no failing case of a rule is mended, and the rule does not say why.
func mended(t *testing.T, a *assess.Assessor, file *policies.CaseFile, rule *policies.Rule) string {
	t.Helper()
	failing := 0
	var why []string
	for _, c := range file.Cases {
		if c.Rule != rule.ID || c.Outcome != policies.Fail || c.Facts != nil {
			continue
		}
		failing++
		r := assessed(t, a, free(t, c.Door))
		answer, err := Find(context.Background(), a, r, Scope{Most: 1})
		if err != nil {
			t.Fatalf("%s: %v", c.Name, err)
		}
		for _, tried := range answer.Tried {
			why = append(why, tried.Rule+" "+tried.Move+": "+tried.Why)
		}
		remedies := answer.Remedies
		for _, r := range answer.Relaxations {
			if r.Answer != "" { // held back until somebody answers for it, and proven for then
				remedies = append(remedies, r.Remedy)
			}
		}
		for _, m := range remedies {
			if !slices.ContainsFunc(findings(m.Result, m.Option), func(f policies.Finding) bool { return f.Rule == rule.ID && f.Outcome == policies.Fail }) {
				return ""
			}
			t.Errorf("%s: %s: a remedy that leaves it failing", rule.ID, c.Name)
		}
	}
	if rule.Immovable != "" {
		return ""
	}
	if failing == 0 && file.Never[rule.ID][policies.Fail] != "" {
		return "" // it cannot fail, and its cases say why
	}
	return "no failing case is mended, and nothing says why: " + strings.Join(why, "; ")
}

// free is the door of a case that says that it is neither a fire door nor exposed, where it says nothing of that: what may be either
// is held back.
func free(t *testing.T, text []byte) []byte {
	t.Helper()
	var spec map[string]any
	if err := json.Unmarshal(text, &spec); err != nil {
		t.Fatal(err)
	}
	for _, set := range []struct {
		of, key string
		to      any
	}{{"door", "fire_rated", false}, {"door", "smoke_control", false}, {"site", "exposure", "sheltered"}} {
		of, ok := spec[set.of].(map[string]any)
		if !ok {
			of = map[string]any{}
			spec[set.of] = of
		}
		if _, said := of[set.key]; !said {
			of[set.key] = set.to
		}
	}
	out, err := json.Marshal(spec)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Every move that a rule may name is one that the search can make, and the other way round.
func TestMoves_AreThoseThatRulesName(t *testing.T) {
	if made, named := slices.Sorted(maps.Keys(moves)), slices.Sorted(maps.Keys(policies.MoveWords)); !slices.Equal(made, named) {
		t.Errorf("rules may name %v, the search makes %v", named, made)
	}
}

func findings(r *assess.Result, option string) []policies.Finding {
	out := slices.Clone(r.Findings)
	for _, o := range r.Options {
		if o.ID == option {
			out = append(out, o.Findings...)
		}
	}
	return out
}

func policiesOf(t *testing.T) *policies.Policies {
	t.Helper()
	return assessor(t, nil).Policies
}

// assessor judges strictly, so that rules that only advise stand in the way too.
func assessor(t *testing.T, seals []byte) *assess.Assessor {
	t.Helper()
	a, err := assess.New(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	a.Strict = true
	if seals != nil {
		if problems := a.Catalogue.Add("seals.json", seals); len(problems) > 0 {
			t.Fatal(problems[0])
		}
	}
	return a
}

func assessed(t testing.TB, a *assess.Assessor, text []byte) *assess.Result {
	t.Helper()
	s, ok := drawnSpec(t, a, text)
	if !ok {
		t.Fatalf("no spec of a door: %s", text)
	}
	return s.result
}
