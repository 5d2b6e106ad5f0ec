package policies

import (
	"bytes"
	"context"
	"encoding/json"
	"slices"

	"github.com/open-policy-agent/opa/v1/ast"
)

// wordedFor is the subject where a text or a pointer may name it.
func (s *single) wordedFor() string {
	if s.subject.Kind == "side" {
		return s.subject.ID
	}
	return ""
}

// word puts the answer in words, or gives it bare where nobody will read them.
func (q *inquiry) word(s *single, in Input) Finding {
	o := s.got.outcome
	if r := s.plan.rule; in.Worded != nil && len(r.Bounds) == 0 && r.Level != Caution && !slices.Contains(in.Worded, o.Outcome) {
		o.Subject = s.subject.ID
		return r.bare(o)
	}
	if len(s.got.sources) > 0 {
		by := q.slots(s)
		o = o.numbered(func(i int, n json.Number) json.Number {
			if from, ok := s.got.sources[i]; ok {
				return from.of(by.amounts)
			}
			return n
		})
	}
	o.Subject = s.subject.ID
	return s.plan.rule.finding(o, s.system)
}

// returned is a finding that was worded for some option, or none, as one of this subject.
func (s *single) returned(f Finding) Finding {
	f.Subject = s.subject.ID
	if s.subject.place == "" {
		return f
	}
	places := func(all []Place) []Place {
		out := slices.Clone(all)
		for i := range out {
			out[i].Pointer = s.subject.back(out[i].Pointer)
		}
		return out
	}
	f.Places, f.Points, f.Needs = places(f.Places), slices.Clone(f.Points), slices.Clone(f.Needs)
	for i := range f.Points {
		f.Points[i].Places = places(f.Points[i].Places)
	}
	for i := range f.Needs {
		f.Needs[i].Pointer = s.subject.back(f.Needs[i].Pointer)
	}
	return f
}

// facts are those that the rule reads, with other numbers in place of those that count by their place.
func (s *single) facts(numbers []amount) map[string]any {
	out := map[string]any{}
	next := 0
	for _, p := range s.plan.facts {
		f, ok := s.subject.Facts[p.name]
		if !ok {
			continue
		}
		out[p.name] = known(s.subject, f, func(member string, a amount) amount {
			if !p.given && slices.Contains(p.byPlace, member) && s.plan.places(a) && numbers != nil {
				a = numbers[next]
				next++
			}
			return a
		})
	}
	return out
}

func (s *single) question(numbers []amount) map[string]any {
	book := map[string]any{"id": s.ref.ID}
	if s.ref.Variant != "" {
		book["variant"] = s.ref.Variant
	}
	return map[string]any{"rulebook": book, "place": s.plan.place, "facts": s.facts(numbers)}
}

// askSingly asks single questions, all in one evaluation, each of its numbers and, where these count by their place, of others at
// the same places. Where those others make the evaluation fail, they are left out.
func (q *inquiry) askSingly(ctx context.Context, p *Policies, in Input, asked []*single) error {
	others := make([][]amount, len(asked))
	for i, one := range asked {
		if by := q.slots(one); !one.apart && len(by.amounts) > 0 {
			others[i], _ = one.plan.elsewhere(by)
		}
	}
	given, err := p.singly(ctx, in, asked, others)
	if err != nil {
		clear(others)
		given, err = p.singly(ctx, in, asked, others)
	}
	if err != nil {
		return err
	}
	for i, one := range asked {
		own := given[2*i]
		if len(own) != 1 || !slices.Contains(outcomeWords, own[0].Outcome) {
			return &SilenceError{one.plan.rule.ID, one.subject.ID, len(own)}
		}
		one.got = &answered{outcome: own[0]}
		by := q.slots(one)
		if one.apart || len(by.amounts) == 0 {
			continue
		}
		sources, ok := map[int]source(nil), false
		if other := given[2*i+1]; len(other) == 1 {
			sources, ok = one.plan.sources(own[0], other[0], by.amounts, others[i])
		}
		one.got.sources, one.apart = sources, !ok
	}
	return nil
}

// singly evaluates questions: the answers to the i-th are at 2i, and at 2i+1 those for the other numbers.
func (p *Policies) singly(ctx context.Context, in Input, asked []*single, others [][]amount) ([][]outcome, error) {
	questions, places := []any{}, []int{}
	for i, one := range asked {
		questions, places = append(questions, one.question(nil)), append(places, 2*i)
		if others[i] != nil {
			questions, places = append(questions, one.question(others[i])), append(places, 2*i+1)
		}
	}
	answers := map[string]any{}
	for id, a := range in.Answers {
		answers[id] = map[string]any{"value": a.Value, "evidence": a.Evidence}
	}
	input, err := ast.InterfaceToValue(map[string]any{"answers": answers, "singly": questions})
	if err != nil {
		return nil, err
	}
	src, err := evaluate(ctx, p.single, input, in.Mark)
	if err != nil {
		return nil, err
	}
	var said []struct {
		outcome
		Single int `json:"single"`
	}
	d := json.NewDecoder(bytes.NewReader(src))
	d.UseNumber()
	if err := d.Decode(&said); err != nil {
		return nil, err
	}
	out := make([][]outcome, 2*len(asked))
	for _, s := range said {
		if s.Single < 0 || s.Single >= len(places) {
			continue
		}
		at := places[s.Single]
		if s.Rule == asked[at/2].plan.rule.ID { // another one is no answer
			s.Rule = "" // it is that of every rule that asks the same
			out[at] = append(out[at], s.outcome)
		}
	}
	return out, nil
}
