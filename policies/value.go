package policies

import (
	"encoding/json"
	"math"
	"math/big"
	"slices"
	"strconv"
	"strings"

	"sillwright/schema/quantity"
)

// value is a number or word as Rego gives it, under the name of its kind:
// {"length": 12700000}, {"ratio": [1, 2]}, {"word": "outer side"}.
type value map[string]any

func integer(v any) (int64, bool) {
	n, ok := v.(json.Number)
	if !ok {
		return 0, false
	}
	i, err := n.Int64()
	return i, err == nil
}

func float(v any) float64 {
	n, ok := v.(json.Number)
	if !ok {
		return 0
	}
	f, _ := n.Float64()
	return f
}

// words writes the value for a person.
func (v value) words(system quantity.System) string {
	for kind, x := range v {
		n, _ := integer(x)
		switch kind {
		case "length":
			return quantity.Length(n).In(system)
		case "force":
			return quantity.Force(n).In(system)
		case "angle":
			return quantity.Angle(n).Deg() + " deg"
		case "area":
			return quantity.Area(n).In(system)
		case "time":
			return quantity.Time(n).S() + " s"
		case "date":
			return quantity.Date(n).Day()
		case "flow":
			return Significant(float(x)*1000, math.Round) + " L/s"
		case "low_flow":
			return Significant(float(x)*1000, math.Floor) + " L/s"
		case "high_flow":
			return Significant(float(x)*1000, math.Ceil) + " L/s"
		case "target_flow":
			return Limit4(float(x)*1000) + " L/s"
		case "count":
			return strconv.FormatInt(n, 10)
		case "ratio":
			return slope(x)
		case "incline":
			return inclineWords(x)
		case "part":
			if part, whole, ok := ratio(x); ok && whole != 0 {
				return big.NewRat(part, whole).RatString()
			}
			return ""
		case "words":
			return choice(x)
		case "truth":
			if x == true {
				return "yes"
			}
			return "no"
		default:
			if text, ok := rateWords(kind, x); ok {
				return text
			}
			if s, ok := x.(string); ok {
				return s
			}
		}
	}
	return ""
}

// roundedUp is the value rounded up to 0.1 mm, 1/64 in, 0.1 N, 0.1 lbf, 0.1 cm2 or 0.1 in2.
func (v value) roundedUp(system quantity.System) value {
	steps := map[string]int64{"length": int64(quantity.Millimetre / 10), "force": int64(quantity.Newton / 10), "area": int64(quantity.SquareMillimetre * 10)}
	if system == quantity.Imperial {
		steps = map[string]int64{"length": int64(quantity.Inch / 64), "force": int64(quantity.PoundForce / 10), "area": int64(quantity.Inch) * int64(quantity.Inch) / 10}
	}
	for kind, step := range steps {
		if n, ok := integer(v[kind]); ok && n > 0 {
			up := (n + step - 1) / step * step
			return value{kind: json.Number(strconv.FormatInt(up, 10))}
		}
	}
	return v
}

// slope writes rise over run as 1:n, n to two decimals at most and never rounded to look gentler.
func slope(x any) string {
	rise, run, ok := ratio(x)
	if !ok {
		return ""
	}
	switch {
	case run == 0:
		return "upright"
	case rise == 0:
		return "level"
	}
	// Hundredths of run per rise, rounded down: 1:1.996 must not print as 1:2.
	hundredths := new(big.Int).Quo(new(big.Int).Mul(big.NewInt(run), big.NewInt(100)), big.NewInt(rise))
	s := new(big.Rat).SetFrac(hundredths, big.NewInt(100)).FloatString(2)
	return "1:" + strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// choice writes a list of words, of which any will do.
func choice(x any) string {
	list, _ := x.([]any)
	var words []string
	for _, w := range list {
		if s, ok := w.(string); ok {
			words = append(words, s)
		}
	}
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " or " + words[n-1]
	}
	return strings.Join(words, "")
}

func ratio(x any) (rise, run int64, ok bool) {
	list, isList := x.([]any)
	if !isList || len(list) != 2 {
		return 0, 0, false
	}
	rise, okRise := integer(list[0])
	run, okRun := integer(list[1])
	return rise, run, okRise && okRun && (rise != 0 || run != 0)
}

// measure writes the value for a machine.
func (v value) measure() *Measure {
	for kind, x := range v {
		n, _ := integer(x)
		switch kind {
		case "length":
			return number64(quantity.Length(n).MM(), "mm")
		case "force":
			return number64(quantity.Force(n).N(), "N")
		case "angle":
			return number64(quantity.Angle(n).Deg(), "deg")
		case "area":
			return number64(quantity.Area(n).CM2(), "cm2")
		case "time":
			return number64(quantity.Time(n).S(), "s")
		case "date":
			return &Measure{Value: quantity.Date(n).Day()}
		case "flow", "target_flow":
			return &Measure{Value: float(x) * 1000, Unit: "L/s"} // an estimate has no exact value
		case "incline":
			return inclineMeasure(x)
		case "ratio", "part":
			rise, run, ok := ratio(x)
			if !ok || run == 0 {
				return nil
			}
			r := big.NewRat(rise, run)
			f, _ := r.Float64()
			return &Measure{Value: f, Exact: r.RatString(), Unit: "1"}
		default:
			if m := rateMeasure(kind, x); m != nil {
				return m
			}
			return &Measure{Value: x, Exact: "", Unit: ""}
		}
	}
	return nil
}

func number64(exact, unit string) *Measure {
	f, _ := strconv.ParseFloat(exact, 64)
	return &Measure{Value: f, Exact: exact, Unit: unit}
}

func (l limitValue) value() value {
	switch {
	case len(l.Part) == 2:
		return value{"part": []any{l.Part[0], l.Part[1]}}
	case len(l.OneOf) > 0:
		return value{"words": l.OneOf}
	case len(l.Incline) == 3:
		return value{"incline": []any{l.Incline[0], l.Incline[1], l.Incline[2]}}
	case len(l.Ratio) == 2:
		return value{"ratio": []any{l.Ratio[0], l.Ratio[1]}}
	case l.AtMost != "":
		return value{l.Kind: l.AtMost}
	case l.AtLeast != "":
		return value{l.Kind: l.AtLeast}
	}
	return nil
}

func (l limitValue) measure(comparator string) *Measure {
	v := l.value()
	if v == nil {
		return nil
	}
	m := v.measure()
	if m != nil {
		m.Comparator = comparator
	}
	return m
}

// found says what was measured: in the question's own words where it has some.
func (r *Rule) found(c check, system quantity.System) string {
	for kind := range c.Measured {
		if kind == "word" || kind == "words" || kind == "truth" {
			return "" // the message says it
		}
	}
	measured := c.Measured.words(system)
	text, ok := r.asked.Found[c.Part]
	if !ok {
		return measured
	}
	if text = strings.ReplaceAll(fill(text, c.Values, system), "{measured}", measured); strings.Contains(text, "{") {
		return measured // a value is not known
	}
	if low, high, ok := strings.Cut(text, " to "); ok && low == high {
		return low
	}
	return text
}

// exact writes a length, force or slope without rounding.
func (v value) exact() string {
	m := v.measure()
	if m == nil {
		return ""
	}
	return strings.TrimSpace(m.Exact + " " + strings.TrimPrefix(m.Unit, "1"))
}

// Prints gives the unit systems that the rule's text prints, the governing one first: its own, or those of its rulebook.
func (r *Rule) Prints() []quantity.System {
	if len(r.Systems) > 0 {
		return r.Systems
	}
	return r.Rulebook.Systems
}

// allowed writes the limit in the systems that the text prints, the governing one first.
func (r *Rule) allowed(c check, system quantity.System) string {
	v := c.Limit.value()
	if v == nil {
		return ""
	}
	systems := r.Prints()
	first := v.words(systems[0])
	if _, flow := v["target_flow"]; flow {
		return first
	}
	out := first
	for _, s := range slices.Concat(systems[1:], []quantity.System{system}) {
		if other := v.words(s); other != first && !strings.Contains(out, "(") {
			out = first + " (" + other + ")"
		}
	}
	if c.State == "open" && c.Limit.Printed != "" {
		printed := value{c.Limit.Kind: c.Limit.Printed}
		out = first + " (" + v.words(quantity.Metric) + "; printed as " + printed.words(quantity.Metric) + ")"
	}
	return out
}

// Significant writes an uncertain figure with two significant figures, no more than its
// band deserves. Give math.Floor for the low end of a band and math.Ceil for its high
// end, so that the band as printed holds the band as computed.
func Significant(v float64, round func(float64) float64) string { return Figures(v, 2, round) }

// Limit4 writes what is allowed to four figures, rounded down, without needless zeros.
func Limit4(v float64) string {
	text := Figures(v, 4, math.Floor)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// Figures writes a figure with n significant figures.
func Figures(v float64, n int, round func(float64) float64) string {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return strconv.FormatFloat(v, 'g', n, 64)
	}
	decimals := n - 1 - int(math.Floor(math.Log10(math.Abs(v))))
	scale := math.Pow(10, float64(decimals))
	const noise = 1e-9 // of binary fractions, so that 3.7 does not become 3.8
	scaled := v * scale
	if near := math.Round(scaled); math.Abs(scaled-near) < noise {
		scaled = near
	}
	rounded := round(scaled)
	if math.Abs(rounded) >= math.Pow(10, float64(n)) {
		decimals-- // 9.96 is 10, not 10.0
	}
	return strconv.FormatFloat(rounded/scale, 'f', max(decimals, 0), 64)
}
