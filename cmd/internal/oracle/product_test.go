package oracle

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/rego"
	"github.com/open-policy-agent/opa/v1/storage/inmem"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema"
	decoded "sillwright/schema/door"
	"sillwright/schema/fact"
)

// product is sillwright: spec to outcomes. The short way asks the questions of the rules
// that the oracle judges and of no others, for one rulebook has forty; every so often a
// door goes the whole way too, and the two must agree.
type product struct {
	*assess.Assessor
	short rego.PreparedEvalQuery
}

func newProduct(t *testing.T) product {
	t.Helper()
	ctx := context.Background()
	a, err := assess.New(ctx)
	if err != nil {
		t.Fatal(err)
	}
	data, err := a.Policies.Data()
	if err != nil {
		t.Fatal(err)
	}
	books := data["rulebooks"].(map[string]any)
	for id := range books {
		rules := books[id].(map[string]any)["rules"].([]any)
		books[id] = map[string]any{"rules": slices.DeleteFunc(rules, func(r any) bool {
			_, judged := judgeAll(door{})[r.(map[string]any)["id"].(string)]
			return !judged
		})}
	}
	sources, err := policies.Modules()
	if err != nil {
		t.Fatal(err)
	}
	options := []func(*rego.Rego){rego.Query("data.sillwright.outcomes"), rego.StrictBuiltinErrors(true),
		rego.Store(inmem.NewFromObjectWithOpts(data, inmem.OptReturnASTValuesOnRead(true)))}
	for name, text := range sources {
		options = append(options, rego.Module(name, text))
	}
	query, err := rego.New(options...).PrepareForEval(ctx)
	if err != nil {
		t.Fatal(err)
	}
	return product{a, query}
}

// judge reads and measures a spec as assess does, and asks the short way.
func (p product) judge(spec []byte) (map[string]verdict, error) {
	in, err := p.input(spec)
	if err != nil {
		return nil, err
	}
	value, err := ast.InterfaceToValue(in)
	if err != nil {
		return nil, err
	}
	results, err := p.short.Eval(context.Background(), rego.EvalParsedInput(value))
	if err != nil || len(results) != 1 {
		return nil, fmt.Errorf("%d results, %v", len(results), err)
	}
	out := map[string]verdict{}
	for _, o := range results[0].Expressions[0].Value.([]any) {
		o := o.(map[string]any)
		out[o["rule"].(string)] = verdict(o["outcome"].(string))
	}
	return out, nil
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
