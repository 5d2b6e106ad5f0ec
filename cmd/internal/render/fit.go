package render

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"sillwright/cmd/internal/flowtest"
	"sillwright/engine/doubt"
	"sillwright/engine/fit"
)

// FitText writes a fit for a person: what was tested, both laws with their limits, what they pass at some pressures, a metre of it in
// standard air, and what stands against it.
func FitText(w io.Writer, t *flowtest.Test, colour bool) error {
	p := &page{colour: colour}
	p.tested(t)
	p.powerLaw(t)
	p.pairLaw(t)
	u := fitUnit(t)
	p.flows("FLOW, "+u.name+", the whole sample as measured", t, t.Result.Power, t.Result.Pair, u)
	p.standard(t)
	p.metre(t)
	p.warnings(t)
	p.fitCautions(t)
	_, err := io.WriteString(w, p.b.String())
	return err
}

// tested says what was read, and what was taken off it.
func (p *page) tested(t *flowtest.Test) {
	f, r := t.File, t.Result
	least, most := r.Span()
	p.sides("", f.Name, fmt.Sprintf("%s, %.4g to %.4g Pa", plural(len(r.Drops), "reading", "readings"), least, most), bold)
	var what []string
	for _, part := range []string{f.Title, name("seal ", f.Seal), name("like ", f.Like)} {
		if part != "" {
			what = append(what, part)
		}
	}
	if f.Length > 0 {
		what = append(what, f.Length.MM()+" mm of seal")
	}
	if f.HasOverlap {
		what = append(what, "overlap "+f.Overlap.MM()+" mm")
	}
	what = append(what, "on "+floorWords(f.Floor))
	if f.Direction != "" {
		what = append(what, f.Direction+"d")
	}
	p.text("", "Tested: "+strings.Join(what, ", ")+".")
	if f.From != "" {
		p.text("", "From: "+f.From)
	}
	if z := t.Zero(); z != 0 {
		p.text("", fmt.Sprintf("Taken off every pressure: %.3g Pa, the mean without flow before and after.", z))
	}
	if r.Blanks != nil {
		how := "read beside each flow"
		if r.BlankLaw != nil {
			how = fmt.Sprintf("by its own power law, exponent %.3f", r.BlankLaw.N)
		} else if f.Blanks == nil {
			how = "read at the same pressures"
		}
		p.text("", fmt.Sprintf("Taken off every flow: what the rig passes by itself, %s; at most %.0f %% of the flow.", how, 100*largestShare(r)))
	}
	if len(f.Ignored) > 0 {
		p.text("", "Columns left out: "+strings.Join(f.Ignored, ", ")+".")
	}
}

func name(before, s string) string {
	if s == "" {
		return ""
	}
	return before + s
}

func floorWords(floor string) string {
	if floor == "" || floor == "smooth" {
		return "a smooth plate"
	}
	return floor
}

func (p *page) powerLaw(t *flowtest.Test) {
	r, u := t.Result, fitUnit(t)
	p.heading("POWER LAW q = C dp^n, least squares in logarithms", "95 % limits")
	ofLnC, ofN := r.Power.Errors()
	c := r.Power.Coefficient()
	p.law("n", r.Power.Exponent(), "", fmt.Sprintf("standard error %s", figures(ofN, 2)))
	p.law("C", scaledBy(c, u.per), coefficientUnit(u, ""), fmt.Sprintf("standard error %s", percent(ofLnC)))
	p.text("    ", fmt.Sprintf("r2 %.5f; readings lie %s off it (standard deviation). Least squares of the flows as they are: n %.3f, C %s.", r.R2, percent(r.Scatter), r.Direct.N, figures(r.Direct.C*u.per, 4)))
}

func (p *page) pairLaw(t *flowtest.Test) {
	p.heading("QUADRATIC PAIR dp = A q + B q^2, q in m3/s", "95 % limits")
	a, b := t.Result.Pair.Coefficients()
	ofA, ofB := t.Result.Pair.Errors()
	p.law("A", a, "Pa s/m3", "standard error "+figures(ofA, 2))
	p.law("B", b, "Pa s2/m6", "standard error "+figures(ofB, 2))
}

// law writes a parameter with its limits.
func (p *page) law(name string, r doubt.Range, unit, more string) {
	text := "    " + left(name, 4) + pad(figures(r.Likely, 4), 12) + pad(figures(r.Low, 4)+" to "+figures(r.High, 4), 26) + pad(unit, 14) + more
	p.b.WriteString(strings.TrimRight(text, " ") + "\n")
}

func scaledBy(r doubt.Range, by float64) doubt.Range {
	return doubt.Between(r.Low*by, r.Likely*by, r.High*by)
}

// flows tells what both laws pass at some drops.
func (p *page) flows(title string, t *flowtest.Test, power fit.Power, pair fit.Pair, u flowUnit) {
	p.heading(title, "95 % limits")
	p.b.WriteString("    " + left("at", 12) + left("by the power law", 34) + "by the pair\n")
	outside := false
	for _, dp := range fitDrops {
		mark := ""
		if t.Result.Extrapolated(dp) {
			mark, outside = " *", true
		}
		text := "    " + left(fmt.Sprintf("%g Pa%s", dp, mark), 12) + pad(between(power.Flow(dp), u), 34) + between(pair.Flow(dp), u)
		p.b.WriteString(text + "\n")
	}
	if outside {
		least, most := t.Result.Span()
		p.text("    * ", fmt.Sprintf("outside the readings, %.4g to %.4g Pa: limits hold only as far as the law does. What the two laws differ by is the least that is not known.", least, most))
	}
}

func between(r doubt.Range, u flowUnit) string {
	return pad(figures(r.Likely*u.per, 3), 9) + figures(r.Low*u.per, 3) + " to " + figures(r.High*u.per, 3)
}

// standard tells the correction to standard air.
func (p *page) standard(t *flowtest.Test) {
	if t.Corrected == nil {
		p.heading("STANDARD AIR: not corrected", "")
		p.text("    ", "The file says nothing of the air of the test: add `# temperature:` and `# altitude:` or `# barometric pressure:`. 10 C, or 300 m, are 2 to 4 % of the air's density.")
		return
	}
	u, c := fitUnit(t), t.Conditions
	p.heading("STANDARD AIR, 20 C and 101 325 Pa", string(t.Method))
	p.law("C", scaledBy(t.Corrected.Coefficient(), u.per), coefficientUnit(u, ""), fmt.Sprintf("%+.1f %%", 100*(t.Corrected.C/t.Result.Power.C-1)))
	a, b := t.Standard.Coefficients()
	p.law("A", a, "Pa s/m3", "")
	p.law("B", b, "Pa s2/m6", "")
	p.text("    ", fmt.Sprintf("C_0 = %s (from memory, not verified); A goes with the viscosity and B with the density, exactly. Air past the seal %.4f kg/m3, %.4g Pa s; in the meter %.4f kg/m3.",
		t.Method.Formula(), c.Sample.Density, c.Sample.Viscosity, c.Metered.Density))
}

// metre tells a metre of seal.
func (p *page) metre(t *flowtest.Test) {
	if t.File.Length <= 0 {
		return
	}
	u := fitUnit(t)
	in := ", in the air of the test"
	if t.Corrected != nil {
		in = ", in standard air"
	}
	power, pair := perMetre(t)
	p.flows("A METRE OF SEAL, "+u.name+in, t, power, pair, u)
	a, b := pair.Coefficients()
	p.law("A", a, "Pa s/m2", "q in m2/s")
	p.law("B", b, "Pa s2/m4", "")
}

func (p *page) warnings(t *flowtest.Test) {
	if len(t.Warnings) == 0 {
		return
	}
	p.heading("WARNINGS", "")
	for _, w := range t.Warnings {
		where := ""
		if w.Field != "" {
			where = fmt.Sprintf("line %d, ", w.Span.Start.Line)
		}
		p.text("  ! ", where+"found "+w.Found+"; asked for: "+w.Allowed+". Do: "+w.Do+".")
	}
}

// fitCautions says what limits and a test leave out.
func (p *page) fitCautions(t *flowtest.Test) {
	p.heading("CAUTIONS", "")
	if f := t.File; !f.FlowError.Known || (!f.PressureError.Known && !f.PressurePart.Known) {
		p.text("  ! ", "The limits hold the scatter of the readings, and of the meters only what the file says: `# flow error: 3 %`, `# pressure error: 0.5 Pa`. A meter that is off by as much at every reading shows in no scatter.")
	}
	p.text("  ! ", "This is one piece, as it was tested: not its ends at the jambs, not another piece, not a worn, dirty or wet one.")
	p.text("  ! ", "A test of leakage is no evidence for a fire door or a smoke door, and a tight door takes air from heaters and fans that count on it. Ask whoever is responsible for them before the seal is fitted.")
}

// figures writes a number with so many figures: 0.2405, 25 300, 2.53e+06.
func figures(v float64, n int) string {
	if v == 0 {
		return "0"
	}
	if size := math.Abs(v); size >= 1e-4 && size < 1e6 {
		places := n - 1 - int(math.Floor(math.Log10(size)))
		round := math.Pow(10, float64(places))
		return strconv.FormatFloat(math.Round(v*round)/round, 'f', max(places, 0), 64)
	}
	return strconv.FormatFloat(v, 'e', n-1, 64)
}

func percent(part float64) string { return figures(100*part, 2) + " %" }

// FitTogether tells what several tests of one seal at one overlap say of another piece.
func FitTogether(w io.Writer, tests []*flowtest.Test, colour bool) error {
	var some []*flowtest.Test
	for _, t := range tests {
		if t.File.Length > 0 && t.File.HasOverlap {
			some = append(some, t)
		}
	}
	p := &page{colour: colour}
	groups, problems := flowtest.Groups(some, false)
	for i, problem := range problems {
		if i == 0 {
			p.heading("TOGETHER: not possible", "")
		}
		p.text("  ! ", "found "+problem.Found+"; asked for: "+problem.Allowed+". Do: "+problem.Do+".")
	}
	for _, g := range groups {
		if len(g.Tests) < 2 || g.Law.A+g.Law.B <= 0 {
			continue
		}
		u := fitUnit(g.Tests[0])
		p.heading("TOGETHER: overlap "+g.Overlap.MM()+" mm on "+floorWords(g.Floor)+", a metre of seal in standard air, "+u.name, "")
		for _, dp := range fitDrops {
			q := g.Law.Flow(dp) * u.per
			mark := ""
			if dp < 0.99*g.Drops[0] || dp > 1.01*g.Drops[1] {
				mark = " *"
			}
			p.b.WriteString("    " + left(fmt.Sprintf("%g Pa%s", dp, mark), 12) + pad(figures(q, 3), 9) + figures(q*(1-g.Scatter), 3) + " to " + figures(q/(1-g.Scatter), 3) + " of another piece\n")
		}
		p.text("    ", g.Says())
	}
	_, err := io.WriteString(w, p.b.String())
	return err
}
