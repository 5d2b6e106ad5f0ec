package explain

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"sillwright/cmd/internal/assess"
	"sillwright/engine"
	"sillwright/policies"
	"sillwright/schema"
)

// Need is what must be found out, or asked, before rules that are unknown can be told.
type Need struct {
	Fact    string   // the name of what is not known; "" for a question that no measurement answers
	Title   string   // what it is, or the question, without a stop
	How     string   // how to find it out, or whom to ask, without a stop
	Pointer string   // where the spec gives it
	Text    []string // what of it, such as a range of angles, as the rules ask for it
	Settles []string // the rules that wait for it, in the order in which they were found, with the subject where that is an option
	Alone   int      // how many findings that count wait for nothing else
}

const (
	leftOpen = "left-open" // reason of a point that the text leaves to somebody
	tooClose = "too-close" // reason of a point whose band reaches over the limit
)

// Needs is what all unknown findings need that nobody accepted, of the door and of the options that may still comply; cautions ask for
// themselves. One thing at one place is one need, whatever waits for it. First comes what alone settles most findings that count, then
// what most of these wait for, then what most of the others wait for; then the order in which they were found.
func Needs(r *assess.Result) []Need {
	var n needs
	for i := range r.Findings {
		n.finding(r, &r.Findings[i], nil)
	}
	for i := range r.Options {
		o := &r.Options[i]
		for k := range o.Findings {
			if o.Standing != assess.Fails {
				n.finding(r, &o.Findings[k], o)
			}
		}
	}
	slices.SortStableFunc(n, func(a, b *waiting) int {
		return cmp.Or(cmp.Compare(b.Alone, a.Alone), cmp.Compare(b.counting, a.counting), cmp.Compare(b.others, a.others))
	})
	out := make([]Need, len(n))
	for i, w := range n {
		out[i] = w.Need
		if len(w.asked) > 0 {
			out[i].Title += ": " + strings.Join(w.asked, "; ")
		}
	}
	return out
}

// waiting is a need with the findings that wait for it.
type waiting struct {
	Need
	asked            []string // what a question is about
	counting, others int
}

type needs []*waiting

// finding adds what a finding waits for.
func (n *needs) finding(r *assess.Result, f *policies.Finding, o *assess.Option) {
	if f.Outcome != policies.Unknown || f.Level == policies.Caution || f.Accepted != nil {
		return
	}
	var own []*waiting
	for _, need := range f.Needs {
		for _, w := range n.lacks(need, o) {
			own = take(own, w)
		}
	}
	var open, close []policies.Point
	for _, p := range f.Points {
		switch p.Reason {
		case leftOpen:
			open = append(open, p)
		case tooClose:
			close = append(close, p)
		}
	}
	if len(open) > 0 {
		own = append(own, n.authority(f, open))
	}
	if len(close) > 0 {
		own = append(own, n.nearer(f, close, o))
	}
	if len(own) == 0 {
		own = append(own, n.need(Need{Title: f.Message, How: strings.TrimSuffix(f.Do, "."), Pointer: firstPlace(&f.Point)}))
	}
	rule := f.Rule
	if o != nil {
		rule += " (option " + o.ID + ")"
	}
	for _, w := range own {
		w.Settles = take(w.Settles, rule)
		switch counts := assess.Counts(*f, r.Strict); {
		case counts && len(own) == 1:
			w.Alone++
			fallthrough
		case counts:
			w.counting++
		default:
			w.others++
		}
	}
}

// lacks gives what a finding's need comes to: of air leakage what keeps it from being known.
func (n *needs) lacks(need policies.Need, o *assess.Option) []*waiting {
	if need.Fact == "leakage" && o != nil && len(o.Missing) > 0 {
		var out []*waiting
		for _, m := range o.Missing {
			out = take(out, n.need(Need{Fact: need.Fact, Title: m.What, How: need.How, Pointer: m.Pointer}))
		}
		return out
	}
	w := n.need(Need{Fact: need.Fact, Title: need.Title, How: need.How, Pointer: need.Pointer})
	for _, m := range behind(need.Fact, o) {
		w.also("; here ", m.What)
	}
	if need.Text != "" {
		w.Text = take(w.Text, need.Text)
	}
	return []*waiting{w}
}

// behind gives what keeps a force of an option from being predicted.
func behind(fact string, o *assess.Option) []engine.Missing {
	switch {
	case o == nil:
		return nil
	case fact == "opening_force_sealed":
		return o.Undragged
	case fact == "latching_spare":
		return slices.Concat(o.Undragged, o.Unpressed)
	}
	return nil
}

// authority asks whoever decides what the text of a rule leaves open: one answer in the spec settles all of it, whatever it is about.
func (n *needs) authority(f *policies.Finding, open []policies.Point) *waiting {
	w := n.need(Need{
		Title: "whether the authority accepts what the text leaves open", Pointer: schema.Pointer("site", "answers", f.Rule),
		How: "ask the authority, and write its answer with what that rests on",
	})
	for i := range open {
		p := &open[i]
		w.asked = take(w.asked, about(p, "Left open by the text: "))
		if p.Decision != nil {
			w.also(". ", *p.Decision)
		}
	}
	return w
}

// nearer asks for a narrower band where it reaches over the limit of a rule: of leakage first what settles the widest doubt.
func (n *needs) nearer(f *policies.Finding, close []policies.Point, o *assess.Option) *waiting {
	w := &waiting{Need: Need{Title: "what is too close to tell", Pointer: firstPlace(&close[0])}}
	if f.Question == "band-at-most" && o != nil && o.Leakage != nil && o.Leakage.Largest.Name != "" {
		d := o.Leakage.Largest
		w.How = fmt.Sprintf("%s: %s is %.0f %% of the band, so this makes it narrower, and need not be enough", d.Settle, d.About(), 100*o.Leakage.Share)
	}
	for i := range close {
		w.asked = take(w.asked, about(&close[i], "Too close to tell: "))
		w.also("; or ", close[i].Do)
	}
	*n = append(*n, w)
	return w
}

// about says what a question is about.
func about(p *policies.Point, lead string) string {
	text := strings.TrimPrefix(p.Message, lead)
	if p.Found != "" && p.Allowed != "" {
		text += ", " + p.Found + " against " + p.Allowed
	}
	return text
}

// also adds to how a thing is found out what is not said yet.
func (w *waiting) also(before, how string) {
	how = strings.TrimSuffix(how, ".")
	switch {
	case strings.Contains(w.How, how):
	case w.How == "":
		w.How = how
	default:
		w.How += before + how
	}
}

func firstPlace(p *policies.Point) string {
	if len(p.Places) == 0 {
		return ""
	}
	return p.Places[0].Pointer
}

// need gives the need of that fact at that place, new where there is none yet.
func (n *needs) need(one Need) *waiting {
	for _, w := range *n {
		if w.Fact == one.Fact && w.Pointer == one.Pointer && w.Title == one.Title {
			return w
		}
	}
	w := &waiting{Need: one}
	*n = append(*n, w)
	return w
}

// take adds what is not there yet.
func take[T comparable](list []T, one T) []T {
	if slices.Contains(list, one) {
		return list
	}
	return append(list, one)
}
