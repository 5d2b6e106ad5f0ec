package render

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/engine"
	"sillwright/engine/doubt"
	"sillwright/engine/seal"
	"sillwright/policies"
	"sillwright/schema/quantity"
)

const (
	mostOptions = 4 // that are all broken down by path
	mostPaths   = 6 // that have lines of their own
	leakWidth   = 21
	shareWidth  = 11
)

// paths tells by which ways the air of the options passes, what of it the feet pass, and what a bottom seal costs that hangs higher.
// What is the same for every option is said once: so the lines go by path, and not by option.
func (p *page) paths(r *assess.Result, u flowUnit) {
	shown, leftOut := brokenDown(r.Options)
	if len(shown) == 0 {
		return
	}
	p.heading("WHERE THE AIR PASSES, "+u.name+", likely and its band", "largest first, by the first option")
	b := breakdown{options: shown, unit: u}
	feet := ""
	if b.feet() {
		feet = "of it at the feet"
	}
	p.way("path", []pathLine{{"option", "leaks", "share", feet}})
	ways, others := b.ways()
	for _, w := range ways {
		p.way(w.path, b.lines(w.in))
	}
	if len(others) > 0 {
		sum := func(l *engine.Leakage) (doubt.Range, doubt.Range, bool) { return together(others, l) }
		p.way(plural(len(others), "other path", "other paths"), b.lines(sum))
	}
	raised := p.higher(r, b)
	b.largest(p)
	b.doubts(p)
	p.legend(r, b, raised)
	if len(leftOut) > 0 {
		p.text("    ", "Not broken down here: "+strings.Join(leftOut, ", ")+". --format json has every option.")
	}
}

// brokenDown picks the options whose paths are shown: all of a few; of many those that comply and the one that leaks least of the rest.
func brokenDown(options []assess.Option) (shown []assess.Option, leftOut []string) {
	var known []assess.Option
	for _, o := range options {
		if o.Leakage != nil {
			known = append(known, o)
		}
	}
	if len(known) <= mostOptions {
		return known, nil
	}
	best := ""
	least := math.Inf(1)
	for _, o := range known {
		if o.Verdict != assess.Complies && o.Leakage.Likely < least {
			best, least = o.ID, o.Leakage.Likely
		}
	}
	for _, o := range known {
		if o.Verdict == assess.Complies || o.ID == best {
			shown = append(shown, o)
		} else {
			leftOut = append(leftOut, clean(o.ID))
		}
	}
	return shown, leftOut
}

// breakdown is the air of some options by path.
type breakdown struct {
	options []assess.Option
	unit    flowUnit
}

func (b breakdown) feet() bool {
	return slices.ContainsFunc(b.options, func(o assess.Option) bool {
		return slices.ContainsFunc(o.Leakage.Counted, func(c engine.Counted) bool { return c.Feet.High > 0 })
	})
}

// way is a path by its name and place in the spec.
type way struct {
	path, pointer string
	most          float64 // likely flow in the option where it is largest
}

func (w way) of(c engine.Counted) bool { return c.Path == w.path && c.Pointer == w.pointer }

func (w way) in(l *engine.Leakage) (flow, feet doubt.Range, ok bool) {
	i := slices.IndexFunc(l.Counted, w.of)
	if i < 0 {
		return doubt.Range{}, doubt.Range{}, false
	}
	return l.Counted[i].Range, l.Counted[i].Feet, true
}

// together adds paths to one band; what feet save adds ends to ends.
func together(ways []way, l *engine.Leakage) (flow, feet doubt.Range, ok bool) {
	var some []engine.Counted
	for _, c := range l.Counted {
		if slices.ContainsFunc(ways, func(w way) bool { return w.of(c) }) {
			some = append(some, c)
			feet = feet.Plus(c.Feet)
		}
	}
	return l.Together(some...).Range, feet, len(some) > 0
}

// ways gives the largest paths, as they stand in the first option, and the others.
func (b breakdown) ways() (large, others []way) {
	var all []way
	for _, o := range b.options {
		for _, c := range o.Leakage.Counted {
			i := slices.IndexFunc(all, func(w way) bool { return w.of(c) })
			if i < 0 {
				i = len(all)
				all = append(all, way{path: c.Path, pointer: c.Pointer})
			}
			all[i].most = max(all[i].most, c.Likely)
		}
	}
	if len(all) <= mostPaths+1 { // a line for one other path says no less than its own
		return all, nil
	}
	bySize := slices.SortedStableFunc(slices.Values(all), func(a, b way) int { return cmp.Compare(b.most, a.most) })
	for _, w := range all {
		if slices.Contains(bySize[:mostPaths], w) {
			large = append(large, w)
		} else {
			others = append(others, w)
		}
	}
	return large, others
}

// pathLine is what one path passes in one option, or in all that have the same.
type pathLine struct{ option, leaks, share, feet string }

// lines writes a path for every option that has it. What is the same for all of them, or for all but some, is one line.
func (b breakdown) lines(of func(*engine.Leakage) (flow, feet doubt.Range, ok bool)) []pathLine {
	type group struct {
		pathLine
		names  []string
		shares []float64
	}
	var groups []group
	for _, o := range b.options {
		f, feet, ok := of(o.Leakage)
		if !ok {
			continue
		}
		g := group{pathLine: pathLine{leaks: banded(f, b.unit.per)}}
		if feet.High > 0 {
			g.feet = banded(feet, b.unit.per)
		}
		i := slices.IndexFunc(groups, func(have group) bool { return have.pathLine == g.pathLine })
		if i < 0 {
			i = len(groups)
			groups = append(groups, g)
		}
		groups[i].names = append(groups[i].names, clean(o.ID))
		groups[i].shares = append(groups[i].shares, f.Likely/o.Leakage.Likely)
	}
	shared := slices.DeleteFunc(slices.Clone(groups), func(g group) bool { return len(g.names) == 1 })
	var out, last []pathLine
	for _, g := range groups {
		line := g.pathLine
		switch {
		case len(g.names) == len(b.options) && len(g.names) > 1:
			line.option, line.share = "every option", percents(g.shares)
			out = append(out, line)
		case len(g.names) > 1 && len(shared) == 1:
			line.option, line.share = "the others", percents(g.shares)
			last = append(last, line)
		default:
			for i, name := range g.names {
				line.option, line.share = name, percents(g.shares[i:i+1])
				out = append(out, line)
			}
		}
	}
	return append(out, last...)
}

// percents writes parts, from the least to the most.
func percents(parts []float64) string {
	write := func(part float64) string {
		switch p := 100 * part; {
		case math.IsNaN(p):
			return "-"
		case p > 0 && p < 0.5:
			return "<1"
		default:
			return fmt.Sprintf("%.0f", p)
		}
	}
	low, high := write(slices.Min(parts)), write(slices.Max(parts))
	if low == high {
		return low + " %"
	}
	return low + " to " + high + " %"
}

// way writes the lines of a path.
func (p *page) way(name string, lines []pathLine) {
	for _, l := range lines {
		names := left(clean(name), nameWidth-1) + " " + left(l.option, nameWidth-1) + " "
		figures := pad(l.leaks, leakWidth) + pad(l.share, shareWidth) + l.feet
		p.b.WriteString(strings.TrimRight("    "+names+figures, " ") + "\n")
		name = ""
	}
}

// raisedBy is by how much a bottom seal is hung higher to tell what that costs: a millimetre, or as an inch rule has it.
func raisedBy(s quantity.System) quantity.Length {
	if s == quantity.Imperial {
		return quantity.Inch / 32
	}
	return quantity.Millimetre
}

// higher writes what the door leaks with its bottom seals hung higher; false where no option has one that is set.
func (p *page) higher(r *assess.Result, b breakdown) bool {
	var lines []pathLine
	for _, o := range b.options {
		raised, ok := o.Leakage.Higher(raisedBy(r.System))
		if !ok {
			continue
		}
		leaks := banded(raised.Range, b.unit.per)
		lines = append(lines, pathLine{option: clean(o.ID), leaks: leaks, share: more(raised.Likely / o.Leakage.Likely)})
	}
	p.way("hung "+raisedBy(r.System).In(r.System)+" higher", lines)
	return len(lines) > 0
}

// more says how much more or less a flow is, likely against likely.
func more(times float64) string {
	switch part := math.Round(100 * (times - 1)); {
	case math.IsNaN(times) || math.IsInf(times, 0):
		return ""
	case times >= 2:
		return policies.Significant(times, math.Round) + " times"
	case part > 0:
		return fmt.Sprintf("%.0f %% more", part)
	case part < 0:
		return fmt.Sprintf("%.0f %% less", -part)
	}
	return "as much"
}

// said collects what is the same of several options, with its share in each.
type said struct {
	text   string
	names  []string
	shares []float64
}

func collect(all []said, text, name string, share float64) []said {
	i := slices.IndexFunc(all, func(s said) bool { return s.text == text })
	if i < 0 {
		i = len(all)
		all = append(all, said{text: text})
	}
	all[i].names, all[i].shares = append(all[i].names, name), append(all[i].shares, share)
	return all
}

// whose names the options, unless they are all that are shown.
func (s said) whose(b breakdown) string {
	if len(s.names) == len(b.options) {
		return ""
	}
	return " of " + list(s.names)
}

// largest names the path that passes most.
func (b breakdown) largest(p *page) {
	var all []said
	for _, o := range b.options {
		if len(o.Leakage.Counted) > 0 && o.Leakage.Likely > 0 {
			c := o.Leakage.Counted[0]
			all = collect(all, c.Path, clean(o.ID), c.Likely/o.Leakage.Likely)
		}
	}
	var parts []string
	for _, s := range all {
		parts = append(parts, s.text+s.whose(b)+", "+percents(s.shares))
	}
	if len(parts) > 0 {
		p.text("    ", "Largest path: "+strings.Join(parts, "; ")+".")
	}
}

// doubts names what widens the band of each option most, and how to settle it.
func (b breakdown) doubts(p *page) {
	var all []said
	settle := map[string]string{}
	for _, o := range b.options {
		d := o.Leakage.Largest
		if d.Name == "" {
			continue
		}
		text := d.About()
		settle[text] = d.Settle
		all = collect(all, text, clean(o.ID), o.Leakage.Share)
	}
	for _, s := range all {
		whose := ""
		if s.whose(b) != "" {
			whose = " (" + strings.Join(s.names, ", ") + ")"
		}
		p.text("    ", "Widest doubt"+whose+": "+s.text+", "+percents(s.shares)+" of the band. To narrow it: "+settle[s.text]+".")
	}
}

// legend says what the lines of the breakdown mean, of which it may have some for seals hung higher.
func (p *page) legend(r *assess.Result, b breakdown, raised bool) {
	if raised {
		p.text("    ", "Hung higher: all paths together, with every bottom seal that can be set raised by so much.")
	}
	corners := slices.ContainsFunc(b.options, func(o assess.Option) bool {
		return slices.ContainsFunc(o.Leakage.Counted, func(c engine.Counted) bool { return strings.HasPrefix(c.Path, "corner") })
	})
	const feet = "Feet: the openings between the ends of a bottom seal and the jambs; what closing them saves."
	switch {
	case b.feet() && corners:
		p.text("    ", feet+" A corner that the spec lists stands for one of them.")
	case b.feet():
		p.text("    ", feet)
	case corners:
		p.text("    ", "The feet of the bottom seals at the jambs count as the corners that the spec lists.")
	}
	text := "The bands of paths do not add up: errors that paths share move together, others partly cancel."
	if slices.ContainsFunc(b.options, func(o assess.Option) bool { return len(o.Leakage.Counted) > 1 }) {
		p.text("    ", text)
	}
	text = "Holes count if they are listed."
	if rest := r.Door.Unlisted(); len(rest) > 0 {
		text = "Not counted, for no path is listed: " + strings.Join(rest, ", ") + ". " + text
	}
	p.text("    ", text)
}

// basis says what the figures rest on.
func (p *page) basis(r *assess.Result) {
	var taken []string
	estimates := false
	for _, o := range r.Options {
		for _, t := range o.Taken {
			if !slices.Contains(taken, t) {
				taken = append(taken, t)
			}
		}
		estimates = estimates || (o.Leakage != nil && o.Leakage.Basis == seal.BasisEstimate)
	}
	if len(taken) > 0 {
		p.text("    ", "Taken for granted: "+strings.Join(taken, "; ")+".")
	}
	if estimates {
		p.text("    ", "Seals without a flow test are estimated from physics and generic ranges, not measured. "+
			"The bands are engineering judgement; a test of the real seal beats them.")
	}
}
