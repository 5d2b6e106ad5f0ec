package policies

import (
	"fmt"
	"maps"
	"slices"

	"sillwright/schema"
	"sillwright/schema/fact"
)

// check gives all that is wrong with a rulebook beyond its shape, in the order of its file.
func (b *Rulebook) check(asked map[string]question) []schema.Problem {
	var out []schema.Problem
	for _, r := range b.Rules {
		out = append(out, r.check(asked)...)
	}
	if !b.named() {
		out = append(out, b.doc.Problem("/id", fmt.Sprintf("the id %q in %s", b.ID, b.file), "the id that the file is named by", "give the file and the rulebook one name"))
	}
	for _, id := range slices.Sorted(maps.Keys(b.Decisions)) {
		used := func(r *Rule) bool { return slices.Contains(slices.Collect(maps.Values(r.Decisions)), id) }
		if !b.partly && !slices.ContainsFunc(b.Rules, used) {
			p := b.doc.Problem(schema.Pointer("decisions", id), fmt.Sprintf("decision %q, which no rule names", id), "", "name it in the decisions of the rule that it is about, or take it out")
			decisions, _ := b.doc.Root.Member("decisions")
			p.Span = decisions.Members[slices.IndexFunc(decisions.Members, func(m schema.Member) bool { return m.Key == id })].KeySpan
			out = append(out, p)
		}
	}
	return inOrder(out)
}

// check holds a rule against its facts, its rulebook and its question.
func (r *Rule) check(asked map[string]question) []schema.Problem {
	f := &faults{rule: r}
	q, ok := asked[r.Question]
	switch {
	case !ok:
		f.value(place{"question"}, fmt.Sprintf("question %q", r.Question), schema.Choices(r.Question, slices.Sorted(maps.Keys(asked))), "name a question that is written")
	case len(q.Parts) == 0:
		f.value(place{"question"}, fmt.Sprintf("question %q, which declares no parts", r.Question), "", "declare them in the METADATA of its first answer")
	}
	f.level()
	f.variants()
	f.conditions(place{"applies"}, r.Applies)
	for i, c := range r.Applies {
		if c.Why == "" {
			f.value(place{"applies", i}, "a condition without why", "a why that says what is the case where it does not hold", "add it; a door that is not judged is told so")
		}
	}
	f.fact(place{"fact"}, r.Fact, q.Fact, ok)
	f.fact(place{"target"}, r.Target, q.Target, ok)
	f.limits(q, ok)
	f.exceptions(q, ok)
	f.rows(q, ok)
	f.decisions()
	if ok {
		f.words(q)
		f.bounding(q)
	}
	return f.list
}

// level holds what goes with a level.
func (f *faults) level() {
	r := f.rule
	const asks = "a caution says whom to ask what, and no other rule does"
	switch given := r.Ask != (Ask{}); {
	case r.Level == Caution && !given:
		f.key(nil, "a caution without ask", asks, "add ask: {whom: ..., what: ...}")
	case r.Level != Caution && given:
		f.key(place{"ask"}, "ask in a rule of level "+r.Level, asks, "take it out, or make the rule a caution")
	}
	if r.Provenance == "memory" && r.Level != Caution {
		f.value(place{"provenance"}, "a rule from memory at level "+r.Level, "a caution", "make it a caution, or read the text")
	}
}

// published is true of a rule that binds, from a text that has clauses.
func (r *Rule) published() bool {
	return r.Level != Caution && slices.Contains([]string{"read", "quoted", "secondary"}, r.Provenance)
}

// known gives the description of a fact that the rule's subject can have. The variant of its rulebook is one too.
func (f *faults) known(at place, name string) (fact.Description, bool) {
	if all := f.rule.Rulebook.Variants; name == variant && len(all) > 0 {
		return fact.Description{Name: variant, Kind: fact.Word, Words: all}, true
	}
	d, ok := fact.Describe(name)
	if ok && d.Of(f.rule.Subject) {
		return d, true
	}
	found := fmt.Sprintf("fact %q", name)
	if ok {
		found += ", which no " + f.rule.Subject + " has"
	}
	own := slices.DeleteFunc(fact.Names(), func(n string) bool { d, _ := fact.Describe(n); return !d.Of(f.rule.Subject) })
	f.value(at, found, "a fact of "+article(f.rule.Subject)+": "+schema.Choices(name, own), "name a fact that the rule's subject has, or change its subject")
	return d, ok
}

// fact holds the fact or the target of a rule against what its question reads.
func (f *faults) fact(at place, name string, reads []string, asked bool) {
	key := at[0].(string)
	q := "question " + f.rule.Question
	switch {
	case !asked && name == "":
	case asked && name == "" && len(reads) > 0:
		f.key(nil, "no "+key, readable(reads), "name the "+key+" that "+q+" reads")
	case asked && name != "" && len(reads) == 0:
		f.key(at, fmt.Sprintf("%s %q, which %s does not read", key, name, q), "no "+key, "take it out")
	case name != "":
		d, ok := f.known(at, name)
		if asked && ok && !slices.Contains(reads, string(d.Kind)) && !slices.Contains(reads, d.Name) {
			f.value(at, fmt.Sprintf("%s %q, which is %s", key, name, article(string(d.Kind))), readable(reads), "name one that "+q+" can read")
		}
	}
}

// readable words which facts a question reads: by their kind, or by name.
func readable(reads []string) string {
	names := slices.DeleteFunc(slices.Clone(reads), func(n string) bool { return fact.IsKind(n) })
	kinds := slices.DeleteFunc(slices.Clone(reads), func(n string) bool { return !fact.IsKind(n) })
	if len(names) > 0 {
		return "the fact " + quoted(names)
	}
	out := ""
	for i, k := range kinds {
		switch {
		case i > 0 && i == len(kinds)-1:
			out += " or "
		case i > 0:
			out += ", "
		}
		out += article(k)
	}
	return "a fact that is " + out
}

func (f *faults) conditions(at place, conditions []Condition) {
	for i, c := range conditions {
		if len(c.Any) == 0 {
			f.test(at.to(i), c.Test)
		}
		for j, t := range c.Any {
			f.test(at.to(i, "any", j), t)
		}
	}
}

// bounds are the values of a test.
func (t Test) bounds() []bound {
	return given(bound{"over", t.Over}, bound{"at_most", t.AtMost}, bound{"at_least", t.AtLeast}, bound{"printed", t.Printed})
}

// test holds a test against the fact that it reads.
func (f *faults) test(at place, t Test) {
	d, ok := f.known(at.to("fact"), t.Fact)
	bounds := given(bound{"over", t.Over}, bound{"at_most", t.AtMost}, bound{"at_least", t.AtLeast})
	ways := len(bounds)
	for _, used := range []bool{len(t.In) > 0, t.Given} {
		if used {
			ways++
		}
	}
	if ways != 1 {
		f.value(at, fmt.Sprintf("a test of fact %q with %d of in, over, at_most, at_least and given", t.Fact, ways), "one of them", "keep or add one")
	}
	f.printed(at, bounds, t.Printed)
	if !ok {
		return
	}
	if all := t.bounds(); measures[string(d.Kind)] != "" {
		f.bounds(at, all, string(d.Kind))
	} else if len(all) > 0 {
		f.key(at.to(all[0].key), fmt.Sprintf("%s of fact %q, which is %s", all[0].key, t.Fact, article(string(d.Kind))), testsOf(d), "test it so")
	}
	for i, v := range t.In {
		word, _ := v.(string)
		_, isTruth := v.(bool)
		if (d.Kind == fact.Word && slices.Contains(d.Words, word)) || (d.Kind == fact.Truth && isTruth) {
			continue
		}
		f.value(at.to("in", i), fmt.Sprintf("%v as a value of fact %q", v, t.Fact), testsOf(d)+schema.Nearest(word, d.Words), "write a value that the fact can have")
	}
}

// testsOf words how a fact is tested.
func testsOf(d fact.Description) string {
	switch d.Kind {
	case fact.Word:
		return "in, with " + schema.Choices("", d.Words)
	case fact.Truth:
		return "in, with true or false"
	case fact.Structure:
		return "given: true"
	}
	return "over, at_most or at_least, with " + measures[string(d.Kind)]
}

// decisions holds that what a rule names is written in its rulebook.
func (f *faults) decisions() {
	for _, part := range slices.Sorted(maps.Keys(f.rule.Decisions)) {
		id := f.rule.Decisions[part]
		if ids := slices.Sorted(maps.Keys(f.rule.Rulebook.Decisions)); !slices.Contains(ids, id) {
			f.value(place{"decisions", part}, fmt.Sprintf("decision %q", id), schema.Choices(id, ids), "write it among the rulebook's decisions")
		}
	}
}
