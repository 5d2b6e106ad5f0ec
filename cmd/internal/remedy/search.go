package remedy

import (
	"container/heap"
	"context"
	"encoding/json"
	"fmt"
	"slices"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
)

// Bounds: changed specs that one search asks for, steps of one remedy, specs of a door that are kept, and those asked for after which no
// other search is begun.
const (
	mostSpecs = 400
	mostSteps = 6
	mostKnown = 1000
	mostInAll = 1200
)

// search looks for changes after which nothing stands in the way of a door with one of its options.
type search struct {
	ctx     context.Context
	a       *assess.Assessor
	fixed   []string
	free    hold   // what is taken to be free
	without string // the rule that is taken to be met
	grade   grade
	were    map[string]bool // by rule and subject: what was not known before
	left    map[string]bool // of these, what is left to be found out, or to whoever may decide
	queue   nodes
	seen    map[string]bool
	log     *log
	known   map[string]outcome // by text; shared by searches of one door
	spent   int
	serial  int
	cut     bool
}

// log is what stood in the way of remedies, in the order in which it was met.
type log struct {
	tried []Tried
	holds []hold
	rules []string
}

// note keeps why a move does not serve, the first reason of each.
func (l *log) note(a aim, move, why string) {
	same := func(t Tried) bool {
		return t.Rule == a.finding.Rule && t.Subject == a.finding.Subject && t.Move == move
	}
	if why != "" && !slices.ContainsFunc(l.tried, same) {
		l.tried = append(l.tried, Tried{a.finding.Rule, a.finding.Subject, move, why})
	}
}

// grade is how much a remedy has to bring.
type grade int

// The grades, the best first. What was not known before, for want of a fact, is left to be found out in each.
const (
	settled   grade = iota // nothing fails, nothing is left open, and nothing more is unknown than before
	unsettled              // more may be unknown than before
	unopposed              // nothing fails
)

// node is a spec that some steps lead to.
type node struct {
	from   *spec // without any step, and with the one option that is looked at
	index  int   // of that option in the spec of the user; -1: none is listed
	option string
	spec   *spec
	steps  []done
	cost   float64
	serial int
}

// done is a proposal at a size.
type done struct {
	proposal
	size int
	change
}

type nodes []*node

func (n nodes) Len() int { return len(n) }
func (n nodes) Less(i, j int) bool {
	if n[i].cost != n[j].cost {
		return n[i].cost < n[j].cost
	}
	return n[i].serial < n[j].serial
}
func (n nodes) Swap(i, j int) { n[i], n[j] = n[j], n[i] }
func (n *nodes) Push(x any)   { *n = append(*n, x.(*node)) }
func (n *nodes) Pop() any {
	last := len(*n) - 1
	out := (*n)[last]
	*n = (*n)[:last]
	return out
}

// start puts the spec on the queue, once for each option that is looked at, with that option alone.
func (q *search) start(whole *spec, only string) error {
	if len(whole.door.Options) == 0 {
		q.push(&node{from: whole, spec: whole, index: -1})
		return nil
	}
	for i, o := range whole.door.Options {
		if only != "" && o.ID != only {
			continue
		}
		s, err := q.alone(whole, i)
		if err != nil {
			return err
		}
		q.push(&node{from: s, spec: s, index: i, option: o.ID})
	}
	return nil
}

// alone is a spec with one option of several.
func (q *search) alone(whole *spec, i int) (*spec, error) {
	if len(whole.door.Options) == 1 {
		return q.through(whole.doc.File, whole.text)
	}
	var fields map[string]json.RawMessage
	if err := json.Unmarshal(whole.text, &fields); err != nil {
		return nil, err
	}
	var options []json.RawMessage
	if err := json.Unmarshal(fields["options"], &options); err != nil {
		return nil, err
	}
	fields["options"] = raw(options[i : i+1])
	text, err := json.Marshal(fields)
	if err != nil {
		return nil, err
	}
	return q.through(whole.doc.File, text)
}

// through takes a text through the house, unless the same was taken there before.
func (q *search) through(file string, text []byte) (*spec, error) {
	q.spent++
	if k, ok := q.known[string(text)]; ok {
		return k.spec, k.err
	}
	s, err := through(q.ctx, q.a, file, text)
	if len(q.known) < mostKnown {
		q.known[string(text)] = outcome{s, err}
	}
	return s, err
}

// outcome is what the house says of a text.
type outcome struct {
	spec *spec
	err  error
}

func (q *search) push(n *node) {
	q.serial++
	n.serial = q.serial
	heap.Push(&q.queue, n)
}

// next is the cheapest spec in whose way nothing stands any more; nil where there is none, or none within the bounds.
func (q *search) next() (*node, error) {
	for q.queue.Len() > 0 {
		n := heap.Pop(&q.queue).(*node)
		key := n.option + "\x00" + string(n.spec.text)
		if q.seen[key] {
			continue
		}
		q.seen[key] = true
		aims := q.aims(n.spec, n.option)
		if len(aims) == 0 {
			return n, nil
		}
		if q.spent >= mostSpecs {
			q.cut = true
			return nil, nil
		}
		before := q.serial
		if err := q.expand(n, aims); err != nil {
			return nil, err
		}
		if f := aims[0].finding; q.serial == before && f.Outcome == policies.Unknown && q.were[f.Rule+" "+f.Subject] {
			q.left[f.Rule+" "+f.Subject] = true // no move settles it
			delete(q.seen, key)
			q.push(n)
		}
	}
	return nil, nil
}

// aims are the points that stand in the way of a door and of one of its options.
func (q *search) aims(s *spec, option string) []aim {
	var out []aim
	add := func(findings []policies.Finding) {
		for _, f := range findings {
			if !q.stands(f) {
				continue
			}
			points := f.Points
			if len(points) == 0 {
				points = []policies.Point{f.Point}
			}
			for _, p := range points {
				out = append(out, aim{f, p})
			}
		}
	}
	add(s.result.Findings)
	for _, o := range s.result.Options {
		if o.ID == option {
			add(o.Findings)
		}
	}
	return out
}

// stands says whether a finding stands in the way.
func (q *search) stands(f policies.Finding) bool {
	if !assess.Counts(f, q.a.Strict) || f.Accepted != nil || f.Rule == q.without {
		return false
	}
	switch {
	case f.Outcome == policies.Fail:
		return true
	case f.Outcome != policies.Unknown || q.grade == unopposed || q.left[f.Rule+" "+f.Subject]:
		return false
	case lacking(f):
		return q.grade == settled
	}
	return true // left open by the text, or too close to tell
}

// lacking says whether a finding is unknown for want of a fact.
func lacking(f policies.Finding) bool { return f.Outcome == policies.Unknown && len(f.Needs) > 0 }

// notes keeps what is not known of a spec as it is; what is unknown for want of a fact is left so.
func (q *search) notes(r *assess.Result) {
	q.were, q.left = map[string]bool{}, map[string]bool{}
	add := func(list []policies.Finding) {
		for _, f := range list {
			if f.Outcome == policies.Unknown {
				q.were[f.Rule+" "+f.Subject] = true
			}
			if lacking(f) {
				q.left[f.Rule+" "+f.Subject] = true
			}
		}
	}
	add(r.Findings)
	for _, o := range r.Options {
		add(o.Findings)
	}
}

// expand puts on the queue whatever settles one thing that stands in the way: every remedy has to.
func (q *search) expand(n *node, aims []aim) error {
	a := aims[0]
	if !slices.Contains(q.log.rules, a.finding.Rule) {
		q.log.rules = append(q.log.rules, a.finding.Rule)
	}
	if i := slices.IndexFunc(aims, func(a aim) bool { return lacking(a.finding) }); i >= 0 && len(n.steps) > 0 {
		last := n.steps[len(n.steps)-1]
		q.log.note(aims[i], last.move, fmt.Sprintf("with it %s would not be known", aims[i].finding.Needs[0].Title))
		return nil // what a change made unknown is not mended by another
	}
	if len(n.steps) >= mostSteps {
		q.cut = true
		return nil
	}
	rule, ok := q.a.Policies.Rule(a.finding.Rule)
	if !ok {
		return fmt.Errorf("a finding of rule %s, which there is none of", a.finding.Rule)
	}
	if len(rule.Moves) == 0 {
		q.log.note(a, "", rule.Immovable)
	}
	for _, name := range rule.Moves {
		list, why := ways(name, n.spec, a, q.a.Catalogue)
		if len(list) == 0 {
			q.log.note(a, name, why)
		}
		for _, p := range list {
			next, why, err := q.settling(n, aims, p)
			switch {
			case err != nil:
				return err
			case next == nil:
				q.log.note(a, name, why)
				continue
			}
			q.push(next)
		}
	}
	return nil
}
