package oracle

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"testing"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema"
	decoded "sillwright/schema/door"
	"sillwright/schema/fact"
)

// product is sillwright: spec to outcomes.
type product struct {
	*assess.Assessor
}

func newProduct(t *testing.T) product {
	t.Helper()
	a, err := assess.New(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return product{a}
}

// judge reads and measures a spec as assess does, and judges it with what is kept of the doors before.
func (p product) judge(spec []byte) (map[string]verdict, error) {
	in, err := p.input(spec)
	if err != nil {
		return nil, err
	}
	findings, err := p.Policies.Judge(context.Background(), in)
	if err != nil {
		return nil, err
	}
	out := map[string]verdict{}
	for _, f := range findings {
		out[f.Rule] = verdict(f.Outcome)
	}
	return out, nil
}

// sameAnew holds that a door is judged with what is kept as it is without: rule by rule every outcome, figure, place and word.
func (p product) sameAnew(spec []byte) error {
	in, err := p.input(spec)
	if err != nil {
		return err
	}
	kept, err := p.Policies.Judge(context.Background(), in)
	if err != nil {
		return err
	}
	anew, err := p.Policies.JudgeAnew(context.Background(), in)
	if err != nil {
		return err
	}
	if len(kept) != len(anew) {
		return fmt.Errorf("%d findings, %d anew", len(kept), len(anew))
	}
	for i := range kept {
		if !reflect.DeepEqual(kept[i], anew[i]) {
			return fmt.Errorf("%s of %s\n%+v\nanew\n%+v", kept[i].Rule, kept[i].Subject, kept[i], anew[i])
		}
	}
	return nil
}

func (p product) read(spec []byte) (*decoded.Door, error) {
	docs, problems := schema.Read("door.json", spec)
	if len(problems) > 0 {
		return nil, problems[0]
	}
	d, problems := p.Decode(docs[0])
	if len(problems) > 0 {
		return nil, problems[0]
	}
	return d, nil
}

// input has the facts of the door; rulebooks that run unasked are left out.
func (p product) input(spec []byte) (policies.Input, error) {
	d, err := p.read(spec)
	if err != nil {
		return policies.Input{}, err
	}
	in, _ := p.Input(d)
	in.Rulebooks = slices.DeleteFunc(in.Rulebooks, func(r policies.Ref) bool { return judges[r.ID] == nil })
	in.Subjects = slices.DeleteFunc(in.Subjects, func(s fact.Subject) bool { return s.ID != "door" && s.ID != "option:x" })
	return in, nil
}

// judgeWhole goes the whole way, to the findings.
func (p product) judgeWhole(spec []byte) (map[string]verdict, error) {
	d, err := p.read(spec)
	if err != nil {
		return nil, err
	}
	r, err := p.Assess(context.Background(), d)
	if err != nil {
		return nil, err
	}
	out := map[string]verdict{}
	for _, f := range r.Findings {
		if f.Subject == "door" {
			out[f.Rule] = verdict(f.Outcome)
		}
	}
	for _, f := range r.Options[0].Findings {
		out[f.Rule] = verdict(f.Outcome)
	}
	return out, nil
}

// has says whether a rulebook is there.
