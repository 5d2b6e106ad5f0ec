package policies

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"sillwright/schema"
)

// faults collects what is wrong with one rule, each at its place in the file.
type faults struct {
	rule *Rule
	list []schema.Problem
}

// place is the way from a rule to what is written in it: keys, and indexes of lists.
type place []any

func (p place) to(parts ...any) place { return slices.Concat(p, parts) }

// key tells a fault of a key, or of what its mapping lacks: it stands at the key, or at the nearest one around it.
func (f *faults) key(at place, found, allowed, do string) { f.add(true, at, found, allowed, do) }

// value tells a fault of a value.
func (f *faults) value(at place, found, allowed, do string) { f.add(false, at, found, allowed, do) }

func (f *faults) add(ofKey bool, at place, found, allowed, do string) {
	p := f.rule.at
	var there place
	p.Span, there = f.rule.find(at, ofKey)
	p.Pointer += schema.Pointer(there...)
	p.Field = schema.Field(p.Pointer)
	p.Found, p.Allowed, p.Do = found, allowed, do
	f.list = append(f.list, p)
}

// find gives the span of a place, and as much of its way as is written.
func (r *Rule) find(at place, ofKey bool) (schema.Span, place) {
	span, n := r.at.Span, r.node
	for i, part := range at {
		switch part := part.(type) {
		case string:
			j := -1
			if n != nil && n.Kind == schema.Object {
				j = slices.IndexFunc(n.Members, func(m schema.Member) bool { return m.Key == part })
			}
			if j < 0 {
				return span, at[:i]
			}
			span, n = n.Members[j].KeySpan, n.Members[j].Value
			if !ofKey && i == len(at)-1 {
				span = n.Span
			}
		case int:
			if n == nil || part >= len(n.Items) {
				return span, at[:i]
			}
			n = n.Items[part]
			span = n.Span
		}
	}
	return span, at
}

// inOrder puts problems in the order of their file and drops what is said twice.
func inOrder(list []schema.Problem) []schema.Problem {
	slices.SortStableFunc(list, func(a, b schema.Problem) int {
		return cmp.Or(schema.ComparePlaces(a, b), strings.Compare(a.Found, b.Found), strings.Compare(a.Do, b.Do))
	})
	return slices.Compact(list)
}

// quoted lists names for a sentence.
func quoted(names []string) string {
	var out []string
	for _, n := range names {
		out = append(out, fmt.Sprintf("%q", n))
	}
	return strings.Join(out, ", ")
}
