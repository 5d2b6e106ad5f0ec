// Package quantity reads values with units and keeps lengths and forces exact.
//
// A Length is a whole number of nanometres (1/64 in = 396 875 nm) and a Force a
// whole number of femtonewtons (0.01 lbf = 44 482 216 152 605 fN), so that a value
// which equals a limit compares equal however it was written; an Area is whole square
// nanometres. Everything else
// (pressure, flow, area, ...) meets a limit only as a band and is a float64 in SI.
package quantity

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"
)

// Length is an exact length in nanometres.
type Length int64

// Force is an exact force in femtonewtons.
type Force int64

// Angle is an exact angle in microdegrees.
type Angle int64

// Area is an exact area in square nanometres.
type Area int64

// Time is an exact time in nanoseconds.
type Time int64

// Units of the exact types.
const (
	Nanometre  Length = 1
	Millimetre Length = 1_000_000
	Metre      Length = 1_000_000_000
	Inch       Length = 25_400_000

	Femtonewton Force = 1
	Newton      Force = 1_000_000_000_000_000
	PoundForce  Force = 4_448_221_615_260_500

	Degree Angle = 1_000_000

	Second Time = 1_000_000_000

	SquareMillimetre Area = 1_000_000_000_000
	SquareMetre      Area = 1_000_000_000_000_000_000
)

// Metres gives the length in metres, for physics only.
func (l Length) Metres() float64 { return float64(l) / float64(Metre) }

// OfMetres is the length nearest to so many metres: what Metres gave, given back exactly.
func OfMetres(m float64) Length { return Length(math.Round(m * float64(Metre))) }

// Newtons gives the force in newtons, for physics only.
func (f Force) Newtons() float64 { return float64(f) / float64(Newton) }

// Degrees gives the angle in degrees.
func (a Angle) Degrees() float64 { return float64(a) / float64(Degree) }

// Kind is what a value measures.
type Kind string

// The kinds that a spec or a rulebook can hold.
const (
	KindLength      Kind = "length"
	KindForce       Kind = "force"
	KindAngle       Kind = "angle"
	KindPressure    Kind = "pressure"
	KindFlow        Kind = "flow"
	KindArea        Kind = "area"
	KindVolume      Kind = "volume"
	KindAirChange   Kind = "air change rate"
	KindDegreeDays  Kind = "number of degree days"
	KindShare       Kind = "share"
	KindTemperature Kind = "temperature"
	KindDuration    Kind = "duration"
	KindTime        Kind = "time"
	KindSlope       Kind = "slope"
	KindModulus     Kind = "modulus"
	KindMass        Kind = "mass" // only to say what a wrong unit is
	KindNumber      Kind = "number"
)

// unit converts to a kind's base unit: base = value*scale + offset.
type unit struct {
	name   string
	kind   Kind
	scale  *big.Rat
	offset *big.Rat
}

func rat(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic("quantity: bad constant " + s)
	}
	return r
}

// kindInfo says how a kind is written: its first unit is the one of a bare number.
type kindInfo struct {
	units   []string
	example string
}

// Conversion factors are exact by definition (international inch and pound, 1959; ISO 80000)
// except inH2O, the conventional 249.08891 Pa of water at 4 C.
var units = map[string]unit{
	"mm": {"mm", KindLength, rat("1000000"), nil},
	"cm": {"cm", KindLength, rat("10000000"), nil},
	"m":  {"m", KindLength, rat("1000000000"), nil},
	"in": {"in", KindLength, rat("25400000"), nil},
	"ft": {"ft", KindLength, rat("304800000"), nil},

	"N":   {"N", KindForce, rat("1000000000000000"), nil},
	"lbf": {"lbf", KindForce, rat("4448221615260500"), nil},
	"kgf": {"kgf", KindForce, rat("9806650000000000"), nil},

	"deg": {"deg", KindAngle, rat("1000000"), nil},

	"Pa":    {"Pa", KindPressure, rat("1"), nil},
	"kPa":   {"kPa", KindPressure, rat("1000"), nil},
	"psf":   {"psf", KindPressure, rat("4448221615260500/92903040000000"), nil},
	"inH2O": {"inH2O", KindPressure, rat("249.08891"), nil},

	"GPa": {"GPa", KindModulus, rat("1000000000"), nil},
	"MPa": {"MPa", KindModulus, rat("1000000"), nil},

	// base m3/s
	"L/s":  {"L/s", KindFlow, rat("1/1000"), nil},
	"m3/h": {"m3/h", KindFlow, rat("1/3600"), nil},
	"m3/s": {"m3/s", KindFlow, rat("1"), nil},
	"cfm":  {"cfm", KindFlow, rat("28316846592/60000000000000"), nil},

	"mm2": {"mm2", KindArea, rat("1/1000000"), nil},
	"cm2": {"cm2", KindArea, rat("1/10000"), nil},
	"m2":  {"m2", KindArea, rat("1"), nil},
	"in2": {"in2", KindArea, rat("0.00064516"), nil},
	"ft2": {"ft2", KindArea, rat("0.09290304"), nil},

	"m3":  {"m3", KindVolume, rat("1"), nil},
	"ft3": {"ft3", KindVolume, rat("0.028316846592"), nil},

	"1/h": {"1/h", KindAirChange, rat("1"), nil},

	"K d": {"K d", KindDegreeDays, rat("1"), nil},
	"F d": {"F d", KindDegreeDays, rat("5/9"), nil},
	"%":   {"%", KindShare, rat("1/100"), nil},

	"C": {"C", KindTemperature, rat("1"), nil},
	"F": {"F", KindTemperature, rat("5/9"), rat("-160/9")},

	"years": {"years", KindDuration, rat("1"), nil},
	"year":  {"year", KindDuration, rat("1"), nil},

	"s":  {"s", KindTime, rat("1000000000"), nil},
	"ms": {"ms", KindTime, rat("1000000"), nil},

	"kg": {"kg", KindMass, nil, nil},
	"g":  {"g", KindMass, nil, nil},
	"lb": {"lb", KindMass, nil, nil},
	"oz": {"oz", KindMass, nil, nil},
}

var kinds = map[Kind]kindInfo{
	KindLength:      {[]string{"mm", "cm", "m", "in", "ft"}, "13 mm, 1/2 in or 0.04 m"},
	KindForce:       {[]string{"N", "lbf", "kgf"}, "22.2 N or 5 lbf"},
	KindAngle:       {[]string{"deg"}, "30 deg"},
	KindPressure:    {[]string{"Pa", "kPa", "psf", "inH2O"}, "50 Pa"},
	KindFlow:        {[]string{"L/s", "m3/h", "m3/s", "cfm"}, "3.7 L/s or 8 cfm"},
	KindArea:        {[]string{"cm2", "mm2", "m2", "in2", "ft2"}, "12 cm2"},
	KindVolume:      {[]string{"m3", "ft3"}, "310 m3"},
	KindAirChange:   {[]string{"1/h"}, "0.6 1/h"},
	KindDegreeDays:  {[]string{"K d", "F d"}, "2900 K d"},
	KindShare:       {[]string{"%"}, "10 %"},
	KindTemperature: {[]string{"C", "F"}, "20 C"},
	KindDuration:    {[]string{"years", "year"}, "10 years"},
	KindTime:        {[]string{"s", "ms"}, "6 s"},
	KindModulus:     {[]string{"GPa", "MPa"}, "3.3 GPa"},
	KindSlope:       {[]string{"%"}, "1:50 or 2 %"},
	KindNumber:      {nil, "40"},
	KindDate:        {nil, "2025-07-29"},
}

// aliases are spellings that mean one unit beyond doubt.
var aliases = map[string]string{
	"°": "deg", "degrees": "deg", "degree": "deg", "°C": "C", "degC": "C", "°F": "F", "degF": "F",
	"inch": "in", "inches": "in", "\"": "in", "feet": "ft", "foot": "ft",
	"m³/h": "m3/h", "m³/s": "m3/s", "l/s": "L/s", "CFM": "cfm", "cm²": "cm2", "mm²": "mm2", "m²": "m2", "m³": "m3", "/h": "1/h", "ft²": "ft2", "K·d": "K d", "Kd": "K d", "F·d": "F d",
}

// Allowed says in words what a value of the kind looks like.
func (k Kind) Allowed() string {
	info := kinds[k]
	switch {
	case k == KindDate:
		return "a date such as " + info.example
	case info.units == nil:
		return fmt.Sprintf("a number such as %s", info.example)
	}
	return fmt.Sprintf("%s %s such as %s", article(string(k)), k, info.example)
}

func article(word string) string {
	if word != "" && strings.ContainsRune("aeiou", rune(word[0])) {
		return "an"
	}
	return "a"
}

// Error says what is wrong with a written value and what to do.
type Error struct {
	Found string // the value as written, with what it is
	Do    string // what to write instead
}

func (e *Error) Error() string { return e.Found + ": " + e.Do }

// parse splits a written value into its exact number in the kind's base unit.
func parse(kind Kind, text string) (*big.Rat, error) {
	trimmed := strings.TrimSpace(text)
	number, name := split(trimmed)
	value, ok := parseNumber(number)
	if !ok {
		return nil, &Error{fmt.Sprintf("%q", text), "write " + kind.Allowed()}
	}
	if full, ok := aliases[name]; ok {
		name = full
	}
	info := kinds[kind]
	if name == "" {
		if info.units == nil {
			return value, nil
		}
		name = info.units[0]
	} else if info.units == nil {
		return nil, &Error{fmt.Sprintf("%q", text), "write a number without a unit"}
	}
	u, known := units[name]
	switch {
	case name == "lb" && kind == KindForce:
		return nil, &Error{fmt.Sprintf("%q", text), "a pound of force is written lbf: " + number + " lbf"}
	case strings.HasPrefix(name, ","):
		return nil, &Error{fmt.Sprintf("%q", text), "write a decimal point, as in 12.7 mm"}
	case !known:
		return nil, &Error{fmt.Sprintf("%q, unit %q", text, name), "write the unit as " + list(info.units)}
	case u.kind != kind:
		return nil, &Error{fmt.Sprintf("%q, which is %s %s", text, article(string(u.kind)), u.kind), "write the unit as " + list(info.units)}
	}
	out := new(big.Rat).Mul(value, u.scale)
	if u.offset != nil {
		out.Add(out, u.offset)
	}
	return out, nil
}

// split parts "1 1/2 in" into "1 1/2" and "in".
func split(s string) (number, unit string) {
	end := 0
	for i, r := range s {
		if (r >= '0' && r <= '9') || strings.ContainsRune("+-./ ", r) {
			end = i + 1
			continue
		}
		break
	}
	number = s[:end]
	// "1/h" begins with figures: the unit of "0.6 1/h".
	if rest, ok := strings.CutSuffix(strings.TrimSpace(s), "1/h"); ok {
		return strings.TrimSpace(rest), "1/h"
	}
	// So does "/h", which is short for it.
	if rest, ok := strings.CutSuffix(strings.TrimSpace(s), "/h"); ok && end == len(s)-1 {
		return strings.TrimSpace(rest), "/h"
	}
	return strings.TrimSpace(number), strings.TrimSpace(s[end:])
}

// maxDigits bounds a written number; no door needs more.
const maxDigits = 40

// parseNumber reads "13", "12.7", "1/2" and "1 1/2".
func parseNumber(s string) (*big.Rat, bool) {
	if len(s) > maxDigits {
		return nil, false
	}
	sign := 1
	body := s
	if rest, ok := strings.CutPrefix(s, "-"); ok {
		sign, body = -1, rest
	} else if rest, ok := strings.CutPrefix(s, "+"); ok {
		body = rest
	}
	total := new(big.Rat)
	fields := strings.Fields(body)
	if len(fields) == 0 || len(fields) > 2 {
		return nil, false
	}
	for i, f := range fields {
		whole := len(fields) == 2 && i == 0
		fraction := strings.Contains(f, "/")
		if (whole && !digits(f)) || (len(fields) == 2 && i == 1 && !fraction) {
			return nil, false
		}
		if fraction {
			n, d, _ := strings.Cut(f, "/")
			if !digits(n) || !digits(d) || strings.Trim(d, "0") == "" {
				return nil, false
			}
			// A 0 before the figures of a fraction would be taken for the sign of an octal number.
			f = strings.TrimLeft(n, "0") + "/" + strings.TrimLeft(d, "0")
			if f[0] == '/' {
				f = "0" + f
			}
		} else if !decimal(f) {
			return nil, false
		}
		r, ok := new(big.Rat).SetString(f)
		if !ok {
			return nil, false
		}
		total.Add(total, r)
	}
	if sign < 0 {
		total.Neg(total)
	}
	return total, true
}

func digits(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

func decimal(s string) bool {
	whole, fraction, dot := strings.Cut(s, ".")
	if !dot {
		return digits(whole)
	}
	return digits(whole) && digits(fraction)
}

func list(names []string) string {
	if len(names) == 1 {
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1]
}

// ParseSI reads a value of another kind into its base unit: Pa, m3/s, m2, m3, 1/h, C, years.
func ParseSI(kind Kind, text string) (float64, error) {
	var w written
	if w.read(text) {
		if out, ok := w.float(quickUnits[kind]); ok {
			return out, nil
		}
	}
	value, err := parse(kind, text)
	if err != nil {
		return 0, err
	}
	out, _ := value.Float64()
	if out > 1e12 || out < -1e12 {
		return 0, &Error{fmt.Sprintf("%q, far beyond any door", text), "check the number and its unit"}
	}
	return out, nil
}

// Units lists the units that a kind may be written in, the one of a bare number first.
func (k Kind) Units() []string { return slices.Clone(kinds[k].units) }
