package render

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/engine"
	"sillwright/engine/doubt"
	"sillwright/engine/wear"
	"sillwright/policies"
	"sillwright/schema"
	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

const testedWidth = 13

// life tells what the life that is asked does to the bottom seals of each option: what they were tested for, what height is lost, and
// what the door leaks then.
func (p *page) life(r *assess.Result, u flowUnit) {
	cycles, ok := engine.Asked(r.Door)
	if !ok || !slices.ContainsFunc(r.Options, func(o assess.Option) bool { return o.Worn() != nil }) {
		return
	}
	d := r.Door.Duty
	p.heading("LIFE, "+openings(d.CyclesPerDay.Value)+" openings a day for "+years(d.Life.Value)+": "+openings(math.Ceil(cycles)), "")
	p.text("    ", classes(r.Door, cycles))
	p.b.WriteString("    " + left("option", nameWidth) + left("tested for", testedWidth) + left("height lost, "+string(r.System), 24) + "leaks in the end, " + u.name + "\n")
	var n notes
	judged, known := false, false
	for _, o := range r.Options {
		if o.Worn() == nil {
			continue
		}
		known = known || len(o.Worn().Losses) > 0
		judged = judged || (len(o.Worn().Losses) > 0 && !o.Worn().Calibrated)
		p.b.WriteString(strings.TrimRight("    "+left(clean(o.ID), nameWidth-1)+" "+left(testedFor(o), testedWidth)+pad(lost(o.Worn(), r.System), 24)+then(o, u), " ") + "\n")
		aged(&n, o, r)
	}
	p.write(n)
	if !known {
		return
	}
	basis := "what was measured of the seals carries these"
	if judged {
		basis = "set and wear are engineering judgement, not measured, from a clean floor at the low end to grit at the high"
	}
	p.text("    ", "Estimates: "+basis+". A seal wears until it touches nothing on its way, so that daylight comes where the floor rises under the swing. Bristles that splay, break or fall out, torn lips, hardened rubber and worn hinges are not counted.")
}

// aged adds what there is to say of an option beside its line.
func aged(n *notes, o assess.Option, r *assess.Result) {
	for _, l := range o.Worn().Losses {
		where := ""
		if len(r.Door.Leaves) > 1 {
			where = " of leaf " + clean(l.Leaf)
		}
		if l.Leaves != nil {
			n.add(o, l.Seal+where+" leaves the floor after "+span(*l.Leaves)+": the floor rises where it sweeps.")
		}
		if l.Daylight.High > l.New+5e-5 {
			n.add(o, fmt.Sprintf("%s%s then has %s of daylight at %s.", l.Seal, where, size(l.Daylight, r.System), l.DaylightAt.In(r.System)))
		}
	}
	for _, t := range o.Worn().Taken {
		n.add(o, "taken: "+clean(t)+".")
	}
	for _, m := range o.Worn().Missing {
		if !slices.Contains(o.Missing, m) {
			n.add(o, "what is left in the end is not known: "+clean(m.What)+" ("+schema.Field(m.Pointer)+").")
		}
	}
}

// classes says which classes of durability cover so many openings.
func classes(d *door.Door, cycles float64) string {
	class, tested, ok := wear.Least(cycles)
	if !ok {
		return "More than any class of EN 12400 is tested for (class 8 is 1 000 000): plan to renew the seals."
	}
	text := fmt.Sprintf("Ask for class %d of EN 12400 (%s) or better", class, openings(tested))
	if d.Leaf.Closer.Value || d.Leaf.SpringHinges.Value {
		if class, ok := wear.LeastSelfClosing(cycles); ok {
			text += fmt.Sprintf("; where the door must close by itself, C%d of EN 14600", class)
		}
	}
	return text + ". They speak of the whole door: ask that the seal was on it."
}

func testedFor(o assess.Option) string {
	if o.Life == nil {
		return "not known"
	}
	return openings(o.Life.Likely)
}

// lost is the height that the option's seals lose, of the one that is likely to lose most.
func lost(w *engine.Worn, s quantity.System) string {
	if len(w.Losses) == 0 {
		if len(w.Missing) > 0 {
			return "not known"
		}
		return "none: it follows"
	}
	most := slices.MaxFunc(w.Losses, func(a, b engine.Loss) int {
		return cmp.Compare(a.Height.Likely, b.Height.Likely)
	})
	return bandOf(most.Height, s)
}

// perUnit is how many of the unit that lengths are shown in are a metre, and how many decimals are worth showing.
func perUnit(s quantity.System) (per float64, decimals int) {
	if s == quantity.Imperial {
		return 1 / 0.0254, 3
	}
	return 1000, 2
}

// bandOf is a height with its band.
func bandOf(r doubt.Range, s quantity.System) string {
	per, decimals := perUnit(s)
	return figure(r.Likely*per, math.Round, decimals) + " (" + figure(r.Low*per, math.Floor, decimals) + " to " + figure(r.High*per, math.Ceil, decimals) + ")"
}

// size is a height with its unit and band.
func size(r doubt.Range, s quantity.System) string {
	per, decimals := perUnit(s)
	return fmt.Sprintf("%s %s (%s to %s)", figure(r.Likely*per, math.Round, decimals), s, figure(r.Low*per, math.Floor, decimals), figure(r.High*per, math.Ceil, decimals))
}

// then is the leakage at handover and in the end.
func then(o assess.Option, u flowUnit) string {
	if o.Worn().Leakage == nil || o.Leakage == nil {
		return "not known"
	}
	return figure(o.Leakage.Likely*u.per, math.Round, 2) + " when new, then " + inline(o.Worn().Leakage.Range, u.per)
}

// span says after how many years something happens, and from when to when it may.
func span(r doubt.Range) string {
	when := func(v float64) string {
		if math.IsInf(v, 1) {
			return "beyond that life"
		}
		return policies.Significant(v, math.Round) + " years"
	}
	if math.IsInf(r.Likely, 1) {
		return when(r.Low) + " at the soonest, likely " + when(r.Likely)
	}
	return when(r.Likely) + " (" + when(r.Low) + " to " + when(r.High) + ")"
}

func years(v float64) string {
	if v == 1 {
		return "1 year"
	}
	return strconv.FormatFloat(v, 'g', 6, 64) + " years"
}

// openings writes a number with its thousands set apart.
func openings(v float64) string {
	text := strconv.FormatFloat(v, 'f', -1, 64)
	whole, fraction, cut := strings.Cut(text, ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + " " + whole[i:]
	}
	if cut {
		return whole + "." + fraction
	}
	return whole
}

type dutyJSON struct {
	Cycles float64 `json:"cycles"`
	Class  *int    `json:"class"`
}

// dutyOf is what the door is asked for over its life; nil where the spec does not say.
func dutyOf(d *door.Door) *dutyJSON {
	cycles, ok := engine.Asked(d)
	if !ok {
		return nil
	}
	out := &dutyJSON{Cycles: math.Ceil(cycles)}
	if class, _, ok := wear.Least(cycles); ok {
		out.Class = &class
	}
	return out
}

type lifeJSON struct {
	Leakage    *flowJSON     `json:"leakage"`
	Calibrated bool          `json:"calibrated"`
	Losses     []lossJSON    `json:"losses"`
	Missing    []missingJSON `json:"missing"`
	Taken      []string      `json:"taken"`
}

type lossJSON struct {
	Leaf       string       `json:"leaf"`
	Seal       string       `json:"seal"`
	At         *json.Number `json:"at_mm"`
	Lost       rangeJSON    `json:"lost_mm"`
	Daylight   rangeJSON    `json:"daylight_mm"`
	LeavesYear *spanJSON    `json:"leaves_after_years"`
}

type spanJSON struct {
	Low    *float64 `json:"low"`
	Likely *float64 `json:"likely"`
	High   *float64 `json:"high"`
}

// lifeOf is what is left of an option after its life.
func lifeOf(w *engine.Worn) *lifeJSON {
	if w == nil {
		return nil
	}
	out := &lifeJSON{Calibrated: w.Calibrated, Losses: []lossJSON{}, Missing: missingOf(w.Missing), Taken: append([]string{}, w.Taken...)}
	if w.Leakage != nil {
		out.Leakage = pointed(flowOf(w.Leakage.Range))
	}
	for _, l := range w.Losses {
		j := lossJSON{Leaf: l.Leaf, Seal: l.Seal, At: millimetres(l.At), Lost: heights(l.Height), Daylight: heights(l.Daylight)}
		if l.Leaves != nil {
			j.LeavesYear = &spanJSON{within(l.Leaves.Low), within(l.Leaves.Likely), within(l.Leaves.High)}
		}
		out.Losses = append(out.Losses, j)
	}
	return out
}

// heights writes heights in mm.
func heights(r doubt.Range) rangeJSON {
	return ranged(r, 1000)
}

// within gives years within the life.
func within(v float64) *float64 {
	if math.IsInf(v, 1) {
		return nil
	}
	return pointed(threeFigures(v, math.Round))
}
