package remedy

import (
	"context"
	"encoding/json"
	"slices"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
	"sillwright/schema/door"
)

// Bounds, by the work that they take: changed specs that one search asks for, steps of one remedy, specs of a door that are kept, and those asked for after which no
// other search is begun.
const (
	mostSpecs = 250
	mostSteps = 6
	mostKnown = 1000
	mostInAll = 1200
	usual     = 4096 // bytes of a spec
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
	queue   queue
	seen    map[string]bool
	changed []int // options whose seal is changed, by their places
	whole   *spec
	log     *log
	known   map[string]outcome // by text; shared by searches of one door
	spent   int                // specs taken through the house
	work    int                // the same, a large spec counted as several
	serial  int
	cut     bool
}

// log is what stood in the way of remedies, in the order in which it was met.
type log struct {
	tried []Tried
	holds []hold
	rules []string
}

// note keeps why a move does not serve, the first reason of each, unless it serves otherwise.
func (l *log) note(a aim, move, why string) {
	same := func(t Tried) bool {
		return t.Rule == a.finding.Rule && t.Subject == a.finding.Subject && t.Move == move
	}
	i := slices.IndexFunc(l.tried, same)
	switch {
	case why == "":
	case i < 0:
		l.tried = append(l.tried, Tried{a.finding.Rule, a.finding.Title, a.finding.Subject, move, why})
	case why == serves:
		l.tried[i].Why = why
	}
}

const serves = "it settles this, but not what else stands in the way"

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
	from   *spec  // without any step, and with the one option that is looked at
	index  int    // of that option in the spec of the user; -1: none is listed
	option string // "": none is listed, or none is chosen yet
	choose bool   // one is to be chosen once the door itself is settled
	spec   *spec
	steps  []done
	cost   float64
}

// done is a proposal at a size.
type done struct {
	proposal
	size int
	change
}

// start puts the spec on the queue. Where it lists several options the door is settled first, with one of them beside it.
func (q *search) start(whole *spec, only string) error {
	q.whole = whole
	if len(whole.door.Options) == 0 {
		q.push(&node{from: whole, spec: whole, index: -1})
		return nil
	}
	at := max(0, slices.IndexFunc(whole.door.Options, func(o door.Option) bool { return o.ID == only }))
	s, err := q.alone(whole, at)
	if err != nil {
		return err
	}
	n := &node{from: s, spec: s, index: at, option: whole.door.Options[at].ID}
	if only == "" && len(whole.door.Options) > 1 {
		n.option, n.choose = "", true
	}
	q.push(n)
	return nil
}

// chosen puts a settled door on the queue once for each of its options, with that option alone.
func (q *search) chosen(n *node) error {
	for i, o := range q.whole.door.Options {
		s, err := q.alone(q.whole, i)
		if err != nil {
			return err
		}
		out, why, err := q.replay(&node{from: s, index: i, option: o.ID}, n.steps)
		if err != nil {
			return err
		}
		if out == nil {
			q.log.tried = append(q.log.tried, Tried{Title: "What settles the door", Subject: subjectOf(o.ID), Why: why})
			continue
		}
		q.push(out)
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
	delete(fields, "fixed") // its pointers are of the whole spec, and the search heeds them itself
	text, err := json.Marshal(fields)
	if err != nil {
		return nil, err
	}
	return q.through(whole.doc.File, text)
}

// through takes a text through the house, unless the same was taken there before.
func (q *search) through(file string, text []byte) (*spec, error) {
	if k, ok := q.known[string(text)]; ok {
		return k.spec, k.err
	}
	q.spent++
	q.work += weight(len(text))
	s, err := through(q.ctx, q.a, file, text)
	if len(q.known) < mostKnown {
		q.known[string(text)] = outcome{s, err}
	}
	return s, err
}

// weight is how many usual specs one of so many bytes counts as, so that a search ends in time however large a spec is.
func weight(bytes int) int { return 1 + bytes/usual }

// outcome is what the house says of a text.
type outcome struct {
	spec *spec
	err  error
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
