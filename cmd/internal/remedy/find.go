package remedy

import (
	"context"
	"fmt"
	"slices"
	"sort"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema/quantity"
)

// Scope is what is to be made to comply.
type Scope struct {
	Option string // only with this option; "": with whichever needs least
}

// alternatives is how many remedies are given at most.
const alternatives = 3

// Find looks for the smallest changes after which a door complies with all its rulebooks, and proves them. r is what the house says
// of the door as it is. Smallest is by the work that a change takes, a ladder of moves by judgement, then by its size in steps that a
// builder can make: a tenth of a millimetre, 1/64 in, a tenth of a newton.
//
// Error: the house itself failed; that nothing is found is none.
func Find(ctx context.Context, a *assess.Assessor, r *assess.Result, scope Scope) (*Answer, error) {
	text, err := plain(r.Door.Document)
	if err != nil {
		return nil, err
	}
	quick := *a
	quick.Shown = []string{policies.Fail, policies.Unknown}
	whole, err := through(ctx, &quick, r.Door.Document.File, text)
	if err != nil {
		return nil, err
	}
	f := &finder{ctx: ctx, a: &quick, full: a, whole: whole, scope: scope, answer: &Answer{}}
	for _, fails := range []bool{false, true} {
		q, err := f.search(hold{}, "", fails)
		if err != nil {
			return nil, err
		}
		if f.answer.Remedies, err = f.remedies(q, alternatives); err != nil || len(f.answer.Remedies) > 0 {
			return f.answer, err
		}
		if fails || !f.failing() {
			return f.answer, f.without(q)
		}
	}
	return f.answer, nil
}

// finder is one call of Find.
type finder struct {
	ctx     context.Context
	a, full *assess.Assessor
	whole   *spec
	scope   Scope
	answer  *Answer
}

// failing says whether a rule fails, on the door or on every option.
func (f *finder) failing() bool {
	r := f.whole.result
	return r.Standing == assess.Fails || len(r.Options) > 0 && !slices.ContainsFunc(r.Options, func(o assess.Option) bool { return o.Standing != assess.Fails })
}

func (f *finder) search(free hold, without string, fails bool) (*search, error) {
	q := &search{ctx: f.ctx, a: f.a, free: free, without: without, fails: fails, seen: map[string]bool{}, tried: map[string]Tried{}}
	q.fixed = f.whole.door.Fixed
	return q, q.start(f.whole, f.scope.Option)
}

// remedies are the first of a search that differ in what is done.
func (f *finder) remedies(q *search, most int) ([]Remedy, error) {
	var out []Remedy
	var kept [][]string
	defer func() { f.answer.Spent += q.spent; f.answer.Cut = f.answer.Cut || q.cut }()
	for len(out) < most {
		n, err := q.next()
		if n == nil || err != nil {
			return out, err
		}
		if n, err = q.shrunk(n); err != nil {
			return out, err
		}
		keys := n.keys()
		if slices.ContainsFunc(kept, func(k []string) bool { return includes(keys, k) }) {
			continue
		}
		r, ok, err := f.prove(q, n)
		if err != nil {
			return out, err
		}
		if ok {
			out, kept = append(out, r), append(kept, keys)
		}
	}
	return out, nil
}

// keys tell what a node does; which seal is taken makes no difference.
func (n *node) keys() []string {
	var out []string
	for _, d := range n.steps {
		object := d.object
		if seal := d.seal(); seal != "" {
			object = strings.TrimSuffix(object, seal)
		}
		out = append(out, d.move+" "+n.lasting(object))
	}
	sort.Strings(out)
	return out
}

func includes(all, some []string) bool {
	for _, s := range some {
		if !slices.Contains(all, s) {
			return false
		}
	}
	return true
}

// lasting turns a pointer of the spec with one option into that of the user's.
func (n *node) lasting(text string) string {
	if n.index <= 0 {
		return text
	}
	return strings.Replace(text, "/options/0", fmt.Sprintf("/options/%d", n.index), 1)
}

// shrunk leaves out steps that are not needed, and makes the others as small as they may be.
func (q *search) shrunk(n *node) (*node, error) {
	for i := 0; i < len(n.steps) && len(n.steps) > 1; {
		less, err := q.replay(n, slices.Delete(slices.Clone(n.steps), i, i+1))
		if err != nil {
			return nil, err
		}
		if less == nil {
			i++
			continue
		}
		n = less
	}
	for i := range n.steps {
		_, err := smallest(0, n.steps[i].size, func(size int) (bool, error) {
			steps := slices.Clone(n.steps)
			steps[i].size = size
			less, err := q.replay(n, steps)
			if less != nil {
				n = less
			}
			return less != nil, err
		})
		if err != nil {
			return nil, err
		}
	}
	return n, nil
}

// replay takes steps anew; nil where they do not lead to a spec in whose way nothing stands.
func (q *search) replay(n *node, steps []done) (*node, error) {
	out := &node{from: n.from, index: n.index, option: n.option, spec: n.from}
	for _, d := range steps {
		again, s, _, err := q.make(out.spec, d.proposal, d.size)
		if err != nil {
			return nil, err
		}
		if s == nil {
			return nil, nil
		}
		out.spec, out.steps, out.cost = s, append(out.steps, again), out.cost+again.cost(s)
	}
	if len(q.aims(out.spec, out.option)) > 0 {
		return nil, nil
	}
	return out, nil
}

// prove takes the user's whole spec, changed, through the house.
func (f *finder) prove(q *search, n *node) (Remedy, bool, error) {
	out := Remedy{Option: n.option, Steps: []Step{}, Patch: []Operation{}}
	for _, d := range n.steps {
		step := Step{Move: d.move, Do: d.do, Before: d.before, After: d.after}
		for _, op := range d.ops {
			op.Path = n.lasting(op.Path)
			out.Patch = append(out.Patch, op)
			step.Pointers = append(step.Pointers, op.Path)
		}
		out.Steps = append(out.Steps, step)
	}
	f.answer.Spent++
	proof, err := f.whole.after(f.ctx, f.full, out.Patch)
	if err != nil {
		return Remedy{}, false, fmt.Errorf("a remedy that cannot be applied: %w", err)
	}
	out.Result = proof.result
	out.Complies = proof.result.CanOrder && f.served(proof, out.Option)
	if out.Complies {
		return out, true, nil
	}
	return out, q.proven(proof, out.Option), nil
}

// served says whether the option complies, if there is one.
func (f *finder) served(s *spec, option string) bool {
	return option == "" || slices.ContainsFunc(s.result.Options, func(o assess.Option) bool { return o.ID == option && o.Standing == assess.Complies })
}

// proven says whether nothing that a search looks at stands in the way any more.
func (q *search) proven(s *spec, option string) bool { return len(q.aims(s, option)) == 0 }

// overlapWords says how a seal is set.
func overlapWords(l quantity.Length, text string) string {
	switch {
	case l == 0:
		return "to just touch the floor where the gap is widest"
	case l < 0:
		return fmt.Sprintf("%s short of the floor where the gap is widest", strings.TrimPrefix(text, "-"))
	}
	return fmt.Sprintf("to press %s where the gap is widest", text)
}
