package policies

import (
	"encoding/json"
	"fmt"
	"maps"
	"math/big"
	"slices"
	"strings"

	"sillwright/schema"
)

// CaseFile is the doors that a rulebook is tested with.
type CaseFile struct {
	Rulebook string
	Never    map[string]map[string]string // why a rule, by its whole id, cannot have an outcome
	Seals    []byte                       // a seal catalogue that the doors need beside the built-in one; nil: none
	Cases    []Case
}

// Case is a door with the outcome that a rule owes it, and where that expectation comes from.
type Case struct {
	Name    string
	Rule    string // whole id
	Source  string
	Subject string
	Outcome string
	Reason  string         // "": any
	Clause  string         // "": any
	Needs   []string       // the facts asked for; nil: any
	Door    []byte         // a whole door spec, in JSON
	Facts   map[string]any // by name, values that stand in place of what is measured; nil: none
	Differs any            // what this door says that matters to the case
	Line    int            // of the case in its file
}

// Cases reads the cases of a built-in rulebook.
func Cases(id string) (*CaseFile, error) {
	name := id + ".cases.yaml"
	src, err := files.ReadFile("rulebooks/" + name)
	if err != nil {
		return nil, fmt.Errorf("rulebook %s has no cases: %w", id, err)
	}
	out, problems := readCases(name, src)
	if len(problems) > 0 {
		return nil, problems[0]
	}
	if out.Rulebook != id {
		return nil, fmt.Errorf("%s holds the cases of %s", name, out.Rulebook)
	}
	return out, nil
}

// written is a case as its file has it.
type written struct {
	Name    string            `json:"name"`
	Rule    string            `json:"rule"`
	Source  string            `json:"source"`
	Profile map[string]string `json:"profile"`
	Change  map[string]any    `json:"change"`
	Subject string            `json:"subject"`
	Outcome string            `json:"outcome"`
	Reason  string            `json:"reason"`
	Clause  string            `json:"clause"`
	Needs   []string          `json:"needs"`
}

func readCases(file string, src []byte) (*CaseFile, []schema.Problem) {
	docs, problems := schema.Read(file, src)
	if len(problems) > 0 {
		return nil, problems
	}
	if len(docs) != 1 {
		return nil, []schema.Problem{{File: file, Found: fmt.Sprintf("%d documents", len(docs)), Allowed: "one list of cases a file"}}
	}
	s, err := schema.Named("cases")
	if err != nil {
		return nil, []schema.Problem{{File: file, Found: err.Error()}}
	}
	if problems := schema.Validate(docs[0], s); len(problems) > 0 {
		return nil, problems
	}
	root := docs[0].Root
	book, _ := root.Member("rulebook")
	out := &CaseFile{Rulebook: book.Text, Never: map[string]map[string]string{}}
	if never, ok := root.Member("never"); ok {
		for _, rule := range never.Members {
			why := map[string]string{}
			for _, m := range rule.Value.Members {
				why[m.Key] = m.Value.Text
			}
			out.Never[out.Rulebook+"/"+rule.Key] = why
		}
	}
	if seals, ok := root.Member("seals"); ok {
		out.Seals, err = json.Marshal(map[string]any{"format": "sillwright/seals/1", "seals": seals.Plain()})
		if err != nil {
			return nil, []schema.Problem{{File: file, Span: seals.Span, Found: err.Error()}}
		}
	}
	base, _ := root.Member("base")
	list, _ := root.Member("cases")
	for i, n := range list.Items {
		c, err := readCase(out.Rulebook, base, n)
		if err == nil && slices.ContainsFunc(out.Cases, func(o Case) bool { return o.Name == c.Name }) {
			err = fmt.Errorf("the name %q a second time", c.Name)
		}
		if err != nil {
			pointer := schema.Pointer("cases", i)
			problems = append(problems, schema.Problem{File: file, Pointer: pointer, Field: schema.Field(pointer), Span: n.Span, Found: err.Error()})
			continue
		}
		out.Cases = append(out.Cases, c)
	}
	return out, problems
}

// verdicts are the words that a case's name begins with.
var verdicts = map[string]string{Pass: "passes", Fail: "fails", Unknown: "unknown", NotApplicable: "not applicable"}

func readCase(book string, base, n *schema.Node) (Case, error) {
	var w written
	if err := into(n, &w); err != nil {
		return Case{}, err
	}
	if !strings.HasPrefix(w.Name, verdicts[w.Outcome]+": ") {
		return Case{}, fmt.Errorf("a name that does not begin with %q, as its outcome does", verdicts[w.Outcome]+":")
	}
	spec, differs := base.Plain(), any(map[string]any{})
	if len(w.Profile) > 0 {
		segments, err := profileSegments(w.Profile)
		if err != nil {
			return Case{}, err
		}
		profile := map[string]any{"threshold": map[string]any{"segments": segments}}
		spec, differs = merged(spec, profile), merged(differs, profile)
	}
	if change, ok := n.Member("change"); ok {
		spec, differs = merged(spec, change.Plain()), merged(differs, change.Plain())
	}
	var facts map[string]any
	if given, ok := n.Member("facts"); ok {
		facts = given.Plain().(map[string]any)
		differs = merged(differs, map[string]any{"facts": facts})
	}
	text, err := json.MarshalIndent(spec, "", "  ")
	if w.Subject == "" {
		w.Subject = "door"
	}
	return Case{Name: w.Name, Rule: book + "/" + w.Rule, Source: w.Source, Subject: w.Subject, Outcome: w.Outcome, Reason: w.Reason, Clause: w.Clause, Needs: w.Needs, Door: text, Facts: facts, Differs: differs, Line: n.Span.Start.Line}, err
}

// merged applies a JSON merge patch (RFC 7396, section 2) and changes neither value.
func merged(target, patch any) any {
	changes, ok := patch.(map[string]any)
	if !ok {
		return patch
	}
	out := map[string]any{}
	if old, ok := target.(map[string]any); ok {
		maps.Copy(out, old)
	}
	for key, value := range changes {
		if value == nil {
			delete(out, key)
		} else {
			out[key] = merged(out[key], value)
		}
	}
	return out
}

// profileSegments writes the short form of a profile as segments from outside to inside.
func profileSegments(p map[string]string) ([]any, error) {
	outer, inner := p["outer"], p["inner"]
	if both := p["both"]; both != "" {
		outer, inner = both, both
	}
	up, err := walk(outer, 1)
	if err != nil {
		return nil, err
	}
	down, err := walk(inner, -1)
	if err != nil {
		return nil, err
	}
	slices.Reverse(down)
	return slices.Concat(up, []any{segment("60 mm", "0 mm")}, down), nil
}

func segment(run, rise string) any { return map[string]any{"run": run, "rise": rise} }

// walk reads the parts of one side. sign is -1 where the profile's own direction goes down them.
func walk(text string, sign int64) ([]any, error) {
	var out []any
	if text == "level" {
		return nil, nil
	}
	for part := range strings.FieldsSeq(text) {
		size, slope, _ := strings.Cut(part[1:], "@")
		if size == "?" {
			out = append(out, segment("0 mm", "unknown"))
			continue
		}
		length, ok := new(big.Rat).SetString(size)
		if !ok {
			return nil, fmt.Errorf("%q in a profile", part)
		}
		rise := new(big.Rat).Mul(length, big.NewRat(sign, 1))
		switch {
		case part[0] == 'F':
			out = append(out, segment(millimetres(length), "0 mm"))
		case part[0] == 'V':
			out = append(out, segment("0 mm", millimetres(rise)))
		case slope == "?":
			out = append(out, segment("unknown", millimetres(rise)))
		default:
			a, b, _ := strings.Cut(slope, ":")
			ratio, ok := new(big.Rat).SetString(b + "/" + a)
			if !ok {
				return nil, fmt.Errorf("%q in a profile", part)
			}
			run := ratio.Mul(ratio, length)
			out = append(out, segment(millimetres(run.Abs(run)), millimetres(rise)))
		}
	}
	return out, nil
}

// millimetres writes all of a length; one that is no whole number of nanometres gets more
// decimals than the reader of specs takes, and is refused there.
func millimetres(r *big.Rat) string {
	decimals, exact := r.FloatPrec()
	if !exact {
		decimals = 9
	}
	return r.FloatString(decimals) + " mm"
}
