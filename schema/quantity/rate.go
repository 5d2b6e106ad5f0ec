package quantity

import "math/big"

// FlowPerArea is an exact flow through each unit of area, in nanometres an hour: 1 m3/(h m2) is 1e9 of them, 1 cfm/ft2 is
// 18 288 000 000.
type FlowPerArea int64

// FlowPerLength is an exact flow through each unit of length, in square micrometres an hour: 1 m3/(h m) is 1e12 of them.
type FlowPerLength int64

// Pressure is an exact pressure in micropascals.
type Pressure int64

// Pascal is one pascal.
const Pascal Pressure = 1_000_000

// The kinds of a rate.
const (
	KindFlowPerArea   Kind = "flow per area"
	KindFlowPerLength Kind = "flow per length"
)

const (
	maxRate     = int64(1e18) // 1e9 m/h, 1e6 m2/h
	maxPressure = 1_000_000 * Pascal
)

// Bases: nanometres an hour and square micrometres an hour. 1 cfm/ft2 is 0.3048 m/min, 1 cfm/ft is 0.09290304 m2/min.
func init() {
	for _, u := range []unit{
		{"cfm/ft2", KindFlowPerArea, rat("18288000000"), nil},
		{"L/(s m2)", KindFlowPerArea, rat("3600000000"), nil},
		{"m3/(h m2)", KindFlowPerArea, rat("1000000000"), nil},
		{"cfm/ft", KindFlowPerLength, rat("5574182400000"), nil},
		{"L/(s m)", KindFlowPerLength, rat("3600000000000"), nil},
		{"m3/(h m)", KindFlowPerLength, rat("1000000000000"), nil},
	} {
		units[u.name] = u
	}
	for alias, name := range map[string]string{"L/(s·m2)": "L/(s m2)", "m3/(h·m2)": "m3/(h m2)", "m³/(h m²)": "m3/(h m2)", "m³/(h·m²)": "m3/(h m2)", "m3/(h·m)": "m3/(h m)", "L/(s·m)": "L/(s m)"} {
		aliases[alias] = name
	}
	kinds[KindFlowPerArea] = kindInfo{[]string{"m3/(h m2)", "L/(s m2)", "cfm/ft2"}, "9 m3/(h m2) or 0.5 cfm/ft2"}
	kinds[KindFlowPerLength] = kindInfo{[]string{"m3/(h m)", "L/(s m)", "cfm/ft"}, "2.25 m3/(h m)"}
}

// ParseFlowPerArea reads a rate such as "0.5 cfm/ft2"; a bare number is in m3/(h m2).
func ParseFlowPerArea(text string) (FlowPerArea, error) {
	value, err := parse(KindFlowPerArea, text)
	if err != nil {
		return 0, err
	}
	n, err := whole(text, value, maxRate, "a nanometre an hour")
	return FlowPerArea(n), err
}

// PerHour gives the rate in m3/(h m2).
func (f FlowPerArea) PerHour() float64 { return float64(f) / 1e9 }

// ParseFlowPerLength reads a rate such as "2.25 m3/(h m)"; a bare number is in m3/(h m).
func ParseFlowPerLength(text string) (FlowPerLength, error) {
	value, err := parse(KindFlowPerLength, text)
	if err != nil {
		return 0, err
	}
	n, err := whole(text, value, maxRate, "a square micrometre an hour")
	return FlowPerLength(n), err
}

// PerHour gives the rate in m3/(h m).
func (f FlowPerLength) PerHour() float64 { return float64(f) / 1e12 }

// ParsePressure reads a pressure such as "75 Pa"; a bare number is in pascals.
func ParsePressure(text string) (Pressure, error) {
	value, err := parse(KindPressure, text)
	if err != nil {
		return 0, err
	}
	n, err := whole(text, value.Mul(value, new(big.Rat).SetInt64(int64(Pascal))), int64(maxPressure), "a micropascal")
	return Pressure(n), err
}

// Pa writes the pressure in pascals without loss.
func (p Pressure) Pa() string { return fixed(int64(p), 6) }

// RateUnit gives the unit in which a rate is written, as in "cfm/ft2"; false for a text that is none.
func RateUnit(text string) (string, bool) {
	_, name := split(text)
	if full, ok := aliases[name]; ok {
		name = full
	}
	_, ok := Rate(name)
	return name, ok
}

// Rate gives how many nanometres, or square micrometres, an hour one unit of a rate is.
func Rate(unit string) (int64, bool) {
	u, ok := units[unit]
	if !ok || (u.kind != KindFlowPerArea && u.kind != KindFlowPerLength) {
		return 0, false
	}
	return u.scale.Num().Int64(), true
}
