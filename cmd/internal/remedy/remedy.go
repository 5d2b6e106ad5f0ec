// Package remedy finds the smallest changes of a door spec that make its door comply with all its rulebooks at once, and
// proves each by taking the changed spec the same way through the house. What is not proven is not told.
package remedy

import (
	"encoding/json"

	"sillwright/cmd/internal/assess"
	"sillwright/policies"
)

// Answer is what can be done about a door that fails, or whose options do.
type Answer struct {
	Remedies    []Remedy     // at most three that differ in what is done; least work first
	Tried       []Tried      // where there is none: what stands in the way of each move that a rule names
	Relaxations []Relaxation // where there is none: what would have to give way, least first
	Spent       int          // how many changed specs were taken through the house
	Cut         bool         // the search was ended before it had looked everywhere that it would
}

// Remedy is a change that is proven: Result is what the house says of the changed spec.
type Remedy struct {
	Steps  []Step
	Patch  []Operation
	Option string // the option that complies once it is done; "" where none is listed
	Result *assess.Result
	// Complies says that the changed door can be ordered. Where it is false nothing fails any longer, and what was not known
	// before is not known after: see the needs of Result.
	Complies bool

	by     *node
	search *search
}

// Unheeded are the rules that only advise and that the changed door, with its option, fails.
func (m Remedy) Unheeded() []policies.Finding {
	var out []policies.Finding
	add := func(findings []policies.Finding) {
		for _, f := range findings {
			if f.Level == policies.Should && f.Outcome == policies.Fail && f.Accepted == nil {
				out = append(out, f)
			}
		}
	}
	add(m.Result.Findings)
	for _, o := range m.Result.Options {
		if o.ID == m.Option {
			add(o.Findings)
		}
	}
	return out
}

// Step is one thing to do on site or to order otherwise, in words.
type Step struct {
	Move     string   // the name of the move, as rules give it
	Do       string   // a sentence: "Lower the threshold by 5.3 mm, to 12.7 mm."
	Before   []string // what to check or whom to ask first, a sentence each
	After    []string // what to measure again, or to look at, afterwards
	Pointers []string // what it changes in the spec
}

// Operation is one of RFC 6902.
type Operation struct {
	Op    string          `json:"op"` // add, remove or replace
	Path  string          `json:"path"`
	Value json.RawMessage `json:"value,omitempty"` // of add and replace
}

// Tried is a move that a rule names, and why it does not serve here.
type Tried struct {
	Rule    string // whose finding was to be settled
	Title   string // of the rule
	Subject string
	Move    string // "": the rule names none
	Why     string // a sentence
}

// Relaxation is something that would have to give way, with what then makes the door comply.
type Relaxation struct {
	Gives  string // in words: "If /threshold were not fixed", "If this rule allowed 22 mm in place of 15 mm"
	Rule   string // the rule that would have to give way; "" where it is something else
	Fixed  string // the pointer that would have to be free; "" where it is something else
	Answer string // the caution whose answer, on evidence, would free the move; "" where it is something else
	Remedy Remedy // proven with that given
}
