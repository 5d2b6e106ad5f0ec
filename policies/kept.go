package policies

import (
	"sync"

	"sillwright/schema/quantity"
)

// kept are answers that were given before, by what they rest on. It holds no more than two generations of them: answers that
// nobody asks for again go with the older one. Any number of goroutines may use it.
type kept struct {
	mu         sync.RWMutex
	young, old map[string]*answered
}

// generation is how many answers a generation has, of some kilobytes each: a few times those that the rules of a job have
// for doors of every kind.
const generation = 1 << 13

// answered is an answer of rules that ask the same.
type answered struct {
	outcome outcome
	sources map[int]source // of the numbers in it that follow from numbers by place
	apart   bool           // numbers by place do not decide it: it is kept by the exact ones
	worded  []worded       // where no number follows
}

// worded is an answer in the words of one rule.
type worded struct {
	rule    *Rule
	system  quantity.System
	subject string // where words depend on it
	finding *Finding
}

// find gives each of the single questions the answer that is kept, if one is, and writes the finding where that is kept too.
func (k *kept) find(q *inquiry, out []Finding) {
	k.mu.RLock()
	defer k.mu.RUnlock()
	for i := range q.asked {
		one := &q.asked[i]
		one.got = k.get(q.keyOf(one))
		if one.got != nil && one.got.apart {
			one.apart = true
			q.key(one, true)
			one.got = k.get(q.keyOf(one))
		}
		if one.got == nil {
			continue
		}
		if f := one.got.words(one); f != nil {
			out[i] = one.returned(*f)
		}
	}
}

func (k *kept) get(key []byte) *answered {
	if got := k.young[string(key)]; got != nil {
		return got
	}
	return k.old[string(key)]
}

// words gives the finding that was worded before for the rule and the subject.
func (a *answered) words(one *single) *Finding {
	if len(a.sources) > 0 {
		return nil
	}
	for _, w := range a.worded {
		if w.rule == one.plan.rule && w.system == one.system && w.subject == one.wordedFor() {
			return w.finding
		}
	}
	return nil
}

// keep holds what was asked anew, what was found in the older generation, and what was worded.
func (k *kept) keep(q *inquiry, words map[int]*Finding) {
	k.mu.Lock()
	defer k.mu.Unlock()
	for i := range q.asked {
		one := &q.asked[i]
		key := q.keyOf(one)
		if one.apart && key[0] != '=' { // seen only now
			k.put(key, &answered{apart: true})
			q.key(one, true)
			key = q.keyOf(one)
		}
		k.put(key, one.got)
		if f := words[i]; f != nil && one.got.words(one) == nil {
			one.got.worded = append(one.got.worded, worded{one.plan.rule, one.system, one.wordedFor(), f})
		}
	}
}

func (k *kept) put(key []byte, a *answered) {
	if k.young[string(key)] != nil {
		return
	}
	if len(k.young) >= generation {
		k.old, k.young = k.young, nil
	}
	if k.young == nil {
		k.young = map[string]*answered{}
	}
	k.young[string(key)] = a
}
