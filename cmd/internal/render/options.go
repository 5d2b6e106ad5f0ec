package render

import (
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
	for start := 0; start < len(places); start += mostPlaces {
		part := places[start:min(start+mostPlaces, len(places))]
		p.row("leaf "+clean(l.ID)+", at", part, func(t engine.Touch) string { return plainLength(t.At, r.System) })
		p.row("gap", part, func(t engine.Touch) string { return plainLength(t.Gap, r.System) })
		for _, o := range r.Options {
			for _, c := range o.Contact {
				if c.Leaf == l.ID {
					p.row(clean(o.ID), c.Places[start:start+len(part)], func(t engine.Touch) string { return signedLength(t.Overlap, r.System) })
				}
			}
		}
	}
}

func (p *page) row(name string, places []engine.Touch, show func(engine.Touch) string) {
	p.b.WriteString("    " + left(name, nameWidth))
	for _, t := range places {
		p.b.WriteString(cell(show(t), 7))
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
		return fmt.Sprintf("%+.3f", v)
	}
	decimals := 1
	if l%(quantity.Millimetre/10) != 0 {
		decimals = 2
	}
	return l.Signed(decimals)
}

// options lists the options, complying ones in their places first.
func (p *page) options(r *assess.Result) {
	if len(r.Options) == 0 {
		return
	}
	pressure := engine.UsualPressure
	target := ""
	if t := r.Door.Targets; t.LeakageFlow.Known && t.LeakagePressure.Known {
		pressure = t.LeakagePressure.Value
		target = "target at most " + written(r, t.LeakageFlow.Pointer)
	}
	p.heading(fmt.Sprintf("OPTIONS, air at %g Pa in L/s, likely and its band", pressure), target)
	p.b.WriteString("    " + left("place", 7) + left("option", nameWidth) + left("at the widest gap", 19) + left("leaks", 21) + "verdict\n")
	for _, o := range r.Options {
		p.b.WriteString("    " + left(rank(o), 7) + left(clean(o.ID), nameWidth-1) + " " + left(setting(o, r.System), 19) + left(leak(o.Leakage), 20) + " " + p.style(verdictStyle[o.Verdict], o.Verdict) + brief(o) + "\n")
	}
	p.ties(r)
	p.notes(r)
	p.counted(r)
}

func rank(o assess.Option) string {
	switch {
	case o.Rank == 0:
		return "-"
	case o.Tied:
		return fmt.Sprintf("%d =", o.Rank)
	default:
		return fmt.Sprint(o.Rank)
	}
}

// leak is the likely flow and its band, two figures each, the band rounded outwards.
func leak(l *engine.Leakage) string {
	if l == nil {
		return "not known"
	}
	likely := policies.Significant(l.Likely*1000, math.Round)
	low := policies.Significant(l.Low*1000, math.Floor)
	if places := decimals(likely); decimals(low) > places {
		scale := math.Pow(10, float64(places))
		low = strconv.FormatFloat(math.Floor(l.Low*1000*scale)/scale, 'f', places, 64)
	}
	return left(likely, 6) + "(" + low + " to " + policies.Significant(l.High*1000, math.Ceil) + ")"
}

func decimals(figure string) int {
	_, fraction, _ := strings.Cut(figure, ".")
	return len(fraction)
}

// brief says in a few words what keeps an option from complying.
func brief(o assess.Option) string {
	for _, f := range o.Findings {
		if f.Level == policies.Caution || len(f.Points) == 0 || (f.Outcome != policies.Fail && f.Outcome != policies.Unknown) {
			continue
		}
		switch {
		case f.Rule == "targets/leakage" && f.Outcome == policies.Fail:
			return ", over target"
		case f.Points[0].Reason == "too-close":
			return ", target in band"
		}
		return ", see below"
	}
	return ""
}

// ties names the options whose bands overlap: their order means nothing.
func (p *page) ties(r *assess.Result) {
	shared := map[int][]string{}
	for _, o := range r.Options {
		if o.Tied {
			shared[o.Rank] = append(shared[o.Rank], clean(o.ID))
		}
	}
	ranks := make([]int, 0, len(shared))
	for n := range shared {
		ranks = append(ranks, n)
	}
	slices.Sort(ranks)
	for _, n := range ranks {
		p.text("    ", fmt.Sprintf("Too close to call at place %d: %s. Their bands overlap; a test of the real seals would settle it.", n, strings.Join(shared[n], ", ")))
	}
}

// notes says what else there is to know of the options: how they hang and what is open.
// Options with the same note share it.
func (p *page) notes(r *assess.Result) {
	var order []string
	names := map[string][]string{}
	note := func(o assess.Option, text string) {
		if names[text] == nil {
			order = append(order, text)
		}
		names[text] = append(names[text], clean(o.ID))
	}
	for _, o := range r.Options {
		if o.Title != "" {
			note(o, clean(o.Title)+".")
		}
		for _, c := range o.Contact {
			if c.Hangs > 0 {
				note(o, fmt.Sprintf("%s is %s high: its carrier hangs %s below leaf %s.", c.Seal, c.Length.In(r.System), c.Hangs.In(r.System), clean(c.Leaf)))
			}
		}
		for _, f := range o.Findings {
			if f.Level == policies.Caution || f.Rule == "targets/leakage" || (f.Outcome != policies.Fail && f.Outcome != policies.Unknown) {
				continue
			}
			note(o, reason(f))
		}
		for _, m := range o.Missing {
			note(o, "needed: "+clean(m.What)+" ("+schema.Field(m.Pointer)+").")
		}
	}
	for _, text := range order {
		p.text("    "+strings.Join(names[text], ", ")+": ", text)
	}
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
		text += ": found " + f.Found + ", limit " + f.Allowed
	}
	if f.Do != "" {
		text += ". Do: " + f.Do
	}
	for _, n := range f.Needs {
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
			names = append(names, clean(c.Path))
		}
		slices.Sort(names)
		text := "Counted: " + strings.Join(slices.Compact(names), ", ") + "."
		if len(r.Door.Paths) == 0 {
			text += " Not counted: head, sides, holes (list them under paths)."
		}
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
