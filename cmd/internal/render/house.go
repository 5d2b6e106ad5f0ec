package render

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/engine"
	"sillwright/engine/doubt"
	"sillwright/policies"
	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

const (
	houseWidth     = 19
	twentiethWidth = 15
	houseRule      = "spec/house"
)

// house tells what each option means to the whole house.
func (p *page) house(r *assess.Result, u flowUnit) {
	if !engine.Housed(r.Door) {
		return
	}
	p.heading("THE HOUSE, indicative", "")
	if text := allowance(r, u); text != "" {
		p.text("    ", text)
	}
	if !slices.ContainsFunc(r.Options, func(o assess.Option) bool { return o.House != nil }) {
		p.text("    ", "The leakage of no option is known.")
		return
	}
	area, per := areaUnit(r.System)
	p.houseLine(houseWidth, "option", "at 50 Pa, "+u.name, "of the house, %", "as at 4 Pa, "+area, "as at 10 Pa, "+area)
	p.houseLines(r, houseWidth, func(h *engine.House) [4]string {
		return [4]string{inline(h.At50.Range, u.per), maybe(h.Part, 100), inline(h.SmallArea, per), inline(h.LargerArea, per)}
	})
	p.houseLine(twentiethWidth, "mean air", "heating season, "+u.name, "a twentieth", "heat, W/K", "kWh a year")
	p.houseLines(r, twentiethWidth, func(h *engine.House) [4]string {
		return [4]string{inline(h.Infiltration, u.per), figure(h.Twentieth.Likely*u.per, math.Round, 2), inline(h.Conductance, 1), maybe(h.Yearly, 1)}
	})
	var n notes
	for _, o := range r.Options {
		if o.House == nil {
			continue
		}
		if text := classesOfAir(o); text != "" {
			n.add(o, text)
		}
		for _, t := range o.House.Taken {
			n.add(o, "taken for these pressures: "+clean(t)+".")
		}
	}
	p.write(n)
	if !r.Door.AllListed() {
		p.text("    ", "By listed paths only: an edge that is not listed may leak more than all that is.")
	}
	p.text("    ", "As at 4 Pa is the plain opening that leaks as much, with a discharge coefficient of 1; at 10 Pa with one of 0.611 (from memory, not verified). The mean of a heating season is that of the laws of gaps and seals at 2 Pa (0.5 to 4), inwards for three quarters of the time (half to all), engineering judgement; heat goes by it. A twentieth of the flow at 50 Pa, the mean of a year for a whole house, is an order of magnitude for one door. Weather, shelter and height decide, and are not known. Classes of EN 12207 are given to tests, not to predictions; by the area is over the leaves, and at best with a frame.")
}

// houseLines writes a line of figures for every option.
func (p *page) houseLines(r *assess.Result, second int, figures func(*engine.House) [4]string) {
	for _, o := range r.Options {
		if o.House == nil {
			p.houseLine(second, o.ID, "not known", "", "", "")
			continue
		}
		f := figures(o.House)
		p.houseLine(second, o.ID, f[0], f[1], f[2], f[3])
	}
}

// maybe is a banded figure, or a dash for one that is not known.
func maybe(r *doubt.Range, per float64) string {
	if r == nil {
		return "-"
	}
	return inline(*r, per)
}

func (p *page) houseLine(second int, option, a, b, c, d string) {
	text := "    " + left(clean(option), nameWidth-1) + " " + pad(a, houseWidth) + pad(b, second) + pad(c, houseWidth) + d
	p.b.WriteString(strings.TrimRight(text, " ") + "\n")
}

// allowance words what the house may lose and what of it the door may take.
func allowance(r *assess.Result, u flowUnit) string {
	if !r.Door.Targets.House {
		return ""
	}
	whole, share, ok := engine.Allowance(r.Door)
	if !ok {
		return "What the whole house may lose at 50 Pa is not known."
	}
	text := "The whole house may lose " + flowWords(whole, u) + " at 50 Pa (" + allowedBy(r) + ")"
	if engine.HalfKnown(r.Door) {
		return text + ", or less, for not all that is written of it is known; so no share of it is."
	}
	if !share.Known {
		return text + "; which share of it this door may take is not said (targets.house.share)."
	}
	return text + "; this door may take " + written(r, share.Pointer) + " of it, " + flowWords(whole*share.Value, u) + "."
}

// flowWords writes what is allowed to four figures, rounded down.
func flowWords(v float64, u flowUnit) string { return policies.Limit4(v*u.per) + " " + u.name }

// allowedBy words the target of the house as the spec writes it.
func allowedBy(r *assess.Result) string {
	var parts []string
	add := func(rate, size door.Maybe[float64]) {
		if rate.Known && size.Known {
			parts = append(parts, written(r, rate.Pointer)+" of "+written(r, size.Pointer))
		}
	}
	t := r.Door.Targets
	add(t.AirChange50, t.HouseVolume)
	add(t.Permeability50, t.Envelope)
	if len(parts) > 1 {
		return "the less of " + strings.Join(parts, " and ")
	}
	return strings.Join(parts, "")
}

// areaUnit is the unit that openings are shown in, and how many of it are a square metre.
func areaUnit(s quantity.System) (string, float64) {
	if s == quantity.Imperial {
		return "in2", 1 / 0.00064516
	}
	return "cm2", 1e4
}

// classesOfAir words the classes that an option's flow stands for.
func classesOfAir(o assess.Option) string {
	var parts []string
	for _, c := range []struct {
		by    string
		class *assess.AirClass
	}{{"by the area ", o.ByArea}, {"by the joint ", o.ByJoint}} {
		if c.class != nil {
			parts = append(parts, c.by+classWords(*c.class))
		}
	}
	if parts == nil {
		return ""
	}
	return "EN 12207 at 100 Pa: " + strings.Join(parts, "; ") + "."
}

// inline is a likely figure and its band within a sentence.
func inline(r doubt.Range, per float64) string {
	return strings.Join(strings.Fields(banded(r, per)), " ")
}

func classWords(c assess.AirClass) string {
	word := func(class int) string {
		if class == 0 {
			return "none"
		}
		return fmt.Sprintf("class %d", class)
	}
	if c.Worst == c.Best {
		return word(c.Likely)
	}
	return fmt.Sprintf("%s (%s to %s)", word(c.Likely), word(c.Worst), strings.TrimPrefix(word(c.Best), "class "))
}
