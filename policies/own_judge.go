package policies

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"sillwright/schema"
	"sillwright/schema/fact"
)

// mostOwnTime is what all rules of an own rulebook may take for one door, so that many slow ones are cut off like one that is endless.
const mostOwnTime = 30 * time.Second

// singleInput is the input of the query `singly`, for one rule and one subject.
type singleInput struct {
	Format  string            `json:"format"`
	Answers map[string]Answer `json:"answers"`
	Singly  []map[string]any  `json:"singly"`
}

// judge gives the findings of one rulebook whose rules ask questions of a user.
func (c *confined) judge(p *Policies, in Input, ref Ref) ([]Finding, error) {
	book, ok := p.Rulebook(ref.ID)
	if !ok {
		return nil, fmt.Errorf("no rulebook %q", ref.ID)
	}
	var out []Finding
	began := time.Now()
	for place, r := range book.Rules {
		for _, s := range in.Subjects {
			if s.Kind != r.Subject {
				continue
			}
			if time.Since(began) > mostOwnTime {
				return nil, fmt.Errorf("rulebook %s was cut off at rule %s: its rules took more than %s for one door. Nothing was judged by it", ref.ID, r.ID, mostOwnTime)
			}
			o, err := c.outcome(r, place, ref, in.Answers, s)
			if err != nil {
				return nil, err
			}
			out = append(out, r.finding(o, in.System))
		}
	}
	return out, nil
}

// outcome is what a rule says of a subject: exactly one of the shape that is due, or an error that names the rule and the place of its question.
func (c *confined) outcome(r *Rule, place int, ref Ref, answers map[string]Answer, s fact.Subject) (outcome, error) {
	about := "rule " + r.ID
	if file, own := c.files[r.Question]; own {
		about += fmt.Sprintf(", question %s (%s:%d:%d)", r.Question, file, c.asked[r.Question].Row, c.asked[r.Question].Column)
	}
	book := map[string]any{"id": ref.ID}
	if ref.Variant != "" {
		book["variant"] = ref.Variant
	}
	facts := map[string]fact.Fact{}
	for _, name := range r.Reads() {
		if f, ok := s.Facts[name]; ok {
			facts[name] = f
		}
	}
	input := singleInput{Format: InputFormat, Answers: map[string]Answer{}, Singly: []map[string]any{{"rulebook": book, "place": place, "facts": facts}}}
	if a, ok := answers[r.ID]; ok {
		input.Answers[r.ID] = a
	}
	src, err := json.Marshal(input)
	if err != nil {
		return outcome{}, err
	}
	got, err := c.ask(told{Single: src}, about)
	switch {
	case err != nil:
		return outcome{}, err
	case got.Failed != "":
		return outcome{}, fmt.Errorf("%s failed for %s: %s", about, s.ID, got.Failed)
	case got.Outcomes == nil || len(*got.Outcomes) != 1:
		return outcome{}, fmt.Errorf("%s said nothing of %s: an answer is due in every case", about, s.ID)
	}
	d := json.NewDecoder(bytes.NewReader((*got.Outcomes)[0]))
	d.UseNumber()
	var o outcome
	if err := d.Decode(&o); err != nil {
		return outcome{}, fmt.Errorf("%s answers for %s in another shape than is due: %s", about, s.ID, plainly(err))
	}
	if wrong := o.misshapen(r); wrong != "" {
		return outcome{}, fmt.Errorf("%s answers for %s with %s", about, s.ID, wrong)
	}
	o.Subject = s.ID
	return o, nil
}

// states are those that a check may have.
var states = []string{"pass", "fail", "open", "close", "missing"}

// misshapen says what of an answer is none that its question declares; "": nothing.
func (o *outcome) misshapen(r *Rule) string {
	if !slices.Contains(outcomeWords, o.Outcome) {
		return fmt.Sprintf("outcome %q", o.Outcome)
	}
	parts := slices.Concat(slices.Sorted(maps.Keys(r.asked.Parts)), r.asked.Passing)
	for _, e := range r.Exceptions {
		parts = append(parts, e.ID)
	}
	for _, c := range o.Checks {
		switch {
		case !slices.Contains(parts, c.Part):
			return fmt.Sprintf("part %q, which its METADATA does not declare", c.Part)
		case !slices.Contains(states, c.State):
			return fmt.Sprintf("state %q of part %s; allowed: %s", c.State, c.Part, strings.Join(states, ", "))
		case c.State == "missing" && len(c.Needs) == 0:
			return fmt.Sprintf("part %s that is missing, and does not say which fact it needs", c.Part)
		}
		if name := c.lacking(r); name != "" {
			return fmt.Sprintf("no value {%s} of part %s, which its words use", name, c.Part)
		}
		if l := c.Limit; l.AtMost+l.AtLeast != "" && !slices.Contains([]string{"<=", ">="}, c.Comparator) {
			return fmt.Sprintf("a limit of part %s and comparator %q; allowed: <= or >=", c.Part, c.Comparator)
		}
		for _, at := range c.At {
			if !strings.HasPrefix(at, "/") {
				return fmt.Sprintf("the place %q of part %s, which is no JSON Pointer", at, c.Part)
			}
		}
		if text := c.unprintable(); text != "" {
			return fmt.Sprintf("the value %q of part %s, which does not print", text, c.Part)
		}
	}
	for _, n := range slices.Concat(o.Needs, lackingOf(o.Checks)) {
		if _, ok := fact.Describe(n.Fact); !ok && n.Fact != variant {
			return fmt.Sprintf("the need of %q, which is no fact", n.Fact)
		}
	}
	return ""
}

// lacking names a value that the words of its part use, and that it does not give.
func (c check) lacking(r *Rule) string {
	if c.State == "pass" || c.State == "missing" {
		return ""
	}
	for _, name := range blank.FindAllString(r.Messages[c.Part]+r.Remedies[c.Part], -1) {
		if plain := strings.Trim(name, "{}"); c.Values[plain] == nil {
			return plain
		}
	}
	return ""
}

// plainly words what of an answer has another shape than it should.
func plainly(err error) string {
	var typed *json.UnmarshalTypeError
	if errors.As(err, &typed) {
		return fmt.Sprintf("%s is a %s there", typed.Field, typed.Value)
	}
	return err.Error()
}

// unprintable gives a text among the values of a check that would not print.
func (c check) unprintable() string {
	for _, v := range append(slices.Collect(maps.Values(c.Values)), c.Measured) {
		for _, x := range v {
			if text := notPrinting(x); text != "" {
				return text
			}
		}
	}
	return ""
}

// silent asks every rule of a rulebook of a subject of which nothing is known: what has no answer to that has none to what is not known.
func (c *confined) silent(book *Rulebook) Problems {
	var wrong Problems
	for place, r := range book.Rules {
		if _, own := c.files[r.Question]; !own {
			continue
		}
		s := fact.Subject{ID: r.Subject, Kind: r.Subject, Facts: fact.Set{}}
		if _, err := c.outcome(r, place, Ref{ID: book.ID}, nil, s); err != nil {
			wrong = append(wrong, c.at(r.Question, "where nothing is known: "+err.Error(), "", "answer as DEVELOPERS.md says, \"How a question answers\"; a fact that is not known is a check of state missing, with its needs"))
		}
	}
	return wrong
}

// apart parts the rulebooks that are asked into those that are judged here and those whose questions are a user's.
func (p *Policies) apart(refs []Ref) (here, there []Ref) {
	if p.confined == nil {
		return refs, nil
	}
	for _, ref := range refs {
		if slices.Contains(p.confined.ids, ref.ID) {
			there = append(there, ref)
		} else {
			here = append(here, ref)
		}
	}
	return here, there
}

// together judges what stays here by one way of judging, the rest in the process, and gives the findings in the order in which the rulebooks are asked.
func (p *Policies) together(ctx context.Context, in Input, judge func(context.Context, Input) ([]Finding, error)) ([]Finding, error) {
	here, there := p.apart(in.Rulebooks)
	if len(there) == 0 {
		return judge(ctx, in)
	}
	asked := in.Rulebooks
	in.Rulebooks = here
	findings, err := judge(ctx, in)
	if err != nil {
		return nil, err
	}
	by := map[string][]Finding{}
	for _, f := range findings {
		by[f.Rulebook] = append(by[f.Rulebook], f)
	}
	for _, ref := range there {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if by[ref.ID], err = p.confined.judge(p, in, ref); err != nil {
			return nil, err
		}
	}
	out := findings[:0:0]
	for _, ref := range asked {
		out = append(out, by[ref.ID]...)
	}
	return out, nil
}

// notPrinting gives a text within a value that would not print.
func notPrinting(x any) string {
	switch x := x.(type) {
	case string:
		if strings.ContainsFunc(x, func(r rune) bool { return !schema.Prints(r) }) {
			return x
		}
	case []any:
		for _, item := range x {
			if text := notPrinting(item); text != "" {
				return text
			}
		}
	}
	return ""
}
