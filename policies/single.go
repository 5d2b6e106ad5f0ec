package policies

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"slices"

	"github.com/open-policy-agent/opa/v1/ast"

	"sillwright/schema/quantity"
)

// single is one rule that is asked of one subject.
type single struct {
	plan    *plan
	ref     Ref
	subject *subject
	answer  *Answer
	system  quantity.System

	key     []byte // what its answer rests on
	slots   slots  // the numbers that count in it by their place
	byPlace []byte // the key with numbers by place, of an answer that these do not decide

	got     *answered
	finding Finding
	worded  bool
}

// singles lists the rules and subjects that are asked, in the order of the findings. It gives nil where a rulebook or a
// subject is named twice, which is a fault that only counting shows.
func (p *Policies) singles(in Input) ([]single, error) {
	subjects := make([]*subject, len(in.Subjects))
	for i, s := range in.Subjects {
		if slices.ContainsFunc(subjects[:i], func(other *subject) bool { return other.ID == s.ID }) {
			return nil, nil
		}
		subjects[i] = &subject{s, make(map[string]*footprint, len(s.Facts))}
	}
	var out []single
	for i, ref := range in.Rulebooks {
		if slices.ContainsFunc(in.Rulebooks[:i], func(other Ref) bool { return other.ID == ref.ID }) {
			return nil, nil
		}
		book, ok := p.Rulebook(ref.ID)
		if !ok {
			return nil, fmt.Errorf("no rulebook %q", ref.ID)
		}
		for _, r := range book.Rules {
			plan, err := p.planOf(r)
			if err != nil {
				return nil, err
			}
			for _, s := range subjects {
				if s.Kind != r.Subject {
					continue
				}
				one := single{plan: plan, ref: ref, subject: s, system: in.System}
				if a, ok := in.Answers[r.ID]; ok {
					one.answer = &a
				}
				one.key, one.slots = plan.key(nil, s, ref, one.answer, false)
				out = append(out, one)
			}
		}
	}
	return out, nil
}

// word puts the answer in words.
func (s *single) word() {
	o := s.got.outcome
	if len(s.got.sources) > 0 {
		o = o.numbered(func(i int, n json.Number) json.Number {
			if from, ok := s.got.sources[i]; ok {
				return from.of(s.slots.amounts)
			}
			return n
		})
	}
	o.Subject = s.subject.ID
	s.finding = s.plan.rule.finding(o, s.system)
}

// exactly makes the key one of the exact numbers.
func (s *single) exactly() {
	s.byPlace = s.key
	s.key, s.slots = s.plan.key([]byte{'='}, s.subject, s.ref, s.answer, true)
}

// wordedFor is the subject where a text or a pointer may name it.
func (s *single) wordedFor() string {
	if s.subject.Kind == "side" {
		return s.subject.ID
	}
	return ""
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
		out[p.name] = known(f, func(member string, a amount) amount {
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
func (p *Policies) askSingly(ctx context.Context, in Input, asked []*single) error {
	others := make([][]amount, len(asked))
	for i, one := range asked {
		if len(one.slots.amounts) > 0 {
			others[i], _ = one.plan.elsewhere(one.slots)
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
		if len(one.slots.amounts) == 0 {
			continue
		}
		sources, ok := map[int]source(nil), false
		if other := given[2*i+1]; len(other) == 1 {
			sources, ok = one.plan.sources(own[0], other[0], one.slots.amounts, others[i])
		}
		if one.got.sources = sources; !ok {
			one.exactly()
		}
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
