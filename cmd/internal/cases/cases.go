// Package cases takes the door of every committed case of every rulebook to what the rules get of it,
// for whatever holds the rules against their cases as a whole: stock OPA beside the product, and mutants.
package cases

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema"
	"sillwright/schema/door"
	"sillwright/schema/fact"
)

// Case is a committed case with the facts of its door.
type Case struct {
	policies.Case
	File  string // the base name of its file
	Input policies.Input
}

// All gives the cases of every rulebook, measured with the seals that their files bring, and the policies that
// they are cases of. A door that cannot be read is an error.
func All(ctx context.Context) (*policies.Policies, []Case, error) {
	a, err := assess.New(ctx)
	if err != nil {
		return nil, nil, err
	}
	var out []Case
	for _, book := range a.Policies.Rulebooks {
		file, err := policies.Cases(book.ID)
		if err != nil {
			return nil, nil, err
		}
		own, err := Of(a.Policies, file, book.ID+".cases.yaml")
		if err != nil {
			return nil, nil, err
		}
		out = append(out, own...)
	}
	return a.Policies, out, nil
}

// Of gives the cases of one rulebook, measured with the seals that their file brings.
func Of(p *policies.Policies, file *policies.CaseFile, name string) ([]Case, error) {
	a, err := assess.By(p)
	if err != nil {
		return nil, err
	}
	if file.Seals != nil {
		if problems := a.Catalogue.Add("seals.json", file.Seals); len(problems) > 0 {
			return nil, problems[0]
		}
	}
	var out []Case
	for _, c := range file.Cases {
		in, err := measured(a, c)
		if err != nil {
			return nil, fmt.Errorf("%s:%d: %s: %w", name, c.Line, c.Name, err)
		}
		out = append(out, Case{c, name, in})
	}
	return out, nil
}

// Lacking names the outcomes of a rule that no case shows, of those that it must be seen to give or say why it never does.
func Lacking(r *policies.Rule, file *policies.CaseFile) []string {
	return slices.DeleteFunc(owed(r), func(outcome string) bool {
		shown := slices.ContainsFunc(file.Cases, func(c policies.Case) bool { return c.Rule == r.ID && c.Outcome == outcome })
		return shown || file.Never[r.ID][outcome] != ""
	})
}

// owed are the outcomes that a rule must be seen to give.
func owed(r *policies.Rule) []string {
	out := []string{policies.Unknown}
	if r.Level != policies.Caution {
		out = append(out, policies.Pass, policies.Fail)
	}
	if len(r.Applies) > 0 {
		out = append(out, policies.NotApplicable)
	}
	return out
}

// read reads the one door of a text.
func read(a *assess.Assessor, src []byte) (*door.Door, error) {
	docs, problems := schema.Read("case.json", src)
	if len(problems) > 0 {
		return nil, problems[0]
	}
	d, problems := a.Decode(docs[0])
	if len(problems) > 0 {
		return nil, problems[0]
	}
	return d, nil
}

// measured reads a door and measures it; the facts of the case stand in place of those of its subject.
func measured(a *assess.Assessor, c policies.Case) (policies.Input, error) {
	d, err := read(a, c.Door)
	if err != nil {
		return policies.Input{}, err
	}
	in, _ := a.Input(d)
	for name, value := range c.Facts {
		i := slices.IndexFunc(in.Subjects, func(s fact.Subject) bool { return s.ID == c.Subject })
		if i < 0 {
			return policies.Input{}, fmt.Errorf("no subject %s", c.Subject)
		}
		f, ok := in.Subjects[i].Facts[name]
		if !ok {
			return policies.Input{}, fmt.Errorf("%s has no fact %s, for which the case gives a value", c.Subject, name)
		}
		f.Value = value
		in.Subjects[i].Facts[name] = f
	}
	return in, nil
}

// Check judges the case by p: an error says how the finding differs from what the case expects of it, or that there
// is none.
func (c Case) Check(ctx context.Context, p *policies.Policies) error {
	findings, err := p.Judge(ctx, c.Input)
	if err != nil {
		return err
	}
	i := slices.IndexFunc(findings, func(f policies.Finding) bool { return f.Rule == c.Rule && f.Subject == c.Subject })
	if i < 0 {
		if r, ok := p.Rule(c.Rule); ok && r.Subject != strings.Split(c.Subject, ":")[0] {
			return fmt.Errorf("no finding for %s: the rule judges each %s, which the case names under subject, such as %s", c.Subject, r.Subject, subjects[r.Subject])
		}
		return fmt.Errorf("no finding of %s for %s", c.Rule, c.Subject)
	}
	if got := differs(c.Case, findings[i]); got != "" {
		return errors.New(got)
	}
	return nil
}

// subjects shows how a case names one of each kind.
var subjects = map[string]string{"door": "door", "side": "side:inside", "leaf": "leaf:A", "option": "option:ID"}

// differs says how a finding differs from what a case expects of it; "": it does not.
func differs(c policies.Case, f policies.Finding) string {
	var needs []string
	for _, n := range f.Needs {
		needs = append(needs, n.Fact)
	}
	if f.Outcome == c.Outcome && (c.Reason == "" || f.Reason == c.Reason) && (c.Clause == "" || f.Clause == c.Clause) && (c.Needs == nil || slices.Equal(needs, c.Needs)) {
		return ""
	}
	told := func(outcome, reason, clause string, needs []string) string {
		text := outcome
		for _, part := range []struct {
			word, said string
			asked      bool
		}{{"reason", reason, c.Reason != ""}, {"clause", clause, c.Clause != ""}, {"needs", strings.Join(needs, ", "), c.Needs != nil}} {
			if part.asked {
				text += fmt.Sprintf(", %s %q", part.word, part.said)
			}
		}
		return text
	}
	out := "got  " + told(f.Outcome, f.Reason, f.Clause, needs) + ": " + f.Message
	if f.Found != "" {
		out += "; found " + f.Found
	}
	if f.Allowed != "" {
		out += "; allowed " + f.Allowed
	}
	return out + "\nwant " + told(c.Outcome, c.Reason, c.Clause, c.Needs)
}
