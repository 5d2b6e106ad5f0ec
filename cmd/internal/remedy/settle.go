package remedy

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"

	"sillwright/policies"
)

// with is a node with one more step, or with a step that is done already made larger by a size. Without one, why says what stands
// in the way.
func (q *search) with(n *node, p proposal, size int) (*node, string, error) {
	if slices.ContainsFunc(n.steps, func(d done) bool { return d.seal() != "" && d.object != p.object && d.place() == p.place() }) {
		return nil, "another seal was taken there already", nil
	}
	if at := n.done(p); at >= 0 {
		if n.steps[at].most == 1 {
			return nil, "it is done already", nil
		}
		steps := slices.Clone(n.steps)
		steps[at].size += size
		return q.replay(n, steps)
	}
	d, s, why, err := q.make(n, n.spec, p, size)
	if s == nil {
		return nil, why, err
	}
	return &node{from: n.from, index: n.index, option: q.optionOf(n, s), choose: n.choose, spec: s, steps: append(slices.Clip(n.steps), d), cost: n.cost + d.cost(s)}, "", nil
}

// replay takes steps anew.
func (q *search) replay(n *node, steps []done) (*node, string, error) {
	out := &node{from: n.from, index: n.index, option: n.option, choose: n.choose, spec: n.from}
	for _, d := range steps {
		again, s, why, err := q.make(n, out.spec, d.proposal, d.size)
		if s == nil {
			return nil, why, err
		}
		out.spec, out.steps, out.cost = s, append(out.steps, again), out.cost+again.cost(s)
	}
	return out, "", nil
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
func (q *search) settling(n *node, aims []aim, p proposal) (out *node, why string, err error) {
	var enough, less *node // settled, and made less by the fewest points
	try := func(size int) (bool, error) {
		next, no, err := q.with(n, p, size)
		if next == nil {
			why = no
			return false, err
		}
		wholly, partly := q.settles(next, aims)
		if partly && less == nil {
			less = next
		}
		if !wholly {
			why = notEnough
			return false, nil
		}
		enough = next
		return true, nil
	}
	low := 0 // does not settle it
	for _, size := range p.sizes() {
		ok, err := try(size)
		if err != nil {
			return nil, "", err
		}
		if ok {
			_, err := smallest(low, size, try)
			return enough, "", err
		}
		if why != notEnough || q.work >= mostSpecs {
			break
		}
		low = size
	}
	return less, why, nil
}

// sizes are the sizes to try, each larger than the one before: what the finding says, and then ever more.
func (p proposal) sizes() []int {
	var out []int
	size := min(max(p.first, 1), p.most)
	for more := 1; size < p.most; more *= 4 {
		out = append(out, size)
		size += more
	}
	return append(out, p.most)
}

const notEnough = "by itself it does not settle this, to whatever extent"

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

// settles says whether fewer points of the first aim's rule and subject stand in the way than before, or of as many fewer fail.
func (q *search) settles(n *node, aims []aim) (wholly, partly bool) {
	count := func(list []aim) (all, fails int) {
		for _, a := range list {
			if a.finding.Rule != aims[0].finding.Rule || a.finding.Subject != aims[0].finding.Subject {
				continue
			}
			all++
			if a.finding.Outcome == policies.Fail {
				fails++
			}
		}
		return all, fails
	}
	was, failed := count(aims)
	is, fails := count(q.aims(n.spec, n.option))
	return is < was, fails < failed
}

// make does a proposal at a size, for a spec on the way to a node. Without a spec, why says what stands in the way.
func (q *search) make(n *node, s *spec, p proposal, size int) (done, *spec, string, error) {
	c, why := p.at(s, size)
	if why != "" {
		return done{}, nil, why, nil
	}
	if h := q.hold(n.heldBefore(s, p, c, q.fixed)); h != nil {
		return done{}, nil, h.why, nil
	}
	next, err := q.after(s, &c)
	var bad refused
	if errors.As(err, &bad) {
		return done{}, nil, impossible(bad), nil
	}
	if err != nil {
		return done{}, nil, "", err
	}
	if h := q.hold([]hold{waterHold(s, next)}); h != nil {
		return done{}, nil, h.why, nil
	}
	return done{p, size, c}, next, "", nil
}

// hold is the first of several holds that there is and that is not taken to be free.
func (q *search) hold(list []hold) *hold {
	for _, h := range list {
		if h.why == "" || h.fixed == q.free.fixed && h.fixed != "" || h.answer == q.free.answer && h.answer != "" {
			continue
		}
		if !slices.Contains(q.log.holds, h) {
			q.log.holds = append(q.log.holds, h)
		}
		return &h
	}
	return nil
}

// after is a spec after a change; a seal that was left to be set is set by what the program finds.
func (q *search) after(s *spec, c *change) (*spec, error) {
	next, err := q.patched(s, c.ops)
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
	return q.patched(s, c.ops)
}

// patched is a spec with operations applied.
func (q *search) patched(s *spec, ops []Operation) (*spec, error) {
	text, err := patched(s.text, ops)
	if err != nil {
		return nil, err
	}
	return q.through(s.doc.File, text)
}
