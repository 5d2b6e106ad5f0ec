package policies

import (
	"encoding/json"
	"slices"
	"strings"

	"sillwright/schema/fact"
	"sillwright/schema/quantity"
)

// The outcomes that a rule can have for a subject.
const (
	Pass          = "pass"
	Fail          = "fail"
	Unknown       = "unknown"
	NotApplicable = "not-applicable"
)

var outcomeWords = []string{Pass, Fail, Unknown, NotApplicable}

// Levels of a rule.
const (
	Must    = "must"
	Should  = "should"
	Caution = "caution"
)

// outcome is what Rego says of a rule and a subject.
type outcome struct {
	Rule     string  `json:"rule"`
	Subject  string  `json:"subject"`
	Outcome  string  `json:"outcome"`
	By       string  `json:"by"` // rule, or the id of an exception
	Why      string  `json:"why"`
	Answered string  `json:"answered"`
	Checks   []check `json:"checks"`
	Needs    []need  `json:"needs"`
}

// check is one comparison that a question made.
type check struct {
	Part       string           `json:"part"`
	State      string           `json:"state"` // pass, fail, open (left open by the text), close (too close to tell), missing
	At         []string         `json:"at"`
	Measured   value            `json:"measured"`
	Limit      limitValue       `json:"limit"`
	Comparator string           `json:"comparator"`
	Values     map[string]value `json:"values"`
	Needs      []need           `json:"needs"`
}

type need struct {
	Fact string `json:"fact"`
	At   string `json:"at"`
	From value  `json:"from"`
	To   value  `json:"to"` // nil: on and on
}

// limitValue is a limit as Rego compared it.
type limitValue struct {
	Kind    string        `json:"kind"`
	AtMost  json.Number   `json:"at_most"`
	AtLeast json.Number   `json:"at_least"`
	Printed json.Number   `json:"printed"`
	Ratio   []json.Number `json:"ratio"`
	Incline []json.Number `json:"incline"` // rise, run and angle
	Part    []json.Number `json:"part"`
	OneOf   []any         `json:"one_of"`
}

// Finding is what a rule says of a subject, in words.
type Finding struct {
	Rule       string  `json:"rule"`
	Rulebook   string  `json:"rulebook"`
	Level      string  `json:"level"`
	LevelWas   string  `json:"level_was,omitempty"` // of the rule itself, where a project file sets another
	Provenance string  `json:"provenance"`          // where the text of the rule was seen
	Subject    string  `json:"subject"`
	Outcome    string  `json:"outcome"`
	Needs      []Need  `json:"needs"`
	Point              // the first of Points, or what a pass rests on
	Points     []Point `json:"points,omitempty"`   // every place where it bites
	Answered   string  `json:"answered,omitempty"` // the evidence of an answer in the spec that settled it

	Accepted    *Acceptance `json:"accepted,omitempty"`     // by whoever may accept it; whoever holds the project file adds it
	NotAccepted string      `json:"not_accepted,omitempty"` // why an acceptance that was given does not cover it, in words

	Bounds   []Bound `json:"-"` // what it lets the quantities be that several rulebooks bound
	Cite     string  `json:"-"` // the rulebook's short name
	Title    string  `json:"-"` // of the rule
	Question string  `json:"-"`
}

// Acceptance says why a finding that fails or is unknown does not stand in the way, and who answers for that.
type Acceptance struct {
	Reason     string `json:"reason"`
	ApprovedBy string `json:"approved_by"`
	Expires    string `json:"expires,omitempty"` // the last day on which it holds, as 2027-06-30
}

// Point is one comparison that did not pass.
type Point struct {
	Reason   string   `json:"reason"`
	Clause   string   `json:"clause"`
	Decision *string  `json:"decision"`
	Measured *Measure `json:"measured"`
	Limit    *Measure `json:"limit"`
	Places   []Place  `json:"places"`
	Message  string   `json:"message"`
	Do       string   `json:"do,omitempty"`
	Found    string   `json:"found,omitempty"` // in words, in the spec's units
	Allowed  string   `json:"allowed,omitempty"`
}

// Measure is a number for machines: value may be rounded, exact is not.
type Measure struct {
	Value      any    `json:"value"`
	Exact      string `json:"exact"`
	Unit       string `json:"unit"`
	Comparator string `json:"comparator,omitempty"`
}

// Place is where in the spec a finding bites; whoever holds the document adds the span
// [line, column, end line, end column].
type Place struct {
	Pointer string  `json:"pointer"`
	Span    *[4]int `json:"span"`
}

// Need is what must be found out.
type Need struct {
	Fact    string `json:"fact"`
	Pointer string `json:"pointer"`
	Title   string `json:"title"`
	How     string `json:"how"`
	Text    string `json:"text,omitempty"` // what of it, such as a range of angles
}

// bare is an outcome without words.
func (r *Rule) bare(o outcome) Finding {
	return Finding{
		Rule: r.ID, Rulebook: r.Rulebook.ID, Level: r.Level, Provenance: r.source(o.By), Subject: o.Subject, Outcome: o.Outcome, Answered: o.Answered,
		Cite: r.Rulebook.Cite, Title: r.Title, Question: r.Question,
	}
}

// worded says whether a finding is in words.
func (f *Finding) worded() bool { return f.Needs != nil }

// finding words an outcome in a system of units.
func (r *Rule) finding(o outcome, system quantity.System) Finding {
	f := r.bare(o)
	f.Needs, f.Bounds, f.Point = []Need{}, r.boundsOf(o, system), Point{Message: r.Title, Places: []Place{}}
	switch o.Outcome {
	case NotApplicable:
		f.Reason, f.Message = "not-applicable", o.Why
		if o.By == variant {
			f.Message = r.elsewhere()
		}
		return f
	case Pass:
		f.pass(r, o, system)
		f.Message += f.side()
		return f
	}
	for _, n := range slices.Concat(o.Needs, lackingOf(o.Checks)) {
		if n.Fact == variant {
			f.ask(r.needsVariant())
			continue
		}
		f.need(n, system)
	}
	for _, c := range leading(o.Checks, o.Outcome) {
		f.Points = append(f.Points, r.point(c, o, system))
	}
	for i := range f.Points {
		f.Points[i].Message += f.side()
	}
	f.Message += f.side()
	if len(f.Points) > 0 {
		f.Point = f.Points[0]
	}
	if o.Outcome == Unknown && len(f.Needs) > 0 && !slices.ContainsFunc(o.Checks, func(c check) bool { return c.State == "fail" }) {
		f.Reason = "not-known"
	}
	if o.Answered != "" {
		f.Reason = "answered"
	}
	return f
}

// side tells the two sides of a door apart, where a rule judges each.
func (f *Finding) side() string {
	if side, ok := strings.CutPrefix(f.Subject, "side:"); ok {
		return ", " + side
	}
	return ""
}

// pass shows the comparison with the least to spare of those that the rule rests on.
func (f *Finding) pass(r *Rule, o outcome, system quantity.System) {
	if len(o.Checks) > 0 {
		f.Point = r.point(tightest(o.Checks), o, system)
		f.Reason, f.Do = "", ""
	}
	if o.Answered != "" {
		f.Reason = "answered"
	}
}

// tightest is the check with the least to spare among those of the first one's part.
func tightest(checks []check) check {
	out := checks[0]
	least, ok := spare(out)
	for _, c := range checks[1:] {
		if own, known := spare(c); ok && known && c.Part == out.Part && own < least {
			out, least = c, own
		}
	}
	return out
}

// spare is how much there is between what was measured and its limit, for a person to read.
func spare(c check) (float64, bool) {
	measured, limit := c.Measured.measure(), c.Limit.measure(c.Comparator)
	if measured == nil || limit == nil {
		return 0, false
	}
	x, okX := measured.Value.(float64)
	y, okY := limit.Value.(float64)
	if c.Comparator == ">=" {
		x, y = y, x
	}
	return y - x, okX && okY
}

// leading gives the checks that made the outcome: the failed ones of a failure, else
// those that are open, too close or missing; an exception that would help shows what failed.
func leading(checks []check, outcome string) []check {
	var out []check
	for _, c := range checks {
		if c.State == "fail" {
			out = append(out, c)
		}
	}
	if outcome == Fail && len(out) > 0 {
		return out
	}
	for _, c := range checks {
		if c.State == "open" || c.State == "close" || c.State == "missing" {
			out = append(out, c)
		}
	}
	return out
}

func lackingOf(checks []check) []need {
	var out []need
	for _, c := range checks {
		if c.State == "missing" { // a check that passes without it does not ask for it
			out = append(out, c.Needs...)
		}
	}
	return out
}

func (f *Finding) need(n need, system quantity.System) {
	d, _ := fact.Describe(n.Fact)
	out := Need{Fact: n.Fact, Pointer: d.Pointer, Title: d.Title, How: d.Measure}
	out.Pointer = strings.ReplaceAll(out.Pointer, "{side}", strings.TrimPrefix(f.Subject, "side:"))
	if n.At != "" {
		out.Pointer = n.At
	}
	switch {
	case n.From != nil && n.To != nil:
		out.Text = "from " + n.From.words(system) + " to " + n.To.words(system) + " alone"
	case n.From != nil:
		out.Text = "from " + n.From.words(system) + " on"
	}
	f.ask(out)
}

// ask asks for something once.
func (f *Finding) ask(n Need) {
	if !slices.Contains(f.Needs, n) {
		f.Needs = append(f.Needs, n)
	}
}

// reasons words the states that are no failure.
var reasons = map[string]string{"open": "left-open", "close": "too-close", "missing": "not-known"}

func (r *Rule) point(c check, o outcome, system quantity.System) Point {
	p := Point{Reason: c.Part, Clause: r.clause(c.Part, o.By), Places: []Place{}}
	if word, ok := reasons[c.State]; ok {
		p.Reason = word
	}
	for _, at := range c.At {
		p.Places = append(p.Places, Place{Pointer: at})
	}
	p.Measured, p.Limit = c.Measured.measure(), c.Limit.measure(c.Comparator)
	p.Found, p.Allowed = r.found(c, system), r.allowed(c, system)
	if c.State != "pass" && p.Found != "" && (strings.HasPrefix(p.Allowed, p.Found) || strings.Contains(p.Allowed, "("+p.Found)) {
		p.Found, p.Allowed = c.Measured.exact(), c.Limit.value().exact() // told apart only by the last digit
	}
	p.Message = r.message(c, o, system)
	if c.State == "fail" || c.State == "close" || c.State == "open" {
		p.Do = fill(r.Remedies[c.Part], c.Values, system)
	}
	if id := r.Decisions[c.Part]; id != "" && c.State == "open" {
		text := r.Rulebook.Decisions[id]
		p.Decision = &text
	}
	return p
}

// message words a check: what is wrong if it failed, what it would be if that is not
// settled, and the rule's title if there is nothing to compare yet.
func (r *Rule) message(c check, o outcome, system quantity.System) string {
	if c.State == "missing" || c.State == "pass" {
		return r.Title
	}
	text := fill(r.Messages[c.Part], c.Values, system)
	if text == "" {
		return r.Title
	}
	switch {
	case r.Level == Caution || o.Outcome == Fail:
		return text
	case c.State == "close":
		return "Too close to tell: " + text
	case c.State == "open":
		return "Left open by the text: " + text
	case c.State == "fail":
		for _, e := range r.Exceptions {
			if e.ID == o.By {
				return text + "; passes only as: " + e.Title
			}
		}
		return text + "; fails if the rule applies"
	}
	return text
}

// clause is that of the exception that was looked at, or of the part that was compared.
func (r *Rule) clause(part, by string) string {
	if by != "rule" && r.Clauses[by] != "" {
		return r.Clauses[by]
	}
	return r.Clauses[part]
}

// source is where the text was seen of the exception that was looked at, or else of the rule.
func (r *Rule) source(by string) string {
	for _, e := range r.Exceptions {
		if e.ID == by && e.Provenance != "" {
			return e.Provenance
		}
	}
	return r.Provenance
}

// fill puts values into a text's {names}. What must be gained or given up is rounded up to
// what can be set on site, so that doing as the text says is always enough.
func fill(text string, values map[string]value, system quantity.System) string {
	if !strings.Contains(text, "{") {
		return text
	}
	var out strings.Builder
	for {
		before, rest, opens := strings.Cut(text, "{")
		out.WriteString(before)
		if !opens {
			return out.String()
		}
		name, after, _ := strings.Cut(rest, "}")
		v, ok := values[name]
		if !ok {
			out.WriteByte('{')
			text = rest
			continue
		}
		if strings.HasPrefix(name, "least_") || name == "excess" || name == "lack" {
			v = v.roundedUp(system)
		}
		out.WriteString(v.words(system))
		text = after
	}
}
