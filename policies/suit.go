package policies

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"

	"sillwright/schema"
	"sillwright/schema/fact"
)

// limits holds that a rule gives the limits that its question asks for, and no others.
func (f *faults) limits(q question, asked bool) {
	r := f.rule
	for _, name := range slices.Sorted(maps.Keys(q.Limits)) {
		if _, ok := r.Limits[name]; !ok {
			d, _ := fact.Describe(r.Fact)
			f.key(place{"limits"}, fmt.Sprintf("no limit %q", name), q.Limits[name].allowed(d), "add it; question "+r.Question+" reads it")
		}
	}
	f.limitsAt(place{"limits"}, r.Limits, q, asked)
}

// limitsAt holds the limits of the rule, or of an exception, against the shapes in which the question reads them.
func (f *faults) limitsAt(at place, limits map[string]Limit, q question, asked bool) {
	d, _ := fact.Describe(f.rule.Fact)
	known := slices.Sorted(maps.Keys(q.shapes()))
	for _, name := range slices.Sorted(maps.Keys(limits)) {
		s, ok := q.shapes()[name]
		if asked && !ok {
			f.key(at.to(name), fmt.Sprintf("limit %q, which question %s does not read", name, f.rule.Question), schema.Choices(name, known), "rename it, or take it out")
		}
		f.limit(at.to(name), limits[name], s, d)
	}
}

// exceptions holds that every exception has an id, limits and words of its own.
func (f *faults) exceptions(q question, asked bool) {
	r := f.rule
	seen := map[string]bool{}
	for i, e := range r.Exceptions {
		at := place{"exceptions", i}
		if _, part := q.Parts[e.ID]; part || slices.Contains(q.Passing, e.ID) {
			f.value(at.to("id"), fmt.Sprintf("exception id %q, which is a part of question %s", e.ID, r.Question), "", "give it another name: words are found by it")
		}
		if seen[e.ID] {
			f.value(at.to("id"), fmt.Sprintf("exception id %q a second time", e.ID), "each id once in a rule", "rename one of them")
		}
		seen[e.ID] = true
		f.conditions(at.to("when"), e.When)
		f.limitsAt(at.to("limits"), e.Limits, q, asked)
	}
}

// rows holds a table of limits against the question and the facts of their names.
func (f *faults) rows(q question, asked bool) {
	r := f.rule
	switch {
	case asked && len(q.Rows) > 0 && len(r.Rows) == 0:
		f.key(nil, "no rows", "a table of limits of "+strings.Join(slices.Sorted(maps.Keys(q.Rows)), ", "), "add rows; question "+r.Question+" reads them")
	case asked && len(q.Rows) == 0 && len(r.Rows) > 0:
		f.key(place{"rows"}, "rows, which question "+r.Question+" does not read", "no rows", "take them out, or ask another question")
		q.Rows = nil
	}
	known := slices.Sorted(maps.Keys(q.Rows))
	for i, row := range r.Rows {
		f.conditions(place{"rows", i, "when"}, row.When)
		for j, limits := range row.Any {
			at := place{"rows", i, "any", j}
			for _, name := range slices.Sorted(maps.Keys(limits)) {
				d, ok := f.known(at.to(name), name)
				s, read := q.Rows[name]
				if ok && asked && len(known) > 0 && !read {
					f.key(at.to(name), fmt.Sprintf("limit %q, which question %s does not read in a row", name, r.Question), schema.Choices(name, known), "rename it, or take it out")
				}
				f.limit(at.to(name), limits[name], s, d)
			}
		}
	}
}

// parts are those that this rule can fail, sorted: of a table, those that its rows limit; others only with their limit.
func (r *Rule) parts(q question) []string {
	given := func(name string) bool {
		_, ok := r.Limits[name]
		return ok || slices.ContainsFunc(r.Exceptions, func(e Exception) bool { _, ok := e.Limits[name]; return ok })
	}
	limited := func(part string) bool {
		return slices.ContainsFunc(r.Rows, func(row Row) bool {
			return slices.ContainsFunc(row.Any, func(limits map[string]Limit) bool { _, ok := limits[part]; return ok })
		})
	}
	return slices.DeleteFunc(slices.Sorted(maps.Keys(q.Parts)), func(part string) bool {
		with, hangs := q.PartsWith[part]
		return (hangs && !given(with)) || (len(q.Rows) > 0 && len(r.Rows) > 0 && !limited(part))
	})
}

// words holds that whatever can fail or be left open has its words, that no words are lost, and that every {name} in
// them will be filled.
func (f *faults) words(q question) {
	r := f.rule
	parts := r.parts(q)
	var open, ids []string
	for _, e := range r.Exceptions {
		ids = append(ids, e.ID)
		if e.Open {
			open = append(open, e.ID)
		}
	}
	spoken := slices.Concat(parts, open)
	for _, part := range spoken {
		f.owed("messages", r.Messages, part, "write what is wrong where it fails or is left open")
		if r.Level != Caution {
			f.owed("remedies", r.Remedies, part, "write what to do about it")
		}
	}
	if r.published() {
		for _, part := range slices.Concat(parts, ids) {
			f.owed("clauses", r.Clauses, part, "write the clause of the text that it rests on")
		}
	}
	named := slices.Concat(parts, q.Passing, slices.Sorted(maps.Keys(r.Limits)), ids)
	f.belong("messages", r.Messages, spoken, "can fail or be left open")
	f.belong("remedies", r.Remedies, spoken, "can fail or be left open")
	f.belong("clauses", r.Clauses, named, "is a part, limit or exception of the rule")
	f.belong("decisions", r.Decisions, append(named, "rule"), "is a part, limit or exception of the rule, or rule for all of it")
	f.filled("messages", r.Messages, q, spoken)
	f.filled("remedies", r.Remedies, q, spoken)
}

var singular = map[string]string{"messages": "message", "remedies": "remedy", "clauses": "clause", "decisions": "decision", "bounds": "relief"}

// owed holds that a part has its text.
func (f *faults) owed(key string, texts map[string]string, part, do string) {
	if texts[part] == "" {
		f.key(place{key}, fmt.Sprintf("no %s for %q", singular[key], part), fmt.Sprintf("a %s of its own for each part and open exception", singular[key]), do)
	}
}

// belong holds that every text is about something.
func (f *faults) belong(key string, texts map[string]string, known []string, that string) {
	known = slices.Compact(slices.Sorted(slices.Values(known)))
	for _, name := range slices.Sorted(maps.Keys(texts)) {
		if !slices.Contains(known, name) {
			f.key(place{key, name}, fmt.Sprintf("%s for %q, which is nothing that %s", singular[key], name, that), schema.Choices(name, known), "rename it, or take it out: nobody would ever read it")
		}
	}
}

// blank is a {name} in a text, closed or not.
var blank = regexp.MustCompile(`\{[^{}]*\}?|\}`)

// filled holds that the {names} of a text are values that the question gives with the part. An exception gives none.
func (f *faults) filled(key string, texts map[string]string, q question, spoken []string) {
	for _, part := range spoken {
		for _, name := range blank.FindAllString(texts[part], -1) {
			plain := strings.Trim(name, "{}")
			if name == "{"+plain+"}" && slices.Contains(q.Parts[part], plain) {
				continue
			}
			allowed := "no {name}"
			if len(q.Parts[part]) > 0 {
				allowed = "{name} with " + schema.Choices(plain, q.Parts[part])
			}
			f.value(place{key, part}, fmt.Sprintf("%s in the %s for %q", name, singular[key], part), allowed, "write a value that question "+f.rule.Question+" gives, or plain words")
		}
	}
}
