package policies

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"

	"sillwright/schema"
	"sillwright/schema/fact"
)

// question is what an `answer` declares of itself in its METADATA.
type question struct {
	Fact           []string            `json:"fact"`            // kinds of the fact that it reads, or names of such facts; none: it reads no rule.fact
	Target         []string            `json:"target"`          // of the target that it reads
	Limits         map[string]shape    `json:"limits"`          // that a rule must give
	OptionalLimits map[string]shape    `json:"optional_limits"` // that a rule or an exception may give
	Rows           map[string]shape    `json:"rows"`            // limits that a row may give, each of the fact of its name; none: it reads no rows
	Parts          map[string][]string `json:"parts"`           // that can fail or be missing, and so need words, with the {names} that those may use
	PartsWith      map[string]string   `json:"parts_with"`      // parts that only a rule with a limit has, and that limit
	Passing        []string            `json:"passing"`         // parts that only ever pass: they may have a clause
	Reads          []string            `json:"reads"`           // facts that it reads besides, by name

	// ByPlace names the members of its facts, "value" for a fact that is a number, that it only compares with the rule's numbers, so
	// that its answer is the same for all between the same two; what it tells of one is the number itself, or how far it is from another.
	// Among says that it compares them with one another, too: all of them, or those of one item each. With Gentle it compares each rise over
	// its run with the rule's slopes, and a rise or a run with nothing but 0.
	ByPlace []string `json:"by_place"`
	Among   string   `json:"among"` // "", all or item
	Gentle  bool     `json:"gentle"`

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
				if err := q.read(a.Custom); err != nil {
					return nil, fmt.Errorf("%s: question %s: %w", name, asked, err)
				}
			}
			out[string(asked)] = q
		}
	}
	return out, nil
}

// read takes what METADATA declares, and refuses what it cannot mean.
func (q *question) read(custom map[string]any) error {
	src, err := json.Marshal(custom)
	if err != nil {
		return err
	}
	d := json.NewDecoder(bytes.NewReader(src))
	d.DisallowUnknownFields()
	if err := d.Decode(q); err != nil {
		return err
	}
	for _, name := range slices.Concat(q.Fact, q.Target, q.Reads, slices.Sorted(maps.Keys(q.Rows))) {
		if _, ok := fact.Describe(name); !ok && !fact.IsKind(name) {
			return fmt.Errorf("%q is neither a kind of fact nor a fact", name)
		}
	}
	if !slices.Contains([]string{"", amongAll, amongItem}, q.Among) {
		return fmt.Errorf("among %q: all or item", q.Among)
	}
	for _, part := range slices.Sorted(maps.Keys(q.PartsWith)) {
		if _, ok := q.shapes()[q.PartsWith[part]]; !ok || q.Parts[part] == nil {
			return fmt.Errorf("part %q with limit %q, which are not both declared", part, q.PartsWith[part])
		}
	}
	for _, part := range slices.Sorted(maps.Keys(q.Found)) {
		for _, name := range blank.FindAllString(q.Found[part], -1) {
			if plain := strings.Trim(name, "{}"); plain != "measured" && !slices.Contains(q.Parts[part], plain) {
				return fmt.Errorf("%s in found: %s: %s", name, part, schema.Choices(plain, q.Parts[part]))
			}
		}
	}
	return nil
}

// shapes are those of every limit that a rule may give.
func (q question) shapes() map[string]shape {
	out := maps.Clone(q.Limits)
	if out == nil {
		out = map[string]shape{}
	}
	maps.Copy(out, q.OptionalLimits)
	return out
}
