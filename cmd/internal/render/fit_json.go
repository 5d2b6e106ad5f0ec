package render

import (
	"io"
	"slices"
	"strconv"

	"sillwright/cmd/internal/flowtest"
	"sillwright/engine/doubt"
	"sillwright/engine/fit"
)

// fitDrops are the drops that flows are told at, Pa.
var fitDrops = []float64{4, 10, 50, 100}

// lawJSON is a fit as it stands for a whole sample or a metre of it.
type lawJSON struct {
	Coefficient      ten          `json:"coefficient"`
	CoefficientLow   ten          `json:"coefficient_low"`
	CoefficientHigh  ten          `json:"coefficient_high"`
	CoefficientError ten          `json:"coefficient_error"`
	CoefficientUnit  string       `json:"coefficient_unit"`
	Exponent         ten          `json:"exponent"`
	ExponentLow      ten          `json:"exponent_low"`
	ExponentHigh     ten          `json:"exponent_high"`
	ExponentError    ten          `json:"exponent_error"`
	Pair             pairJSON     `json:"pair"`
	Flows            []atDropJSON `json:"flows"`
}

type pairJSON struct {
	Viscous       ten     `json:"viscous"`
	ViscousLow    ten     `json:"viscous_low"`
	ViscousHigh   ten     `json:"viscous_high"`
	ViscousError  ten     `json:"viscous_error"`
	ViscousUnit   string  `json:"viscous_unit"`
	Inertial      ten     `json:"inertial"`
	InertialLow   ten     `json:"inertial_low"`
	InertialHigh  ten     `json:"inertial_high"`
	InertialError ten     `json:"inertial_error"`
	InertialUnit  string  `json:"inertial_unit"`
	Held          *string `json:"held"`
}

type bandJSON struct {
	Flow ten `json:"flow"`
	Low  ten `json:"low"`
	High ten `json:"high"`
}

type atDropJSON struct {
	At ten `json:"at_pa"`
	bandJSON
	Pair         bandJSON `json:"pair"`
	Extrapolated bool     `json:"extrapolated"`
}

type fitJSON struct {
	Format string `json:"format"`
	MadeBy struct {
		Version string `json:"version"`
	} `json:"made_by"`
	Source   fitSourceJSON `json:"source"`
	Points   int           `json:"points"`
	Pressure struct {
		Least ten `json:"least_pa"`
		Most  ten `json:"most_pa"`
	} `json:"pressure"`
	FlowUnit string `json:"flow_unit"`
	lawJSON
	R2        ten              `json:"r2"`
	Scatter   ten              `json:"scatter"`
	Direct    directJSON       `json:"direct"`
	Corrected *correctedJSON   `json:"corrected"`
	PerMetre  *perMetreJSON    `json:"per_metre"`
	Blank     *blankJSON       `json:"blank"`
	Readings  []fitReadingJSON `json:"readings"`
	Warnings  []warningJSON    `json:"warnings"`
}

type fitSourceJSON struct {
	File      string   `json:"file"`
	Title     string   `json:"title,omitempty"`
	Seal      string   `json:"seal,omitempty"`
	Like      string   `json:"like,omitempty"`
	From      string   `json:"from,omitempty"`
	Floor     string   `json:"floor,omitempty"`
	Direction string   `json:"direction,omitempty"`
	Overlap   *ten     `json:"overlap_mm,omitempty"`
	Length    *ten     `json:"length_m,omitempty"`
	Ignored   []string `json:"columns_left_out,omitempty"`
}

type directJSON struct {
	Coefficient      ten `json:"coefficient"`
	CoefficientError ten `json:"coefficient_error"`
	Exponent         ten `json:"exponent"`
	ExponentError    ten `json:"exponent_error"`
}

type correctedJSON struct {
	Method  fit.Method `json:"method"`
	Formula string     `json:"formula"`
	Air     struct {
		Metered   ten `json:"metered_density"`
		Sample    ten `json:"sample_density"`
		Viscosity ten `json:"sample_viscosity"`
	} `json:"air"`
	lawJSON
}

type perMetreJSON struct {
	Standard bool `json:"in_standard_air"`
	lawJSON
}

type blankJSON struct {
	How         string `json:"how"`
	Share       ten    `json:"largest_share"`
	Coefficient *ten   `json:"coefficient,omitempty"`
	Exponent    *ten   `json:"exponent,omitempty"`
}

type fitReadingJSON struct {
	Line        int `json:"line"`
	Pressure    ten `json:"pressure_pa"`
	Flow        ten `json:"flow"`
	Whole       ten `json:"whole"`
	Residual    ten `json:"residual"`
	Studentised ten `json:"studentised"`
}

type warningJSON struct {
	ID      string `json:"id"`
	Found   string `json:"found"`
	Allowed string `json:"allowed"`
	Do      string `json:"do"`
	Line    int    `json:"line"`
}

// ten is a number of ten figures: more than readings tell, and the same wherever it is computed.
type ten float64

func (t ten) MarshalJSON() ([]byte, error) {
	v, err := strconv.ParseFloat(strconv.FormatFloat(float64(t), 'e', 9, 64), 64)
	if err != nil {
		return nil, err
	}
	return strconv.AppendFloat(nil, v, 'g', -1, 64), nil
}

// FitJSON writes a fit as one line of JSON.
func FitJSON(w io.Writer, t *flowtest.Test, by MadeBy) error {
	r, f, u := t.Result, t.File, fitUnit(t)
	out := fitJSON{
		Format: "sillwright/fit/1", Points: len(r.Drops), FlowUnit: u.name, lawJSON: lawOf(t, r.Power, r.Pair, u, ""), R2: ten(r.R2), Scatter: ten(r.Scatter),
		Source: fitSourceJSON{File: f.Name, Title: f.Title, Seal: f.Seal, Like: f.Like, From: f.From, Floor: f.Floor, Direction: f.Direction, Ignored: f.Ignored},
		Direct: directJSON{ten(r.Direct.C * u.per), ten(r.Direct.ErrorC * u.per), ten(r.Direct.N), ten(r.Direct.ErrorN)},
	}
	out.MadeBy.Version = by.Version
	least, most := r.Span()
	out.Pressure.Least, out.Pressure.Most = ten(least), ten(most)
	if f.HasOverlap {
		v := ten(1000 * f.Overlap.Metres())
		out.Source.Overlap = &v
	}
	if f.Length > 0 {
		v := ten(f.Length.Metres())
		out.Source.Length = &v
	}
	if t.Corrected != nil {
		out.Corrected = &correctedJSON{Method: t.Method, Formula: t.Method.Formula(), lawJSON: lawOf(t, *t.Corrected, *t.Standard, u, "")}
		a := &out.Corrected.Air
		a.Metered, a.Sample, a.Viscosity = ten(t.Conditions.Metered.Density), ten(t.Conditions.Sample.Density), ten(t.Conditions.Sample.Viscosity)
	}
	if f.Length > 0 {
		power, pair := perMetre(t)
		out.PerMetre = &perMetreJSON{Standard: t.Corrected != nil, lawJSON: lawOf(t, power, pair, u, "m ")}
	}
	out.Blank = blankOf(t, u)
	for i, dp := range r.Drops {
		out.Readings = append(out.Readings, fitReadingJSON{f.Spans[i].Start.Line, ten(dp), ten(r.Flows[i] * u.per), ten(r.Whole[i] * u.per), ten(r.Residuals[i]), ten(r.Studentised[i])})
	}
	out.Warnings = []warningJSON{}
	for _, n := range t.Warnings {
		out.Warnings = append(out.Warnings, warningJSON{n.ID, n.Found, n.Allowed, n.Do, n.Span.Start.Line})
	}
	return line(w, out)
}

// perMetre is both laws of a metre of seal, in standard air where that of the test is known.
func perMetre(t *flowtest.Test) (fit.Power, fit.Pair) {
	power, pair := t.Result.Power, t.Result.Pair
	if t.Corrected != nil {
		power, pair = *t.Corrected, *t.Standard
	}
	return power.Over(t.Metres()), pair.Over(t.Metres())
}

// lawOf writes both laws; metre is "m " for those of a metre.
func lawOf(t *flowtest.Test, power fit.Power, pair fit.Pair, u flowUnit, metre string) lawJSON {
	c, n := power.Coefficient(), power.Exponent()
	ofLnC, ofN := power.Errors()
	out := lawJSON{
		Coefficient: ten(c.Likely * u.per), CoefficientLow: ten(c.Low * u.per), CoefficientHigh: ten(c.High * u.per), CoefficientError: ten(c.Likely * ofLnC * u.per), CoefficientUnit: coefficientUnit(u, metre),
		Exponent: ten(n.Likely), ExponentLow: ten(n.Low), ExponentHigh: ten(n.High), ExponentError: ten(ofN),
	}
	a, b := pair.Coefficients()
	ofA, ofB := pair.Errors()
	out.Pair = pairJSON{
		Viscous: ten(a.Likely), ViscousLow: ten(a.Low), ViscousHigh: ten(a.High), ViscousError: ten(ofA), ViscousUnit: "Pa s/m3",
		Inertial: ten(b.Likely), InertialLow: ten(b.Low), InertialHigh: ten(b.High), InertialError: ten(ofB), InertialUnit: "Pa s2/m6",
	}
	if metre != "" {
		out.Pair.ViscousUnit, out.Pair.InertialUnit = "Pa s/m2", "Pa s2/m4"
	}
	if held := map[string]string{"A": "viscous", "B": "inertial"}[pair.Held()]; held != "" {
		out.Pair.Held = &held
	}
	for _, dp := range fitDrops {
		out.Flows = append(out.Flows, atDropJSON{ten(dp), band(power.Flow(dp), u), band(pair.Flow(dp), u), t.Result.Extrapolated(dp)})
	}
	return out
}

func band(r doubt.Range, u flowUnit) bandJSON {
	return bandJSON{ten(r.Likely * u.per), ten(r.Low * u.per), ten(r.High * u.per)}
}

func blankOf(t *flowtest.Test, u flowUnit) *blankJSON {
	r := t.Result
	if r.Blanks == nil {
		return nil
	}
	out := &blankJSON{How: "at the same pressures", Share: ten(largestShare(r))}
	if r.BlankLaw != nil {
		c, n := ten(r.BlankLaw.C*u.per), ten(r.BlankLaw.N)
		out.How, out.Coefficient, out.Exponent = "by its own power law", &c, &n
	}
	return out
}

// largestShare is the part of the flow that the rig passes, where that is largest.
func largestShare(r *fit.Result) float64 {
	most := 0.0
	for i, b := range r.Blanks {
		most = max(most, b/r.Whole[i])
	}
	return most
}

// fitUnit is the unit that the file has its flows in.
func fitUnit(t *flowtest.Test) flowUnit {
	units := []flowUnit{{"L/s", 1000}, {"m3/h", 3600}, {"m3/s", 1}, {"cfm", 60 / 0.028316846592}}
	i := slices.IndexFunc(units, func(u flowUnit) bool { return u.name == t.File.FlowUnit })
	return units[max(i, 0)]
}

func coefficientUnit(u flowUnit, metre string) string {
	switch {
	case u.name != "cfm":
		return u.name[:len(u.name)-1] + "(" + u.name[len(u.name)-1:] + " " + metre + "Pa^n)"
	case metre != "":
		return "cfm/(m Pa^n)"
	}
	return "cfm/Pa^n"
}
