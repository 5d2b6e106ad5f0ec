package cases

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema/fact"
)

func assessor(t *testing.T) *assess.Assessor {
	t.Helper()
	a, err := assess.New(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// assessorWith adds the seals that the cases bring.
func assessorWith(t *testing.T, file *policies.CaseFile) *assess.Assessor {
	t.Helper()
	a := assessor(t)
	if file.Seals == nil {
		return a
	}
	if problems := a.Catalogue.Add("seals.json", file.Seals); len(problems) > 0 {
		t.Fatalf("%s.cases.yaml: %v", file.Rulebook, problems)
	}
	return a
}

func casesOf(t *testing.T, id string) *policies.CaseFile {
	t.Helper()
	file, err := policies.Cases(id)
	if err != nil {
		t.Fatal(err)
	}
	return file
}

// TestCases_Published takes the door of every case the whole way, from its text to its
// finding. What is expected, and where it is published, stands in the case files.
func TestCases_Published(t *testing.T) {
	for _, book := range assessor(t).Policies.Rulebooks {
		file := casesOf(t, book.ID)
		a := assessorWith(t, file)
		for i, c := range file.Cases {
			if testing.Short() && i%10 > 0 {
				continue // each runs alone: the race detector learns no more from all of them
			}
			t.Run(fmt.Sprintf("%s/%d", c.Rule, c.Line), func(t *testing.T) {
				f, err := judge(a, c)
				if err != nil {
					t.Fatalf("%s: %v", c.Name, err)
				}
				if got := differs(c, f); got != "" {
					t.Errorf("%s.cases.yaml:%d: %s (%s)\n%s", book.ID, c.Line, c.Name, c.Source, got)
				}
			})
		}
	}
}

// judge gives the one finding that a case is about. One that gives facts of its own is not assessed, for that measures them.
func judge(a *assess.Assessor, c policies.Case) (policies.Finding, error) {
	if c.Facts != nil {
		in, err := measured(a, c)
		if err != nil {
			return policies.Finding{}, err
		}
		all, err := a.Policies.Judge(context.Background(), in)
		return sole(c, all, err)
	}
	d, err := read(a, c.Door)
	if err != nil {
		return policies.Finding{}, err
	}
	r, err := a.Assess(context.Background(), d)
	if err != nil {
		return policies.Finding{}, err
	}
	all := slices.Clone(r.Findings)
	for _, o := range r.Options {
		all = append(all, o.Findings...)
	}
	return sole(c, all, nil)
}

func sole(c policies.Case, all []policies.Finding, err error) (policies.Finding, error) {
	if err != nil {
		return policies.Finding{}, err
	}
	all = slices.DeleteFunc(all, func(f policies.Finding) bool { return f.Rule != c.Rule || f.Subject != c.Subject })
	if len(all) != 1 {
		return policies.Finding{}, fmt.Errorf("%d findings of %s for %s", len(all), c.Rule, c.Subject)
	}
	return all[0], nil
}

// A case's facts stand in place of its subject's own, which has to have them.
func TestCaseGivesFacts(t *testing.T) {
	a := assessor(t)
	all := casesOf(t, "air-leakage").Cases
	c := all[slices.IndexFunc(all, func(c policies.Case) bool { return c.Facts != nil })]
	in, err := measured(a, c)
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(in.Subjects, func(s fact.Subject) bool { return s.ID == c.Subject })
	if f := in.Subjects[i].Facts["leakage_rates"]; !reflect.DeepEqual(f.Value, c.Facts["leakage_rates"]) || len(f.At) == 0 {
		t.Errorf("%+v", f)
	}
	for subject, facts := range map[string]map[string]any{"option:y": c.Facts, c.Subject: {"clear_width": 1}} {
		c.Subject, c.Facts = subject, facts
		if _, err := measured(a, c); err == nil {
			t.Errorf("%v of %s are taken", facts, subject)
		}
	}
}

// Every rule has a case of each outcome that it can have, or says why it cannot have it.
func TestCasesAreComplete(t *testing.T) {
	a := assessor(t)
	for _, book := range a.Policies.Rulebooks {
		file := casesOf(t, book.ID)
		clauses := map[string]bool{}
		for _, c := range file.Cases {
			if _, ok := a.Policies.Rule(c.Rule); !ok {
				t.Errorf("%s:%d: no rule %s", book.ID, c.Line, c.Rule)
			}
			if file.Never[c.Rule][c.Outcome] != "" {
				t.Errorf("%s:%d: %s is said never to be %s", book.ID, c.Line, c.Rule, c.Outcome)
			}
			clauses[c.Rule+" "+c.Clause] = true
		}
		for rule := range file.Never {
			if _, ok := a.Policies.Rule(rule); !ok {
				t.Errorf("%s: never: no rule %s", book.ID, rule)
			}
		}
		for _, r := range book.Rules {
			for _, outcome := range Lacking(r, file) {
				t.Errorf("%s has no case of %s", r.ID, outcome)
			}
			for _, e := range r.Exceptions {
				if clause := r.Clauses[e.ID]; clause == "" || !clauses[r.ID+" "+clause] {
					t.Errorf("%s: no case rests on its exception %s, clause %q", r.ID, e.ID, clause)
				}
			}
		}
	}
}

// titles are those that the source of a rule's case may begin with: that of its rulebook, or of the text that a clause names itself.
func titles(r *policies.Rule) []string {
	out := []string{strings.TrimSuffix(r.Rulebook.Cite, " (superseded)") + " ", strings.TrimSuffix(r.Rulebook.Cite, " (superseded)") + ", "}
	for _, clause := range r.Clauses {
		if title, _, _ := strings.Cut(clause, ", "); len(r.Rulebook.Variants) > 0 && strings.ContainsAny(title, " ") {
			out = append(out, title)
		}
	}
	return out
}

// A rule that is published rests on cases that name a standard and a clause.
func TestCasesNameTheirSource(t *testing.T) {
	a := assessor(t)
	for _, book := range a.Policies.Rulebooks {
		for _, c := range casesOf(t, book.ID).Cases {
			r, ok := a.Policies.Rule(c.Rule)
			if !ok {
				continue
			}
			switch r.Provenance {
			case "read", "quoted", "secondary":
				if !slices.ContainsFunc(titles(r), func(title string) bool { return strings.HasPrefix(c.Source, title) }) || !strings.ContainsAny(c.Source, "0123456789") && !strings.Contains(c.Source, "Anejo A") {
					t.Errorf("%s:%d: source %q does not begin with one of %q and a clause", book.ID, c.Line, c.Source, titles(r))
				}
			case "practice":
				if !strings.Contains(c.Source, "no published source") {
					t.Errorf("%s:%d: source %q of a rule of practice", book.ID, c.Line, c.Source)
				}
			}
		}
	}
}
