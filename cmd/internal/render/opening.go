package render

import (
	"cmp"
	"encoding/json"
	"math"
	"slices"
	"strconv"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/engine"
	"sillwright/policies"
	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

const (
	anglesWidth = 15
	aloneWidth  = 13
)

// openings tells the force that opens the door with the seals of each option, by angle, what the pressure does to the closed leaf, and what
// is left to latch it.
func (p *page) openings(r *assess.Result) {
	unit, per := forceUnit(r.System)
	first := true
	begin := func() {
		if first {
			p.heading("OPENING FORCE with the bottom seal, "+unit, "")
			first = false
		}
	}
	for i, o := range r.Options {
		if len(o.Openings) == 0 {
			continue
		}
		if first {
			begin()
			p.force("option", "angles", "door alone", "its seals", "together")
		}
		name := o.ID
		if same := sameOpenings(r.Options[:i], o); same != "" {
			p.force(name, "as with "+same, "", "", "")
			continue
		}
		for _, x := range o.Openings {
			p.force(name, angles(x), alone(x, per), sealed(x, per), banded3(x, per))
			name = ""
		}
	}
	var n notes
	for _, o := range r.Options {
		if o.Pressure != nil || o.Latching != nil || len(o.Unpressed) > 0 {
			begin()
		}
		if o.Pressure != nil {
			n.add(o, pushes(*o.Pressure, unit, per))
		}
		if len(o.Unpressed) > 0 {
			var why []string
			for _, m := range o.Unpressed {
				why = append(why, clean(m.What))
			}
			n.add(o, "what the pressure does to the leaf is not known, and not counted: "+strings.Join(why, "; ")+".")
		}
		if o.Latching != nil {
			n.add(o, leftToLatch(*o.Latching, unit, per))
		}
		if byTable(o) {
			n.add(o, "what the closer opens and closes with is by its power size, EN 1154 from memory, not verified: it is shown, not judged, and no rule rests on it. Measure the force of the door (door.opening_force, door.closing_force).")
		}
	}
	p.write(n)
}

// byTable says whether a force that is shown is that of a closer by its size.
func byTable(o assess.Option) bool {
	return slices.ContainsFunc(o.Openings, func(x engine.Opening) bool { return x.Table }) || (o.Latching != nil && !o.Latching.Measured)
}

// sameOpenings names an option before this one whose forces are the same: those of two that drag nothing are.
func sameOpenings(before []assess.Option, o assess.Option) string {
	equal := func(a, b engine.Opening) bool {
		return a.From == b.From && a.To == b.To && a.Low == b.Low && a.Likely == b.Likely && a.High == b.High
	}
	for _, b := range before {
		if slices.EqualFunc(b.Openings, o.Openings, equal) {
			return clean(b.ID)
		}
	}
	return ""
}

// force writes a line of the table of opening forces.
func (p *page) force(option, angles, alone, seals, together string) {
	text := "    " + left(clean(option), nameWidth-1) + " " + pad(angles, anglesWidth) + pad(alone, aloneWidth) + pad(seals, leakWidth) + together
	p.b.WriteString(strings.TrimRight(text, " ") + "\n")
}

// angles words where a force acts.
func angles(x engine.Opening) string {
	from, to := "?", "?"
	if x.From.Known {
		from = x.From.Value.Deg()
	}
	if x.To.Known {
		to = x.To.Value.Deg()
	}
	if from == to && x.From.Known {
		return "at " + from + " deg"
	}
	return from + " to " + to + " deg"
}

// alone is the force of the door without the seals.
func alone(x engine.Opening, per float64) string {
	switch {
	case x.Measured:
		return ""
	case x.Door == nil:
		return "not bounded"
	case x.Wider:
		return "up to " + three(x.Door.High*per, math.Ceil)
	case x.Door.Low == x.Door.High:
		return three(x.Door.Likely*per, math.Round)
	}
	return three(x.Door.Low*per, math.Floor) + " to " + three(x.Door.High*per, math.Ceil)
}

// sealed is what the seals add.
func sealed(x engine.Opening, per float64) string {
	switch {
	case x.Measured:
		return "measured with them"
	case x.Drag == nil:
		return "not known"
	case x.Drag.High == 0:
		return "nothing"
	}
	return banded(*x.Drag, per)
}

// banded3 is the force together, with its band to three figures: near a limit two would not tell.
func banded3(x engine.Opening, per float64) string {
	n := func(f quantity.Force, round func(float64) float64) string { return three(f.Newtons()*per, round) }
	switch {
	case x.Wider && x.High.Known && x.Likely.Value == x.High.Value:
		return "up to " + n(x.High.Value, math.Ceil)
	case x.Wider && x.High.Known:
		return left(n(x.Likely.Value, math.Round), 6) + "(up to " + n(x.High.Value, math.Ceil) + ")"
	case !x.Low.Known || (x.Wider && x.Stretch()):
		return "not known"
	case !x.High.Known:
		return "at least " + n(x.Low.Value, math.Floor)
	case x.Low.Value == x.High.Value:
		return n(x.Likely.Value, math.Round)
	}
	return left(n(x.Likely.Value, math.Round), 6) + "(" + n(x.Low.Value, math.Floor) + " to " + n(x.High.Value, math.Ceil) + ")"
}

func three(v float64, round func(float64) float64) string { return policies.Figures(v, 3, round) }

// pushes says what the pressure does, each way.
func pushes(p engine.Pressure, unit string, per float64) string {
	var does []string
	say := func(force float64, what string) {
		if force > 0 {
			does = append(does, what+" with up to "+figure(force*per, math.Ceil, 2)+" "+unit)
		}
	}
	say(p.HeldShut, "is held shut")
	say(p.PushedOpen, "is pushed open and kept from latching")
	if len(does) == 0 {
		does = []string{"is neither held shut nor pushed open"}
	}
	after := ""
	if p.HeldShut > 0 {
		after = " To open it against that takes as much more at first; the table and the rules of opening force leave it out."
	}
	return "at " + pascals(p.Least) + " to " + pascals(p.Most) + " Pa, outside less inside, the closed leaf " + strings.Join(does, ", or ") + " at the latch edge." + after
}

// pascals gives a pressure four figures: in other units than that of the spec it has many.
func pascals(p quantity.Pressure) string {
	return strconv.FormatFloat(float64(p)/float64(quantity.Pascal), 'g', 4, 64)
}

// leftToLatch says what is left of the force that closes the door, or how far it falls short.
func leftToLatch(l engine.Latching, unit string, per float64) string {
	n := func(f quantity.Force, round func(float64) float64) string { return three(f.Newtons()*per, round) }
	against := "the closed seals"
	if l.Pressed {
		against += " and the pressure"
	}
	short := l.High.Value < 0
	likely, least, most := l.Likely.Value, l.Low.Value, l.High.Value
	if short {
		likely, least, most = -likely, -most, -least
	}
	band := ""
	if l.Low.Value != l.High.Value {
		band = " (" + n(least, math.Floor) + " to " + n(most, math.Ceil) + ")"
	}
	switch {
	case short && !l.Low.Known:
		return "it does not latch by itself: against " + against + " it is at least " + n(least, math.Floor) + " " + unit + " short."
	case short:
		return "it does not latch by itself: against " + against + " it is " + n(likely, math.Round) + " " + unit + band + " short."
	case !l.Low.Known:
		return "to latch against " + against + " there is at most " + n(l.High.Value, math.Ceil) + " " + unit + " left; how little is not known."
	case l.Low.Value < 0:
		return "to latch against " + against + " there is " + n(likely, math.Round) + " " + unit + band + " left; below 0 it does not latch by itself."
	}
	return "to latch against " + against + " there is " + n(likely, math.Round) + " " + unit + band + " left."
}

// heaviest keeps of a finding on the force with the seals the angles at which it is likely to be greatest; the table shows the others.
func heaviest(f policies.Finding) policies.Finding {
	if f.Question != "force-band-by-angle" || len(f.Points) < 2 {
		return f
	}
	force := func(p policies.Point) float64 {
		if p.Measured == nil {
			return -1
		}
		v, _ := p.Measured.Value.(float64)
		return v
	}
	f.Point = slices.MaxFunc(f.Points, func(a, b policies.Point) int { return cmp.Compare(force(a), force(b)) })
	f.Points = []policies.Point{f.Point}
	return f
}

// tooHeavyAlone is true of a door that is too heavy with its seals where it is too heavy without them: its own rule says so.
func tooHeavyAlone(r *assess.Result, f policies.Finding) bool {
	own, sealed := strings.CutSuffix(f.Rule, "-sealed")
	if !sealed || f.Question != "force-band-by-angle" || f.Outcome != policies.Fail || len(f.Places) == 0 || !strings.HasPrefix(f.Places[0].Pointer, "/door/") {
		return false
	}
	return slices.ContainsFunc(r.Findings, func(d policies.Finding) bool { return d.Rule == own && d.Outcome == policies.Fail })
}

type openingJSON struct {
	From  *json.Number `json:"from_deg"`
	To    *json.Number `json:"to_deg"`
	Low   *float64     `json:"low_n"`
	Force *float64     `json:"force_n"`
	High  *float64     `json:"high_n"`
	Door  *forceJSON   `json:"door"`
	Drag  *forceJSON   `json:"seals"`
	Basis string       `json:"basis"`
}

type pressureJSON struct {
	From     json.Number `json:"from_pa"`
	To       json.Number `json:"to_pa"`
	HeldShut float64     `json:"held_shut_n"`
	KeptOpen float64     `json:"kept_from_latching_n"`
}

type latchingJSON struct {
	Low     *float64 `json:"low_n"`
	Likely  *float64 `json:"likely_n"`
	High    *float64 `json:"high_n"`
	Pressed bool     `json:"pressure_counted"`
	Basis   string   `json:"basis"`
}

func openingsOf(list []engine.Opening) []openingJSON {
	out := []openingJSON{}
	for _, x := range list {
		low := x.Low
		if x.Stretch() {
			low.Known = false // it is the least of the whole reading
		}
		out = append(out, openingJSON{degrees(x.From), degrees(x.To), newtons(low, math.Floor), newtons(x.Likely, math.Round), newtons(x.High, math.Ceil), forceOf(x.Door), forceOf(x.Drag), basisOf(x.Measured, x.Table)})
	}
	return out
}

func degrees(a door.Maybe[quantity.Angle]) *json.Number {
	if !a.Known {
		return nil
	}
	return pointed(json.Number(a.Value.Deg()))
}

func basisOf(measured, table bool) string {
	switch {
	case measured:
		return "measured"
	case table:
		return "closer-size"
	}
	return "estimate"
}

// newtons gives a force four figures: three would hide how near it is to a limit.
func newtons(f door.Maybe[quantity.Force], round func(float64) float64) *float64 {
	if !f.Known {
		return nil
	}
	v := f.Value.Newtons()
	if out, err := strconv.ParseFloat(policies.Figures(v, 4, round), 64); err == nil {
		v = out
	}
	return &v
}

func pressureOf(p *engine.Pressure) *pressureJSON {
	if p == nil {
		return nil
	}
	return &pressureJSON{json.Number(p.Least.Pa()), json.Number(p.Most.Pa()), threeFigures(p.HeldShut, math.Ceil), threeFigures(p.PushedOpen, math.Ceil)}
}

func latchingOf(l *engine.Latching) *latchingJSON {
	if l == nil {
		return nil
	}
	return &latchingJSON{newtons(l.Low, math.Floor), newtons(l.Likely, math.Round), newtons(l.High, math.Ceil), l.Pressed, basisOf(l.Measured, true)}
}
