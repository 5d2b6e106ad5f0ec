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
	p.ties(w)
}

// ties explains the mark of options that are level on leakage: what would part the first two, and which of them stand apart all the same.
func (p *page) ties(w wording) {
	near := func(o, other assess.Option) bool { return slices.Contains(o.Near, other.ID) }
	marked := 0
	for _, o := range w.options {
		if len(o.Near) > 0 {
			marked++
		}
	}
	if marked == 0 {
		return
	}
	text := "Too close to call which of these leaks less." + w.settles()
	var apart []string
	covered := map[[2]int]bool{}
	for i, o := range w.options {
		for j := i + 1; j < len(w.options); j++ {
			if covered[[2]int{i, j}] || !near(o, w.options[j]) || o.Rank == w.options[j].Rank {
				continue
			}
			group := []int{}
			for k, other := range w.options { // all near each other, these two among them
				if !slices.ContainsFunc(append([]int{i, j}, group...), func(g int) bool { return g != k && !near(other, w.options[g]) }) {
					group = append(group, k)
				}
			}
			var names []string
			for _, g := range group {
				names = append(names, clean(w.options[g].ID))
				for _, h := range group {
					covered[[2]int{g, h}] = true
				}
			}
			apart = append(apart, list(names))
		}
	}
	if len(apart) > 0 && marked > 2 { // else the two are named already
		text += " Level on leakage, though their places differ: " + strings.Join(apart, "; ") + "."
	}
	p.text("    ~ ", text)
}

// settles says how far the first two that are level on leakage lie apart, and what to measure to part them; nothing where no doubt does.
func (w wording) settles() string {
	for i, o := range w.options {
		for _, other := range w.options[i+1:] {
			if !slices.Contains(o.Near, other.ID) {
				continue
			}
			less, more := o, other
			if other.Leakage.Likely < o.Leakage.Likely {
				less, more = other, o
			}
			d := less.Leakage.Below(more.Leakage)
			if d.Largest.Name == "" {
				continue
			}
			return fmt.Sprintf(" %s; the widest doubt between them is %s, %.0f %% of what keeps them level. To settle it: %s.",
				leaksMore(clean(more.ID), clean(less.ID), d, w.unit), d.Largest.About(), 100*d.Share, d.Largest.Settle)
		}
	}
	return ""
}

// leaksMore says how much more one lets pass than another, and its band, which may reach to less.
func leaksMore(more, less string, d engine.Difference, u flowUnit) string {
	much, band, _ := strings.Cut(muchMore(d, u), " (")
	if much == asMuch {
		return more + " leaks as much as " + less + " (" + band
	}
	return more + " leaks " + much + " than " + less + " (" + band
}

const asMuch = "as much"

// muchMore says how much more air passes, and its band, which may reach to less.
func muchMore(d engine.Difference, u flowUnit) string {
	much := asMuch
	if likely := figure(d.Likely*u.per, math.Round, 2); number(likely) > 0 {
		much = likely + " " + u.name + " more"
	}
	low, high := figure(-d.Low*u.per, math.Ceil, 2)+" less", figure(d.High*u.per, math.Ceil, 2)+" more"
	if d.Low >= 0 {
		low, high = figure(d.Low*u.per, math.Floor, 2), strings.TrimSuffix(high, " more")
	}
	return much + " (" + low + " to " + high + ")"
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
	alike := slices.DeleteFunc(slices.Clone(o.Level), func(id string) bool { return slices.Contains(o.Circled, id) })
	var clauses []string
	switch {
	case o.Rank == 0 && slices.Contains(w.order, engine.ByLeakage) && o.Leakage == nil:
		return "Not ranked: leakage is not known."
	case o.Rank == 0:
		return "Not ranked: nothing that counts is known."
	case o.Reason.By == "" && len(o.Tied) == 0:
		return w.only()
	case o.Reason.By == "" && len(alike) == 0:
	case o.Reason.By == "" && shared && slices.Equal(alike, o.Tied):
		clauses = []string{level("with each other", o, w.order)}
	case o.Reason.By == "":
		clauses = []string{level("with "+cleanList(alike), o, w.order)}
	default:
		text, said := w.parted(o)
		clauses = []string{text}
		if len(alike) > 0 {
			clauses = append(clauses, "level with "+cleanList(alike)+" in all that is known"+unknown(o, w.order[said:]))
		}
	}
	if len(o.Circled) > 0 {
		clauses = append(clauses, "level with "+cleanList(o.Circled)+", for what parts them goes round in a circle with other options, and so does not count")
	}
	if len(o.DominatedBy) > 0 {
		clauses = append(clauses, "dominated by "+clean(o.DominatedBy[0])+", which is no worse on anything that counts")
	}
	text := strings.Join(clauses, "; ")
	return upper(text) + "."
}

func (w wording) only() string {
	for i, o := range w.options {
		if i > 0 && o.Verdict == assess.Complies {
			return "Only complying option that can be ranked."
		}
	}
	return "Only complying option."
}

func cleanList(ids []string) string {
	var out []string
	for _, id := range ids {
		out = append(out, clean(id))
	}
	return list(out)
}

// parted says what puts an option before or behind its neighbour, and how many of the criteria it speaks of.
func (w wording) parted(o assess.Option) (string, int) {
	other := w.option(o.Reason.Other)
	head := "behind " + clean(other.ID)
	if o.Rank == 1 {
		head = "first, ahead of " + clean(other.ID)
	}
	return head + ": " + w.ground(o), slices.Index(w.order, o.Reason.By) + 1
}

// ground says by what an option is parted from its neighbour.
func (w wording) ground(o assess.Option) string {
	by := o.Reason.By
	other := w.option(o.Reason.Other)
	before := w.order[:slices.Index(w.order, by)]
	var clauses []string
	if len(before) > 0 {
		clauses = append(clauses, level("", o, before))
	}
	_, own := by.Of(o.Option)
	_, others := by.Of(other.Option)
	switch {
	case !own:
		clauses = append(clauses, fmt.Sprintf("its %s is not known, and that of %s is", criteria[by], clean(other.ID)))
	case !others:
		clauses = append(clauses, fmt.Sprintf("its %s is known, and that of %s is not", criteria[by], clean(other.ID)))
	case by == engine.ByTolerance:
		clauses = append(clauses, w.spare(o, other))
	case by == engine.ByLeakage && max(o.Leakage.Low, other.Leakage.Low) <= min(o.Leakage.High, other.Leakage.High):
		clauses = append(clauses, w.difference(o, other)...)
	default:
		clauses = append(clauses, w.apart(by, o, other))
	}
	return strings.Join(clauses, "; ")
}

// level says on which of the criteria an option is level with others because nothing parts them beyond doubt, and which are not known.
func level(with string, o assess.Option, order []engine.Criterion) string {
	var on []string
	banded := false
	for _, c := range order {
		if _, known := c.Of(o.Option); known {
			on = append(on, criteria[c])
			banded = banded || c != engine.ByTolerance // which is exact: level is the same
		}
	}
	text := strings.TrimSpace("level " + with)
	if len(on) > 0 {
		text += " on " + list(on)
	}
	if banded {
		text += ", within their bands"
	}
	return text + unknown(o, order)
}

// unknown says which of the criteria are not known of an option, and so of none that it is level with; nothing where all are.
func unknown(o assess.Option, order []engine.Criterion) string {
	var names []string
	for _, c := range order {
		if _, known := c.Of(o.Option); !known {
			names = append(names, criteria[c])
		}
	}
	switch len(names) {
	case 0:
		return ""
	case 1:
		return "; " + names[0] + " is not known"
	default:
		return "; " + list(names) + " are not known"
	}
}

// difference says how much less or more an option leaks than another whose band overlaps its own, and why that is beyond doubt.
func (w wording) difference(o, other assess.Option) []string {
	word, d := "less", o.Leakage.Below(other.Leakage)
	if d.Likely < 0 {
		word, d = "more", other.Leakage.Below(o.Leakage)
	}
	figure := func(v float64, round func(float64) float64) string { return policies.Significant(v*w.unit.per, round) }
	text := fmt.Sprintf("it leaks %s %s %s (%s to %s)",
		figure(d.Likely, math.Round), w.unit.name, word, figure(d.Low, math.Floor), figure(d.High, math.Ceil))
	return []string{text, "their bands overlap only for what both share"}
}

// spare says how far the settings of two options may be off.
func (w wording) spare(o, other assess.Option) string {
	const within = "within the range that the seal is made for"
	switch {
	case o.NothingToSet:
		return fmt.Sprintf("it has nothing to set, and %s, the setting of %s has %s to spare either way",
			within, clean(other.ID), other.Tolerance.In(w.system))
	case other.NothingToSet:
		return fmt.Sprintf("%s, its setting has %s to spare either way, and %s has nothing to set",
			within, o.Tolerance.In(w.system), clean(other.ID))
	}
	return fmt.Sprintf("%s, its setting has %s to spare either way, that of %s %s",
		within, o.Tolerance.In(w.system), clean(other.ID), other.Tolerance.In(w.system))
}

// saying is how a criterion's figures are said: of the option itself, and its unit.
var saying = map[engine.Criterion]struct{ verb, after string }{
	engine.ByLeakage: {"leaks ", ""},
	engine.ByForce:   {"adds ", " at the latch edge"},
	engine.ByLife:    {"was tested for ", ""},
}

// apart gives the ends of two bands that do not overlap: the option's, and another's.
func (w wording) apart(by engine.Criterion, o, other assess.Option) string {
	x, _ := by.Of(o.Option)
	y, _ := by.Of(other.Option)
	own, others := "", ""
	if x.High < y.Low {
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
