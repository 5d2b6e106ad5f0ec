package explain

import (
	"math"
	"strings"

	"sillwright/policies"
	"sillwright/schema/quantity"
)

// Margin is how far what was found is from its limit. It is exact: both are whole numbers of the finest unit.
type Margin struct {
	Exact string // what was found less the limit
	Unit  string // mm, N, deg, cm2 or s
	Met   bool
	Words string // in the spec's units: "over by 5.3 mm", "short by 3 mm", "0.2 mm to spare", "just at the limit"
}

// marginOf is the margin of a point; nil where it compares no exact numbers of one kind, or an estimate, which its band decides. That
// of a slope is in what to do: how much longer the run has to be.
func marginOf(f policies.Finding, pt policies.Point, system quantity.System) *Margin {
	if pt.Measured == nil || pt.Limit == nil || pt.Measured.Unit != pt.Limit.Unit || strings.Contains(f.Question, "band") {
		return nil
	}
	s, ok := quantity.Scales[pt.Limit.Unit]
	if !ok || pt.Measured.Exact == "" || pt.Limit.Exact == "" {
		return nil
	}
	found, err := s.Parse(pt.Measured.Exact + " " + pt.Measured.Unit)
	if err != nil {
		return nil
	}
	limit, err := s.Parse(pt.Limit.Exact + " " + pt.Limit.Unit)
	if err != nil {
		return nil
	}
	return between(s, pt.Limit, found, limit, system)
}

func between(s quantity.Scale, bound *policies.Measure, found, limit int64, system quantity.System) *Margin {
	off := found - limit
	if (off < 0) != (found < limit) || off == math.MinInt64 {
		return nil // too far apart for the finest unit
	}
	size := max(off, -off)
	words := s.In(size, system)
	if size != 0 && strings.HasPrefix(words, "0 ") {
		words = s.Exact(size) + " " + bound.Unit // less than is told otherwise
	}
	m := &Margin{Exact: s.Exact(off), Unit: bound.Unit}
	switch {
	case off == 0:
		m.Met, m.Words = true, "just at the limit"
	case bound.Comparator == "<=" && off > 0:
		m.Words = "over by " + words
	case bound.Comparator == ">=" && off < 0:
		m.Words = "short by " + words
	case bound.Comparator == "<=" || bound.Comparator == ">=":
		m.Met, m.Words = true, words+" to spare"
	default:
		return nil
	}
	return m
}
