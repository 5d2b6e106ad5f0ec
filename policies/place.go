package policies

import (
	"encoding/json"
	"maps"
	"math"
	"slices"
	"sync"
)

// plan is how a rule's answers are told apart. A rule's answer rests on the facts that it reads, on the variant that is
// asked and on an answer that the spec brings, and on nothing else. Numbers that it only compares count by their place among
// the rule's own numbers: below the least, at it, between it and the next, and so on.
type plan struct {
	rule   *Rule
	place  int    // among the rules of its rulebook
	same   uint32 // alike for rules that ask the same
	facts  []planned
	limits []int64   // every number of the rule, and 0, sorted
	among  string    // numbers by place are compared with one another, too: all of them, or those of an item
	slopes []incline // of the rule, with which a rise by place over its run is compared
}

// What numbers by place are compared with besides limits.
const (
	amongAll  = "all"
	amongItem = "item"
)

// pair is a rise and its run, which count by their sign and by how they compare with slopes.
var pair = []string{"rise", "run"}

// incline is a rise over a run.
type incline struct{ rise, run int64 }

// planned is one fact that a rule reads.
type planned struct {
	name    string
	index   int      // among the facts that rules read
	asked   bool     // the question reads it, and may say where it came from; else conditions alone do
	given   bool     // conditions ask only whether it is known
	byPlace []string // the members of it that count by their place
}

// plan makes the plan of a rule, and notes which rules ask the same and which facts they read.
func (r *Rule) plan(place int, alike map[string]uint32, facts map[string]int) (plan, error) {
	out := plan{rule: r, place: place, among: r.asked.Among}
	data, err := r.data()
	if err != nil {
		return out, err
	}
	for _, word := range []string{"id", "level"} { // on which no answer rests
		delete(data, word)
	}
	src, err := json.Marshal(data) // with its keys in order
	if err != nil {
		return out, err
	}
	if _, ok := alike[string(src)]; !ok {
		alike[string(src)] = uint32(len(alike))
	}
	out.same = alike[string(src)]
	out.limits = wholeNumbers([]int64{0}, data)
	slices.Sort(out.limits)
	out.limits = slices.Compact(out.limits)
	if r.asked.Gentle {
		out.slopes = slopes(nil, data)
	}
	asked := r.questioned()
	for _, name := range slices.Concat(r.Facts(), r.asked.Reads) {
		f := planned{name: name, asked: slices.Contains(asked, name)}
		if f.asked {
			f.byPlace = r.asked.ByPlace
			if r.asked.Gentle {
				f.byPlace = slices.Concat(f.byPlace, pair)
			}
		} else {
			f.given = r.onlyGiven(name)
			f.byPlace = []string{"value"}
		}
		if !slices.ContainsFunc(out.facts, func(p planned) bool { return p.name == name }) {
			if _, ok := facts[name]; !ok {
				facts[name] = len(facts)
			}
			f.index = facts[name]
			out.facts = append(out.facts, f)
		}
	}
	return out, nil
}

// questioned names the facts that the rule's question reads.
func (r *Rule) questioned() []string {
	out := slices.Concat([]string{r.Fact, r.Target}, r.asked.Reads)
	for _, row := range r.Rows {
		for _, limits := range row.Any {
			for name := range limits {
				out = append(out, name)
			}
		}
	}
	return out
}

// onlyGiven says whether every test of a fact asks only whether it is known.
func (r *Rule) onlyGiven(name string) bool {
	for _, c := range r.conditions() {
		for _, t := range c.Tests() {
			if t.Fact == name && !t.Given {
				return false
			}
		}
	}
	return true
}

func wholeNumbers(out []int64, v any) []int64 {
	switch v := v.(type) {
	case int64:
		return append(out, v)
	case int:
		return append(out, int64(v))
	case float64: // one that is not whole lies between two
		return append(out, int64(math.Floor(v)), int64(math.Ceil(v)))
	case map[string]any:
		for _, item := range v {
			out = wholeNumbers(out, item)
		}
	case []any:
		for _, item := range v {
			out = wholeNumbers(out, item)
		}
	}
	return out
}

// slopes lists the slopes among the numbers of a rule.
func slopes(out []incline, v any) []incline {
	switch v := v.(type) {
	case map[string]any:
		rise, okRise := v["rise"].(int64)
		run, okRun := v["run"].(int64)
		if okRise && okRun {
			return append(out, incline{rise, run})
		}
		for _, key := range slices.Sorted(maps.Keys(v)) {
			out = slopes(out, v[key])
		}
	case []any:
		for _, item := range v {
			out = slopes(out, item)
		}
	}
	return out
}

// plans are those of every rule, in the order of the rulebooks.
type plans struct {
	once  sync.Once
	of    map[*Rule]*plan
	facts int // that rules read
	err   error
}

func (p *Policies) planOf(r *Rule) (*plan, error) {
	p.plans.once.Do(func() {
		p.plans.of = map[*Rule]*plan{}
		alike, facts := map[string]uint32{}, map[string]int{}
		for _, b := range p.Rulebooks {
			for i, r := range b.Rules {
				made, err := r.plan(i, alike, facts)
				if err != nil {
					p.plans.err = err
					return
				}
				p.plans.of[r] = &made
			}
		}
		p.plans.facts = len(facts)
	})
	return p.plans.of[r], p.plans.err
}

// places says whether a number can count by its place. A fraction has none among whole limits, only among others of its kind.
func (p *plan) places(a amount) bool {
	if a.fraction {
		return p.among != ""
	}
	if len(p.slopes) > 0 {
		return -farthest < a.whole && a.whole < farthest
	}
	return -most < a.whole && a.whole < most
}

// placeOf is twice the number of limits below, and one more at a limit.
func (p *plan) placeOf(n int64) uint16 {
	i, at := slices.BinarySearch(p.limits, n)
	if at {
		return uint16(2*i + 1)
	}
	return uint16(2 * i)
}

// order writes how numbers of the same group compare: each by how many different ones are less, and fractions by their sign.
func order(to []byte, by slots) []byte {
	for i, a := range by.amounts {
		if by.groups[i] == alone {
			continue
		}
		rank := byte(0)
		for k, b := range by.amounts {
			if by.groups[k] == by.groups[i] && b.fraction == a.fraction && b.less(a) && !by.has(b, by.groups[i], k) {
				rank++
			}
		}
		to = append(to, rank)
		if a.fraction {
			to = append(to, sign(a.part))
		}
	}
	return to
}

func sign(x float64) byte {
	switch {
	case x < 0:
		return '-'
	case x > 0:
		return '+'
	}
	return '0'
}
