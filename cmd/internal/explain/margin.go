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

// scale reads and writes one kind of quantity.
type scale struct {
	parse func(text string) (int64, error)
	exact func(int64) string
	words func(int64, quantity.System) string
}

// scales are by the unit of a policies.Measure.
var scales = map[string]scale{
	"mm": {
		func(text string) (int64, error) { l, err := quantity.ParseLength(text); return int64(l), err },
		func(n int64) string { return quantity.Length(n).MM() },
		func(n int64, s quantity.System) string { return quantity.Length(n).In(s) },
	},
	"N": {
		func(text string) (int64, error) { f, err := quantity.ParseForce(text); return int64(f), err },
		func(n int64) string { return quantity.Force(n).N() },
		func(n int64, s quantity.System) string { return quantity.Force(n).In(s) },
	},
	"cm2": {
		func(text string) (int64, error) { a, err := quantity.ParseArea(text); return int64(a), err },
		func(n int64) string { return quantity.Area(n).CM2() },
		func(n int64, s quantity.System) string { return quantity.Area(n).In(s) },
	},
	"deg": {
		func(text string) (int64, error) { a, err := quantity.ParseAngle(text); return int64(a), err },
		func(n int64) string { return quantity.Angle(n).Deg() },
		func(n int64, _ quantity.System) string { return quantity.Angle(n).Deg() + " deg" },
	},
	"s": {
		func(text string) (int64, error) { t, err := quantity.ParseTime(text); return int64(t), err },
		func(n int64) string { return quantity.Time(n).S() },
		func(n int64, _ quantity.System) string { return quantity.Time(n).S() + " s" },
	},
}

// marginOf is the margin of a point; nil where it compares no exact numbers of one kind, or an estimate, which its band decides. That
// of a slope is in what to do: how much longer the run has to be.
func marginOf(f policies.Finding, pt policies.Point, system quantity.System) *Margin {
	if pt.Measured == nil || pt.Limit == nil || pt.Measured.Unit != pt.Limit.Unit || strings.Contains(f.Question, "band") {
		return nil
	}
	s, ok := scales[pt.Limit.Unit]
	if !ok || pt.Measured.Exact == "" || pt.Limit.Exact == "" {
		return nil
	}
	found, err := s.parse(pt.Measured.Exact + " " + pt.Measured.Unit)
	if err != nil {
		return nil
	}
	limit, err := s.parse(pt.Limit.Exact + " " + pt.Limit.Unit)
	if err != nil {
		return nil
	}
	return s.margin(pt.Limit, found, limit, system)
}

func (s scale) margin(bound *policies.Measure, found, limit int64, system quantity.System) *Margin {
	off := found - limit
	if (off < 0) != (found < limit) || off == math.MinInt64 {
		return nil // too far apart for the finest unit
	}
	size := max(off, -off)
	words := s.words(size, system)
	if size != 0 && strings.HasPrefix(words, "0 ") {
		words = s.exact(size) + " " + bound.Unit // less than is told otherwise
	}
	m := &Margin{Exact: s.exact(off), Unit: bound.Unit}
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
