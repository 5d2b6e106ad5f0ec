package policies

import (
	"fmt"
	"maps"
	"math/big"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"sillwright/schema/quantity"
)

// number reads a limit's value into its exact unit: nanometres, femtonewtons,
// microdegrees, square nanometres, nanoseconds, micropascals or those of a rate, whichever the written unit belongs to,
// or days. The error names none
// of these: whoever asks knows which is due.
func number(text string) (kind quantity.Kind, value int64, err error) {
	if l, err := quantity.ParseLength(text); err == nil {
		return quantity.KindLength, int64(l), nil
	}
	if f, err := quantity.ParseForce(text); err == nil {
		return quantity.KindForce, int64(f), nil
	}
	if a, err := quantity.ParseAngle(text); err == nil {
		return quantity.KindAngle, int64(a), nil
	}
	if a, err := quantity.ParseArea(text); err == nil {
		return quantity.KindArea, int64(a), nil
	}
	if t, err := quantity.ParseTime(text); err == nil {
		return quantity.KindTime, int64(t), nil
	}
	if p, err := quantity.ParsePressure(text); err == nil {
		return quantity.KindPressure, int64(p), nil
	}
	if r, err := quantity.ParseFlowPerArea(text); err == nil {
		return quantity.KindFlowPerArea, int64(r), nil
	}
	if r, err := quantity.ParseFlowPerLength(text); err == nil {
		return quantity.KindFlowPerLength, int64(r), nil
	}
	if d, err := quantity.ParseDate(text); err == nil {
		return quantity.KindDate, int64(d), nil
	}
	return "", 0, fmt.Errorf("%q is no number with a unit", text)
}

// Exact is a limit's value as the rules compare it, in its exact unit.
func Exact(text string) (int64, error) {
	_, value, err := number(text)
	return value, err
}

// data is the limit as Rego reads it. A rate is named by the unit that its text writes, in which it is told.
func (l Limit) data() (any, error) {
	out := map[string]any{}
	for _, b := range l.bounds() {
		kind, value, err := number(b.text)
		if err != nil {
			return nil, err
		}
		name := string(kind)
		if unit, ok := quantity.RateUnit(b.text); ok {
			name = unit
		}
		if had, ok := out["kind"]; ok && had != name {
			return nil, fmt.Errorf("%s is not a %s", b.text, had)
		}
		out["kind"], out[b.key] = name, value
	}
	if text := l.slope(); text != "" {
		rise, run, _ := strings.Cut(text, ":")
		a, errA := strconv.ParseInt(rise, 10, 64)
		b, errB := strconv.ParseInt(run, 10, 64)
		if errA != nil || errB != nil {
			return nil, fmt.Errorf("%s is not a slope", text)
		}
		out["kind"], out["rise"], out["run"] = "ratio", a, b
	}
	if l.Angle != "" {
		rise, run, angle, err := Incline(l.Angle)
		if err != nil {
			return nil, err
		}
		out["kind"], out["rise"], out["run"], out["angle"] = "angle", rise, run, angle
	}
	if l.Part != "" {
		share, ok := new(big.Rat).SetString(l.Part)
		if !ok || !share.Num().IsInt64() || !share.Denom().IsInt64() {
			return nil, fmt.Errorf("%s is not a part", l.Part)
		}
		out["kind"], out["part"] = "part", []any{share.Num().Int64(), share.Denom().Int64()}
	}
	if len(l.OneOf) > 0 {
		words := []any{}
		for _, w := range l.OneOf {
			words = append(words, w)
		}
		out["kind"], out["one_of"] = "word", words
	}
	if len(out) == 0 {
		return l.Flag, nil
	}
	return out, nil
}

func limitsData(limits map[string]Limit) (map[string]any, error) {
	out := map[string]any{}
	for _, name := range slices.Sorted(maps.Keys(limits)) {
		d, err := limits[name].data()
		if err != nil {
			return nil, fmt.Errorf("limit %s: %w", name, err)
		}
		out[name] = d
	}
	return out, nil
}

func (t Test) data() (map[string]any, error) {
	out := map[string]any{"fact": t.Fact}
	if len(t.In) > 0 {
		out["in"] = t.In
	}
	if t.Given {
		out["given"] = true
	}
	for _, b := range t.bounds() {
		_, v, err := number(b.text)
		if err != nil {
			return nil, err
		}
		out[b.key] = v
	}
	return out, nil
}

// conditionsData writes every condition as a choice of tests, with the facts it reads.
func conditionsData(conditions []Condition) ([]any, error) {
	out := []any{}
	for _, c := range conditions {
		choice, names := []any{}, []any{}
		for _, t := range c.Tests() {
			d, err := t.data()
			if err != nil {
				return nil, err
			}
			choice, names = append(choice, d), append(names, t.Fact)
		}
		out = append(out, map[string]any{"any": choice, "facts": names, "why": c.Why})
	}
	return out, nil
}

// rowsData writes every row with its conditions and its alternatives.
func rowsData(rows []Row) ([]any, error) {
	out := []any{}
	for _, row := range rows {
		when, err := conditionsData(row.When)
		if err != nil {
			return nil, err
		}
		choice := []any{}
		for _, limits := range row.Any {
			d, err := limitsData(limits)
			if err != nil {
				return nil, err
			}
			choice = append(choice, d)
		}
		out = append(out, map[string]any{"when": when, "any": choice})
	}
	return out, nil
}

// data is the rule as Rego reads it: limits in exact units, text left out.
func (r *Rule) data() (map[string]any, error) {
	limits, err := limitsData(r.Limits)
	if err != nil {
		return nil, err
	}
	applies, err := conditionsData(r.Applies)
	if err != nil {
		return nil, err
	}
	exceptions := []any{}
	for _, e := range r.Exceptions {
		when, err := conditionsData(e.When)
		if err != nil {
			return nil, err
		}
		// Its limits take the place of the rule's by name, whole; the others stay.
		own := map[string]Limit{}
		maps.Copy(own, r.Limits)
		maps.Copy(own, e.Limits)
		limits, err := limitsData(own)
		if err != nil {
			return nil, err
		}
		item := map[string]any{"id": e.ID, "when": when, "limits": limits, "widens": r.widens(e)}
		r.read(item)
		if e.Open {
			item["open"] = true
		}
		exceptions = append(exceptions, item)
	}
	out := map[string]any{"id": r.ID, "question": r.Question, "subject": r.Subject, "level": r.Level, "limits": limits, "applies": applies, "exceptions": exceptions}
	r.read(out)
	if len(r.Variants) > 0 {
		out["variants"] = r.Variants
	}
	if r.OnEvidence {
		out["on_evidence"] = "missing"
	}
	if len(r.Rows) > 0 {
		if out["rows"], err = rowsData(r.Rows); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// read names the facts that the rule's question reads.
func (r *Rule) read(out map[string]any) {
	if r.Fact != "" {
		out["fact"] = r.Fact
	}
	if r.Target != "" {
		out["target"] = r.Target
	}
}

// widens names the limits of the rule that an exception changes.
func (r *Rule) widens(e Exception) []any {
	var names []string
	for name, l := range e.Limits {
		if base, ok := r.Limits[name]; ok && !reflect.DeepEqual(base, l) {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	out := []any{}
	for _, n := range names {
		out = append(out, n)
	}
	return out
}
