package policies

import (
	"bytes"
	"encoding/json"
	"maps"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"sillwright/schema/fact"
)

// footprint is a fact as text, in which its numbers are found again. Two facts with the same text are the same to every rule.
type footprint struct {
	text    []byte
	numbers []numeral
	items   int    // structures
	at      []byte // the places that it came from
}

// numeral is a number of a fact: where it stands in the text, and the name of the member that holds it, which is "value"
// for a fact that is a number.
type numeral struct {
	from, to int
	member   string
	item     int // the structure that has the member, counted from 1; 0: none
	amount
}

// amount is a number as facts hold it: whole, or a fraction.
type amount struct {
	whole    int64
	part     float64
	fraction bool
}

func (a amount) less(b amount) bool {
	if a.fraction {
		return a.part < b.part
	}
	return a.whole < b.whole
}

// text writes the number as JSON does, in which form it goes to Rego and comes back.
func (a amount) text() json.Number {
	if !a.fraction {
		return json.Number(strconv.FormatInt(a.whole, 10))
	}
	src, err := json.Marshal(a.part)
	if err != nil {
		return json.Number(strconv.FormatFloat(a.part, 'g', -1, 64)) // no number: Rego refuses it
	}
	return json.Number(src)
}

// most is how large a whole number may be for sums and differences of two to stay exact.
const most = math.MaxInt64 / 4

// farthest is how long a rise or a run may be, in nanometres, for a product with a slope's numbers to stay exact: a kilometre,
// over slopes in which the engine writes no number above a million.
const farthest = int64(1e12)

// footprintOf writes a fact.
func footprintOf(f fact.Fact) *footprint {
	s := &footprint{}
	s.write("value", 0, f.Value)
	if f.OrMore { // a fact may be both
		s.text = append(s.text, '+')
	}
	if f.OrLess {
		s.text = append(s.text, '-')
	}
	for _, at := range f.At {
		s.at = strconv.AppendQuote(s.at, at)
	}
	return s
}

func (s *footprint) write(member string, item int, v any) {
	switch v := v.(type) {
	case string:
		s.text = strconv.AppendQuote(s.text, v)
	case bool:
		s.text = strconv.AppendBool(s.text, v)
	case json.Number:
		s.text = append(append(s.text, 'n'), v...)
	case int64:
		s.number(member, item, amount{whole: v})
	case float64:
		s.number(member, item, amount{part: v, fraction: true})
	case []any:
		s.text = append(s.text, '[')
		for _, one := range v {
			s.write(member, item, one)
			s.text = append(s.text, ',')
		}
		s.text = append(s.text, ']')
	case map[string]any:
		s.items++
		own := s.items
		s.text = append(s.text, '{')
		for _, key := range slices.Sorted(maps.Keys(v)) {
			s.text = append(strconv.AppendQuote(s.text, key), ':')
			s.write(key, own, v[key])
			s.text = append(s.text, ',')
		}
		s.text = append(s.text, '}')
	case nil:
		s.text = append(s.text, "null"...)
	default:
		s.write(member, item, generic(v))
	}
}

func (s *footprint) number(member string, item int, a amount) {
	n := numeral{from: len(s.text), member: member, item: item, amount: a}
	if a.fraction {
		s.text = strconv.AppendFloat(s.text, a.part, 'g', -1, 64)
	} else {
		s.text = strconv.AppendInt(s.text, a.whole, 10)
	}
	n.to = len(s.text)
	s.numbers = append(s.numbers, n)
}

// generic is a value of the engine's own types as JSON has it: lists, structures by the names of their members, and numbers.
func generic(v any) any {
	r := reflect.ValueOf(v)
	switch r.Kind() {
	case reflect.Pointer:
		if r.IsNil() {
			return nil
		}
		return generic(r.Elem().Interface())
	case reflect.Slice:
		if r.IsNil() {
			return nil
		}
		out := make([]any, r.Len())
		for i := range out {
			out[i] = generic(r.Index(i).Interface())
		}
		return out
	case reflect.Struct:
		out := make(map[string]any, r.NumField())
		for i := range r.NumField() {
			name, rest, _ := strings.Cut(r.Type().Field(i).Tag.Get("json"), ",")
			if name == "" {
				return decoded(v)
			}
			if rest != "omitempty" || !r.Field(i).IsZero() {
				out[name] = generic(r.Field(i).Interface())
			}
		}
		return out
	case reflect.String:
		return r.String()
	case reflect.Bool:
		return r.Bool()
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return r.Int()
	}
	return decoded(v)
}

// decoded is what JSON makes of a value; of one that it cannot write it is the reason, which no rule takes for a fact.
func decoded(v any) any {
	src, err := json.Marshal(v)
	if err != nil {
		return err.Error()
	}
	d := json.NewDecoder(bytes.NewReader(src))
	d.UseNumber()
	var out any
	if err := d.Decode(&out); err != nil {
		return err.Error()
	}
	return out
}

// plain is a value as Rego reads it, in which numbers of the named members are replaced in the order in which a footprint
// lists them.
func plain(member string, v any, replace func(member string, a amount) amount) any {
	switch v := v.(type) {
	case int64:
		return replace(member, amount{whole: v}).text()
	case float64:
		return replace(member, amount{part: v, fraction: true}).text()
	case []any:
		out := make([]any, len(v))
		for i, item := range v {
			out[i] = plain(member, item, replace)
		}
		return out
	case map[string]any:
		out := make(map[string]any, len(v))
		for _, key := range slices.Sorted(maps.Keys(v)) {
			out[key] = plain(key, v[key], replace)
		}
		return out
	case string, bool, nil, json.Number:
		return v
	}
	return plain(member, generic(v), replace)
}

// known is a fact as Rego reads it.
func known(f fact.Fact, replace func(member string, a amount) amount) map[string]any {
	at := make([]any, len(f.At))
	for i, pointer := range f.At {
		at[i] = pointer
	}
	out := map[string]any{"value": plain("value", f.Value, replace), "at": at}
	if f.OrMore {
		out["or_more"] = true
	}
	if f.OrLess {
		out["or_less"] = true
	}
	return out
}
