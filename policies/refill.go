package policies

import (
	"bytes"
	"encoding/json"
	"maps"
	"math/rand/v2"
	"reflect"
	"slices"
)

// An answer that counts numbers by their place is asked twice: of the numbers as they are, and of others at the same
// places, drawn by chance. What the two answers share is the answer for every number at these places, and each number in
// which they differ is seen to be one of the numbers asked about, or how far one is from another or from a limit. An answer
// that does not follow its numbers so is kept for these very numbers only.

// source says how a number of an answer follows from the numbers by place: first + add, first - second, first + second,
// add - first, or the shortest run on which the first is gentle enough.
type source struct {
	first, second int // among the numbers by place; second -1: none
	add           int64
	minus         bool    // of the first, or of the second where there is one
	gentle        incline // with a rise of 0: none
}

func (s source) of(slots []amount) json.Number {
	a := slots[s.first]
	switch {
	case a.fraction:
	case s.gentle.rise > 0: // rounded up
		n := a.whole * s.gentle.run
		a.whole = n / s.gentle.rise
		if n%s.gentle.rise > 0 {
			a.whole++
		}
	case s.second >= 0 && s.minus:
		a.whole -= slots[s.second].whole
	case s.second >= 0:
		a.whole += slots[s.second].whole
	case s.minus:
		a.whole = s.add - a.whole
	default:
		a.whole += s.add
	}
	return a.text()
}

// roomy is how many numbers there must be at a place for a draw among them to tell what follows from what.
const roomy = 1000

// elsewhere draws other numbers at the same places. It is false where there are too few.
func (p *plan) elsewhere(by slots) ([]amount, bool) {
	out := slices.Clone(by.amounts)
	paired := make([]bool, len(out))
	for _, both := range by.pairs { // as steep as they are
		times := 2 + rand.Int64N(roomy)
		for _, i := range both {
			out[i].whole, paired[i] = by.amounts[i].whole*times, true
		}
	}
	done := map[int]bool{}
	for i, group := range by.groups {
		if paired[i] || done[group] {
			continue
		}
		members := []int{i}
		if group != alone {
			done[group] = true
			for k := i + 1; k < len(out); k++ {
				if by.groups[k] == group && !paired[k] {
					members = append(members, k)
				}
			}
		}
		if !p.move(by.amounts, out, members) {
			return nil, false
		}
	}
	return out, bytes.Equal(p.leans(nil, by), p.leans(nil, slots{out, by.groups, by.pairs}))
}

// move draws other numbers for the members of one group, which keep their places and their order.
func (p *plan) move(from, to []amount, members []int) bool {
	distinct := make([]amount, len(members))
	for i, m := range members {
		distinct[i] = from[m]
	}
	slices.SortFunc(distinct, func(a, b amount) int {
		switch {
		case a.less(b):
			return -1
		case b.less(a):
			return 1
		}
		return 0
	})
	distinct = slices.Compact(distinct)
	moved := make([]amount, 0, len(distinct))
	for first := 0; first < len(distinct); {
		till := first + 1
		for till < len(distinct) && p.together(distinct[first], distinct[till]) {
			till++
		}
		more, ok := p.moved(distinct[first:till])
		if !ok {
			return false
		}
		moved, first = append(moved, more...), till
	}
	for _, m := range members {
		to[m] = moved[slices.Index(distinct, from[m])]
	}
	return true
}

// together says whether two numbers are at one place.
func (p *plan) together(a, b amount) bool {
	if a.fraction {
		return b.fraction && sign(a.part) == sign(b.part)
	}
	return !b.fraction && p.placeOf(a.whole) == p.placeOf(b.whole)
}

// moved draws as many numbers as are given, all at their place, in their order.
func (p *plan) moved(given []amount) ([]amount, bool) {
	if given[0].fraction {
		out := slices.Clone(given)
		by := 1 + rand.Float64() // in their order still, as long as none overflows
		for i := range out {
			out[i].part *= by
		}
		return out, true
	}
	drawn, ok := p.drawn(given[0].whole, len(given))
	out := make([]amount, len(drawn))
	for i, n := range drawn {
		out[i].whole = n
	}
	return out, ok
}

// drawn gives so many different numbers at the place of one, in order.
func (p *plan) drawn(n int64, count int) ([]int64, bool) {
	place := int(p.placeOf(n))
	if place%2 == 1 { // at a limit there is but one
		return []int64{n}, count == 1
	}
	size := max(n, -n, 1<<20)
	low, high := n-size, n+size
	if i := place / 2; i > 0 {
		low = p.limits[i-1]
	}
	if i := place / 2; i < len(p.limits) {
		high = p.limits[i]
	}
	if high-low < int64(roomy*count) {
		return nil, false
	}
	out := make([]int64, 0, count)
	for len(out) < count {
		if one := low + 1 + rand.Int64N(high-low-1); one != n && !slices.Contains(out, one) {
			out = append(out, one)
		}
	}
	slices.Sort(out)
	return out, true
}

// mostSlots bounds the numbers among which those that an answer follows from are looked for, two at a time; an answer that rests on more,
// as on a threshold of many segments, is kept by exact numbers.
const mostSlots = 96

// sources finds how the numbers of an answer follow from the numbers by place, given the answer for others at the same places.
func (p *plan) sources(o, other outcome, slots, others []amount) (map[int]source, bool) {
	if len(slots) > mostSlots {
		return nil, false
	}
	var mine, theirs []json.Number
	blank := func(into *[]json.Number) func(int, json.Number) json.Number {
		return func(_ int, n json.Number) json.Number {
			*into = append(*into, n)
			return ""
		}
	}
	if !reflect.DeepEqual(o.numbered(blank(&mine)), other.numbered(blank(&theirs))) || len(mine) != len(theirs) {
		return nil, false
	}
	out := map[int]source{}
	for i := range mine {
		if mine[i] == theirs[i] {
			continue
		}
		s, ok := p.source(mine[i], theirs[i], slots, others)
		if !ok {
			return nil, false
		}
		out[i] = s
	}
	return out, true
}

func (p *plan) source(mine, theirs json.Number, slots, others []amount) (source, bool) {
	fits := func(s source) bool { return s.of(slots) == mine && s.of(others) == theirs }
	for i, a := range slots {
		if s := (source{first: i, second: -1}); fits(s) {
			return s, true
		}
		if a.fraction {
			continue
		}
		for _, limit := range p.limits {
			for _, s := range []source{{first: i, second: -1, add: -limit}, {first: i, second: -1, add: limit, minus: true}} {
				if fits(s) {
					return s, true
				}
			}
		}
		for _, slope := range p.slopes {
			if s := (source{first: i, second: -1, gentle: slope}); fits(s) {
				return s, true
			}
		}
		for j := range slots {
			for _, s := range []source{{first: i, second: j, minus: true}, {first: i, second: j}} {
				if p.among != "" && !slots[j].fraction && fits(s) {
					return s, true
				}
			}
		}
	}
	return source{}, false
}

// numbered is the outcome with every number replaced, in a fixed order. Nothing is shared with it that could be written to.
func (o outcome) numbered(replace func(int, json.Number) json.Number) outcome {
	r := replacing{replace: replace}
	o.Checks = slices.Clone(o.Checks)
	for i, c := range o.Checks {
		c.Measured = r.value(c.Measured)
		for _, n := range []*json.Number{&c.Limit.AtMost, &c.Limit.AtLeast, &c.Limit.Printed} {
			*n = r.number(*n)
		}
		for _, list := range []*[]json.Number{&c.Limit.Ratio, &c.Limit.Incline, &c.Limit.Part} {
			*list = slices.Clone(*list)
			for k := range *list {
				(*list)[k] = r.number((*list)[k])
			}
		}
		if c.Values != nil {
			values := make(map[string]value, len(c.Values))
			for _, name := range slices.Sorted(maps.Keys(c.Values)) {
				values[name] = r.value(c.Values[name])
			}
			c.Values = values
		}
		c.Needs = r.needs(c.Needs)
		o.Checks[i] = c
	}
	o.Needs = r.needs(o.Needs)
	return o
}

type replacing struct {
	replace func(int, json.Number) json.Number
	next    int
}

func (r *replacing) number(n json.Number) json.Number {
	if n == "" {
		return n
	}
	n = r.replace(r.next, n)
	r.next++
	return n
}

func (r *replacing) value(v value) value {
	if v == nil {
		return nil
	}
	out := make(value, len(v))
	for _, kind := range slices.Sorted(maps.Keys(v)) {
		out[kind] = r.any(v[kind])
	}
	return out
}

func (r *replacing) any(v any) any {
	switch v := v.(type) {
	case json.Number:
		return r.number(v)
	case []any:
		out := make([]any, len(v))
		for i, item := range v {
			out[i] = r.any(item)
		}
		return out
	}
	return v
}

func (r *replacing) needs(needs []need) []need {
	out := slices.Clone(needs)
	for i := range out {
		out[i].From, out[i].To = r.value(out[i].From), r.value(out[i].To)
	}
	return out
}
