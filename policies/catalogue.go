package policies

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"sillwright/schema"
	"sillwright/schema/quantity"
)

// Rulebook is the rules of one published code and edition, or of one body of practice.
type Rulebook struct {
	ID           string            `json:"id"`
	Title        string            `json:"title"`
	Language     string            `json:"language"`   // that the text is written in, by its tag of BCP 47; none: English
	OwnTitle     string            `json:"own_title"`  // in that language
	Superseded   string            `json:"superseded"` // by what and since when; none: current
	Cite         string            `json:"cite"`
	Edition      string            `json:"edition"`
	Publisher    string            `json:"publisher"`
	Jurisdiction string            `json:"jurisdiction"`
	Systems      []quantity.System `json:"systems"`
	Always       bool              `json:"always"`
	Variants     []string          `json:"variants"` // that a spec may name beside the rulebook
	Brings       []string          `json:"brings"`   // rulebooks that are judged along
	Decisions    map[string]string `json:"decisions"`
	NotJudged    []string          `json:"not_judged"` // what the text asks and no rule here does
	Rules        []*Rule           `json:"-"`          // as written

	Own string `json:"-"` // the file of a rulebook that is not built in; "": it is

	file   string
	doc    schema.Document
	partly bool // rules of a wrong shape were left out
	reads  []string
}

// Rule is one row of a rulebook.
type Rule struct {
	ID       string         `json:"-"` // <rulebook>/<slug>, immutable
	Rulebook *Rulebook      `json:"-"`
	asked    question       // what its question declares
	at       schema.Problem // the place of the rule, with nothing wrong yet
	node     *schema.Node   // as written

	Title         string            `json:"title"`
	Asks          string            `json:"asks"`
	Why           string            `json:"why"`
	Question      string            `json:"question"`
	Fact          string            `json:"fact"`
	Target        string            `json:"target"`
	Subject       string            `json:"subject"`
	Level         string            `json:"level"`
	Provenance    string            `json:"provenance"`
	Variants      []string          `json:"variants"` // that have the rule; none: all
	Systems       []quantity.System `json:"systems"`  // that its own text prints, in place of the rulebook's
	Applies       []Condition       `json:"applies"`
	OnEvidence    bool              `json:"on_evidence"` // an answer with evidence stands for what was not measured
	Rows          []Row             `json:"rows"`
	Ask           Ask               `json:"ask"` // of a caution
	Limits        map[string]Limit  `json:"limits"`
	Bounds        map[string]Bounds `json:"bounds"` // by limit: what several rulebooks bound
	Exceptions    []Exception       `json:"exceptions"`
	Clauses       map[string]string `json:"clauses"`
	Decisions     map[string]string `json:"decisions"`
	Messages      map[string]string `json:"messages"`
	Remedies      map[string]string `json:"remedies"`
	Moves         []string          `json:"moves"`     // names of MoveWords, least work first; Rego does not read them
	Immovable     string            `json:"immovable"` // why no move settles it, or what those cannot do
	KnownProblems []string          `json:"known_problems"`
}

// ProvenByTest says whether only a test shows that the rule is met, as its text has it.
func (r *Rule) ProvenByTest() bool {
	_, ok := r.Limits["proof_by_test"]
	return ok
}

// Ask is the question that a caution leaves, and whom to put it to.
type Ask struct {
	Whom string `json:"whom"`
	What string `json:"what"`
}

// Row is one row of a table of limits: where its conditions hold, any of its alternatives must be met.
type Row struct {
	When []Condition        `json:"when"`
	Any  []map[string]Limit `json:"any"`
}

// Test compares one fact.
type Test struct {
	Fact    string `json:"fact"`
	In      []any  `json:"in"`
	Over    string `json:"over"`
	AtMost  string `json:"at_most"`
	AtLeast string `json:"at_least"`
	Printed string `json:"printed"` // the text's own looser rounding of the bound
	Given   bool   `json:"given"`
	Why     string `json:"why"`
}

// Condition is one test, or several of which any will do. Why says, in words, what is
// the case where the condition does not hold.
type Condition struct {
	Test
	Any []Test `json:"any"`
}

// Exception is another set of limits that counts where its conditions hold.
type Exception struct {
	ID     string           `json:"id"`
	Title  string           `json:"title"`
	When   []Condition      `json:"when"`
	Limits map[string]Limit `json:"limits"`
	Open   bool             `json:"open"`

	Provenance string `json:"provenance"` // where its text was seen, if less well than that of the rule
}

// readRulebook reads one rulebook file. Where the shape of something is wrong it gives what can be read all the same, so that
// all faults are told at once.
func readRulebook(file string, src []byte) (*Rulebook, []schema.Problem) {
	docs, problems := schema.Read(file, src)
	if len(problems) > 0 {
		return nil, problems
	}
	if len(docs) != 1 {
		return nil, []schema.Problem{{File: file, Found: fmt.Sprintf("%d documents", len(docs)), Allowed: "one rulebook a file", Do: "give each its own file"}}
	}
	s, err := schema.Named("rulebook")
	if err != nil {
		return nil, []schema.Problem{{File: file, Found: err.Error()}}
	}
	problems = schema.Validate(docs[0], s)
	book := &Rulebook{file: file, doc: docs[0]}
	if err := into(docs[0].Root, book); err != nil {
		if len(problems) > 0 {
			return nil, problems
		}
		return nil, []schema.Problem{{File: file, Found: err.Error()}}
	}
	rules, ok := docs[0].Root.Member("rules")
	if !ok {
		return nil, problems
	}
	for _, m := range rules.Members {
		pointer := schema.Pointer("rules", m.Key)
		if slices.ContainsFunc(problems, func(p schema.Problem) bool { return p.Pointer == pointer || strings.HasPrefix(p.Pointer, pointer+"/") }) {
			book.partly = true
			continue
		}
		rule := &Rule{ID: book.ID + "/" + m.Key, Rulebook: book, node: m.Value}
		rule.at = schema.Problem{File: file, Pointer: pointer, Field: schema.Field(pointer), Span: m.KeySpan}
		if err := into(m.Value, rule); err != nil {
			p := rule.at
			p.Found = err.Error()
			return nil, append(problems, p)
		}
		book.Rules = append(book.Rules, rule)
	}
	return book, problems
}

func into(n *schema.Node, out any) error {
	src, err := json.Marshal(n.Plain())
	if err != nil {
		return err
	}
	return json.Unmarshal(src, out)
}

// Tests lists the tests of a condition, of which any will do.
func (c Condition) Tests() []Test {
	if len(c.Any) > 0 {
		return c.Any
	}
	return []Test{c.Test}
}

// Facts lists the facts that a rule reads: its own first, then those of its conditions.
func (r *Rule) Facts() []string {
	var out []string
	add := func(name string) {
		if name != "" && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	add(r.Fact)
	add(r.Target)
	for _, c := range r.conditions() {
		for _, t := range c.Tests() {
			add(t.Fact)
		}
	}
	for _, row := range r.Rows {
		for _, limits := range row.Any {
			for _, name := range slices.Sorted(maps.Keys(limits)) {
				add(name)
			}
		}
	}
	return out
}

// Reads lists the facts that a rule reads, with those that its question reads besides.
func (r *Rule) Reads() []string {
	out := r.Facts()
	for _, name := range r.asked.Reads {
		if !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

// conditions are those of the rule, of its exceptions and of its rows.
func (r *Rule) conditions() []Condition {
	out := slices.Clone(r.Applies)
	for _, e := range r.Exceptions {
		out = append(out, e.When...)
	}
	for _, row := range r.Rows {
		out = append(out, row.When...)
	}
	return out
}
