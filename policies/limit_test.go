package policies

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"
)

func TestLimitOfPartsAndWordsAsRegoReadsIt(t *testing.T) {
	for want, l := range map[string]Limit{
		`{"kind":"part","part":[2,5]}`:                    {Part: "2/5"},
		`{"kind":"part","part":[1,2]}`:                    {Part: "2/4"},
		`{"kind":"word","one_of":["heavy","severe"]}`:     {OneOf: []string{"heavy", "severe"}},
		`{"at_most":1000000,"kind":"length"}`:             {AtMost: "1 mm"},
		`{"kind":"ratio","rise":1,"run":2}`:               {Ratio: "1:2"},
		`{"kind":"ratio","rise":1,"run":60}`:              {LeastRatio: "1:60"},
		`{"from":0,"kind":"angle","to":90000000}`:         {From: "0 deg", To: "90 deg"},
		`{"at_most":1000000,"kind":"length","printed":1}`: {AtMost: "1 mm", Printed: "0.000001 mm"},
	} {
		data, err := l.data()
		src, _ := json.Marshal(data)
		if err != nil || string(src) != want {
			t.Errorf("%+v: %s, %v; want %s", l, src, err, want)
		}
	}
}

// An exception widens what it changes, words among it.
func TestExceptionWidensWords(t *testing.T) {
	r := &Rule{Limits: map[string]Limit{"value": {OneOf: []string{"heavy"}}, "width": {AtMost: "1 mm"}}}
	for want, limits := range map[string]map[string]Limit{
		"[]":      {"value": {OneOf: []string{"heavy"}}, "width": {AtMost: "1 mm"}},
		"[value]": {"value": {OneOf: []string{"heavy", "severe"}}},
	} {
		var names []string
		for _, n := range r.widens(Exception{Limits: limits}) {
			names = append(names, n.(string))
		}
		if got := "[" + strings.Join(names, " ") + "]"; got != want {
			t.Errorf("%v widens %s, want %s", limits, got, want)
		}
	}
}

func TestWordsOfPartsAndChoices(t *testing.T) {
	for want, v := range map[string]value{
		"1/2":           {"part": []any{json.Number("25000000"), json.Number("50000000")}},
		"a":             {"words": []any{"a"}},
		"a or b":        {"words": []any{"a", "b"}},
		"tile, b or c":  {"words": []any{"tile", "b", "c"}},
		"":              {"words": []any{}},
		"1000000/49999": {"part": []any{json.Number("1000000"), json.Number("49999")}},
	} {
		if got := v.words("mm"); got != want {
			t.Errorf("%v: %q, want %q", v, got, want)
		}
	}
	l := limitValue{Kind: "part", Part: []json.Number{"3", "5"}}
	if got, want := l.measure("<="), (&Measure{Value: 0.6, Exact: "3/5", Unit: "1", Comparator: "<="}); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
	// A word is told by the message, not as a number that was found.
	r := &Rule{}
	if got := r.found(check{Measured: value{"words": []any{"a"}}}, "mm"); got != "" {
		t.Errorf("found %q", got)
	}
}
