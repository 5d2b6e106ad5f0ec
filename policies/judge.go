package policies

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"slices"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/rego"
)

// SilenceError says that a rule gave no outcome, or more than one, for a subject. It is
// a fault of the policies, never of a spec.
type SilenceError struct {
	Rule, Subject string
	Outcomes      int
}

func (e *SilenceError) Error() string {
	return fmt.Sprintf("rule %s gave %d outcomes for %s; one is due. This is a fault of the rules, and nothing was judged", e.Rule, e.Outcomes, e.Subject)
}

// Judge gives one finding for every rule of every asked rulebook, and of those that
// always run, and every subject of its kind, ordered by rule and subject as written. What was
// answered before is not asked again.
func (p *Policies) Judge(ctx context.Context, in Input) ([]Finding, error) {
	if p.anew {
		return p.JudgeAnew(ctx, in)
	}
	in.Rulebooks = p.Asked(in.Rulebooks)
	if err := in.check(); err != nil {
		return nil, err
	}
	return p.together(ctx, in, p.judgeKept)
}

// judgeKept judges by what is kept where it can, and keeps what is new.
func (p *Policies) judgeKept(ctx context.Context, in Input) ([]Finding, error) {
	q := inquiries.Get().(*inquiry)
	defer q.done()
	singly, err := q.singles(p, in)
	if err != nil {
		return nil, err
	}
	if !singly {
		return p.judgeAll(ctx, in)
	}
	out := make([]Finding, len(q.asked))
	p.kept.find(q, out)
	fresh, err := q.askFresh(ctx, p, in)
	if err != nil {
		return nil, err
	}
	words := map[int]*Finding{} // those that serve others, too
	for i := range q.asked {
		one := &q.asked[i]
		if out[i].Rule != "" {
			continue
		}
		f := q.word(one, in)
		out[i] = one.returned(f)
		if f.worded() && len(one.got.sources) == 0 {
			words[i] = &f
		}
	}
	if fresh || len(words) > 0 {
		p.kept.keep(q, words)
	}
	return out, nil
}

// askFresh asks what no answer is kept for, once for all that rest on the same, and says whether there was any.
func (q *inquiry) askFresh(ctx context.Context, p *Policies, in Input) (bool, error) {
	var fresh, rest []*single
	same := map[string]*single{}
	for i := range q.asked {
		if one := &q.asked[i]; one.got == nil && same[string(q.keyOf(one))] == nil {
			same[string(q.keyOf(one))] = one
			fresh = append(fresh, one)
		}
	}
	if len(fresh) == 0 {
		return false, nil
	}
	if err := q.askSingly(ctx, p, in, fresh); err != nil {
		return false, err
	}
	for i := range q.asked {
		one := &q.asked[i]
		if one.got != nil {
			continue
		}
		if first := same[string(q.keyOf(one))]; !first.apart || one.apart {
			one.got = first.got
			continue
		}
		one.apart = true // only now it is seen that its own numbers decide
		q.key(one, true)
		rest = append(rest, one)
	}
	if len(rest) == 0 {
		return true, nil
	}
	return true, q.askSingly(ctx, p, in, rest)
}

// JudgeAnew gives what Judge gives, from one evaluation of everything that is asked, as stock OPA makes it. It keeps nothing.
func (p *Policies) JudgeAnew(ctx context.Context, in Input) ([]Finding, error) {
	in.Rulebooks = p.Asked(in.Rulebooks)
	if err := in.check(); err != nil {
		return nil, err
	}
	return p.together(ctx, in, p.judgeAll)
}

func (p *Policies) judgeAll(ctx context.Context, in Input) ([]Finding, error) {
	outcomes, err := p.outcomes(ctx, in)
	if err != nil {
		return nil, err
	}
	return p.findings(in, outcomes)
}

// Outcomes is what the query says of every asked rule and subject, as Rego writes it: the same
// that stock OPA says of the same modules, data and input. Nothing counts it; Judge does.
func (p *Policies) Outcomes(ctx context.Context, in Input) (json.RawMessage, error) {
	value, err := ast.InterfaceToValue(in)
	if err != nil {
		return nil, err
	}
	return evaluate(ctx, p.query, value, in.Mark)
}

// evaluate gives what a query says of an input; a query that says nothing says an empty list.
func evaluate(ctx context.Context, query rego.PreparedEvalQuery, input ast.Value, mark string) (json.RawMessage, error) {
	results, err := query.Eval(ctx, rego.EvalParsedInput(input))
	if err != nil {
		return nil, fmt.Errorf("judging %s: %w", mark, err)
	}
	if len(results) != 1 || len(results[0].Expressions) != 1 {
		return json.RawMessage("[]"), nil
	}
	return json.Marshal(results[0].Expressions[0].Value)
}

// outcomes reads what Rego says.
func (p *Policies) outcomes(ctx context.Context, in Input) ([]outcome, error) {
	src, err := p.Outcomes(ctx, in)
	if err != nil {
		return nil, err
	}
	var outcomes []outcome
	d := json.NewDecoder(bytes.NewReader(src))
	d.UseNumber()
	if err := d.Decode(&outcomes); err != nil {
		return nil, err
	}
	return outcomes, nil
}

// findings pairs every rule and subject with its outcome, and refuses silence.
func (p *Policies) findings(in Input, outcomes []outcome) ([]Finding, error) {
	type key struct{ rule, subject string }
	got := map[key][]outcome{}
	for _, o := range outcomes {
		k := key{o.Rule, o.Subject}
		got[k] = append(got[k], o)
	}
	var out []Finding
	for _, ref := range in.Rulebooks {
		book, ok := p.Rulebook(ref.ID)
		if !ok {
			return nil, fmt.Errorf("no rulebook %q", ref.ID)
		}
		for _, r := range book.Rules {
			for _, s := range in.Subjects {
				if s.Kind != r.Subject {
					continue
				}
				found := got[key{r.ID, s.ID}]
				if len(found) != 1 || !slices.Contains(outcomeWords, found[0].Outcome) {
					return nil, &SilenceError{r.ID, s.ID, len(found)}
				}
				out = append(out, r.finding(found[0], in.System))
			}
		}
	}
	return out, nil
}
