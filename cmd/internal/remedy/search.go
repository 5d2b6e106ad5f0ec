package remedy

import (
	"container/heap"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/engine/catalogue"
	"sillwright/policies"
)

// Bounds of one search: changed specs taken through the house, and steps of one remedy.
const (
	mostSpecs = 400
	mostSteps = 6
)

// search looks for changes after which nothing stands in the way of a door with one of its options.
type search struct {
	ctx     context.Context
	a       *assess.Assessor
	fixed   []string
	free    hold   // what is taken to be free
	without string // the rule that is taken to be met
	fails   bool   // only rules that fail stand in the way; what is not known is left
	queue   nodes
	seen    map[string]bool
	tried   map[string]Tried
	order   []string // of tried
	holds   []hold
	rules   []string // that stood in the way
	spent   int
	serial  int
	cut     bool
}

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

func (q *search) through(file string, text []byte) (*spec, error) {
	q.spent++
	return through(q.ctx, q.a, file, text)
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
		if key := n.option + "\x00" + string(n.spec.text); q.seen[key] {
			continue
		} else {
			q.seen[key] = true
		}
		aims := q.aims(n.spec, n.option)
		if len(aims) == 0 {
			return n, nil
		}
		if q.spent >= mostSpecs {
			q.cut = true
			return nil, nil
		}
		if err := q.expand(n, aims); err != nil {
			return nil, err
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
	return f.Outcome == policies.Fail || f.Outcome == policies.Unknown && !q.fails && f.Measured != nil
}

// expand puts on the queue whatever settles one thing that stands in the way: every remedy has to.
func (q *search) expand(n *node, aims []aim) error {
	a := aims[0]
	if !slices.Contains(q.rules, a.finding.Rule) {
		q.rules = append(q.rules, a.finding.Rule)
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
		q.note(a, "", rule.Immovable)
	}
	for _, name := range rule.Moves {
		list, why := ways(name, n.spec, a, q.a.Catalogue)
		if len(list) == 0 {
			q.note(a, name, why)
		}
		for _, p := range list {
			if slices.ContainsFunc(n.steps, func(d done) bool { return d.move == p.move && d.object == p.object }) {
				continue // what was done once is not done again, to more or to less
			}
			d, s, why, err := q.settling(n, aims, p)
			switch {
			case err != nil:
				return err
			case s == nil:
				q.note(a, name, why)
				continue
			}
			q.push(&node{from: n.from, index: n.index, option: q.optionOf(n, s), spec: s, steps: append(slices.Clip(n.steps), d), cost: n.cost + d.cost(s)})
		}
	}
	return nil
}

// optionOf is the option that is looked at: the one that a step listed, where none was.
func (q *search) optionOf(n *node, s *spec) string {
	if n.index < 0 && len(s.door.Options) == 1 {
		return s.door.Options[0].ID
	}
	return n.option
}

// cost is the effort of a step; of seals those are preferred that leak less, by far less than any effort.
func (d done) cost(s *spec) float64 {
	out := d.effort + float64(min(d.size, 100_000))*1e-6
	for _, o := range s.result.Options {
		if o.Leakage != nil && d.seal() != "" {
			out += min(o.Leakage.High, 0.05)
		}
	}
	return out
}

// settling finds the size at which a proposal settles the first of several aims. Without one, why says what stands in the way.
func (q *search) settling(n *node, aims []aim, p proposal) (done, *spec, string, error) {
	last := ""
	try := func(size int) (done, *spec, error) {
		d, s, why, err := q.make(n.spec, p, size)
		if s == nil {
			last = why
			return d, nil, err
		}
		if !q.settles(s, n.option, aims) {
			last = "it does not settle it"
			return d, nil, nil
		}
		return d, s, nil
	}
	if p.most == 1 {
		d, s, err := try(1)
		return d, s, last, err
	}
	low, size := 0, min(max(p.first, 1), p.most) // low does not settle it
	for more := 1; ; more *= 2 {
		d, s, err := try(size)
		if err != nil {
			return d, nil, "", err
		}
		if s != nil {
			_, err := smallest(low, size, func(size int) (bool, error) {
				found, at, err := try(size)
				if at != nil {
					d, s = found, at
				}
				return at != nil, err
			})
			return d, s, "", err
		}
		if size >= p.most || q.spent >= mostSpecs || strings.HasPrefix(last, heldBack) {
			return d, nil, last, nil
		}
		low, size = size, min(p.most, size+more)
	}
}

// smallest is the least size above low that will do, where high does and low does not; most often high is it.
func smallest(low, high int, does func(size int) (bool, error)) (int, error) {
	for size := high - 1; high-low > 1; size = (low + high) / 2 {
		ok, err := does(size)
		switch {
		case err != nil:
			return high, err
		case ok:
			high = size
		default:
			low = size
		}
	}
	return high, nil
}

// settles says whether fewer points of the first aim's rule and subject stand in the way than before.
func (q *search) settles(s *spec, option string, aims []aim) bool {
	same := func(list []aim) int {
		n := 0
		for _, a := range list {
			if a.finding.Rule == aims[0].finding.Rule && a.finding.Subject == aims[0].finding.Subject {
				n++
			}
		}
		return n
	}
	return same(q.aims(s, option)) < same(aims)
}

// heldBack begins the reason of what is not done because of the spec's own word or of safety.
const heldBack = "held back: "

// make does a proposal at a size. Without a spec, why says what stands in the way.
func (q *search) make(s *spec, p proposal, size int) (done, *spec, string, error) {
	c, why := p.at(s, size)
	if why != "" {
		return done{}, nil, why, nil
	}
	next, err := q.after(s, &c)
	var bad refused
	if errors.As(err, &bad) {
		return done{}, nil, fmt.Sprintf("the spec would be refused: %s", bad.problem.Found), nil
	}
	if err != nil {
		return done{}, nil, "", err
	}
	if h := held(s, p, c, next, q.fixed, q.free); h != nil {
		if !slices.Contains(q.holds, *h) {
			q.holds = append(q.holds, *h)
		}
		return done{}, nil, heldBack + h.why, nil
	}
	return done{p, size, c}, next, "", nil
}

// after is a spec after a change; a seal that was left to be set is set by what the program finds.
func (q *search) after(s *spec, c *change) (*spec, error) {
	q.spent++
	next, err := s.after(q.ctx, q.a, c.ops)
	if err != nil || !slices.ContainsFunc(c.ops, func(o Operation) bool { return o.isToSet() || strings.Contains(string(o.Value), `"auto":true`) }) {
		return next, err
	}
	for _, o := range next.result.Options {
		if len(o.Settings) == 0 {
			continue
		}
		last := o.Settings[len(o.Settings)-1]
		text := next.length(o.Spec.Fits[last.Fit].Pointer+"/set/overlap", last.Overlap)
		set := map[string]any{"overlap": text}
		for i, op := range c.ops {
			c.ops[i].Value = json.RawMessage(strings.Replace(string(op.Value), string(raw(toSet)), string(raw(set)), 1))
		}
		c.do = strings.Replace(c.do, "{overlap}", overlapWords(last.Overlap, text), 1)
	}
	c.do = strings.Replace(c.do, ", set {overlap}", "", 1)
	c.after = append(c.after, "Fix it there with the door closed, and try the door through its whole swing.")
	q.spent++
	return s.after(q.ctx, q.a, c.ops)
}

// note keeps why a move does not serve, the first reason of each.
func (q *search) note(a aim, move, why string) {
	key := a.finding.Rule + " " + a.finding.Subject + " " + move
	if _, ok := q.tried[key]; ok || why == "" {
		return
	}
	q.tried[key] = Tried{a.finding.Rule, a.finding.Subject, move, why}
	q.order = append(q.order, key)
}
