package render

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/engine"
	"sillwright/policies"
	"sillwright/schema"
	"sillwright/schema/door"
	"sillwright/schema/quantity"
)

const (
	nameWidth  = 22
	mostPlaces = 10 // readings a line
)

// gap draws the bottom gap of each leaf with what every option meets there.
func (p *page) gap(r *assess.Result) {
	first := true
	for _, l := range r.Door.Leaves {
		if len(l.Readings) == 0 {
			continue
		}
		if first {
			from := "hinge to latch"
			if op := r.Door.Leaf.Operation; op.Known && op.Value != "hinged" && op.Value != "pair" && op.Value != "pivot" {
				from = "left to right, seen from outside"
			}
			p.heading("THE GAP, "+from+", "+string(r.System), "+ pressed, 0 just touching, - daylight")
			first = false
		}
		p.leaf(r, l)
	}
}

func (p *page) leaf(r *assess.Result, l door.Leaf) {
	places := make([]engine.Touch, len(l.Readings))
	for i, reading := range l.Readings {
		places[i] = engine.Touch{At: reading.At, Gap: reading.Gap}
	}
	shown := shownPlaces(places)
	p.row("leaf "+l.ID+", at", places, shown, func(t engine.Touch) string { return plainLength(t.At, r.System) })
	p.row("gap", places, shown, func(t engine.Touch) string { return plainLength(t.Gap, r.System) })
	for _, o := range r.Options {
		for _, c := range o.Contact {
			if c.Leaf == l.ID {
				p.row(o.ID, c.Places, shown, func(t engine.Touch) string { return signedLength(t.Overlap, r.System) })
			}
		}
	}
	if len(shown) < len(places) {
		p.text("    ", fmt.Sprintf("%d of %d readings are shown, the widest and the narrowest among them; all are counted.", len(shown), len(places)))
	}
}

// shownPlaces picks the readings that fit beside each other: spread evenly, both ends, the
// widest and the narrowest among them.
func shownPlaces(places []engine.Touch) []int {
	if len(places) <= mostPlaces {
		out := make([]int, len(places))
		for i := range out {
			out[i] = i
		}
		return out
	}
	byGap := func(a, b engine.Touch) int { return cmp.Compare(a.Gap, b.Gap) }
	keep := []int{
		slices.IndexFunc(places, func(t engine.Touch) bool { return t.Gap == slices.MaxFunc(places, byGap).Gap }),
		slices.IndexFunc(places, func(t engine.Touch) bool { return t.Gap == slices.MinFunc(places, byGap).Gap }),
	}
	const even = mostPlaces - 2
	for i := range even {
		keep = append(keep, i*(len(places)-1)/(even-1))
	}
	slices.Sort(keep)
	return slices.Compact(keep)
}

func (p *page) row(name string, places []engine.Touch, shown []int, show func(engine.Touch) string) {
	p.b.WriteString("    " + left(clean(name), nameWidth))
	for _, i := range shown {
		p.b.WriteString(cell(show(places[i]), 7))
	}
	p.b.WriteString("\n")
}

func plainLength(l quantity.Length, s quantity.System) string {
	return strings.TrimPrefix(signedLength(l, s), "+")
}

func signedLength(l quantity.Length, s quantity.System) string {
	if s == quantity.Imperial {
		v := float64(l) / float64(quantity.Inch)
		if l == 0 {
			return "0"
		}
		return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%+.3f", v), "0"), ".")
	}
	decimals := 1
	if l%(quantity.Millimetre/10) != 0 && l < quantity.Metre && l > -quantity.Metre {
		decimals = 2
	}
	return l.Signed(decimals)
}

// options lists the options, complying ones in their places first.
func (p *page) options(r *assess.Result) {
	if len(r.Options) == 0 {
		return
	}
	u, at, target := unitOf(r), fmt.Sprintf("%g Pa", engine.UsualPressure), ""
	if t := r.Door.Targets; t.LeakagePressure.Known {
		at = written(r, t.LeakagePressure.Pointer)
		if t.LeakageFlow.Known {
			target = "target at most " + written(r, t.LeakageFlow.Pointer)
		}
	}
	p.heading("OPTIONS, air at "+at+" in "+u.name+", likely and its band", target)
	p.b.WriteString("    " + left("place", 7) + left("option", nameWidth) + left("at the widest gap", 19) + left("leaks", 21) + "verdict\n")
	for _, o := range r.Options {
		p.b.WriteString("    " + left(rank(o), 7) + left(clean(o.ID), nameWidth-1) + " " + left(setting(o, r.System), 19) + left(leak(o.Leakage, u), 20) + " " + p.style(verdictStyle[o.Verdict], o.Verdict) + brief(r, o) + "\n")
	}
	p.ranking(r)
	p.notes(r)
	p.counted(r)
}

// flowUnit is what flows are shown in, and how many of it are one m3/s.
type flowUnit struct {
	name string
	per  float64
}

// unitOf is the unit that the target is written in.
func unitOf(r *assess.Result) flowUnit {
	text := written(r, r.Door.Targets.LeakageFlow.Pointer)
	for _, u := range []flowUnit{{"cfm", 60 / 0.028316846592}, {"m3/h", 3600}, {"m3/s", 1}} {
		if strings.HasSuffix(strings.ReplaceAll(strings.ToLower(text), "³", "3"), u.name) {
			return u
		}
	}
	return flowUnit{"L/s", 1000}
}

// leak is the likely flow and its band, two figures each, the band rounded outwards.
func leak(l *engine.Leakage, u flowUnit) string {
	if l == nil {
		return "not known"
	}
	likely := policies.Significant(l.Likely*u.per, math.Round)
	low := policies.Significant(l.Low*u.per, math.Floor)
	if places := decimals(likely); decimals(low) > places {
		scale := math.Pow(10, float64(places))
		low = strconv.FormatFloat(math.Floor(l.Low*u.per*scale)/scale, 'f', places, 64)
	}
	return left(likely, 6) + "(" + low + " to " + policies.Significant(l.High*u.per, math.Ceil) + ")"
}

func decimals(figure string) int {
	_, fraction, _ := strings.Cut(figure, ".")
	return len(fraction)
}

// brief says in a few words what keeps an option from complying, or from being worth a look.
func brief(r *assess.Result, o assess.Option) string {
	if len(o.DominatedBy) > 0 {
		return ", dominated"
	}
	for _, f := range o.Findings {
		if f.Level == policies.Caution || len(f.Points) == 0 || (f.Outcome != policies.Fail && f.Outcome != policies.Unknown) {
			continue
		}
		switch {
		case !assess.Counts(f, r.Strict):
			continue
		case f.Question == "band-at-most" && f.Outcome == policies.Fail:
			return ", over target"
		case f.Reason == "too-close":
			return ", target in band"
		}
		return ", see below"
	}
	return ""
}

// notes are sentences on options. Options with the same sentence share it.
type notes struct {
	texts []string
	names map[string][]string
}

func (n *notes) add(o assess.Option, text string) {
	if n.names == nil {
		n.names = map[string][]string{}
	}
	if n.names[text] == nil {
		n.texts = append(n.texts, text)
	}
	n.names[text] = append(n.names[text], clean(o.ID))
}

func (p *page) write(n notes) {
	for _, text := range n.texts {
		p.text("    "+strings.Join(n.names[text], ", ")+": ", text)
	}
}

// notes says what else there is to know of the options: how they hang and what is open.
func (p *page) notes(r *assess.Result) {
	var n notes
	for _, o := range r.Options {
		if o.Title != "" {
			n.add(o, clean(o.Title)+".")
		}
		for _, c := range o.Contact {
			if c.Hangs > 0 {
				n.add(o, fmt.Sprintf("%s is %s high: its carrier hangs %s below leaf %s at the widest gap.", c.Seal, c.Length.In(r.System), c.Hangs.In(r.System), clean(c.Leaf)))
			}
		}
		for _, counts := range []bool{true, false} {
			for _, f := range o.Findings {
				said := f.Level == policies.Caution || (f.Outcome != policies.Fail && f.Outcome != policies.Unknown) || saidElsewhere(o, f)
				switch {
				case said || assess.Counts(f, r.Strict) != counts:
				case counts:
					n.add(o, reason(f))
				default:
					n.add(o, "Should: "+reason(f))
				}
			}
		}
		for _, m := range o.Missing {
			n.add(o, "needed: "+clean(m.What)+" ("+schema.Field(m.Pointer)+").")
		}
	}
	p.write(n)
}

// saidElsewhere is true of what the table, or a note on what is missing, says already.
func saidElsewhere(o assess.Option, f policies.Finding) bool {
	if f.Question == "band-at-most" && f.Reason != "not-known" {
		return true
	}
	return f.Rulebook == "spec" && f.Outcome == policies.Unknown && len(o.Missing) > 0
}

// setting is how the bottom seal is set, in a few words.
func setting(o assess.Option, s quantity.System) string {
	var sets []quantity.Length
	for _, f := range o.Spec.Fits {
		if f.Edge == "bottom" && f.Overlap.Known && !slices.Contains(sets, f.Overlap.Value) {
			sets = append(sets, f.Overlap.Value)
		}
	}
	if len(sets) == 0 {
		return "-"
	}
	if len(sets) > 1 {
		return "differs by seal"
	}
	set := sets[0]
	switch {
	case set == 0:
		return "just touching"
	case set > 0:
		return set.In(s) + " pressed"
	default:
		return (-set).In(s) + " of daylight"
	}
}

// reason words an option's finding in one sentence.
func reason(f policies.Finding) string {
	text := f.Message
	if f.Found != "" && f.Allowed != "" {
		text += ": found " + f.Found + ", allowed " + allowed(f.Point)
	}
	if f.Do != "" {
		text += ". Do: " + strings.TrimSuffix(f.Do, ".")
	}
	for _, n := range f.Needs {
		if n.Fact == "leakage" {
			continue // what it lacks is a note of its own
		}
		text += ". Needed: " + n.Title + " (" + schema.Field(n.Pointer) + "): " + n.How
	}
	return strings.TrimSuffix(text, ".") + "."
}

// counted says which ways for air are in the figures, and what they rest on.
func (p *page) counted(r *assess.Result) {
	for _, o := range r.Options {
		if o.Leakage == nil {
			continue
		}
		var names []string
		for _, c := range o.Leakage.Counted {
			names = append(names, c.Path)
		}
		slices.Sort(names)
		text := "Counted: " + strings.Join(slices.Compact(names), ", ") + "."
		if rest := r.Door.Unlisted(); len(rest) > 0 {
			text += " Not counted, for no path is listed: " + strings.Join(rest, ", ") + "."
		}
		text += " Holes count if they are listed."
		if len(o.Contact) > 0 {
			text += " The feet of the seals at the jambs are not counted."
		}
		p.text("    ", text)
		break
	}
	var taken []string
	estimates := false
	for _, o := range r.Options {
		for _, t := range o.Taken {
			if !slices.Contains(taken, t) {
				taken = append(taken, t)
			}
		}
		estimates = estimates || (o.Leakage != nil && o.Leakage.Basis == "estimate")
	}
	if len(taken) > 0 {
		p.text("    ", "Taken, because the spec does not say: "+strings.Join(taken, "; ")+".")
	}
	if estimates {
		p.text("    ", "Seals are estimated from physics and generic ranges, not measured. The bands are engineering judgement; a test of the real seal beats them.")
	}
}

// written gives a value as the spec writes it.
func written(r *assess.Result, pointer string) string {
	if n, ok := r.Door.Document.Root.Lookup(pointer); ok {
		return clean(n.Text)
	}
	return ""
}
