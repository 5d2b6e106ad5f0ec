package policies

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"sillwright/schema"
	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// Rulebook is the rules of one published code and edition, or of one body of practice.
type Rulebook struct {
	ID           string            `json:"id"`
	Title        string            `json:"title"`
	Cite         string            `json:"cite"`
	Edition      string            `json:"edition"`
	Publisher    string            `json:"publisher"`
	Jurisdiction string            `json:"jurisdiction"`
	Systems      []quantity.System `json:"systems"`
	Always       bool              `json:"always"`
	Decisions    map[string]string `json:"decisions"`
	NotJudged    []string          `json:"not_judged"` // what the text asks and no rule here does
	Rules        []*Rule           `json:"-"`          // as written
}

// Rule is one row of a rulebook.
type Rule struct {
	ID       string         `json:"-"` // <rulebook>/<slug>, immutable
	Rulebook *Rulebook      `json:"-"`
	asked    question       // what its question declares
	at       schema.Problem // the place of the rule, with nothing wrong yet

	Title         string            `json:"title"`
	Asks          string            `json:"asks"`
	Why           string            `json:"why"`
	Question      string            `json:"question"`
	Fact          string            `json:"fact"`
	Target        string            `json:"target"`
	Subject       string            `json:"subject"`
	Level         string            `json:"level"`
	Provenance    string            `json:"provenance"`
	Applies       []Condition       `json:"applies"`
	OnEvidence    bool              `json:"on_evidence"` // an answer with evidence stands for what was not measured
	Rows          []Row             `json:"rows"`
	Ask           Ask               `json:"ask"` // of a caution
	Limits        map[string]Limit  `json:"limits"`
	Exceptions    []Exception       `json:"exceptions"`
	Clauses       map[string]string `json:"clauses"`
	Decisions     map[string]string `json:"decisions"`
	Messages      map[string]string `json:"messages"`
	Remedies      map[string]string `json:"remedies"`
	KnownProblems []string          `json:"known_problems"`
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
}

// Limit is one limit as its text prints it.
type Limit struct {
	AtMost  string   `json:"at_most"`
	AtLeast string   `json:"at_least"`
	Printed string   `json:"printed"`
	Ratio   string   `json:"ratio"`
	Part    string   `json:"part"` // of the whole, such as 1/2
	OneOf   []string `json:"one_of"`
	From    string   `json:"from"`
	To      string   `json:"to"`
	Flag    bool     `json:"-"`
}

// UnmarshalJSON reads a limit, which may be a plain true.
func (l *Limit) UnmarshalJSON(src []byte) error {
	if string(src) == "true" || string(src) == "false" {
		l.Flag = string(src) == "true"
		return nil
	}
	type plain Limit
	return json.Unmarshal(src, (*plain)(l))
}

// readRulebook reads and checks one rulebook file.
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
	if problems := schema.Validate(docs[0], s); len(problems) > 0 {
		return nil, problems
	}
	book := &Rulebook{}
	if err := into(docs[0].Root, book); err != nil {
		return nil, []schema.Problem{{File: file, Found: err.Error()}}
	}
	rules, _ := docs[0].Root.Member("rules")
	for _, m := range rules.Members {
		rule := &Rule{ID: book.ID + "/" + m.Key, Rulebook: book}
		if err := into(m.Value, rule); err != nil {
			return nil, []schema.Problem{{File: file, Span: m.Value.Span, Found: err.Error()}}
		}
		pointer := schema.Pointer("rules", m.Key)
		rule.at = schema.Problem{File: file, Pointer: pointer, Field: schema.Field(pointer), Span: m.KeySpan}
		for _, wrong := range rule.check() {
			p := rule.at
			p.Found, p.Do = wrong[0], wrong[1]
			problems = append(problems, p)
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

// check gives what is wrong with a rule beyond its shape, each with what to do.
func (r *Rule) check() [][2]string {
	var wrong [][2]string
	known := func(name string) {
		if _, ok := fact.Describe(name); name != "" && !ok {
			wrong = append(wrong, [2]string{fmt.Sprintf("fact %q", name), "facts are: " + schema.Choices(name, fact.Names())})
		}
	}
	known(r.Fact)
	known(r.Target)
	for _, c := range r.conditions() {
		for _, t := range c.Tests() {
			known(t.Fact)
			wrong = append(wrong, t.check()...)
		}
	}
	for part, id := range r.Decisions {
		if r.Rulebook.Decisions[id] == "" {
			wrong = append(wrong, [2]string{fmt.Sprintf("decision %q of %s", id, part), "write it among the rulebook's decisions"})
		}
	}
	wrong = append(wrong, r.checkLimits("limit", r.Limits)...)
	for _, e := range r.Exceptions {
		wrong = append(wrong, r.checkLimits("limit of exception "+e.ID+":", e.Limits)...)
	}
	for i, row := range r.Rows {
		for _, limits := range row.Any {
			wrong = append(wrong, r.checkLimits(fmt.Sprintf("row %d:", i+1), limits)...)
			for name := range limits {
				known(name) // a row's limits bound the facts of their names
			}
		}
	}
	if (r.Ask == Ask{}) == (r.Level == Caution) {
		wrong = append(wrong, [2]string{fmt.Sprintf("a rule of level %s %s ask", r.Level, map[bool]string{true: "without", false: "with"}[r.Ask == Ask{}]), "a caution says whom to ask what, and no other rule does"})
	}
	if r.Provenance == "memory" && r.Level != "caution" {
		wrong = append(wrong, [2]string{"a rule from memory at level " + r.Level, "make it a caution, or read the text"})
	}
	slices.SortFunc(wrong, func(a, b [2]string) int { return strings.Compare(a[0], b[0]) })
	return wrong
}

// checkLimits holds that every limit can be read, and is of the kind of the fact that it bounds.
func (r *Rule) checkLimits(of string, limits map[string]Limit) [][2]string {
	var wrong [][2]string
	d, _ := fact.Describe(r.Fact)
	for name, l := range limits {
		data, err := l.data()
		if err != nil {
			wrong = append(wrong, [2]string{fmt.Sprintf("%s %s: %v", of, name, err), "write a value with its unit"})
			continue
		}
		if m, ok := data.(map[string]any); ok && (d.Kind == fact.Length || d.Kind == fact.Force || d.Kind == fact.Angle) && m["kind"] != string(d.Kind) {
			wrong = append(wrong, [2]string{fmt.Sprintf("%s %s, a %s for fact %q, which is a %s", of, name, m["kind"], r.Fact, d.Kind), "write a " + string(d.Kind) + " with its unit"})
		}
		wrong = append(wrong, l.checkWords(of+" "+name, d)...)
	}
	return wrong
}

// checkWords holds that the limit of a word lists words that it can be.
func (l Limit) checkWords(name string, d fact.Description) [][2]string {
	if d.Kind != fact.Word && d.Kind != fact.Truth {
		return nil
	}
	if d.Kind == fact.Truth || len(l.OneOf) == 0 {
		return [][2]string{{fmt.Sprintf("%s for fact %q, which is a %s", name, d.Name, d.Kind), "write one_of for a word, and ask is-true or is-false of a truth"}}
	}
	var wrong [][2]string
	for _, w := range l.OneOf {
		if !slices.Contains(d.Words, w) {
			wrong = append(wrong, [2]string{fmt.Sprintf("%s: %q of fact %q", name, w, d.Name), "its values are " + valuesOf(d)})
		}
	}
	return wrong
}

func (t Test) check() [][2]string {
	d, ok := fact.Describe(t.Fact)
	if !ok {
		return nil
	}
	ways := 0
	for _, used := range []bool{len(t.In) > 0, t.Over != "", t.AtMost != "", t.AtLeast != "", t.Given} {
		if used {
			ways++
		}
	}
	if ways != 1 {
		return [][2]string{{fmt.Sprintf("test of fact %q", t.Fact), "use one of in, over, at_most, at_least and given"}}
	}
	for _, bound := range []string{t.Over, t.AtMost, t.AtLeast, t.Printed} {
		if kind, _, err := number(bound); bound != "" && (err != nil || string(kind) != string(d.Kind)) {
			return [][2]string{{fmt.Sprintf("%q for fact %q", bound, t.Fact), "write a " + string(d.Kind) + " with its unit"}}
		}
	}
	for _, v := range t.In {
		word, isWord := v.(string)
		_, isTruth := v.(bool)
		if (d.Kind == fact.Word && (!isWord || !slices.Contains(d.Words, word))) || (d.Kind == fact.Truth && !isTruth) || (d.Kind != fact.Word && d.Kind != fact.Truth) {
			return [][2]string{{fmt.Sprintf("%v as a value of fact %q", v, t.Fact), "its values are " + valuesOf(d)}}
		}
	}
	return nil
}

func valuesOf(d fact.Description) string {
	switch d.Kind {
	case fact.Word:
		return strings.Join(d.Words, ", ")
	case fact.Truth:
		return "true and false"
	default:
		return "numbers: use over, at_most or at_least"
	}
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
