package remedy

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema/quantity"
)

// Scope is what is to be made to comply.
type Scope struct {
	Option string // only with this option; "": with whichever needs least
	Most   int    // how many remedies are looked for, with what would have to give way where there is none; 0: three
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
	f := &finder{ctx: ctx, a: &quick, full: a, whole: whole, scope: scope, answer: &Answer{}, known: map[string]outcome{}}
	remedies, met, err := f.graded(hold{}, "", cmp.Or(scope.Most, alternatives))
	if err != nil || len(remedies) == 1 && len(remedies[0].Steps) == 0 {
		return f.answer, err // nothing that a change could settle stands in the way
	}
	if f.answer.Remedies = remedies; len(remedies) == 0 && len(met.tried) > 0 {
		err = f.without(met)
	}
	return f.answer, err
}

// graded are the remedies of the best grade that there are any of, and what stood in the way of others.
func (f *finder) graded(free hold, without string, most int) (out []Remedy, met *log, err error) {
	met = &log{}
	for g := settled; g <= unopposed; g++ {
		if f.work > mostInAll {
			f.answer.Cut = true
			break
		}
		q := &search{ctx: f.ctx, a: f.a, free: free, without: without, grade: g, seen: map[string]bool{}, log: met, known: f.known, fixed: f.whole.door.Fixed}
		q.notes(f.whole.result)
		if err := q.start(f.whole, f.scope.Option); err != nil {
			return nil, nil, err
		}
		if out, err = f.remedies(q, most); err != nil || len(out) > 0 || g == settled && !f.failing() {
			return out, met, err
		}
	}
	return nil, met, nil
}

// finder is one call of Find.
type finder struct {
	ctx     context.Context
	a, full *assess.Assessor
	whole   *spec
	scope   Scope
	answer  *Answer
	known   map[string]outcome
	work    int // as of a search
}

// failing says whether a rule fails, on the door or on every option.
func (f *finder) failing() bool {
	r := f.whole.result
	return r.Standing == assess.Fails || len(r.Options) > 0 && !slices.ContainsFunc(r.Options, func(o assess.Option) bool { return o.Standing != assess.Fails })
}

// remedies are the first of a search that differ in what is done; where these are fewer, others that do the same with another seal or
// another option.
func (f *finder) remedies(q *search, most int) ([]Remedy, error) {
	var out, spare []Remedy
	var kinds, exact [][]string
	defer func() {
		f.answer.Spent += q.spent
		f.work += q.work
		f.answer.Cut = f.answer.Cut || q.cut
	}()
	for len(out) < most {
		n, err := q.next()
		if err != nil {
			return out, err
		}
		if n == nil {
			break
		}
		if n, err = q.shrunk(n); err != nil {
			return out, err
		}
		kind, whole := n.keys()
		again := slices.ContainsFunc(kinds, func(k []string) bool { return includes(kind, k) })
		if slices.ContainsFunc(exact, func(k []string) bool { return includes(whole, k) }) || again && len(spare) >= most {
			continue
		}
		r, ok, err := f.prove(q, n)
		switch {
		case err != nil:
			return out, err
		case !ok:
			continue
		case again:
			spare = append(spare, r)
		default:
			out = append(out, r)
		}
		kinds, exact = append(kinds, kind), append(exact, whole)
		if len(n.steps) == 0 {
			break // nothing has to change
		}
	}
	return append(out, spare[:min(len(spare), most-len(out))]...), nil
}

// keys tell what a node does, by kind, where seals and options make no difference, and exactly.
func (n *node) keys() (kind, exact []string) {
	for _, d := range n.steps {
		exact = append(exact, d.move+" "+n.lasting(d.object))
		if d.seal() != "" || strings.Contains(d.object, "/options/") {
			kind = append(kind, d.move)
			continue
		}
		kind = append(kind, d.move+" "+d.object)
	}
	return kind, exact
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
		less, err := q.serves(n, slices.Delete(slices.Clone(n.steps), i, i+1))
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
			less, err := q.serves(n, steps)
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

// serves takes steps anew; nil where they do not lead to a spec in whose way nothing stands.
func (q *search) serves(n *node, steps []done) (*node, error) {
	out, _, err := q.replay(n, steps)
	if out == nil || len(q.aims(out.spec, out.option)) > 0 {
		return nil, err
	}
	return out, nil
}

// prove takes the user's whole spec, changed, through the house.
func (f *finder) prove(q *search, n *node) (Remedy, bool, error) {
	out := Remedy{Option: n.option, Steps: []Step{}, Patch: []Operation{}, by: n, search: q}
	for _, d := range n.steps {
		step := Step{Move: d.move, Do: d.do, Before: d.before, After: d.after}
		for _, op := range d.ops {
			op.Path = n.lasting(op.Path)
			out.Patch = append(out.Patch, op)
			step.Pointers = append(step.Pointers, op.Path)
		}
		out.Steps = append(out.Steps, step)
	}
	if len(out.Steps) > 0 && mayBeFire(f.whole.door) {
		out.Steps[0].Before = append([]string{"Ask the door's maker and the fire authority: this is, or may be, a fire or smoke door, and nothing about it or its threshold is changed without their consent."}, out.Steps[0].Before...)
	}
	f.answer.Spent++
	f.work += weight(len(f.whole.text)) * (1 + len(f.whole.door.Options)/3)
	proof, err := f.whole.after(f.ctx, f.full, out.Patch)
	if bad := (refused{}); errors.As(err, &bad) { // beside the other options it is no door
		q.log.tried = append(q.log.tried, Tried{Title: "What settles the door", Subject: subjectOf(out.Option), Why: impossible(bad)})
		return Remedy{}, false, nil
	}
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
