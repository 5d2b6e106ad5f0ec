package policies

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"

	"github.com/open-policy-agent/opa/v1/ast"

	"sillwright/schema"
)

// question is what an `answer` declares of itself in its METADATA.
type question struct {
	Limits         []string `json:"limits"`          // that a rule must give
	OptionalLimits []string `json:"optional_limits"` // that a rule or an exception may give
	Rows           []string `json:"rows"`            // limits that a row may give; none: the question reads no rows
	Parts          []string `json:"parts"`           // that can fail, and so need words

	Found map[string]string `json:"found"` // what was measured, by part, where that is more than one value
}

// questions gives what every question declares, by the name that `answer` is written for.
func questions(c *ast.Compiler) (map[string]question, error) {
	out := map[string]question{}
	for _, name := range slices.Sorted(maps.Keys(c.Modules)) {
		m := c.Modules[name]
		if m.Package.Path.String() != "data.sillwright.questions" {
			continue
		}
		for _, r := range m.Rules {
			if r.Head.Name != "answer" || len(r.Head.Args) == 0 {
				continue
			}
			asked, ok := r.Head.Args[0].Value.(ast.String)
			if _, had := out[string(asked)]; !ok || had {
				continue
			}
			q := question{}
			for _, a := range r.Annotations {
				src, err := json.Marshal(a.Custom)
				if err != nil {
					return nil, err
				}
				if err := json.Unmarshal(src, &q); err != nil {
					return nil, fmt.Errorf("%s: question %s: %w", name, asked, err)
				}
			}
			out[string(asked)] = q
		}
	}
	return out, nil
}

// suits holds a rule against its question: the limits that it asks, no others, and words
// for every part that can fail.
func (r *Rule) suits(asked map[string]question) error {
	q, ok := asked[r.Question]
	if !ok {
		return fmt.Errorf("asks %q: %s", r.Question, schema.Choices(r.Question, slices.Sorted(maps.Keys(asked))))
	}
	if len(q.Parts) == 0 {
		return fmt.Errorf("question %s declares no parts in the METADATA of its first answer", r.Question)
	}
	for _, name := range q.Limits {
		if _, ok := r.Limits[name]; !ok {
			return fmt.Errorf("question %s asks for the limit %q", r.Question, name)
		}
	}
	known := slices.Concat(q.Limits, q.OptionalLimits)
	for _, limits := range append([]map[string]Limit{r.Limits}, r.exceptionLimits()...) {
		for _, name := range slices.Sorted(maps.Keys(limits)) {
			if !slices.Contains(known, name) {
				return fmt.Errorf("limit %q: question %s knows %s", name, r.Question, schema.Choices(name, known))
			}
		}
	}
	if (len(q.Rows) > 0) != (len(r.Rows) > 0) {
		return fmt.Errorf("question %s reads %d rows' limits, and the rule has %d rows", r.Question, len(q.Rows), len(r.Rows))
	}
	for _, row := range r.Rows {
		for _, limits := range row.Any {
			for _, name := range slices.Sorted(maps.Keys(limits)) {
				if !slices.Contains(q.Rows, name) {
					return fmt.Errorf("limit %q in a row: question %s knows %s", name, r.Question, schema.Choices(name, q.Rows))
				}
			}
		}
	}
	for _, part := range r.parts(q) {
		if r.Messages[part] == "" {
			return fmt.Errorf("no message for part %q of question %s", part, r.Question)
		}
		if r.Level != Caution && r.Remedies[part] == "" {
			return fmt.Errorf("no remedy for part %q of question %s", part, r.Question)
		}
	}
	return nil
}

// parts are those that this rule can fail: of a table, those that its rows limit.
func (r *Rule) parts(q question) []string {
	if len(r.Rows) == 0 {
		return q.Parts
	}
	return slices.DeleteFunc(slices.Clone(q.Parts), func(part string) bool {
		return !slices.ContainsFunc(r.Rows, func(row Row) bool {
			return slices.ContainsFunc(row.Any, func(limits map[string]Limit) bool { _, ok := limits[part]; return ok })
		})
	})
}

func (r *Rule) exceptionLimits() []map[string]Limit {
	var out []map[string]Limit
	for _, e := range r.Exceptions {
		out = append(out, e.Limits)
	}
	return out
}
