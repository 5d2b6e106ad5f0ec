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
	"sillwright/schema/quantity"
)

// criteria are the names of what options are ranked by.
var criteria = map[engine.Criterion]string{
	engine.ByLeakage: "leakage", engine.ByForce: "force", engine.ByLife: "life", engine.ByTolerance: "setting tolerance",
}

func rank(o assess.Option) string {
	switch {
	case o.Rank == 0:
		return "-"
	case len(o.Near) > 0:
		return fmt.Sprintf("%d ~", o.Rank)
	default:
		return fmt.Sprint(o.Rank)
	}
}

// ranking says by what the complying options are ranked, and of each why it stands where it does.
func (p *page) ranking(r *assess.Result) {
	w, n := wordingOf(r), notes{}
	for _, o := range r.Options {
		if o.Verdict == assess.Complies {
			n.add(o, w.why(o, true))
		}
	}
	if complying(r) > 1 {
		var names []string
		for _, c := range r.Order {
			names = append(names, criteria[c])
		}
		p.text("    ", "Ranked by "+strings.Join(names, ", then ")+"; change with --rank.")
	}
	p.write(n)
	p.ties(r)
}

// ties explains the mark of bands that overlap, and names the options that stand apart all the same.
func (p *page) ties(r *assess.Result) {
	var groups [][]string
	overlap := false
	for _, o := range r.Options {
		if len(o.Near) == 0 {
			continue
		}
		overlap = true
		// All bands that hold the low end of this one overlap each other.
		var group []string
		apart := false
		for _, other := range r.Options {
			if other.ID == o.ID || (slices.Contains(o.Near, other.ID) && other.Leakage.Low <= o.Leakage.Low) {
				group = append(group, clean(other.ID))
				apart = apart || other.Rank != o.Rank
			}
		}
		if apart {
			groups = append(groups, group)
		}
	}
	if !overlap {
		return
	}
	text := "The leakage bands of these overlap: a test of the real seals would settle which leaks less."
	var apart []string
	for i, g := range groups {
		if !slices.ContainsFunc(groups, func(h []string) bool { return len(h) > len(g) && holdsAll(h, g) }) &&
			!slices.ContainsFunc(groups[:i], func(h []string) bool { return slices.Equal(h, g) }) {
			apart = append(apart, list(g))
		}
	}
	if len(apart) > 0 {
		text += " Too close to call on leakage, though their places differ: " + strings.Join(apart, "; ") + "."
	}
	p.text("    ~ ", text)
}

func holdsAll(all, some []string) bool {
	return !slices.ContainsFunc(some, func(s string) bool { return !slices.Contains(all, s) })
}

func list(names []string) string {
	if len(names) == 1 {
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

// wording words why options stand where they do.
type wording struct {
	options []assess.Option
	order   []engine.Criterion
	unit    flowUnit
	system  quantity.System
}

func wordingOf(r *assess.Result) wording { return wording{r.Options, r.Order, unitOf(r), r.System} }

func (w wording) option(id string) assess.Option {
	return w.options[slices.IndexFunc(w.options, func(o assess.Option) bool { return o.ID == id })]
}

// why says in one sentence why a complying option stands where it does. Shared: those that share the first place share
// the sentence too.
func (w wording) why(o assess.Option, shared bool) string {
	var clauses []string
	switch {
	case o.Rank == 0 && slices.Contains(w.order, engine.ByLeakage) && o.Leakage == nil:
		return "Not ranked: leakage is not known."
	case o.Rank == 0:
		return "Not ranked: nothing that counts is known."
	case o.Reason.By == "" && len(o.Tied) == 0:
		return w.only()
	case o.Reason.By == "" && shared:
		clauses = []string{level("with each other", append(w.named(o.Tied), o), w.order)}
	case o.Reason.By == "":
		clauses = []string{level("with "+cleanList(o.Tied), append(w.named(o.Tied), o), w.order)}
	default:
		clauses = []string{w.parted(o)}
		if len(o.Tied) > 0 {
			clauses = append(clauses, "level with "+cleanList(o.Tied)+" in all that is known"+unknown(append(w.named(o.Tied), o), w.order))
		}
	}
	if len(o.DominatedBy) > 0 {
		clauses = append(clauses, "dominated by "+clean(o.DominatedBy[0])+", which is no worse on anything that counts")
	}
	text := strings.Join(clauses, "; ")
	return strings.ToUpper(text[:1]) + text[1:] + "."
}

func (w wording) only() string {
	for i, o := range w.options {
		if i > 0 && o.Verdict == assess.Complies {
			return "Only complying option that can be ranked."
		}
	}
	return "Only complying option."
}

func (w wording) named(ids []string) []assess.Option {
	var out []assess.Option
	for _, id := range ids {
		out = append(out, w.option(id))
	}
	return out
}

func cleanList(ids []string) string {
	var out []string
	for _, id := range ids {
		out = append(out, clean(id))
	}
	return list(out)
}

// parted says what puts an option before or behind its neighbour.
func (w wording) parted(o assess.Option) string {
	by := o.Reason.By
	other := w.option(o.Reason.Other)
	head := "behind " + clean(other.ID)
	if o.Rank == 1 {
		head = "first, ahead of " + clean(other.ID)
	}
	before := w.order[:slices.Index(w.order, by)]
	var clauses []string
	if len(before) > 0 {
		clauses = append(clauses, level("", []assess.Option{o, other}, before))
	}
	_, own := by.Of(o.Option)
	_, others := by.Of(other.Option)
	switch {
	case !own:
		clauses = append(clauses, fmt.Sprintf("its %s is not known, which puts it with the last, %s", criteria[by], clean(o.Reason.Third)))
	case !others:
		clauses = append(clauses, fmt.Sprintf("the %s of %s is not known, which puts that with the last", criteria[by], clean(other.ID)))
	case o.Reason.Third != "":
		head += ", though their bands of " + criteria[by] + " overlap"
		third := w.option(o.Reason.Third)
		clauses = append(clauses, w.apart(by, o, third)+", and "+clean(third.ID)+" is not surely better than "+clean(other.ID))
	default:
		clauses = append(clauses, w.apart(by, o, other))
	}
	return head + ": " + strings.Join(clauses, "; ")
}

// level says on which of the criteria options are level because their bands overlap, and which are not known.
func level(with string, options []assess.Option, order []engine.Criterion) string {
	var on []string
	overlap := false
	for _, c := range order {
		if len(without(c, options)) == 0 {
			on = append(on, criteria[c])
			overlap = overlap || c != engine.ByTolerance // which is exact: level is the same
		}
	}
	text := strings.TrimSpace("level " + with)
	if len(on) > 0 {
		text += " on " + list(on)
	}
	if overlap {
		text += ", for their bands overlap"
	}
	return text + unknown(options, order)
}

// unknown says which of the criteria are not known, and of which options; nothing where all are.
func unknown(options []assess.Option, order []engine.Criterion) string {
	var lacking []string
	names := map[string][]string{}
	for _, c := range order {
		ids := without(c, options)
		if len(ids) == 0 {
			continue
		}
		whose := ""
		if len(ids) < len(options) {
			whose = " of " + list(ids)
		}
		if names[whose] == nil {
			lacking = append(lacking, whose)
		}
		names[whose] = append(names[whose], criteria[c])
	}
	text := ""
	for _, whose := range lacking {
		verb := " is"
		if len(names[whose]) > 1 {
			verb = " are"
		}
		text += "; " + list(names[whose]) + verb + " not known" + whose
	}
	return text
}

// without gives the options of which a figure is not known.
func without(c engine.Criterion, options []assess.Option) []string {
	var out []string
	for _, o := range options {
		if _, known := c.Of(o.Option); !known {
			out = append(out, clean(o.ID))
		}
	}
	slices.Sort(out)
	return out
}

// saying is how a criterion's figures are said: of the option itself, and its unit.
var saying = map[engine.Criterion]struct{ verb, after string }{
	engine.ByLeakage:   {"leaks ", ""},
	engine.ByForce:     {"adds ", " at the latch edge"},
	engine.ByLife:      {"was tested for ", ""},
	engine.ByTolerance: {"may be set ", " off either way"},
}

// apart gives the ends of two bands that do not overlap: the option's, and another's.
func (w wording) apart(by engine.Criterion, o, other assess.Option) string {
	x, _ := by.Of(o.Option)
	y, _ := by.Of(other.Option)
	own, others := "", ""
	if by == engine.ByTolerance {
		own, others = o.Tolerance.In(w.system), other.Tolerance.In(w.system)
	} else if x.High < y.Low {
		high, low := w.ends(by, x.High, y.Low)
		own, others = "at most "+high, "at least "+low
	} else {
		high, low := w.ends(by, y.High, x.Low)
		own, others = "at least "+low, "at most "+high
	}
	s := saying[by]
	return "it " + s.verb + own + s.after + ", " + clean(other.ID) + " " + others
}

// newtonsPerPound is exact: the pound of 1959 in the standard gravity of 1901.
const newtonsPerPound = 4.4482216152605

// ends writes the high end of a band and the low end of one that lies above it, rounded outwards, with as many figures as
// it takes to show them apart.
func (w wording) ends(by engine.Criterion, high, low float64) (string, string) {
	unit := "cycles"
	switch {
	case by == engine.ByLeakage:
		high, low, unit = high*w.unit.per, low*w.unit.per, w.unit.name
	case by == engine.ByForce && w.system == quantity.Imperial:
		high, low, unit = high/newtonsPerPound, low/newtonsPerPound, "lbf"
	case by == engine.ByForce:
		unit = "N"
	}
	const fewest, most = 2, 12
	for n := fewest; n < most; n++ {
		a, b := policies.Figures(high, n, math.Ceil), policies.Figures(low, n, math.Floor)
		if number(a) < number(b) {
			return a + " " + unit, b + " " + unit
		}
	}
	return fmt.Sprintf("%v %s", high, unit), fmt.Sprintf("%v %s", low, unit)
}

func number(figure string) float64 {
	v, err := strconv.ParseFloat(figure, 64)
	if err != nil {
		return math.NaN() // compares as neither less nor more
	}
	return v
}
