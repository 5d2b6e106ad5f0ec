// Package flowtest is the way from a file of flow readings to its fit and to a seal entry: readings, air, fit, correction, pooling.
package flowtest

import (
	"errors"
	"fmt"

	"sillwright/engine/air"
	"sillwright/engine/fit"
	"sillwright/schema"
	"sillwright/schema/readings"
)

// Test is one file of readings, fitted.
type Test struct {
	File       *readings.File
	Result     *fit.Result
	Conditions *fit.Conditions // nil: nothing is said of the air
	Method     fit.Method
	Corrected  *fit.Power // in standard air; nil where nothing is said of the air
	Standard   *fit.Pair
	Warnings   []Warning
}

// Warning is what stands against a fit without preventing it.
type Warning struct {
	ID string
	schema.Problem
}

// Metres is the length of seal in the test; 0 where it is not said.
func (t *Test) Metres() float64 { return t.File.Length.Metres() }

// New fits a file, the rig's own leakage taken off where it was tested blank by itself. method may be empty: the file's own, or else
// the default. It is nil where the readings carry no fit.
func New(f, blank *readings.File, method string) (*Test, []schema.Problem) {
	t := &Test{File: f}
	problems := t.method(method)
	if p, bad := t.air(); bad {
		problems = append(problems, p)
	}
	if blank != nil && f.Blanks != nil {
		problems = append(problems, f.Problem("", -1, "a column of blank flows beside a blank test of its own", "one of the two", "take the column out, or leave the blank test out"))
	}
	if len(problems) > 0 {
		return nil, problems
	}
	in := of(f)
	if blank != nil {
		own := of(blank)
		in.Blank = &own
	}
	result, err := fit.Of(in)
	var refused fit.Refusal
	switch {
	case errors.As(err, &refused):
		for _, n := range refused {
			problems = append(problems, f.Problem("", n.Reading, n.Found, n.Allowed, n.Do))
		}
		return nil, problems
	case err != nil:
		return nil, []schema.Problem{f.Problem("", -1, err.Error(), "readings that a law can be fitted to", "look at the readings")}
	}
	t.Result = result
	for _, n := range result.Notes {
		t.warn(n.ID, "", n.Reading, n.Found, n.Allowed, n.Do)
	}
	t.directed()
	return t, t.correct()
}

func (t *Test) warn(id, key string, reading int, found, allowed, do string) {
	t.Warnings = append(t.Warnings, Warning{id, t.File.Problem(key, reading, found, allowed, do)})
}

// of is what the fit needs of a file.
func of(f *readings.File) fit.Readings {
	return fit.Readings{
		Drops: f.Drops, Flows: f.Flows, Blanks: f.Blanks, Zero: zero(f), FlowError: f.FlowError.Value, PressureError: f.PressureError.Value, PressurePart: f.PressurePart.Value,
	}
}

// Zero is the mean drop without flow, Pa, which is taken off every drop.
func (t *Test) Zero() float64 {
	z := zero(t.File)
	return (z[0] + z[1]) / 2
}

// zero is the drop without flow before and after; one that was not read is as the other.
func zero(f *readings.File) [2]float64 {
	before, after := f.Zero[0], f.Zero[1]
	switch {
	case !before.Known:
		before = after
	case !after.Known:
		after = before
	}
	return [2]float64{before.Value, after.Value}
}

func (t *Test) method(flag string) []schema.Problem {
	word, key := flag, ""
	if word == "" {
		word, key = t.File.Method, "method"
	}
	if word == "" {
		word = string(fit.ASTME779)
	}
	t.Method = fit.Method(word)
	for _, m := range fit.Methods {
		if m == word {
			return nil
		}
	}
	return []schema.Problem{t.File.Problem(key, -1, fmt.Sprintf("method %q", word), schema.Choices(word, fit.Methods), "write one of these")}
}

// air finds the air of the test from what is said of it: what is not said is 20 C, or sea level.
func (t *Test) air() (schema.Problem, bool) {
	f := t.File
	if !f.Temperature.Known && !f.Inside.Known && !f.Altitude.Known && !f.Barometric.Known {
		return schema.Problem{}, false
	}
	pressure, key, err := f.Barometric.Value, "barometric pressure", error(nil)
	if !f.Barometric.Known {
		key = "altitude"
		if pressure, err = air.Pressure(f.Altitude.Value); err != nil {
			return f.Problem(key, -1, err.Error(), "air as it is at a test", "check the height above the sea"), true
		}
	}
	at := func(temperature float64, name string) (air.Air, schema.Problem, bool) {
		a, err := air.At(temperature, pressure)
		if err == nil {
			return a, schema.Problem{}, false
		}
		if temperature >= air.MinTemperature && temperature <= air.MaxTemperature {
			name = key
		}
		return a, f.Problem(name, -1, err.Error(), "air as it is at a test", "check the value and its unit"), true
	}
	if !f.Inside.Known {
		temperature := 20.0
		if f.Temperature.Known {
			temperature = f.Temperature.Value
		}
		a, p, bad := at(temperature, "temperature")
		t.Conditions = &fit.Conditions{Metered: a, Sample: a}
		return p, bad
	}
	inside, p, bad := at(f.Inside.Value, "temperature inside")
	if bad {
		return p, bad
	}
	outside, p, bad := at(f.Outside.Value, "temperature outside")
	if bad {
		return p, bad
	}
	direction := f.Direction
	if direction == "" && allBelow(f.Drops) {
		direction = readings.Depressurise
	}
	if direction == "" {
		return f.Problem("temperature inside", -1, "air of two temperatures and no direction", "direction: pressurise or depressurise", "say which way the air went: it tells which of them passed the seal"), true
	}
	c := fit.Between(inside, outside, direction == readings.Pressurise)
	t.Conditions = &c
	return schema.Problem{}, false
}

func allBelow(drops []float64) bool {
	for _, dp := range drops {
		if dp >= 0 {
			return false
		}
	}
	return true
}

// directed holds the sign of the readings against what is said of the direction.
func (t *Test) directed() {
	if t.Result.Turned && t.File.Direction == readings.Pressurise {
		t.warn("direction", "direction", -1, "pressures below 0 of a test that pressurises", "pressures above 0", "check the direction: it tells which air passed the seal")
	}
}

// correct takes both laws to standard air.
func (t *Test) correct() []schema.Problem {
	f := t.File
	if t.Conditions == nil {
		return nil
	}
	if !f.Altitude.Known && !f.Barometric.Known {
		t.warn("air", "temperature", -1, "a temperature without altitude or barometric pressure", "one of the two", "sea level is taken; 300 m are 2 % of a turbulent leak's air")
	}
	if !f.Temperature.Known && !f.Inside.Known {
		t.warn("air", "altitude", -1, "no temperature", "the temperature of the air at the test", "20 C is taken; 10 C are 3 % of the air's density")
	}
	power, err := t.Result.Power.Corrected(t.Method, *t.Conditions)
	if err != nil {
		return []schema.Problem{f.Problem("method", -1, err.Error(), "a method that is known", "write one of them")}
	}
	pair := t.Result.Pair.Corrected(*t.Conditions)
	t.Corrected, t.Standard = &power, &pair
	return nil
}
