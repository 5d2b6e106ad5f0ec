package policies

import (
	"bytes"
	"encoding/json"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"sillwright/schema/fact"
)

// footprint is a fact as text, in which its numbers are found again. Two facts with the same text are the same to every rule.
type footprint struct {
	made, known bool
	text        stretch // of the inquiry's text
	numbers     stretch // of its numerals
	at          stretch // of its text: the places that it came from
	items       int     // structures
}

// stretch is from one index to before another.
type stretch struct{ from, to int }

// numeral is a number of a fact: where it stands in the text, and the name of the member that holds it, which is "value"
// for a fact that is a number.
type numeral struct {
	stretch
	member string
	item   int // the structure that has the member, counted from 1; 0: none
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

// print writes a fact.
func (q *inquiry) print(of *subject, f fact.Fact) footprint {
	s := footprint{made: true, known: true, text: stretch{from: len(q.text)}, numbers: stretch{from: len(q.numerals)}}
	q.write(&s, of, "value", 0, f.Value)
	if f.OrMore { // a fact may be both
		q.text = append(q.text, '+')
	}
	if f.OrLess {
		q.text = append(q.text, '-')
	}
	s.text.to, s.numbers.to, s.at.from = len(q.text), len(q.numerals), len(q.text)
	for _, at := range f.At {
		q.text = strconv.AppendQuote(q.text, of.away(at))
	}
	s.at.to = len(q.text)
	return s
}

func (q *inquiry) write(s *footprint, of *subject, member string, item int, v any) {
	switch v := v.(type) {
	case string:
		q.text = strconv.AppendQuote(q.text, of.away(v))
	case bool:
		q.text = strconv.AppendBool(q.text, v)
	case json.Number:
		q.text = append(append(q.text, 'n'), v...)
	case int64:
		q.number(member, item, amount{whole: v})
	case float64:
		q.number(member, item, amount{part: v, fraction: true})
	case []any:
		q.text = append(q.text, '[')
		for _, one := range v {
			q.write(s, of, member, item, one)
			q.text = append(q.text, ',')
		}
		q.text = append(q.text, ']')
	case map[string]any:
		s.items++
		own := s.items
		q.text = append(q.text, '{')
		var few [8]string
		for _, key := range sorted(v, few[:0]) {
			q.text = append(strconv.AppendQuote(q.text, key), ':')
			q.write(s, of, key, own, v[key])
			q.text = append(q.text, ',')
		}
		q.text = append(q.text, '}')
	case nil:
		q.text = append(q.text, "null"...)
	default:
		q.write(s, of, member, item, generic(v))
	}
}

// sorted lists the keys of a structure in order.
func sorted(v map[string]any, to []string) []string {
	for key := range v {
		to = append(to, key)
	}
	slices.Sort(to)
	return to
}

func (q *inquiry) number(member string, item int, a amount) {
	n := numeral{stretch{from: len(q.text)}, member, item, a}
	if a.fraction {
		q.text = strconv.AppendFloat(q.text, a.part, 'g', -1, 64)
	} else {
		q.text = strconv.AppendInt(q.text, a.whole, 10)
	}
	n.to = len(q.text)
	q.numerals = append(q.numerals, n)
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
func plain(of *subject, member string, v any, replace func(member string, a amount) amount) any {
	switch v := v.(type) {
	case string:
		return of.away(v)
	case int64:
		return replace(member, amount{whole: v}).text()
	case float64:
		return replace(member, amount{part: v, fraction: true}).text()
	case []any:
		out := make([]any, len(v))
		for i, item := range v {
			out[i] = plain(of, member, item, replace)
		}
		return out
	case map[string]any:
		out := make(map[string]any, len(v))
		for _, key := range sorted(v, nil) {
			out[key] = plain(of, key, v[key], replace)
		}
		return out
	case bool, nil, json.Number:
		return v
	}
	return plain(of, member, generic(v), replace)
}

// known is a fact as Rego reads it.
func known(of *subject, f fact.Fact, replace func(member string, a amount) amount) map[string]any {
	at := make([]any, len(f.At))
	for i, pointer := range f.At {
		at[i] = of.away(pointer)
	}
	out := map[string]any{"value": plain(of, "value", f.Value, replace), "at": at}
	if f.OrMore {
		out["or_more"] = true
	}
	if f.OrLess {
		out["or_less"] = true
	}
	return out
}
