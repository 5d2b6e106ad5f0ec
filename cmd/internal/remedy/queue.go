package remedy

import (
	"container/heap"
	"fmt"
	"slices"

	"sillwright/policies"
)

// item is what a search looks at next, the cheapest first: a spec, or a proposal for one that is tried only when its turn comes.
type item struct {
	cost   float64
	serial int
	node   *node
	lot    *lot
	way    proposal
}

// lot is the proposals that may settle the first aim of a spec.
type lot struct {
	node    *node
	aims    []aim
	waiting int
	found   bool
}

type queue []item

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, j int) bool {
	if q[i].cost != q[j].cost {
		return q[i].cost < q[j].cost
	}
	return q[i].serial < q[j].serial
}
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(item)) }
func (q *queue) Pop() any {
	last := len(*q) - 1
	out := (*q)[last]
	*q = (*q)[:last]
	return out
}

func (q *search) add(i item) {
	q.serial++
	i.serial = q.serial
	heap.Push(&q.queue, i)
}

func (q *search) push(n *node) { q.add(item{cost: n.cost, node: n}) }

func (n *node) key() string { return n.option + "\x00" + string(n.spec.text) }

// next is the cheapest spec in whose way nothing stands any more; nil where there is none, or none within the bounds.
func (q *search) next() (*node, error) {
	for q.queue.Len() > 0 {
		i := heap.Pop(&q.queue).(item)
		if i.lot != nil {
			if err := q.attempt(i); err != nil {
				return nil, err
			}
		} else if !q.seen[i.node.key()] {
			q.seen[i.node.key()] = true
			if done, err := q.look(i.node); done || err != nil {
				return i.node, err
			}
		}
		if q.work >= mostSpecs {
			q.cut = true
			return nil, nil
		}
	}
	return nil, nil
}

// look says whether nothing stands in the way of a spec; else it puts on the queue whatever may settle the first thing that does, which
// every remedy has to.
func (q *search) look(n *node) (bool, error) {
	aims := q.aims(n.spec, n.option)
	switch {
	case len(aims) > 0:
		return false, q.expand(n, aims)
	case n.choose:
		return false, q.chosen(n)
	}
	return true, nil
}

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
	rule, ok := q.a.Policies.Rule(a.finding.Rule)
	if !ok {
		return fmt.Errorf("a finding of rule %s, which there is none of", a.finding.Rule)
	}
	if len(rule.Moves) == 0 {
		q.log.note(a, "", rule.Immovable)
	}
	l := &lot{node: n, aims: aims}
	for _, name := range rule.Moves {
		if name == "change-seal" && !q.changes(n.index) {
			continue
		}
		list, why := ways(name, n.spec, a, q.a.Catalogue)
		if len(list) == 0 {
			q.log.note(a, name, why)
		}
		for _, p := range list {
			cost := n.cost + p.effort
			if n.done(p) >= 0 {
				cost = n.cost
			} else if len(n.steps) >= mostSteps {
				q.cut = true
				continue
			}
			l.waiting++
			q.add(item{cost: cost, lot: l, way: p})
		}
	}
	q.given(l)
	return nil
}

// mostChanged is how many options have their seal changed in a search: with another seal they hardly differ any more.
const mostChanged = 2

// changes says whether an option is among those whose seal is changed: the first that need it.
func (q *search) changes(index int) bool {
	if !slices.Contains(q.changed, index) && len(q.changed) < mostChanged {
		q.changed = append(q.changed, index)
	}
	return slices.Contains(q.changed, index)
}

// done is the place of a proposal among the steps of a node that are taken; -1: it is none of them.
func (n *node) done(p proposal) int {
	return slices.IndexFunc(n.steps, func(d done) bool { return d.move == p.move && d.object == p.object })
}

// attempt tries a proposal.
func (q *search) attempt(i item) error {
	next, why, err := q.settling(i.lot.node, i.lot.aims, i.way)
	i.lot.waiting--
	switch {
	case err != nil:
		return err
	case next == nil:
		q.log.note(i.lot.aims[0], i.way.move, why)
	default:
		i.lot.found = true
		q.log.note(i.lot.aims[0], i.way.move, serves)
		q.push(next)
	}
	q.given(i.lot)
	return nil
}

// given leaves what was unknown before, and no move settles, to be found out or decided by others, and looks at the spec again.
func (q *search) given(l *lot) {
	f := l.aims[0].finding
	key := f.Rule + " " + f.Subject
	if l.waiting > 0 || l.found || f.Outcome != policies.Unknown || !q.were[key] || q.left[key] {
		return
	}
	q.left[key] = true
	delete(q.seen, l.node.key())
	q.push(l.node)
}
