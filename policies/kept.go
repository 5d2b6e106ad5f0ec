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
	finding Finding
}

// find gives each of the single questions the answer that is kept, if one is.
func (k *kept) find(asked []single) {
	k.mu.RLock()
	defer k.mu.RUnlock()
	for i := range asked {
		one := &asked[i]
		one.got = k.get(one.key)
		if one.got != nil && one.got.apart {
			one.exactly()
			one.got = k.get(one.key)
		}
		if one.got != nil {
			one.finding, one.worded = one.got.words(one)
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
func (a *answered) words(one *single) (Finding, bool) {
	if len(a.sources) > 0 {
		return Finding{}, false
	}
	for _, w := range a.worded {
		if w.rule == one.plan.rule && w.system == one.system && w.subject == one.wordedFor() {
			out := w.finding
			out.Subject = one.subject.ID
			return out, true
		}
	}
	return Finding{}, false
}

// keep holds what was asked anew, what was found in the older generation, and what was worded.
func (k *kept) keep(asked []single) {
	k.mu.Lock()
	defer k.mu.Unlock()
	for i := range asked {
		one := &asked[i]
		if k.young[string(one.key)] == nil {
			if len(k.young) >= generation {
				k.old, k.young = k.young, nil
			}
			if k.young == nil {
				k.young = map[string]*answered{}
			}
			k.young[string(one.key)] = one.got
			if one.byPlace != nil {
				k.young[string(one.byPlace)] = &answered{apart: true}
			}
		}
		if _, had := one.got.words(one); !had && len(one.got.sources) == 0 {
			one.got.worded = append(one.got.worded, worded{one.plan.rule, one.system, one.wordedFor(), one.finding})
		}
	}
}
