package policies

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"sillwright/schema"
	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// Limit is one limit as its text prints it. It bounds in exactly one way.
type Limit struct {
	AtMost     string   `json:"at_most"`
	AtLeast    string   `json:"at_least"`
	Printed    string   `json:"printed"`
	Ratio      string   `json:"ratio"`
	LeastRatio string   `json:"least_ratio"` // a slope that is no gentler
	Angle      string   `json:"angle"`       // of a slope, such as 15 deg: see Incline
	Part       string   `json:"part"`        // of the whole, such as 1/2
	OneOf      []string `json:"one_of"`
	From       string   `json:"from"`
	To         string   `json:"to"`
	At         string   `json:"at"` // of a test
	Flag       bool     `json:"-"`
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

// bound is a value with its unit under its key.
type bound struct{ key, text string }

func given(bounds ...bound) []bound {
	return slices.DeleteFunc(bounds, func(b bound) bool { return b.text == "" })
}

func (l Limit) bounds() []bound {
	return given(bound{"at_most", l.AtMost}, bound{"at_least", l.AtLeast}, bound{"from", l.From}, bound{"to", l.To}, bound{"at", l.At}, bound{"printed", l.Printed})
}

// slope is that which the limit bounds by, from either side.
func (l Limit) slope() string { return l.Ratio + l.LeastRatio }

// ways names how the limit bounds: one is due.
func (l Limit) ways() []string {
	var out []string
	for _, w := range []struct {
		name string
		used bool
	}{
		{"at_most", l.AtMost != ""}, {"at_least", l.AtLeast != ""}, {"ratio", l.Ratio != ""}, {"least_ratio", l.LeastRatio != ""}, {"angle", l.Angle != ""}, {"part", l.Part != ""},
		{"one_of", len(l.OneOf) > 0}, {"from", l.From != "" || l.To != ""}, {"at", l.At != ""}, {"true", l.Flag},
	} {
		if w.used {
			out = append(out, w.name)
		}
	}
	return out
}

// The shapes that a question may ask of a limit.
var shapes = map[string]string{
	"at_most": "at_most", "at_least": "at_least", "ratio": "ratio", "least_ratio": "least_ratio", "angle": "angle", "part": "part", "one_of": "one_of", "flag": "true",
	"rising": "from", "falling": "from", "at": "at",
}

// shape is how a question reads a limit, as it declares it: one of shapes, and after it the kind of value where that is
// not the kind of the fact.
// Words that stand after one_of are those that it may name, where they are not the words of the fact.
type shape struct {
	name, kind string
	words      []string
}

// UnmarshalJSON reads a shape such as "at_most length".
func (s *shape) UnmarshalJSON(src []byte) error {
	var text string
	if err := json.Unmarshal(src, &text); err != nil {
		return err
	}
	s.name, s.kind, _ = strings.Cut(text, " ")
	if s.name == "one_of" && s.kind != "" {
		s.words, s.kind = strings.Split(s.kind, ","), ""
	}
	if shapes[s.name] == "" || (s.kind != "" && measures[s.kind] == "") {
		return fmt.Errorf("shape %q", text)
	}
	return nil
}

// measures words the kinds of value that a limit can have.
var measures = map[string]string{
	string(quantity.KindLength): "a length, such as 1/2 in or 13 mm", string(quantity.KindForce): "a force, such as 5 lbf or 22 N",
	string(quantity.KindAngle): "an angle, such as 90 deg", string(quantity.KindTime): "a time, such as 5 s",
	string(quantity.KindArea):     "an area, such as 76 cm2",
	string(quantity.KindPressure): "a pressure, such as 75 Pa", string(quantity.KindFlowPerArea): "a flow per area, such as 0.5 cfm/ft2",
	string(quantity.KindFlowPerLength): "a flow per length, such as 2.25 m3/(h m)", string(quantity.KindDate): "a date, such as 2025-07-29",
}

// kindFor is the kind of value that the limit of a fact has; "": any.
func (s shape) kindFor(d fact.Description) string {
	if s.kind == "" && measures[string(d.Kind)] != "" {
		return string(d.Kind)
	}
	return s.kind
}

// wordsFor are the words that one_of may name; none: any.
func (s shape) wordsFor(d fact.Description) []string {
	if len(s.words) > 0 {
		return s.words
	}
	return d.Words
}

// allowed words the shape.
func (s shape) allowed(d fact.Description) string {
	value := measures[s.kindFor(d)]
	switch s.name {
	case "at_most", "at_least", "at":
		if value == "" {
			value = "a value with its unit"
		}
		return s.name + " with " + value
	case "rising":
		return "from and to, the greater one last, each with " + value
	case "falling":
		return "from and to, the greater one first, each with " + value
	case "ratio":
		return "ratio with a slope, such as 1:2"
	case "least_ratio":
		return "least_ratio with a slope, such as 1:60"
	case "angle":
		return "angle with that of a slope, such as 15 deg"
	case "part":
		return "part with a part of the whole, such as 1/2"
	case "one_of":
		return "one_of with words of the fact, which are " + strings.Join(s.wordsFor(d), ", ")
	case "flag":
		return "true"
	}
	return "one of at_most, at_least, ratio, least_ratio, angle, part, one_of, from with to, at, and true"
}

// limit holds a limit to the shape in which its question reads it, and to the fact that it bounds. Of a limit that the
// question does not know the shape is empty.
func (f *faults) limit(at place, l Limit, s shape, d fact.Description) {
	name := at[len(at)-1]
	ways := l.ways()
	switch {
	case len(ways) == 0:
		f.key(at, fmt.Sprintf("limit %v without a bound", name), s.allowed(d), "write it, or take the limit out")
	case len(ways) > 1:
		f.key(at, fmt.Sprintf("limit %v with %s", name, strings.Join(ways, " and ")), s.allowed(d), "keep one; two limits need two names")
	case s.name != "" && ways[0] != shapes[s.name]:
		f.key(at.to(ways[0]), fmt.Sprintf("limit %v with %s", name, ways[0]), s.allowed(d), "write it as question "+f.rule.Question+" reads it")
	case ways[0] == "from":
		f.interval(at, l, s)
	}
	f.bounds(at, l.bounds(), s.kindFor(d))
	f.printed(at, given(bound{"at_most", l.AtMost}, bound{"at_least", l.AtLeast}), l.Printed)
	if _, err := l.data(); err != nil && (l.slope() != "" || l.Angle != "" || l.Part != "") {
		f.value(at, err.Error(), s.allowed(d), "write smaller whole numbers, or an angle between level and upright")
	}
	for i, w := range l.OneOf {
		if words := s.wordsFor(d); len(words) > 0 && !slices.Contains(words, w) {
			f.value(at.to("one_of", i), fmt.Sprintf("%q of fact %q", w, d.Name), schema.Choices(w, words), "write a word that the fact can be")
		}
	}
}

// interval holds that a limit from one value to another has both, in the order of its shape.
func (f *faults) interval(at place, l Limit, s shape) {
	if l.From == "" || l.To == "" {
		f.key(at, fmt.Sprintf("limit %v with only one of from and to", at[len(at)-1]), s.allowed(fact.Description{}), "write both")
		return
	}
	kind, from, errFrom := number(l.From)
	other, to, errTo := number(l.To)
	if errFrom != nil || errTo != nil || kind != other {
		return // told by bounds
	}
	if (s.name == "rising" && from >= to) || (s.name == "falling" && from <= to) {
		f.value(at, fmt.Sprintf("from %s to %s", l.From, l.To), s.allowed(fact.Description{}), "put the two in that order")
	}
}

// bounds holds that every value can be read, and that all are of one kind.
func (f *faults) bounds(at place, bounds []bound, kind string) {
	for _, b := range bounds {
		got, _, err := number(b.text)
		if err == nil && (kind == "" || string(got) == kind) {
			kind = string(got) // the next is to be of the same
			continue
		}
		found, allowed := fmt.Sprintf("%q", b.text), measures[kind]
		if err == nil {
			found += ", " + article(string(got))
		}
		if allowed == "" {
			allowed = "a length, a force, an angle, an area or a time, such as 1/2 in, 5 lbf, 90 deg, 76 cm2 or 5 s"
		}
		f.value(at.to(b.key), found, allowed, "write a number with its unit")
	}
}

// rounding is how far, in parts of a bound, the text's own rounding of it may be: inches that are printed as whole
// millimetres lie within a few per cent. What is further off is a slip of the pen, which would leave failures open.
const rounding = 20

// printed holds that the text's own rounding is one of the bound beside it.
func (f *faults) printed(at place, bounds []bound, text string) {
	if text == "" {
		return
	}
	if len(bounds) == 0 {
		f.key(at.to("printed"), "printed without the bound that it rounds", "printed beside a bound, such as at_most", "take it out")
		return
	}
	b := bounds[0]
	kind, exact, err := number(b.text)
	other, rounded, errRounded := number(text)
	if err != nil || errRounded != nil || kind != other {
		return // told by bounds
	}
	if off, most := abs(rounded-exact), abs(exact)/rounding; off > most {
		f.value(at.to("printed"), fmt.Sprintf("%q as the rounding of %s", text, b.text), "a value within 5 per cent of the bound", "write what the text prints, or put the bound right")
	}
}

func abs(n int64) int64 { return max(n, -n) }

func article(noun string) string {
	if strings.ContainsRune("aeiou", rune(noun[0])) {
		return "an " + noun
	}
	return "a " + noun
}
